//! A packed box: the best few baits, what each adds, how stable the choice is.

pub mod machine;
mod pictures;
mod sentences;

pub use pictures::pictures;
pub use sentences::headline;

use super::sweep::labels::Side;
use super::{Asked, CAUTION};
use crate::present::escape::terminal_text;
use crate::present::table::{Column, Table};
use crate::present::words;
use crate::study::axis::Axis;
use crate::study::pack::{Pack, Set};

/// Letters that stand for baits.
const LETTERS: &[u8; 26] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZ";
/// Share of worlds in whose best set a bait must be to be named though not carried.
const NAMED_FROM: f64 = 0.1;

/// The whole answer as text; `usual` where the spread was not asked for.
pub fn text(asked: &Asked, pack: &Pack, usual: bool) -> String {
    let sides: Vec<Side> = pack.axes.iter().map(|a| Side::of(asked, a)).collect();
    let order = order(pack);
    let mut out = if pack.sources.len() == 1 { asked.conditions() } else { String::new() };
    out.push_str(&asked.wrapped(&sentences::over_what(pack, &sides, usual)));
    out.push('\n');
    out.push_str(&asked.wrapped(&headline(pack)));
    for sentence in sentences::more(asked, pack) {
        out.push_str(&asked.wrapped(&sentence));
    }
    out.push('\n');
    out.push_str(&asked.wrapped("What each further bait adds:"));
    out.push_str(&sizes(pack, &order).terminal(asked.width));
    out.push('\n');
    out.push_str(&asked.wrapped("What the carried ones are for:"));
    out.push_str(&members(pack, &order, &sides).terminal(asked.width));
    if pack.sources.len() > 1 {
        out.push('\n');
        out.push_str(&asked.wrapped("What is thrown where:"));
        out.push_str(&sources(pack, &order).terminal(asked.width));
    }
    out.push('\n');
    out.push_str(&legend(pack, &order));
    out.push('\n');
    for note in sentences::notes(asked, pack) {
        out.push_str(&asked.wrapped(&note));
    }
    out.push('\n');
    out.push_str(&asked.wrapped(CAUTION));
    out
}

/// The baits that matter: those carried, those of the other sizes, substitutes, those of some worlds' best sets.
fn order(pack: &Pack) -> Vec<usize> {
    let carried = pack.members.iter().map(|m| m.bait);
    let sizes = pack.sizes.iter().flat_map(|s| s.best.baits.iter().chain(&s.greedy.baits).copied());
    let substitutes = pack.members.iter().filter_map(|m| Some(m.substitute?.0));
    let mut others: Vec<usize> = (0..pack.baits.len()).filter(|&b| pack.inclusion[b] >= NAMED_FROM).collect();
    others.sort_by(|&a, &b| pack.inclusion[b].total_cmp(&pack.inclusion[a]));
    let mut order: Vec<usize> = Vec::new();
    for bait in carried.chain(sizes).chain(substitutes).chain(others) {
        if !order.contains(&bait) {
            order.push(bait);
        }
    }
    order
}

fn letter(order: &[usize], bait: usize) -> String {
    let known = order.iter().position(|b| *b == bait).and_then(|i| LETTERS.get(i));
    known.map_or("*".into(), |l| char::from(*l).to_string())
}

fn letters(order: &[usize], set: &[usize]) -> String {
    let mut all: Vec<String> = set.iter().map(|&b| letter(order, b)).collect();
    all.sort();
    all.join(" ")
}

fn legend(pack: &Pack, order: &[usize]) -> String {
    let share = |b: usize| percent(pack.inclusion[b]);
    let line = |b: &usize| {
        let name = terminal_text(&pack.baits[*b]);
        format!("  {}  {name} (in the best set of {} of worlds)\n", letter(order, *b), share(*b))
    };
    order.iter().take(LETTERS.len()).map(line).collect()
}

fn percent(share: f64) -> String {
    if share > 0.0 && share < 0.005 { "<1 %".into() } else { format!("{:.0} %", 100.0 * share) }
}

/// "7 (3 to 14)" as short as it can be said.
fn range(e: &crate::statistics::estimate::Estimate) -> String {
    words::short_range(e.point, e.low, e.high).replace("about ", "").replace("under ", "<")
}

