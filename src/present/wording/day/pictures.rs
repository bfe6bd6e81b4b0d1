//! The picture of a day.

use super::super::capital;
use super::{course, order};
use crate::present::document::Picture;
use crate::present::figures::panel::{At, Layer, One, Panels, Run, Side, lines_with_bands, panels};
use crate::present::figures::{Words, light::clock};
use crate::present::palette::{FAINT, INK, MUTED, PAPER, SUN, series};
use crate::present::scene::{Colour, Dash, Fill, Stroke};
use crate::present::view::View;
use crate::present::words::{self, two_digits};
use crate::scenario::day as calendar;
use crate::study::day::{Day, Step};
use crate::study::sweep::reading::ENOUGH;

/// Baits shown by lines, and those of them shown with a band.
const SHOWN: usize = 4;
const BANDS: usize = 2;

/// Sun, light, odds of the leaders and the plan.
pub fn pictures(view: &View, day: &Day) -> Vec<Picture> {
    let shown: Vec<usize> = order(day).baits().iter().copied().take(SHOWN).collect();
    let start_s = day.planned.span.from_s;
    // The clock may jump or pass midnight; the axis must rise.
    let first = calendar::clock_h(view.scenario, start_s);
    let hour = |unix_s: f64| first + (unix_s - start_s) / 3600.0;
    let middle = |s: &Step| hour(0.5 * (s.span_s.0 + s.span_s.1));
    let lines: Vec<(String, Vec<At>)> = shown
        .iter()
        .enumerate()
        .map(|(k, &b)| {
            let at = |s: &Step| {
                let e = &s.strikes[b];
                let (low, high) = if k < BANDS { (e.low, e.high) } else { (f64::NAN, f64::NAN) };
                At { x: middle(s), middle: e.point, low, high }
            };
            (day.baits[b].clone(), day.steps.iter().map(at).collect())
        })
        .collect();
    let choices = &day.one_rod.choices;
    let pieces = (0..choices.len()).fold(Vec::<(f64, f64, usize)>::new(), |mut all, s| {
        let (from, to) = (hour(day.steps[s].span_s.0), hour(day.steps[s].span_s.1));
        match all.last_mut() {
            Some(last) if last.2 == choices[s] => last.1 = to,
            _ => all.push((from, to, choices[s])),
        }
        all
    });
    let strip = pieces.iter().map(|&(from, to, bait)| Layer::Block {
        corners: [(from, 0.0), (to, PLAN)],
        fill: shown.iter().position(|b| *b == bait).map_or(FAINT, |k| series(k).0),
        text: day.baits[bait].clone(),
    });
    let mut odds = lines_with_bands(&lines);
    let mut plan: Vec<Layer> = strip.collect();
    for c in &day.changes {
        let (at, told) = (hour(c.unix_s), c.pays_in >= ENOUGH);
        let text =
            format!("change {}{}", calendar::clock(view.scenario, c.unix_s), if told { "" } else { "?" });
        odds.push(Layer::Upright { at, text, stroke: Stroke::solid(INK, 1.4).dashed(Dash::Dashed) });
        if let Some([low, _, high]) = c.pays_at_s {
            let (colour, y) = (if told { INK } else { FAINT }, 0.5 * (PLAN + 1.0));
            let ends = [low, high].map(|s| (hour(s), y));
            plan.push(Layer::line(ends.into(), Stroke::solid(colour, 5.0)));
            let rim = Stroke::solid(colour, 2.0);
            plan.push(Layer::Dot {
                at: (at, y),
                radius: 4.0,
                fill: PAPER,
                rim,
                said: String::new(),
                bold: false,
            });
        }
    }
    let (first, last) = (hour(start_s), hour(day.planned.span.to_s));
    let most = day.steps.iter().map(|s| s.surface_lux).fold(0.0, f64::max);
    let said = |(from, to, bait): &(f64, f64, usize)| {
        format!("{} from hour {} to {}", day.baits[*bait], two_digits(*from), two_digits(*to))
    };
    let tells = pieces.iter().map(said).collect::<Vec<_>>().join("; ");
    let strikes = Side { ends: (Some(0.0), None), ..Side::new("strikes in 100 passes") };
    // Counted downwards: the plan above, when its changes pay below it.
    let stripe = Side { ends: (Some(0.0), Some(1.0)), downward: true, ..Side::default() };
    let one = |y, height, head, layers| One { y, height, head, layers, aside: String::new() };
    let input = Panels {
        words: around(view, day, &shown),
        tells: format!("Plan: {tells}. At most {} lux on the water.", two_digits(most)),
        x: Side { ends: (Some(first), Some(last)), run: Run::Hours, ..Side::new("local time") },
        panels: vec![
            light(day, &hour),
            one(strikes, 300.0, 36.0, odds),
            One { aside: "plan with one rod".into(), ..one(stripe, 52.0, 14.0, plan) },
        ],
        below: None,
    };
    vec![("day".into(), panels(&input))]
}

