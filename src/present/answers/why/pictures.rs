//! The picture: for each unknown its share in the odds and in the choice.

use super::{drivers, known, reach, short_name, shown, whole_percent};
use crate::models::Models;
use crate::present::answers::Asked;
use crate::present::figures::{self, Words, why as figure};
use crate::present::scene::Scene;
use crate::study::why::{Input, Share, Why};

/// The picture.
pub fn pictures(asked: &Asked, models: &Models, why: &Why) -> Vec<(&'static str, Scene)> {
    let inputs: Vec<&Input> = match &why.parameters {
        Some(parameters) => shown(parameters),
        None => why.groups.iter().collect(),
    };
    let bar = |share: &Share| {
        let total = &share.index.total;
        let reach = reach(total);
        figure::Bar {
            value: 100.0 * total.mean,
            low: 100.0 * (total.mean - reach).max(0.0),
            high: 100.0 * (total.mean + reach),
            label: if share.stands_out {
                format!("{} %", whole_percent(total.mean))
            } else {
                "not told".into()
            },
            muted: !share.stands_out,
        }
    };
    let rows = inputs.iter().map(|i| figure::Row {
        name: short_name(models, i),
        below: known(models, i),
        bars: std::iter::once(&i.odds).chain(i.difference.as_ref()).map(bar).collect(),
    });
    let side = |heading: String, floor: f64| figure::Side {
        heading,
        axis: "% of the spread".into(),
        floor: Some(100.0 * floor),
    };
    let mut sides = vec![side(format!("odds of {}", why.baits[why.leader]), why.floor.total.mean)];
    sides.extend(
        why.next
            .zip(why.difference_floor)
            .map(|(n, f)| side(format!("difference to {}", why.baits[n]), f.total.mean)),
    );
    let note = format!(
        "Share of the spread in which each unknown has a hand (total index); they work together and add up to more \
         than 100. Marks: nineteen of twenty simulations. {}",
        asked.note_on(&format!(
            "{} worlds of {} passes each, seed {}.",
            why.worlds, asked.budget.points, asked.budget.seed
        ))
    );
    let input = figure::Why {
        words: Words { caption: caption(models, why), note },
        floor: "luck of the passes".into(),
        one_scale: true,
        sides,
        rows: rows.collect(),
    };
    vec![("why", figures::why::why(&input))]
}

fn caption(models: &Models, why: &Why) -> String {
    let inputs = why.parameters.as_ref().unwrap_or(&why.groups);
    let first =
        |of: &dyn Fn(&Input) -> Option<Share>| drivers(inputs, of).first().map(|i| short_name(models, i));
    match (first(&|i| Some(i.odds)), first(&|i| i.difference)) {
        (Some(a), Some(b)) if a == b => format!("Odds and choice both rest most on one unknown: {a}."),
        (Some(a), Some(b)) => format!("The odds rest most on {a}; the choice on {b}."),
        (Some(a), None) => format!("The odds rest most on {a}."),
        _ => "No unknown stands out of the luck of the simulation.".into(),
    }
}
