//! A packed box: the best few baits, what each adds, how stable the choice is.

#[cfg(feature = "cli")]
mod pictures;

use super::{Readable, capital};
use crate::present::columns::{Cell, Kind, column, raw, read, spreadsheet};
use crate::present::document::Document;
use crate::present::letters::Letters;
use crate::present::side::Side;
use crate::present::table::Table;
use crate::present::view::View;
use crate::present::words;
use crate::study::SMALLEST_DIFFERENCE;
use crate::study::axis::Axis;
use crate::study::pack::{Member, Pack, Size};

/// Share of worlds in whose best set a bait must be to be named though not carried.
const NAMED_FROM: f64 = 0.1;

impl Readable for Pack {
    fn document(&self, view: &View) -> Document {
        let sides: Vec<Side> = self.axes.iter().map(|a| Side::of(view, a)).collect();
        let order = order(self);
        let head = if self.sources.len() == 1 { view.head() } else { Vec::new() };
        let mut out = Document::new(head, headline(self));
        out.head.push(over_what(self, &sides));
        out.texts(more(view, self)).figure("pack");
        out.table("What each further bait adds:", sizes(self, &order, view));
        out.table("What the carried ones are for:", members(self, &order, &sides, view));
        if self.sources.len() > 1 {
            out.table("What is thrown where:", sources(self, &order, view));
        }
        let share = |b: usize| percent(self.inclusion[b]);
        let said = |b: usize| format!("{} (in the best set of {} of worlds)", self.baits[b], share(b));
        out.drawn("letters", order.legend(said));
        out.texts(notes(view, self));
        out
    }

    /// One row for each condition and bait.
    fn spreadsheet(&self, _view: &View) -> Table {
        type Row = (usize, usize);
        let rows: Vec<Row> =
            (0..self.conditions.len()).flat_map(|c| (0..self.baits.len()).map(move |b| (c, b))).collect();
        let flag = |is: bool| if is { 1.0 } else { 0.0 };
        let mut columns = vec![
            raw("condition", |r: &Row| r.0 as f64),
            raw("scenario", |r: &Row| self.sources[self.conditions[r.0].source].0.clone()),
            raw("weight", |r: &Row| self.conditions[r.0].weight),
        ];
        for (k, axis) in self.axes.iter().enumerate() {
            columns.push(raw(axis.path, move |r: &Row| axis.kept(self.conditions[r.0].values[k])));
        }
        columns.extend([
            raw("bait", |r: &Row| self.baits[r.1].clone()),
            raw("mean_per_100", |r: &Row| self.mean_of(r.0, r.1)),
            raw("carried", |r: &Row| flag(self.members.iter().any(|m| m.bait == r.1))),
            raw("throw", |r: &Row| flag(self.throw[r.0] == r.1)),
        ]);
        spreadsheet(&columns, &rows)
    }

    /// What each further bait adds, and how often each bait is in the best set.
    #[cfg(feature = "cli")]
    fn pictures(&self, view: &View) -> Vec<crate::present::document::Picture> {
        pictures::pictures(view, self)
    }

    fn rests_on(&self) -> String {
        format!("{} worlds", self.cube.draws)
    }
}

/// The baits that matter: those carried, those of the other sizes, substitutes, those of some worlds' best sets.
fn order(pack: &Pack) -> Letters {
    let carried = pack.members.iter().map(|m| m.bait);
    let sizes = pack.sizes.iter().flat_map(|s| s.best.baits.iter().chain(&s.greedy.baits).copied());
    let substitutes = pack.members.iter().filter_map(|m| Some(m.substitute?.0));
    let mut others: Vec<usize> = (0..pack.baits.len()).filter(|&b| pack.inclusion[b] >= NAMED_FROM).collect();
    others.sort_by(|&a, &b| pack.inclusion[b].total_cmp(&pack.inclusion[a]));
    Letters::of(carried.chain(sizes).chain(substitutes).chain(others))
}

fn percent(share: f64) -> String {
    if share > 0.0 && share < 0.005 { "<1 %".into() } else { format!("{:.0} %", 100.0 * share) }
}

fn sizes(pack: &Pack, order: &Letters, view: &View) -> Table {
    // Sizes that add no bait are not told one by one.
    let idle = |(i, s): &(usize, &Size)| *i > 0 && s.best.baits.len() < s.size;
    let all: Vec<(usize, &Size)> = pack.sizes.iter().enumerate().collect();
    let told = all.iter().position(idle).map_or(all.len(), |i| i + 1);
    type Row<'a> = (usize, &'a Size);
    let unless_idle = |r: &Row, cell: Cell| if idle(r) { Cell::Nothing } else { cell };
    let alone = |s: &Size| match s.greedy.mean >= s.best.mean - 1e-9 {
        true => "the same".to_owned(),
        false => {
            let fewer = words::small(s.best.mean - s.greedy.mean);
            format!("{}, {fewer} fewer", order.of_set(&s.greedy.baits))
        }
    };
    let columns = [
        column("", "carried", Kind::Right, |r: &Row| {
            let chosen = r.1.size == pack.carry && !idle(r);
            if chosen { format!("→ {}", r.1.size) } else { r.1.size.to_string() }
        }),
        column("", "best set", Kind::Text, |r: &Row| match idle(r) {
            true => "no further bait adds anything".to_owned(),
            false => order.of_set(&r.1.best.baits),
        }),
        column("", "strikes in 100", Kind::ShortOdds, |r: &Row| unless_idle(r, r.1.best.strikes.into())),
        column("", "mean", Kind::Tenth, |r: &Row| unless_idle(r, r.1.best.mean.into())),
        column("", "adds, mean", Kind::Small, |r: &Row| match (r.0, idle(r)) {
            (0, _) => Cell::Nothing,
            (_, true) => Cell::Number(0.0),
            _ => Cell::Number(r.1.mean_adds),
        }),
        column("", "one at a time", Kind::Text, |r: &Row| unless_idle(r, alone(r.1).into())),
    ];
    read(&columns, &all[..told], view.units)
}

