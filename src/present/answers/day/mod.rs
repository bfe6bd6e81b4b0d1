//! A day: what to throw when, when to change, what to have tied on.

pub mod machine;
mod pictures;
mod sentences;

pub use pictures::pictures;
pub use sentences::headline;
pub(in crate::present) use sentences::{changes, notes};

use super::{Asked, CAUTION, cloud_tenths};
use crate::present::escape::terminal_text;
use crate::present::table::{Column, Table};
use crate::present::words;
use crate::scenario::Clarity;
use crate::study::day::{Day, Plan, Step};

/// Letters that stand for baits.
pub(in crate::present) const LETTERS: &[u8; 26] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZ";

/// Columns of a terminal from which a step is told in full.
const WIDE: usize = 100;

/// The whole answer as text.
pub fn text(asked: &Asked, day: &Day) -> String {
    let order = order(day);
    let clears = varies(day, &|s| clarity(asked, s.clarity)).then_some("clarity by the hour");
    let mut out = asked.conditions_under(&sentences::sun_line(asked, day), clears);
    out.push('\n');
    out.push_str(&asked.wrapped(&headline(day)));
    for sentence in sentences::changes(asked, day) {
        out.push_str(&asked.wrapped(&sentence));
    }
    out.push('\n');
    out.push_str(&asked.wrapped("What to have tied on:"));
    out.push_str(&rods(day).terminal(asked.width));
    out.push('\n');
    out.push_str(&asked.wrapped("Hour by hour:"));
    out.push_str(&steps(asked, day, &order).terminal(asked.width));
    out.push('\n');
    out.push_str(&legend(day, &order));
    out.push('\n');
    for note in sentences::notes(asked, day) {
        out.push_str(&asked.wrapped(&note));
    }
    out.push('\n');
    out.push_str(&asked.wrapped(CAUTION));
    out
}

/// The baits that matter, those of the plan first: of the plan, of the sets, best at some hour, as good at some.
pub(in crate::present) fn order(day: &Day) -> Vec<usize> {
    let plan = day.one_rod.choices.iter();
    let tied_on = day.tied_on.iter().flat_map(|t| &t.baits);
    let best = day.steps.iter().map(|s| &s.best);
    let ties = day.steps.iter().flat_map(|s| &s.ties);
    let mut order: Vec<usize> = Vec::new();
    for &bait in plan.chain(tied_on).chain(best).chain(ties) {
        if !order.contains(&bait) {
            order.push(bait);
        }
    }
    order
}

pub(in crate::present) fn letter(order: &[usize], bait: usize) -> String {
    let known = order.iter().position(|b| *b == bait).and_then(|i| LETTERS.get(i));
    known.map_or("*".into(), |l| char::from(*l).to_string())
}

fn legend(day: &Day, order: &[usize]) -> String {
    let line = |b: &usize| format!("  {}  {}\n", letter(order, *b), terminal_text(&day.baits[*b]));
    let mut all: String = order.iter().take(LETTERS.len()).map(line).collect();
    if order.len() > LETTERS.len() {
        all.push_str("  *  one of the others\n");
    }
    all
}

