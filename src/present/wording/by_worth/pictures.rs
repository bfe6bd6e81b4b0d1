//! What is worth finding out: a bar for the share of the odds and one for the worth.

use super::{REACH, percent, run_line, waters};
use crate::models::Grade;
use crate::present::document::Picture;
use crate::present::figures::Words;
use crate::present::figures::rows::{Cell, Group, Row, Rows, Side, rows};
use crate::present::palette::{ACCENT, SERIES};
use crate::present::scene::Colour;
use crate::present::view::View;
use crate::study::why::by_worth::{ByWorth, Described};
use crate::study::why::waters::{Measured, Unknown};

/// Unknowns in the picture.
const DRAWN: usize = 12;

/// The picture.
pub fn pictures(view: &View, answer: &ByWorth) -> Vec<Picture> {
    let found = &answer.found;
    let bar = |m: Measured, colour: Colour| {
        let range = (100.0 * (m.mean - REACH * m.se).max(0.0), 100.0 * (m.mean + REACH * m.se).max(0.0));
        let said = m.stands_out.then(|| format!("{} %", percent(m)));
        Cell::bar(100.0 * m.mean.max(0.0), range, said, colour)
    };
    let drawn = || answer.unknowns.iter().take(DRAWN);
    let row = |(u, said): &(Unknown, Described)| Row {
        name: said.means.clone(),
        below: said.grade.name().to_owned(),
        cells: vec![bar(u.share, SERIES[2].towards(ACCENT, 0.35)), bar(u.worth, SERIES[1])],
        ..Row::default()
    };
    let guesses = drawn().filter(|(_, said)| said.grade == Grade::Guess).count();
    let caption = match answer.unknowns.first() {
        Some((_, first)) => format!(
            "Of the {} things most worth finding out, {guesses} are guesses today. First comes: {}.",
            drawn().count(),
            first.means
        ),
        None => "Nothing is left to find out.".into(),
    };
    let note = format!(
        "Left: share of the spread of the odds of the best bait in which each has a hand (total index); right: how many \
         more strikes a choice of bait that knew it would draw; both in the mean over {}. Below each name: how well it is \
         known. Marks: nineteen of twenty simulations. {} A model, not a promise.",
        waters(found),
        run_line(view)
    );
    let side = |heading: &str, axis: &str, floor: Option<f64>| Side {
        heading: heading.into(),
        title: axis.into(),
        level: floor.map(|f| (f, "luck of the passes".into())),
        ..Side::default()
    };
    let input = Rows {
        words: Words { caption, note },
        sides: vec![
            side("narrows the odds", "% of the spread", Some(100.0 * found.floor)),
            side("betters the choice", "% more strikes", None),
        ],
        groups: vec![Group::plain(drawn().map(row))],
        ..Rows::default()
    };
    vec![("by-worth".into(), rows(&input))]
}
