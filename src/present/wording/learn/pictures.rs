//! What a log says as pictures.

use super::{Told, by_after, range};
use crate::models::Spread;
use crate::present::document::Picture;
use crate::present::figures::{Words, learn as figure};
use crate::present::view::View;
use crate::present::words;
use crate::statistics::estimate::Estimate;
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
    let unknown = |c: &Change| figure::Row {
        name: c.parameter.means.clone(),
        before: [-1.645, 0.0, 1.645],
        after: c.scores,
        said_before: range(&c.parameter, c.before()),
        said_after: range(&c.parameter, c.after),
    };
    let unknowns = figure::BeforeAfter {
        words: Words { caption: caption(l), note: note.clone() },
        axis: figure::Axis::Plausible,
        rows: l
            .changed
            .iter()
            .filter(|c| c.parameter.spread != Spread::Choice)
            .take(SHOWN)
            .map(unknown)
            .collect(),
    };
    let bait = |b: &&BeforeAfter| {
        let said = |e: &Estimate| words::short_range(e.point, e.low, e.high);
        let ends = |e: &Estimate| [e.low, e.point, e.high];
        figure::Row {
            name: b.name.clone(),
            before: ends(&b.before),
            after: ends(&b.after),
            said_before: said(&b.before),
            said_after: said(&b.after),
        }
    };
    let baits = figure::BeforeAfter {
        words: Words { caption: odds_caption(l), note },
        axis: figure::Axis::FromZero("strikes in 100 passes near such a fish".into()),
        rows: by_after(&l.baits).iter().map(bait).collect(),
    };
    vec![
        ("learnt".into(), figure::before_after(&unknowns)),
        ("odds-before-after".into(), figure::before_after(&baits)),
    ]
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