fn members(pack: &Pack, order: &Letters, sides: &[Side], view: &View) -> Table {
    let mut columns = vec![
        column("", "bait", Kind::Text, |m: &Member| order.letter(m.bait).to_string()),
        column("", "thrown in", Kind::Right, |m: &Member| percent(m.thrown)),
        column("", "loss without", Kind::Small, |m: &Member| m.without),
        column("", "best substitute", Kind::Text, |m: &Member| match m.substitute {
            Some((b, loss)) => format!("{}, {} fewer", order.letter(b), words::small(loss)),
            None => "none left".to_owned(),
        }),
    ];
    for (k, side) in sides.iter().enumerate().filter(|(_, s)| s.words.is_none()) {
        columns.push(column("", side.name.as_str(), Kind::Text, move |m: &Member| {
            let [low, _, high] = m.where_thrown[k];
            let at = |v: f64| side.said(reader_value(&pack.axes[k], side, v));
            format!("{} to {}", at(low), at(high))
        }));
    }
    read(&columns, &pack.members, view.units)
}

/// A number of the unit kept in the reader's unit: units differ by a factor and a shift, which the ends tell.
fn reader_value(axis: &Axis, side: &Side, kept: f64) -> f64 {
    let numbers = axis.numbers();
    let ends = (numbers.first(), numbers.last(), side.values.first(), side.values.last());
    let (Some(a), Some(b), Some(c), Some(d)) = ends else { return kept };
    c + (kept - a) / (b - a) * (d - c)
}

/// The baits thrown in each scenario.
fn sources(pack: &Pack, order: &Letters, view: &View) -> Table {
    type Row<'a> = (usize, &'a (String, f64));
    let thrown = |s: usize, share: f64| {
        let of = |b: usize| {
            let here = pack.conditions.iter().zip(&pack.throw).filter(|(c, t)| c.source == s && **t == b);
            here.map(|(c, _)| c.weight).sum::<f64>() / share
        };
        let mut baits: Vec<(usize, f64)> = pack.members.iter().map(|m| (m.bait, of(m.bait))).collect();
        baits.retain(|b| b.1 > 0.0);
        baits.sort_by(|a, b| b.1.total_cmp(&a.1));
        match baits.as_slice() {
            [(one, _)] => order.letter(*one).to_string(),
            all => {
                let one = |(b, share): &(usize, f64)| format!("{} {}", order.letter(*b), percent(*share));
                all.iter().map(one).collect::<Vec<_>>().join(", ")
            }
        }
    };
    let columns = [
        column("", "scenario", Kind::Text, |r: &Row| r.1.0.clone()),
        column("", "weight", Kind::Right, |r: &Row| percent(r.1.1)),
        column("", "thrown", Kind::Text, |r: &Row| thrown(r.0, r.1.1)),
    ];
    read(&columns, &pack.sources.iter().enumerate().collect::<Vec<_>>(), view.units)
}

/// What the box is packed for.
fn over_what(pack: &Pack, sides: &[Side]) -> String {
    let count = words::count(pack.conditions.len(), "condition", "conditions");
    let titles = match pack.sources.as_slice() {
        [_] => String::new(),
        several => {
            let one = |(title, share): &(String, f64)| format!("{title} ({})", percent(*share));
            format!(" over {}", several.iter().map(one).collect::<Vec<_>>().join("; "))
        }
    };
    let spread: Vec<String> = sides
        .iter()
        .map(|s| match &s.words {
            Some(words) => format!("{}: {}", s.name, words.join(", ")),
            None => {
                format!("{} from {} to {}", s.name, s.said_step(0), s.said_step(s.len().saturating_sub(1)))
            }
        })
        .collect();
    let spread = match (spread.as_slice(), pack.usual) {
        ([], _) => String::new(),
        (all, true) => format!("; spread, for none was asked for: {}", all.join("; ")),
        (all, false) => format!("; spread: {}", all.join("; ")),
    };
    format!("Packed for {count}{titles}{spread}.")
}