/// A difference per 100 too small for halves: "under 0.1", "0.3", "1.2".
fn small(value: f64) -> String {
    if value.abs() < 0.005 {
        "0".into()
    } else if value.abs() < 0.05 {
        "under 0.1".into()
    } else {
        words::two_digits((10.0 * value).round() / 10.0)
    }
}

fn sizes(pack: &Pack, order: &[usize]) -> Table {
    let mut table = Table::new(vec![
        Column::number("carried"),
        Column::text("best set"),
        Column::text("strikes in 100"),
        Column::number("mean"),
        Column::number("adds, mean"),
        Column::text("one at a time"),
    ]);
    for (i, size) in pack.sizes.iter().enumerate() {
        let same = size.greedy.mean >= size.best.mean - 1e-9;
        // Sizes that add no bait are not told one by one.
        if i > 0 && size.best.baits.len() < size.size {
            let none = ["no further bait adds anything", "", "", "0", ""].map(str::to_owned);
            table.push(std::iter::once(size.size.to_string()).chain(none));
            break;
        }
        table.push([
            if size.size == pack.carry { format!("→ {}", size.size) } else { size.size.to_string() },
            letters(order, &size.best.baits),
            range(&size.best.strikes),
            tenth(&size.best),
            if i == 0 { String::new() } else { small(size.mean_adds) },
            if same {
                "the same".into()
            } else {
                format!(
                    "{}, {} fewer",
                    letters(order, &size.greedy.baits),
                    small(size.best.mean - size.greedy.mean)
                )
            },
        ]);
    }
    table
}

fn tenth(set: &Set) -> String {
    words::two_digits((10.0 * set.mean).round() / 10.0)
}

fn members(pack: &Pack, order: &[usize], sides: &[Side]) -> Table {
    let mut columns = vec![Column::text("bait"), Column::number("thrown in"), Column::number("loss without")];
    columns.push(Column::text("best substitute"));
    let shown: Vec<(usize, &Side)> = sides.iter().enumerate().filter(|(_, s)| s.words.is_none()).collect();
    columns.extend(shown.iter().map(|(_, side)| Column::text(&side.name)));
    let mut table = Table::new(columns);
    for m in &pack.members {
        let substitute = m
            .substitute
            .map_or("none left".into(), |(b, loss)| format!("{}, {} fewer", letter(order, b), small(loss)));
        let mut row = vec![letter(order, m.bait), percent(m.thrown), small(m.without), substitute];
        row.extend(shown.iter().map(|(k, side)| {
            let [low, _, high] = m.where_thrown[*k];
            let at = |v: f64| side.said(reader_value(&pack.axes[*k], side, v));
            format!("{} to {}", at(low), at(high))
        }));
        table.push(row);
    }
    table
}

/// A number of the unit kept in the reader's unit: units differ by a factor and a shift, which the ends tell.
fn reader_value(axis: &Axis, side: &Side, kept: f64) -> f64 {
    let numbers = axis.numbers();
    let ends = (numbers.first(), numbers.last(), side.values.first(), side.values.last());
    let (Some(a), Some(b), Some(c), Some(d)) = ends else { return kept };
    c + (kept - a) / (b - a) * (d - c)
}

/// The baits thrown in each scenario.
fn sources(pack: &Pack, order: &[usize]) -> Table {
    let mut table =
        Table::new(vec![Column::text("scenario"), Column::number("weight"), Column::text("thrown")]);
    for (s, (title, share)) in pack.sources.iter().enumerate() {
        let of = |b: usize| {
            let here = pack.conditions.iter().zip(&pack.throw).filter(|(c, t)| c.source == s && **t == b);
            here.map(|(c, _)| c.weight).sum::<f64>() / share
        };
        let mut baits: Vec<(usize, f64)> = pack.members.iter().map(|m| (m.bait, of(m.bait))).collect();
        baits.retain(|b| b.1 > 0.0);
        baits.sort_by(|a, b| b.1.total_cmp(&a.1));
        let said: Vec<String> = match baits.as_slice() {
            [(one, _)] => vec![letter(order, *one)],
            all => {
                all.iter().map(|(b, share)| format!("{} {}", letter(order, *b), percent(*share))).collect()
            }
        };
        table.push([title.clone(), percent(*share), said.join(", ")]);
    }
    table
}
