//! Which unknowns drive the answer: text and tables here, what to find out in `advice`, machine output and
//! picture beside.

mod advice;
mod machine;
mod pictures;

pub use machine::{csv, json};
pub use pictures::pictures;

use super::{Asked, CAUTION};
use crate::models::{Group, Models};
use crate::present::table::{Column, Table};
use crate::present::words;
use crate::statistics::Confidence;
use crate::statistics::estimate::ReplicateMean;
use crate::study::SMALLEST_DIFFERENCE;
use crate::study::why::given::{Given, What};
use crate::study::why::{Input, Kind, Share, Why};

/// Parameters shown in the table and the picture.
const SHOWN: usize = 10;
/// A half width of a share from which the reader is told that it is wide.
const WIDE: f64 = 0.15;
/// A gain below this is called small without a number: the luck of the simulation is of that size.
const SMALL_GAIN: f64 = 0.05;

/// The whole answer as text.
pub fn text(asked: &Asked, models: &Models, why: &Why, given: &[Given]) -> String {
    let mut out = asked.conditions();
    let mut paragraph = |text: &str| {
        out.push('\n');
        out.push_str(text);
    };
    paragraph(&asked.wrapped(&headline(models, why)));
    paragraph(&group_table(models, why).terminal(asked.width));
    if let Some(parameters) = &why.parameters {
        paragraph(&parameter_table(models, parameters).terminal(asked.width));
    }
    // Each line of a list is broken by itself.
    let lines = |note: &str| note.lines().map(|line| asked.wrapped(line)).collect::<String>();
    for note in notes(models, why) {
        paragraph(&lines(&note));
    }
    paragraph(&lines(GIVEN_NOTE));
    if !given.is_empty() {
        paragraph(&given_table(asked, why, given).terminal(asked.width));
    }
    paragraph(&asked.wrapped(&format!(
        "{} worlds of {} passes each, seed {}.",
        why.worlds, asked.budget.points, asked.budget.seed
    )));
    paragraph(&asked.wrapped(CAUTION));
    out
}

/// The finding.
pub fn headline(models: &Models, why: &Why) -> String {
    let s = &why.strikes;
    let leader = &why.baits[why.leader];
    let mut said = format!(
        "{} passes end in a strike with {leader}.",
        capital(&words::range_per_100(s.point, s.low, s.high))
    );
    let inputs = why.parameters.as_ref().unwrap_or(&why.groups);
    match drivers(inputs, |i| Some(i.odds)).as_slice() {
        [] => said.push_str(" Nothing stands out as driving that spread."),
        some => said.push_str(&format!(" That spread rests most on {}.", named(models, some))),
    }
    let Some((next, d)) = why.next.zip(why.difference) else { return said };
    said.push_str(&format!(
        " Beside {}, it draws {}",
        why.baits[next],
        words::difference_per_100(d.point, d.low, d.high)
    ));
    match drivers(inputs, |i| i.difference).as_slice() {
        _ if d.low.abs().max(d.high.abs()) < SMALLEST_DIFFERENCE => {
            said.push_str(": so small a difference that it hardly matters what drives it.");
        }
        [] => said.push_str("; nothing stands out as driving that difference."),
        some => said.push_str(&format!("; that rests most on {}.", named(models, some))),
    }
    said
}

/// The inputs that stand out, the greatest share first.
fn drivers(inputs: &[Input], of: impl Fn(&Input) -> Option<Share>) -> Vec<&Input> {
    const NAMED: usize = 3;
    let total = |i: &Input| of(i).map_or(0.0, |s| s.index.total.mean);
    let mut all: Vec<&Input> = inputs.iter().filter(|i| of(i).is_some_and(|s| s.stands_out)).collect();
    all.sort_by(|a, b| total(b).total_cmp(&total(a)));
    all.truncate(NAMED);
    all
}

fn named(models: &Models, inputs: &[&Input]) -> String {
    inputs.iter().map(|i| short_name(models, i)).collect::<Vec<_>>().join("; then ")
}

fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or(String::new(), |c| c.to_uppercase().chain(chars).collect())
}