/// The finding: what to carry, what it draws, what one fewer loses.
fn headline(pack: &Pack) -> String {
    let Some(chosen) = pack.chosen() else { return "The box is empty.".into() };
    let names: Vec<&str> = chosen.best.baits.iter().map(|&b| pack.baits[b].as_str()).collect();
    let e = &chosen.best.strikes;
    let mut said = format!(
        "Carry {}. {} passes end in a strike, the best of them thrown in every condition.",
        names.join("; "),
        capital(&words::range_per_100(e.point, e.low, e.high))
    );
    let unused = pack.carry.saturating_sub(names.len());
    if unused > 0 {
        said.push_str(&format!(
            " {} would add nothing: no other bait is the best in any of these conditions.",
            if unused == 1 { "One more".to_owned() } else { format!("{unused} more") }
        ));
    }
    if let Some(fewer) = fewer(pack) {
        said.push_str(&fewer);
    }
    said
}

fn fewer(pack: &Pack) -> Option<String> {
    let chosen = pack.chosen()?;
    let baits = chosen.best.baits.len();
    let size = pack.sizes.iter().find(|s| s.size == baits)?;
    let before = pack.sizes.iter().find(|s| s.size + 1 == baits)?;
    let matters = if size.mean_adds < SMALLEST_DIFFERENCE { ", less than matters" } else { "" };
    let whole = if baits == pack.baits.len() {
        String::new()
    } else {
        format!("; all {} would add {}", pack.baits.len(), words::small(pack.mean_whole_box_adds))
    };
    Some(format!(
        " With {} only it is {} in 100 fewer in the mean{matters}{whole}.",
        words::count(before.best.baits.len(), "bait", "baits"),
        words::small(size.mean_adds)
    ))
}

/// How stable the set is, and whether the greedy way finds it.
fn more(view: &View, pack: &Pack) -> Vec<String> {
    let mut all = Vec::new();
    let Some(chosen) = pack.chosen() else { return all };
    if !view.budget.fixed && pack.baits.len() > pack.carry {
        let near = words::worlds(pack.nearly_best);
        let swaps =
            pack.members.iter().filter_map(|m| m.substitute).filter(|s| s.1 < SMALLEST_DIFFERENCE).count();
        let verdict = if pack.stays_best >= 0.5 {
            "the choice is stable"
        } else if pack.nearly_best >= 0.9 {
            "which set is the very best cannot be told, and hardly matters"
        } else {
            "which set is the best cannot be told: it turns on what nobody knows about fish"
        };
        let swapped = match (swaps, pack.members.len()) {
            (0, 1) => "It cannot be swapped",
            (_, 1) => "It can be swapped",
            (0, _) => "None of its baits can be swapped",
            (n, of) if n == of => "Each of its baits can be swapped",
            _ => "Some of its baits can be swapped",
        };
        all.push(format!(
            "Of sets of up to {} it is the very best in {}, and within 1 in 100 of the best in {near}: {verdict}. \
             {swapped} for one left behind at a loss of less than 1 in 100 in the mean.",
            pack.carry,
            words::worlds(pack.stays_best),
        ));
    }
    let less = chosen.best.mean - chosen.greedy.mean;
    all.push(if less <= 1e-9 {
        "Adding the most useful bait one at a time finds a set as good.".into()
    } else {
        format!(
            "Adding the most useful bait one at a time finds another set, which draws {} in 100 fewer.",
            words::small(less)
        )
    });
    if !chosen.best.proven {
        all.push("The search was cut short: a better set may exist.".into());
    }
    all
}

/// What the tables do not say by themselves.
fn notes(view: &View, pack: &Pack) -> Vec<String> {
    let mut notes = vec![
        "A set is worth the mean over conditions of what its best bait draws, thrown knowing the condition but not which \
         of the plausible worlds is the true one. Loss without: mean strikes in 100 passes lost if only that bait stays \
         at home. Where thrown: from the 10 % to the 90 % point of the conditions in which it is the one to throw. All \
         differences are means; odds are the middle and nine in ten of the worlds."
            .to_owned(),
    ];
    if view.budget.fixed {
        notes.push(view.run_line());
        return notes;
    }
    let r = &pack.regret;
    notes.push(format!(
        "Knowing beforehand which of the worlds is the true one would change the set and add {} in 100 in the mean ({} to \
         {} in nine of ten worlds): that is what nobody knows about fish costs.",
        words::small(pack.mean_regret),
        words::small(r.low),
        words::small(r.high)
    ));
    if let Some(chosen) = pack.chosen() {
        let sample = if pack.axes.is_empty() {
            String::new()
        } else {
            format!(" and the sample of conditions {}", words::luck(chosen.best.sampling_se))
        };
        notes.push(format!(
            "The luck of this simulation adds {}{sample} to the strikes (one standard error); --worlds, --passes and \
             --conditions shrink it. {} The same worlds and passes in every condition.",
            words::luck(chosen.best.strikes.simulation_se),
            view.run_line()
        ));
    }
    let unproven = pack.cube.draws - pack.worlds_proven;
    if unproven > 0 {
        notes.push(format!("In {unproven} worlds the search for the best set was cut short."));
    }
    notes
}
