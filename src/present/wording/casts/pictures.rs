//! The pictures.

use super::{both_rates, headline, in_100, many, number, time, times};
use crate::present::document::Picture;
use crate::present::figures::Words;
use crate::present::figures::panel::{At, Curves, Layer, One, Panels, Side, curves, panels};
use crate::present::palette::{INK, MUTED, PAPER, SERIES};
use crate::present::scene::{Dash, Stroke};
use crate::present::view::View;
use crate::present::words;
use crate::study::casts::curve::{Point, curve};
use crate::study::casts::{Casts, Fixed, Lead};

/// The pictures: power against casts, and how the lead wanders.
pub fn pictures(view: &View, casts: &Casts) -> Vec<Picture> {
    let mut all = vec![("casts-power".to_owned(), curves(&power_picture(view, casts)))];
    if let Some(lead) = casts.lead.as_ref().filter(|l| !l.walks.is_empty()) {
        all.push(("casts-lead".to_owned(), panels(&lead_picture(view, casts, lead))));
    }
    all
}

fn note(view: &View, casts: &Casts, extra: &str) -> String {
    match casts.worlds {
        Some(_) => format!("{extra} {}", view.note()),
        None => format!("{extra} Rates as given, seed {}. A model, not a promise.", casts.question.seed),
    }
}

/// The finding in a line or two, for a picture.
fn short_headline(casts: &Casts) -> String {
    match &casts.fixed {
        Some(f) => format!(
            "It takes about {} {} of each to tell {} apart: {}.",
            number(f.planned()),
            many(casts),
            both_rates(casts),
            time(casts, f.planned()).split(", if every").next().unwrap_or_default()
        ),
        None => headline(casts),
    }
}

/// Marks nearer than this ratio would overlap.
const CLOSE: f64 = 4.0;

fn power_picture(view: &View, casts: &Casts) -> Curves {
    let points = curve(casts);
    let at = |p: &Point, middle: f64, low: f64, high: f64| At {
        x: p.of_each as f64,
        middle: 100.0 * middle,
        low: 100.0 * low,
        high: 100.0 * high,
    };
    let both = both_rates(casts);
    let name = if casts.worlds.is_some() { format!("middle odds: {both}") } else { both };
    let mut lines = vec![(name, points.iter().map(|p| at(p, p.power, f64::NAN, f64::NAN)).collect())];
    let over: Vec<At> =
        points.iter().filter_map(|p| p.worlds.map(|[mean, low, high]| at(p, mean, low, high))).collect();
    let spread = !over.is_empty();
    if spread {
        lines.push(("mean over plausible worlds".into(), over));
    }
    let mut markers = Vec::new();
    let end = points.last().map_or(0.0, |p| p.of_each as f64);
    if let Some(f) = casts.fixed.as_ref().map(Fixed::planned).filter(|n| *n <= end) {
        // Two marks that stand close share one label; the caption says the plan.
        let close = casts.showing.as_ref().is_some_and(|s| {
            let ratio = f / s.casts as f64;
            (1.0 / CLOSE..CLOSE).contains(&ratio)
        });
        markers.push((f, if close { String::new() } else { format!("plan: {}", number(f)) }));
    }
    if let Some(s) = casts.showing.as_ref() {
        markers.push((s.casts as f64, format!("{}: {}", s.casts, in_100(s.power))));
    }
    let extra = if spread {
        "The band holds nine in ten plausible worlds. Exact power up to 5000, by formula beyond."
    } else {
        "Exact power of the pooled score test up to 5000, by formula beyond."
    };
    Curves {
        words: Words { caption: short_headline(casts), note: note(view, casts, extra) },
        x_title: format!("{} of each bait", many(casts)),
        y_title: "told apart, in 100 trials".into(),
        x_logarithmic: true,
        lines,
        markers,
    }
}

fn lead_picture(view: &View, casts: &Casts, lead: &Lead) -> Panels {
    let p = &lead.plan;
    let unit = many(casts);
    let better = usize::from(casts.rates[1] > casts.rates[0]);
    // The better bait's line is the upper one.
    let up = if better == 0 { 1.0 } else { -1.0 };
    let stop = |k: usize| {
        let verdict = if k == better { "" } else { ", the wrong one" };
        format!("stop: {}{verdict}", casts.names[k])
    };
    let wrong = lead.walks.iter().filter(|w| w.right == Some(false)).count();
    let caption = format!(
        "In turn, stopping at a lead of {}: about {} {unit} of each, {}; the worse bait is named {}.",
        p.lead,
        number(p.mean_pairs),
        casts
            .fixed
            .as_ref()
            .map_or(String::new(), |f| format!("where the fixed plan takes {}", number(f.planned()))),
        times(p.wrong)
    );
    let extra = format!(
        "{} examples at {}; {} of them named the worse bait. Every turn in which just one bait struck moves \
         the lead by one and the log-likelihood ratio by {}.",
        lead.walks.len(),
        both_rates(casts),
        if wrong == 0 { "none".into() } else { wrong.to_string() },
        words::two_digits(lead.step)
    );
    let mut layers = Vec::new();
    // The wrong ones last, so that they are not hidden.
    let (right, astray): (Vec<_>, Vec<_>) = lead.walks.iter().partition(|w| w.right != Some(false));
    let light = Stroke::solid(SERIES[2].towards(PAPER, 0.25), 1.5);
    let dark = Stroke::solid(SERIES[3], 2.4).dashed(Dash::Dashed);
    for (walks, stroke) in [(right, light), (astray, dark)] {
        for walk in walks {
            let points: Vec<(f64, f64)> = walk.points.iter().map(|p| (p.0, up * p.1)).collect();
            if let Some(&at) = points.last() {
                layers.push(Layer::line(steps(&points), stroke));
                layers.push(Layer::dot(at, 3.6, stroke.colour));
            }
        }
    }
    let mean = format!("mean {}", number(p.mean_pairs));
    layers.push(Layer::marker(p.mean_pairs, mean));
    let limit = f64::from(p.lead);
    for (at, k) in [(limit, better), (-limit, 1 - better)] {
        let stroke = Stroke::solid(INK, 2.4);
        layers.push(Layer::Level { at, text: stop(k), stroke, below: at < 0.0 });
    }
    layers.insert(
        0,
        Layer::Level { at: 0.0, text: String::new(), stroke: Stroke::solid(MUTED, 1.2), below: false },
    );
    let end =
        lead.walks.iter().filter_map(|w| w.points.last()).map(|p| p.0).fold(p.mean_pairs.max(1.0), f64::max);
    let tells = format!(
        "{} examples of how the lead wanders between {} and {}; {wrong} of them end at the wrong line",
        lead.walks.len(),
        stop(better),
        stop(1 - better)
    );
    Panels {
        words: Words { caption, note: note(view, casts, &extra) },
        tells,
        x: Side { ends: (Some(0.0), Some(1.03 * end)), ..Side::new(&format!("{unit} of each bait")) },
        panels: vec![One {
            y: Side {
                ends: (Some(-1.28 * limit), Some(1.28 * limit)),
                ..Side::new("lead of the better bait, turns")
            },
            height: 380.0,
            head: 32.0,
            layers,
            aside: String::new(),
        }],
        below: None,
    }
}

/// Level until the next change, then up or down.
fn steps(points: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let before = std::iter::once(None).chain(points.iter().map(|p| Some(p.1)));
    let corners = points.iter().zip(before);
    corners.flat_map(|(&(x, y), level)| level.map(|l| (x, l)).into_iter().chain([(x, y)])).collect()
}