/// The steps: sun and light, the best bait and its odds, what is as good, what the plan throws.
pub(in crate::present) fn steps(asked: &Asked, day: &Day, order: &[usize]) -> Table {
    let cloud = |s: &Step| cloud_tenths(s.sky.cloud);
    let wind = |s: &Step| asked.units.speed(s.sky.wind_m_s);
    let rain = |s: &Step| s.sky.rain.label().to_owned();
    let clear = |s: &Step| clarity(asked, s.clarity);
    let own: [(&str, Said<'_>); 4] =
        [("cloud", &cloud), ("wind", &wind), ("rain", &rain), ("clarity", &clear)];
    // On a narrow terminal the sky is told below the table only.
    let wide = asked.width >= WIDE;
    let shown: Vec<_> = own.into_iter().filter(|(_, of)| wide && varies(day, of)).collect();
    let mut columns = vec![Column::text("from"), Column::number("sun °")];
    if wide {
        columns.push(Column::number("lux on water"));
    }
    columns.push(Column::number(if wide { "at fish" } else { "lux at fish" }));
    columns.extend(shown.iter().map(|(name, _)| Column::text(name)));
    columns.push(Column::text("best"));
    columns.push(Column::text("strikes in 100"));
    columns.extend([Column::text("as good"), Column::text("one rod")]);
    let mut table = Table::new(columns);
    for (s, step) in day.steps.iter().enumerate() {
        let mut row = vec![
            step.clock.0.clone(),
            format!("{:.0}", step.sun.elevation_deg.round() + 0.0).replace('-', "−"),
        ];
        if wide {
            row.push(lux(step.surface_lux));
        }
        row.push(lux(step.fish_lux));
        row.extend(shown.iter().map(|(_, of)| of(step)));
        row.push(letter(order, step.best));
        let e = &step.strikes[step.best];
        row.push(range(e.point, e.low, e.high));
        row.push(as_good(day, step, order));
        row.push(letter(order, day.one_rod.choices[s]));
        table.push(row);
    }
    table
}

/// How something of a step is said.
type Said<'a> = &'a dyn Fn(&Step) -> String;

/// Whether something differs between steps.
fn varies(day: &Day, of: &dyn Fn(&Step) -> String) -> bool {
    day.steps.windows(2).any(|pair| of(&pair[0]) != of(&pair[1]))
}

/// "B C D", "any other", "7 others".
fn as_good(day: &Day, step: &Step, order: &[usize]) -> String {
    const LISTED: usize = 5;
    let of = day.baits.len();
    if of == 1 || step.ties.is_empty() {
        return String::new();
    }
    if step.ties.len() + 1 == of {
        return "any other".into();
    }
    let mut letters: Vec<String> = step.ties.iter().map(|b| letter(order, *b)).collect();
    letters.sort();
    if letters.len() > LISTED {
        return format!("{} others", letters.len());
    }
    letters.join(" ")
}

fn clarity(asked: &Asked, clarity: Clarity) -> String {
    match clarity {
        Clarity::Secchi(depth) => asked.units.length(depth),
        Clarity::Turbidity(ntu) => format!("{} NTU", words::two_digits(ntu)),
    }
}

fn lux(value: f64) -> String {
    if value < 0.001 { "<0.001".into() } else { words::two_digits(value) }
}

/// "7 (3 to 14)" as short as it can be said.
fn range(middle: f64, low: f64, high: f64) -> String {
    words::short_range(middle, low, high).replace("about ", "").replace("under ", "<")
}

/// What each number of rods draws, and what it lacks against having every bait at hand.
pub(in crate::present) fn rods(day: &Day) -> Table {
    let mut table = Table::new(vec![
        Column::text("rods"),
        Column::text("baits"),
        Column::text("strikes in 100"),
        Column::number("fewer, mean"),
    ]);
    let mut push = |rods: String, baits: String, plan: &Plan| {
        let e = &plan.strikes;
        table.push([rods, baits, range(e.point, e.low, e.high), small(plan.mean_fewer)]);
    };
    let names = |baits: &[usize]| baits.iter().map(|&b| day.baits[b].as_str()).collect::<Vec<_>>().join("; ");
    if let Some(one) = day.tied_on.first() {
        push("1, never changed".into(), names(&one.baits), &one.plan);
    }
    if !day.changes.is_empty() {
        push("1, changed as planned".into(), names(&used(&day.one_rod.choices)), &day.one_rod);
    }
    for set in day.tied_on.windows(2).filter(|w| w[1].baits.len() > w[0].baits.len()).map(|w| &w[1]) {
        push(set.baits.len().to_string(), names(&set.baits), &set.plan);
    }
    let all = used(&day.stepwise.choices);
    if all.len() > day.tied_on.last().map_or(0, |t| t.baits.len()) {
        push(all.len().to_string(), "every bait that is best at some hour".into(), &day.stepwise);
    }
    table
}

/// The baits of a plan, each once, in the order of use.
fn used(choices: &[usize]) -> Vec<usize> {
    let mut used: Vec<usize> = Vec::new();
    for &bait in choices {
        if !used.contains(&bait) {
            used.push(bait);
        }
    }
    used
}

/// A difference per 100 too small for halves: "under 0.1", "0.3", "1.2".
fn small(value: f64) -> String {
    if value.abs() < 0.005 {
        "0".into()
    } else if value < 0.05 {
        "under 0.1".into()
    } else {
        words::two_digits((10.0 * value).round() / 10.0)
    }
}
