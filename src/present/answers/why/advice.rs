//! What finding out would be worth, and how to go about it.

use super::{SMALL_GAIN, drivers, percent, short_name};
use crate::models::Models;
use crate::present::words;
use crate::study::why::{Input, Kind, Why};

/// Named among those to find out first.
const FIRST: usize = 3;

/// What finding out would be worth, and what to do first.
pub(super) fn find_out(models: &Models, why: &Why) -> Vec<String> {
    let best = &why.baits[why.best_now];
    let all = why.everything.mean;
    let mut notes = Vec::new();
    let amount =
        if all < SMALL_GAIN { "hardly anything".into() } else { format!("about {}", words::two_digits(all)) };
    let verdict = if why.finding_out_matters() {
        "that is worth finding out."
    } else {
        "less than 1, the smallest difference that matters here, so no finding out is worth a cast for the sake of \
         the choice alone."
    };
    notes.push(format!(
        "What finding out is worth: as long as nothing more is known, throw {best}. Somebody who knew everything \
         about the fish would sometimes throw another bait and gain {amount} in 100 passes on average: {verdict} \
         \"Worth knowing\" is the part of it that a single unknown gives, in strikes per 100 passes."
    ));
    let Some(parameters) = &why.parameters else { return notes };
    let mut worth: Vec<&Input> = parameters.iter().filter(|p| p.gain() >= SMALL_GAIN).collect();
    worth.sort_by(|a, b| b.gain().total_cmp(&a.gain()));
    worth.truncate(FIRST);
    let (order, aim) = if worth.is_empty() {
        (
            drivers(parameters, |p| Some(p.odds)),
            "For narrower odds (no single unknown here would change the choice)",
        )
    } else {
        (worth, "What to find out first for a better choice")
    };
    let mut first = format!("{aim}:");
    let mut ways: Vec<&str> = order.iter().map(|p| way(models, p).0).collect();
    ways.dedup();
    for one in ways {
        let names: Vec<String> =
            order.iter().filter(|p| way(models, p).0 == one).map(|p| short_name(models, p)).collect();
        first.push_str(&format!("\n- {}: {one}.", names.join("; ")));
    }
    if !order.is_empty() {
        notes.push(first);
    }
    notes.extend(by_hand(models, parameters));
    notes
}

/// The driving unknowns that an angler can measure.
fn by_hand(models: &Models, parameters: &[Input]) -> Option<String> {
    let mut own: Vec<&Input> = parameters.iter().filter(|p| p.drives() && way(models, p).1).collect();
    let share = |p: &Input| p.odds.index.total.mean.max(p.difference.map_or(0.0, |d| d.index.total.mean));
    own.sort_by(|a, b| share(b).total_cmp(&share(a)));
    own.truncate(FIRST);
    let lines = own.iter().map(|p| {
        let choice =
            p.difference.map_or(String::new(), |d| format!(", {} % of the choice", percent(Some(d))));
        format!(
            "\n- {} ({} % of the odds{choice}): {}",
            short_name(models, p),
            percent(Some(p.odds)),
            way(models, p).0
        )
    });
    (!own.is_empty()).then(|| {
        format!("What you can measure yourself, the most telling first:{}", lines.collect::<String>())
    })
}

/// How an unknown could be found out, and whether an angler can do it without waiting for casts.
fn way(models: &Models, input: &Input) -> (&'static str, bool) {
    const CASTS: (&str, bool) = (
        "no instrument measures it; only casts speak to it, those without a strike too. Keep a log of bait, casts and \
         strikes, and put it to `callup learn`",
        false,
    );
    let Kind::Parameter(d) = input.kind else { return CASTS };
    let Some(p) = models.parameters.get(d) else { return CASTS };
    match (p.name.as_str(), p.name.split('.').next().unwrap_or_default()) {
        ("bait.depth_error", _) => (
            "reel the bait, on your own line and cast, along a marked rope or over a bar of known depth until it \
              just touches",
            true,
        ),
        ("water.secchi_error", _) => (
            "lower a disc on the spot, on the shady side, down until it is gone and up until it shows, and take the \
              mean",
            true,
        ),
        ("sky.cloud_error", _) => ("hold a light meter level under that sky", true),
        ("hearing.rattle_level", _) => {
            ("it takes a hydrophone, a metre from the bait in a quiet pool", false)
        }
        (_, "water" | "tint" | "field" | "beam" | "surface") => {
            ("lower a light meter on a marked rope, turned up, level and down", true)
        }
        (_, "finish") => {
            ("hold the bait beside a grey card, in shade and in sun, and compare with a light meter", true)
        }
        (_, "roll" | "glint") => ("film the working bait from the side in clear water", true),
        (_, "sight" | "near" | "hearing" | "swim" | "largemouth" | "smallmouth" | "forage") => (
            "no day on the water tells it; it takes a tank. Look for a better published value and lay it over with \
             --model",
            false,
        ),
        _ => CASTS,
    }
}
