//! The pictures of rules: all of them beside each other.

use super::{briefly, headline, sentences};
use crate::present::document::Picture;
use crate::present::figures::rows::{Cell, Group, Mark, Row, Rows, Said, Shape, Side as Axis, rows};
use crate::present::figures::{self, Words};
use crate::present::palette::{ACCENT, FAINT};
use crate::present::scene::{Dash, Scene};
use crate::present::side::Side;
use crate::present::view::View;
use crate::statistics::verdict::Verdict;
use crate::study::SMALLEST_DIFFERENCE;
use crate::study::rules::answer::{Answer, Tried};
use crate::study::rules::map::FlipMap;
use crate::study::rules::{Claim, Test};

/// Levels of the difference that are drawn.
const LEVELS: &[f64] = &[0.3, 1.0, 3.0, 10.0];

/// Said where sides differ in pause, speed or cast.
const TIMED: &str = " Sides that differ in pause, speed or cast are compared at equal time.";

/// The pictures.
pub fn pictures(view: &View, tried: &Tried) -> Vec<Picture> {
    let (answers, maps) = (&tried.answers, &tried.maps);
    let overview = (answers.len() > 1).then(|| ("rules".to_owned(), rows(&overview(view, answers))));
    let turning = maps.iter().filter_map(|(i, map)| {
        let answer = answers.get(*i)?;
        Some((format!("rule-{}", answer.rule.id), turning(view, answer, map)))
    });
    overview.into_iter().chain(turning).collect()
}

/// Where one rule turns, with the box of the sentence.
fn turning(view: &View, answer: &Answer, map: &FlipMap) -> Scene {
    let sides = [0, 1].map(|k| Side::of(view, &map.axes[k]));
    let [x, y] = &sides;
    let upright = |s: &Side, upright: bool| figures::map::Side {
        title: if s.words.is_some() { s.name.clone() } else { s.title() },
        values: s.values.clone(),
        logarithmic: s.logarithmic,
        downward: upright && (s.downward || s.words.is_some()),
    };
    let (a, b) = match &answer.rule.test {
        Test::Sides { a, b } => (format!("more with {}", a.name), format!("more with {}", b.name)),
        Test::Direction { .. } => ("as the rule says".to_owned(), "the other way".to_owned()),
    };
    let boxed = sentences::outline(view, answer, map);
    let frame = if boxed.is_some() { " Dashed: the box of the sentence, on these two sides." } else { "" };
    let caption = match sentences::turns(view, answer) {
        Some(turns) => format!("{}. {}", answer.rule.says, turns.split(" (").next().unwrap_or_default()),
        None => answer.rule.says.clone(),
    };
    let note = format!(
        "Grey: fewer than six plausible worlds in ten agree which way it goes. Each cell is the mean over a few points \
         of the other conditions.{frame}{} {} worlds here. {}",
        if answer.reading.per_hour.is_some() { TIMED } else { "" },
        map.draws,
        view.note()
    );
    let names = [x.words.as_deref(), y.words.as_deref()];
    let input = figures::map::DifferenceMap {
        words: Words { caption, note },
        x: upright(x, false),
        y: upright(y, true),
        values: map.medians.clone(),
        untold: map.told.iter().map(|t| !t).collect(),
        above: a,
        below: b,
        levels: levels(&map.medians),
        here: None,
    };
    figures::map::difference_map_boxed(&input, names, boxed)
}

/// Levels of the difference that occur, with what is written on them.
fn levels(values: &[f64]) -> Vec<(f64, String)> {
    let (least, most) = values
        .iter()
        .filter(|v| v.is_finite())
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, m), v| (l.min(*v), m.max(*v)));
    let more = LEVELS.iter().map(|l| (*l, format!("{l} more")));
    let fewer = LEVELS.iter().map(|l| (-l, format!("{l} fewer")));
    more.chain(fewer).filter(|(l, _)| *l > least && *l < most).collect()
}

fn overview(view: &View, answers: &[Answer]) -> Rows {
    let mut order: Vec<&Answer> = answers.iter().filter(|a| a.rule.claim == Claim::More).collect();
    order.sort_by(|a, b| b.reading.effect.point.total_cmp(&a.reading.effect.point));
    let shown = order.into_iter().map(|a| {
        let e = &a.reading.effect;
        let muted = matches!(a.reading.verdict, Verdict::CannotTell(_) | Verdict::NoDifferenceThatMatters);
        let colour = if muted { FAINT } else { ACCENT };
        let line = Shape::Line { low: e.low, high: e.high, px: 3.0, dash: Dash::Solid };
        let marks = [line, Shape::Dot { at: e.point, radius: 5.5 }].map(|s| Mark::new(s, colour));
        let said = Said::new(briefly(a.reading.verdict).to_owned(), false, muted);
        Row {
            name: a.rule.id.replace('-', " "),
            bold: !muted,
            cells: vec![Cell { marks: marks.into(), said: vec![said] }],
            ..Row::default()
        }
    });
    let same = answers.iter().filter(|a| a.rule.claim == Claim::Same).count();
    let left_out = match same {
        0 => "",
        _ => " Rules that claim no difference are left out.",
    };
    let timed = if answers.iter().any(|a| a.reading.per_hour.is_some()) { TIMED } else { "" };
    let note = format!(
        "Dots: middle of the plausible worlds; lines: nine in ten of them. Grey band: less than 1 in 100 either way.\
         {left_out}{timed} {}",
        view.note()
    );
    Rows {
        words: Words { caption: headline(answers), note },
        sides: vec![Axis {
            title: "more strikes in 100 passes with what the rule recommends".into(),
            band: Some((-SMALLEST_DIFFERENCE, SMALLEST_DIFFERENCE)),
            halves: Some(["against the rule".into(), "for the rule".into()]),
            ..Axis::default()
        }],
        groups: vec![Group::plain(shown)],
        row_px: 34.0,
        ..Rows::default()
    }
}