/// Share of the strip that the plan takes; below it stands when each change pays.
const PLAN: f64 = 0.65;
/// Nothing is drawn below a thousandth of a lux: starlight.
const LEAST_LUX: f64 = 1e-3;

/// Sun as an area, light as two lines.
fn light(day: &Day, hour: &dyn Fn(f64) -> f64) -> One {
    let middle = |s: &Step| hour(0.5 * (s.span_s.0 + s.span_s.1));
    let all = || day.steps.iter().flat_map(|s| [s.surface_lux, s.fish_lux]).filter(|v| v.is_finite());
    let brightest = all().fold(1.0, f64::max);
    let darkest = all().fold(brightest, f64::min).max(LEAST_LUX);
    let (low, high) = (0.7 * darkest, 2.0 * brightest);
    let mut layers = Vec::new();
    let sun = |s: &&Step| s.sun.elevation_deg > 0.0 && s.sun.elevation_deg <= 90.0;
    let noon =
        day.steps.iter().filter(sun).max_by(|a, b| a.sun.elevation_deg.total_cmp(&b.sun.elevation_deg));
    if let (Some(noon), Some(first), Some(last)) = (noon, day.steps.first(), day.steps.last()) {
        // The area shows the course only; its height is said.
        let at = |share: f64| low * (high / low).powf(share);
        let height = |s: &Step| at(0.8 * s.sun.elevation_deg.max(0.0) / noon.sun.elevation_deg);
        let course = day.steps.iter().map(|s| (middle(s), height(s)));
        let points = course.chain([(middle(last), low), (middle(first), low)]).collect();
        layers.push(Layer::Area { points, fill: Fill { colour: SUN, opacity: 0.22 } });
        let text = format!("sun {:.0}° high", noon.sun.elevation_deg);
        layers.push(Layer::Words { at: (middle(noon), at(0.3)), text });
    }
    for (event, at_s) in [("sunrise", day.planned.times.sunrise_s), ("sunset", day.planned.times.sunset_s)] {
        layers.extend(at_s.map(hour).map(|h| Layer::Upright {
            at: h,
            text: clock(event, h),
            stroke: Stroke::solid(SUN, 2.0).dashed(Dash::Dashed),
        }));
    }
    let line = |of: &dyn Fn(&Step) -> f64, colour: Colour, dash, name: &str| Layer::Line {
        points: day.steps.iter().map(|s| (middle(s), of(s).max(LEAST_LUX))).collect(),
        stroke: Stroke::solid(colour, 2.6).dashed(dash),
        name: name.into(),
        tied_low: false,
    };
    layers.push(line(&|s| s.surface_lux, INK, Dash::Solid, "light on the water"));
    layers.push(line(&|s| s.fish_lux, MUTED, Dash::Dashed, "light at the fish"));
    let y = Side { ends: (Some(low), Some(high)), run: Run::Ratios, ..Side::new("light (lux)") };
    One { y, height: 190.0, head: 26.0, layers, aside: String::new() }
}

fn around(view: &View, day: &Day, shown: &[usize]) -> Words {
    let banded = if shown.len() > BANDS { ", for the first two baits of the plan and the table" } else { "" };
    let untold = day.changes.iter().any(|c| c.pays_in < ENOUGH);
    let sure = match (day.changes.is_empty() || view.budget.fixed, untold) {
        (true, _) => "",
        (_, false) => " Bar: when the change pays, in nine of ten worlds in which it does.",
        (_, true) => {
            " Bar: when the change pays, in nine of ten worlds in which it does; pale and with a question mark where \
             whether it pays at all cannot be told."
        }
    };
    let held = if view.scenario.hours.is_empty() {
        "Only the sun changes."
    } else {
        "Only the sun, sky and clarity change."
    };
    let ranges = if view.budget.fixed {
        String::new()
    } else {
        format!(" Lines: middle of the plausible worlds; bands: nine in ten{banded}.")
    };
    let e = &day.one_rod.strikes;
    let odds = words::range_per_100(e.point, e.low, e.high);
    Words {
        caption: capital(&format!("{}: {odds} passes end in a strike.", course(day))),
        note: view.note_on(&format!("{held}{ranges}{sure} {}", view.run_line())),
    }
}
