//! The picture: for each unknown its share in the odds and in the choice.

use super::{drivers, known, reach, shown, whole_percent};
use crate::present::document::Picture;
use crate::present::figures::Words;
use crate::present::figures::rows::{Cell, Group, Row, Rows, Side, rows};
use crate::present::palette::{ACCENT, SERIES};
use crate::present::scene::Colour;
use crate::present::view::View;
use crate::study::why::{Input, Share, Why};

/// The picture.
pub fn pictures(view: &View, why: &Why) -> Vec<Picture> {
    let inputs: Vec<&Input> = match &why.parameters {
        Some(parameters) => shown(parameters),
        None => why.groups.iter().collect(),
    };
    let bar = |share: &Share, colour: Colour| {
        let total = &share.index.total;
        let reach = reach(total);
        let range = (100.0 * (total.mean - reach).max(0.0), 100.0 * (total.mean + reach));
        let said = share.stands_out.then(|| format!("{} %", whole_percent(total.mean)));
        Cell::bar(100.0 * total.mean, range, said, colour)
    };
    let rows_of = inputs.iter().map(|i| Row {
        name: i.means.clone(),
        below: known(i),
        cells: std::iter::once(bar(&i.odds, SERIES[2].towards(ACCENT, 0.35)))
            .chain(i.difference.as_ref().map(|d| bar(d, SERIES[1])))
            .collect(),
        ..Row::default()
    });
    let side = |heading: String, floor: f64| Side {
        heading,
        title: "% of the spread".into(),
        level: Some((100.0 * floor, "luck of the passes".into())),
        ..Side::default()
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
        view.note_on(&format!(
            "{} worlds of {} passes each, seed {}.",
            why.worlds, view.budget.passes, view.budget.seed
        ))
    );
    let input = Rows {
        words: Words { caption: caption(why), note },
        one_scale: true,
        sides,
        groups: vec![Group::plain(rows_of)],
        ..Rows::default()
    };
    vec![("why".into(), rows(&input))]
}

fn caption(why: &Why) -> String {
    let inputs = why.parameters.as_ref().unwrap_or(&why.groups);
    let first = |of: &dyn Fn(&Input) -> Option<Share>| drivers(inputs, of).first().map(|i| i.means.clone());
    match (first(&|i| Some(i.odds)), first(&|i| i.difference)) {
        (Some(a), Some(b)) if a == b => format!("Odds and choice both rest most on one unknown: {a}."),
        (Some(a), Some(b)) => format!("The odds rest most on {a}; the choice on {b}."),
        (Some(a), None) => format!("The odds rest most on {a}."),
        _ => "No unknown stands out of the luck of the simulation.".into(),
    }
}
