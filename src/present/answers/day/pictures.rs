//! The picture of a day.

use super::{order, sentences};
use crate::present::answers::Asked;
use crate::present::figures::{self, Words, day as figure, lines};
use crate::present::scene::Scene;
use crate::scenario::day as calendar;
use crate::study::day::Day;
use crate::study::sweep::reading::ENOUGH;

/// Baits shown by lines, and those of them shown with a band.
const SHOWN: usize = 4;
const BANDS: usize = 2;

/// Sun, light, odds of the leaders and the plan.
pub fn pictures(asked: &Asked, day: &Day) -> Vec<(&'static str, Scene)> {
    let shown: Vec<usize> = order(day).into_iter().take(SHOWN).collect();
    let start_s = day.planned.span.from_s;
    // The clock may jump or pass midnight; the axis must rise.
    let first = calendar::clock_h(asked.scenario, start_s);
    let hour = |unix_s: f64| first + (unix_s - start_s) / 3600.0;
    let middle = |s: &crate::study::day::Step| hour(0.5 * (s.span_s.0 + s.span_s.1));
    let series = shown.iter().map(|&b| lines::Series {
        name: day.baits[b].clone(),
        muted: false,
        points: day
            .steps
            .iter()
            .map(|s| {
                let e = &s.strikes[b];
                let band = shown.iter().take(BANDS).any(|k| *k == b);
                let edge = |v: f64| if band { v } else { f64::NAN };
                lines::At { x: middle(s), middle: e.point, low: edge(e.low), high: edge(e.high) }
            })
            .collect(),
    });
    let choices = &day.one_rod.choices;
    let strip = (0..choices.len()).fold(Vec::<figure::Piece>::new(), |mut all, s| {
        let (from, to) = (hour(day.steps[s].span_s.0), hour(day.steps[s].span_s.1));
        match all.last_mut() {
            Some(last) if s > 0 && choices[s] == choices[s - 1] => last.to = to,
            _ => all.push(figure::Piece {
                from,
                to,
                series: shown.iter().position(|b| *b == choices[s]),
                name: day.baits[choices[s]].clone(),
            }),
        }
        all
    });
    let input = figure::Day {
        words: words(asked, day, &shown),
        ends: (hour(start_s), hour(day.planned.span.to_s)),
        sun: day.steps.iter().map(|s| (middle(s), s.sun.elevation_deg)).collect(),
        surface_lux: day.steps.iter().map(|s| (middle(s), s.surface_lux)).collect(),
        fish_lux: day.steps.iter().map(|s| (middle(s), s.fish_lux)).collect(),
        sunrise: day.planned.times.sunrise_s.map(hour),
        sunset: day.planned.times.sunset_s.map(hour),
        series: series.collect(),
        strip,
        changes: day
            .changes
            .iter()
            .map(|c| figure::Change {
                at: hour(c.unix_s),
                range: c.pays_at_s.map(|[low, _, high]| (hour(low), hour(high))),
                told: c.pays_in >= ENOUGH,
                label: calendar::clock(asked.scenario, c.unix_s),
            })
            .collect(),
    };
    vec![("day", figures::day::day(&input))]
}

fn words(asked: &Asked, day: &Day, shown: &[usize]) -> Words {
    let banded = if shown.len() > BANDS { ", for the first two baits of the plan and the table" } else { "" };
    let untold = day.changes.iter().any(|c| c.pays_in < ENOUGH);
    let sure = match (day.changes.is_empty() || asked.budget.fixed, untold) {
        (true, _) => "",
        (_, false) => " Bar: when the change pays, in nine of ten worlds in which it does.",
        (_, true) => {
            " Bar: when the change pays, in nine of ten worlds in which it does; pale and with a question mark where \
             whether it pays at all cannot be told."
        }
    };
    let held = if asked.scenario.hours.is_empty() {
        "Only the sun changes."
    } else {
        "Only the sun, sky and clarity change."
    };
    let ranges = if asked.budget.fixed {
        String::new()
    } else {
        format!(" Lines: middle of the plausible worlds; bands: nine in ten{banded}.")
    };
    let e = &day.one_rod.strikes;
    let odds = crate::present::words::range_per_100(e.point, e.low, e.high);
    Words {
        caption: capital(&format!("{}: {odds} passes end in a strike.", sentences::course(day))),
        note: asked.note_on(&format!("{held}{ranges}{sure} {}", asked.run_line())),
    }
}

fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or(String::new(), |c| c.to_uppercase().chain(chars).collect())
}