fn short_name(models: &Models, input: &Input) -> String {
    match input.kind {
        // A level's reference ("re 1 uPa") stands in the list of assumptions.
        Kind::Parameter(d) => models
            .parameters
            .get(d)
            .map_or(String::new(), |p| p.means.split(", re ").next().unwrap_or_default().to_owned()),
        Kind::Readiness => "how ready and attentive the fish are".into(),
        Kind::Group(group) => group_words(group).into(),
    }
}

fn group_words(group: Group) -> &'static str {
    match group {
        Group::Optics => "light, water and eye",
        Group::Mechanics => "line, bait and swimming",
        Group::Appetite => "appetite apart from readiness",
        Group::Phase => "season of the spawn apart from readiness",
        Group::Wariness => "refusal and fishing pressure",
        Group::Size => "size of the bait against prey and fish",
        Group::Sound => "rattles, hearing and the near field",
    }
}

fn long_name(models: &Models, input: &Input) -> String {
    match input.kind {
        Kind::Readiness => {
            format!("{}: attention, hunger, temperature, season, drawn together", short_name(models, input))
        }
        _ => short_name(models, input),
    }
}

/// How well an input is known: the grade of a parameter, the count of a set.
fn known(models: &Models, input: &Input) -> String {
    match input.kind {
        Kind::Parameter(d) => models.parameters.get(d).map_or(String::new(), |p| p.grade.name().into()),
        _ => words::count(input.members, "assumption", "assumptions"),
    }
}

/// A share in per cent, "·" where it does not stand out.
fn percent(share: Option<Share>) -> String {
    match share {
        Some(s) if s.stands_out => whole_percent(s.index.total.mean),
        _ => "·".into(),
    }
}

fn whole_percent(share: f64) -> String {
    if share < 0.005 { "<1".into() } else { format!("{:.0}", 100.0 * share) }
}

fn give_or_take(share: Option<Share>) -> String {
    share.map_or(String::new(), |s| whole_percent(reach(&s.index.total)))
}

/// Half width of the 95 % interval.
fn reach(share: &ReplicateMean) -> f64 {
    share.interval(Confidence::NINETY_FIVE).high - share.mean
}

pub(in crate::present) fn group_table(models: &Models, why: &Why) -> Table {
    let mut table = Table::new(vec![
        Column::text("groups of assumptions"),
        Column::number("odds").unit("%"),
        Column::number("±"),
        Column::number("choice").unit("%"),
        Column::number("±"),
    ]);
    for g in &why.groups {
        table.push([
            long_name(models, g),
            percent(Some(g.odds)),
            give_or_take(Some(g.odds)),
            percent(g.difference),
            give_or_take(g.difference),
        ]);
    }
    table
}

pub(in crate::present) fn parameter_table(models: &Models, parameters: &[Input]) -> Table {
    let mut table = Table::new(vec![
        Column::text("single unknowns of the groups that matter"),
        Column::text("known by"),
        Column::number("odds").unit("%"),
        Column::number("±"),
        Column::number("choice").unit("%"),
        Column::number("±"),
        Column::number("worth knowing"),
    ]);
    for p in shown(parameters) {
        table.push([
            long_name(models, p),
            known(models, p),
            percent(Some(p.odds)),
            give_or_take(Some(p.odds)),
            percent(p.difference),
            give_or_take(p.difference),
            gain(p.gain()),
        ]);
    }
    table
}

/// Those that drive the odds or the choice, as many as are shown.
fn shown(parameters: &[Input]) -> Vec<&Input> {
    let most = |i: &&Input| {
        let difference = i.difference.filter(|d| d.stands_out).map_or(0.0, |d| d.index.total.mean);
        let odds = if i.odds.stands_out { i.odds.index.total.mean } else { 0.0 };
        odds.max(difference)
    };
    let mut all: Vec<&Input> = parameters.iter().filter(|p| p.drives()).collect();
    all.sort_by(|a, b| most(b).total_cmp(&most(a)));
    all.truncate(SHOWN);
    all.sort_by(|a, b| b.odds.index.total.mean.total_cmp(&a.odds.index.total.mean));
    all
}

fn gain(strikes: f64) -> String {
    match strikes {
        g if g <= 0.0 => "·".into(),
        g if g < SMALL_GAIN => format!("<{SMALL_GAIN}"),
        g => words::two_digits(g),
    }
}

