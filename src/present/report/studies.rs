//! Sections of the studies that look further than the one moment: the day, and what drives the answer.

use super::{Section, html};
use crate::models::Models;
use crate::present::answers::{Asked, day as day_answer, why as why_answer};
use crate::present::table::{Column, Table};
use crate::study::day::Day;
use crate::study::why::Why;

/// The day from first light to dark: what to throw when.
pub fn day(asked: &Asked, day: &Day) -> Section {
    let mut body = html::paragraph(&day_answer::headline(day));
    for sentence in day_answer::changes(asked, day) {
        body.push_str(&html::paragraph(&sentence));
    }
    for (name, scene) in day_answer::pictures(asked, day) {
        body.push_str(&html::figure(&scene, name));
    }
    body.push_str(&html::table(&day_answer::rods(day), "What to have tied on"));
    let order = day_answer::order(day);
    let hours = html::table(&day_answer::steps(asked, day, &order), "Hour by hour, baits by their letter");
    let letters = html::table(&letters(day, &order), "Which letter is which bait");
    body.push_str(&html::folded("Hour by hour", &format!("{letters}{hours}")));
    for note in day_answer::notes(asked, day) {
        body.push_str(&html::paragraph(&note));
    }
    Section { id: "day", title: "The day, from first light to dark".into(), body }
}

fn letters(day: &Day, order: &[usize]) -> Table {
    let mut table = Table::new(vec![Column::text("letter"), Column::text("bait")]);
    for &bait in order.iter().take(day_answer::LETTERS.len()) {
        table.push([day_answer::letter(order, bait), day.baits[bait].clone()]);
    }
    if order.len() > day_answer::LETTERS.len() {
        table.push(["*", "one of the others"]);
    }
    table
}

/// Which unknowns drive the odds and the choice, and what finding out would be worth.
pub fn why(asked: &Asked, models: &Models, why: &Why) -> Section {
    let mut body = html::paragraph(&why_answer::headline(models, why));
    for (name, scene) in why_answer::pictures(asked, models, why) {
        body.push_str(&html::figure(&scene, name));
    }
    body.push_str(&html::table(
        &why_answer::group_table(models, why),
        "Groups of assumptions: in how much of the spread each has a hand",
    ));
    if let Some(parameters) = &why.parameters {
        body.push_str(&html::table(
            &why_answer::parameter_table(models, parameters),
            "Single unknowns that drive the odds or the choice",
        ));
    }
    for note in why_answer::notes(models, why) {
        body.push_str(&html::prose(&note));
    }
    Section { id: "why", title: "What drives the answer".into(), body }
}

/// A part that could not be worked out, and why not.
pub fn left_out(id: &'static str, title: &str, reason: &str) -> Section {
    let body = html::paragraph(&format!("Left out: {reason}."));
    Section { id, title: title.into(), body }
}
