//! The pictures.

use super::curve::{Point, curve};
use super::{About, both_rates, in_100, many, number, short_headline, times};
use crate::present::figures::{self, Words, casts as lead_figure, lines};
use crate::present::scene::Scene;
use crate::present::words;
use crate::study::casts::{Casts, Fixed, Lead};

/// The pictures: power against casts, and how the lead wanders.
pub fn pictures(about: &About, casts: &Casts) -> Vec<(&'static str, Scene)> {
    let mut all = vec![("casts-power", figures::lines::lines(&power_picture(about, casts)))];
    if let Some(lead) = casts.lead.as_ref().filter(|l| !l.walks.is_empty()) {
        all.push(("casts-lead", figures::casts::lead(&lead_picture(about, casts, lead))));
    }
    all
}

fn note(about: &About, seed: u64, extra: &str) -> String {
    match &about.asked {
        Some(asked) => format!("{extra} {}", asked.note()),
        None => format!("{extra} Rates as given, seed {seed}. A model, not a promise."),
    }
}

/// Marks nearer than this ratio would overlap.
const CLOSE: f64 = 4.0;

fn power_picture(about: &About, casts: &Casts) -> lines::Lines {
    let points = curve(casts);
    let at = |p: &Point, middle: f64, low: f64, high: f64| lines::At {
        x: p.of_each as f64,
        middle: 100.0 * middle,
        low: 100.0 * low,
        high: 100.0 * high,
    };
    let middle = lines::Series {
        name: if casts.worlds.is_some() {
            format!("middle odds: {}", both_rates(casts))
        } else {
            both_rates(casts)
        },

        points: points.iter().map(|p| at(p, p.power, f64::NAN, f64::NAN)).collect(),
        muted: false,
    };
    let over: Vec<lines::At> =
        points.iter().filter_map(|p| p.worlds.map(|[mean, low, high]| at(p, mean, low, high))).collect();
    let spread = !over.is_empty();
    let mut series = vec![middle];
    if spread {
        series.push(lines::Series { name: "mean over plausible worlds".into(), points: over, muted: false });
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
    lines::Lines {
        words: Words { caption: short_headline(casts), note: note(about, casts.question.seed, extra) },
        x_title: format!("{} of each bait", many(casts)),
        y_title: "told apart, in 100 trials".into(),
        x_logarithmic: true,
        series,
        markers,
    }
}

fn lead_picture(about: &About, casts: &Casts, lead: &Lead) -> lead_figure::Lead {
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
    lead_figure::Lead {
        words: Words { caption, note: note(about, casts.question.seed, &extra) },
        x_title: format!("{unit} of each bait"),
        y_title: "lead of the better bait, turns".into(),
        lead: f64::from(p.lead),
        lines: [stop(better), stop(1 - better)],
        mean: (p.mean_pairs, format!("mean {}", number(p.mean_pairs))),
        walks: lead
            .walks
            .iter()
            .map(|w| lead_figure::Walk {
                points: w.points.iter().map(|p| (p.0, up * p.1)).collect(),
                wrong: w.right == Some(false),
            })
            .collect(),
    }
}