pub(in crate::present) fn notes(models: &Models, why: &Why) -> Vec<String> {
    let leader = &why.baits[why.leader];
    let choice = match why.next {
        Some(n) => format!(
            "\"Choice\" is the same for the difference between it and {}: what moves both baits alike does not \
             matter there.",
            why.baits[n]
        ),
        None => "The box holds one bait, so there is no choice to explain.".into(),
    };
    let mut notes = vec![format!(
        "\"Odds\": in how many per cent of the spread of the odds of {leader} an unknown has a hand (total index: \
         what would be left if all the rest were known). Unknowns work together, so the shares add up to more than \
         100. {choice} ± is the luck of the simulation: nineteen runs in twenty fall within. \"·\" is not told from \
         the luck of the passes, which is no fact about fish and has a hand in {}.",
        floors(why)
    )];
    let wide = |s: Share| s.stands_out && reach(&s.index.total) > WIDE;
    if why.groups.iter().any(|g| wide(g.odds) || g.difference.is_some_and(wide)) {
        notes.push(
            "Some ± are wide, because a few worlds make most of the spread: read the order as a rough one, or give \
             four times the --draws, which about halves them."
                .into(),
        );
    }
    notes.push(dropped(why));
    notes.extend(advice::find_out(models, why));
    notes
}

/// What the shares do not hold.
const GIVEN_NOTE: &str = "All this takes what you gave as true. No knowledge of fish makes up for a wrong depth. What \
    you can read again with a line, a disc and a thermometer, and what becomes of the answer where it is a little off \
    (middle world, per 100 passes):";

/// What becomes of the answer where a value that was given is off.
fn given_table(asked: &Asked, why: &Why, given: &[Given]) -> Table {
    let mut table = Table::new(vec![
        Column::text("what you gave"),
        Column::text("if it is"),
        Column::number("odds"),
        Column::text("choice"),
    ]);
    for g in given {
        let rows = [Some((g.here, true)), g.lower.map(|o| (o, false)), g.higher.map(|o| (o, false))];
        for (off, first) in rows.into_iter().flatten() {
            let name = if first { given_words(g.what) } else { "" };
            let value = given_value(asked, g.what, off.value);
            let choice = off.difference.map_or(String::new(), words::more_or_fewer);
            table.push([
                name.to_owned(),
                if first { format!("{value}, as given") } else { value },
                words::number_per_100(off.strikes),
                choice,
            ]);
        }
    }
    if why.next.is_none() {
        table.columns.pop();
    }
    table
}

fn given_words(what: What) -> &'static str {
    match what {
        What::Depth => "depth of the fish",
        What::Secchi => "Secchi depth",
        What::Turbidity => "turbidity",
        What::Speed => "speed of the line",
        What::Temperature => "water temperature",
    }
}

fn given_value(asked: &Asked, what: What, value: f64) -> String {
    let u = asked.units;
    match what {
        What::Depth | What::Secchi => u.length(value),
        What::Turbidity => format!("{} NTU", words::two_digits(value)),
        What::Speed => u.speed(value),
        What::Temperature => u.temperature(value),
    }
}

fn floors(why: &Why) -> String {
    let odds = format!("{} % of the odds", whole_percent(why.floor.total.mean));
    match &why.difference_floor {
        Some(d) => format!("{odds} and {} % of the choice", whole_percent(d.total.mean)),
        None => odds,
    }
}

/// What is not in the tables, and why.
fn dropped(why: &Why) -> String {
    let (varied, idle) = why.varied;
    let here = format!(
        "Of {varied} numbers that nobody knows, {idle} move nothing here: other fish, other water, other finishes"
    );
    match &why.parameters {
        None => format!("{here}. Single unknowns were not reached; run it again to the end."),
        Some(all) => {
            let driving = all.iter().filter(|p| p.drives()).count();
            let more = driving.saturating_sub(SHOWN);
            let rest = if more > 0 {
                format!("; {more} more stand out by less than those shown (--csv has all)")
            } else {
                String::new()
            };
            let still = all.len() - driving;
            format!("{here}{rest}. {still} of the groups that matter are not told from luck.")
        }
    }
}
