//! What a log says as pictures.

use super::{Told, by_after, range};
use crate::models::Spread;
use crate::present::document::Picture;
use crate::present::figures::Words;
use crate::present::figures::rows::{Cell, Group, Mark, Row, Rows, Said, Shape, Side, rows};
use crate::present::palette::{ACCENT, FAINT, INK, MUTED};
use crate::present::view::View;
use crate::present::words;
use crate::study::learn::changes::Change;
use crate::study::learn::{BeforeAfter, Learnt};

/// Unknowns shown in a picture.
const SHOWN: usize = 10;

/// The unknowns that moved, and today's odds, before and after.
pub fn pictures(view: &View, told: &Told) -> Vec<Picture> {
    let l = &told.learnt;
    let note = format!(
        "{}: {:.0} casts, {:.0} strikes. {} worlds weighted by them, seed {}. Bars span nine chances in ten of what nobody \
         knows. A model, not a promise.",
        told.origin.log,
        l.casts,
        l.strikes,
        l.fit.worlds.len(),
        view.budget.seed
    );
    let unknown = |c: &Change| {
        let said = [range(&c.parameter, c.before()), range(&c.parameter, c.after)];
        row(&c.parameter.means, [[-END, 0.0, END], c.scores], said)
    };
    let numbers = l.changed.iter().filter(|c| c.parameter.spread != Spread::Choice).take(SHOWN);
    let plausible = Side {
        title: "within what was plausible before".into(),
        ends: Some((-FURTHEST, FURTHEST)),
        ticks: [(-END, "low end"), (0.0, "middle"), (END, "high end")].map(|t| (t.0, t.1.to_owned())).into(),
        ..Side::default()
    };
    let bait = |b: &&BeforeAfter| {
        let both = [&b.before, &b.after];
        let said = both.map(|e| words::short_range(e.point, e.low, e.high));
        row(&b.name, both.map(|e| [e.low, e.point, e.high]), said)
    };
    let strikes = Side { title: "strikes in 100 passes near such a fish".into(), ..Side::default() };
    let picture = |caption, side, shown: Vec<Row>| {
        let bars = |after| bar([0.0, f64::NAN, 1.0], after).into_iter().map(|m| m.lower(0.0)).collect();
        rows(&Rows {
            words: Words { caption, note: note.clone() },
            key: vec![(bars(false), "before the log".into()), (bars(true), "after it".into())],
            sides: vec![side],
            groups: vec![Group::plain(shown)],
            row_px: 60.0,
            ..Rows::default()
        })
    };
    vec![
        ("learnt".into(), picture(caption(l), plausible, numbers.map(unknown).collect())),
        (
            "odds-before-after".into(),
            picture(odds_caption(l), strikes, by_after(&l.baits).iter().map(bait).collect()),
        ),
    ]
}

/// Standard score of the ends of a plausible range, and the furthest shown.
const END: f64 = 1.645;
const FURTHEST: f64 = 2.6;

/// A range before and one after, below it.
fn row(name: &str, ranges: [[f64; 3]; 2], said: [String; 2]) -> Row {
    let [before, after] = said;
    Row {
        name: name.to_owned(),
        tells: format!("before {before}, after {after}"),
        cells: vec![Cell {
            marks: bar(ranges[0], false).into_iter().chain(bar(ranges[1], true)).collect(),
            said: vec![Said::new(before, false, true), Said::new(after, true, false)],
        }],
        ..Row::default()
    }
}

/// A range with its middle marked.
fn bar([low, middle, high]: [f64; 3], after: bool) -> Vec<Mark> {
    let (colour, ink, px, dy) = if after { (ACCENT, INK, 10.0, 11.0) } else { (FAINT, MUTED, 7.0, -11.0) };
    let range = Shape::Bar { from: low, to: high, px, said: String::new() };
    let tick = Shape::Tick { at: middle, half: 0.5 * px + 2.5 };
    vec![Mark::new(range, colour).lower(dy), Mark::new(tick, ink).lower(dy)]
}

fn caption(l: &Learnt) -> String {
    match l.changed.first() {
        None => "The log moves none of the unknowns by itself.".into(),
        Some(first) => {
            let shown = if l.changed.len() > SHOWN {
                format!("; the {SHOWN} that moved most are shown")
            } else {
                String::new()
            };
            format!(
                "Of {} unknowns the log moves {}, most of all {}{shown}.",
                l.changed.len() + l.silent,
                l.changed.len(),
                first.parameter.means
            )
        }
    }
}

fn odds_caption(l: &Learnt) -> String {
    let all = by_after(&l.baits);
    let Some(leader) = all.first() else { return "The box is empty.".into() };
    let (b, a) = (&leader.before, &leader.after);
    format!(
        "{}: {} strikes in 100 passes before the log, {} after it.",
        leader.name,
        words::short_range(b.point, b.low, b.high),
        words::short_range(a.point, a.low, a.high)
    )
}
