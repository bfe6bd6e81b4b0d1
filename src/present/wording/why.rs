//! Which unknowns drive the answer, what finding out would be worth and how to go about it.

#[cfg(feature = "cli")]
mod pictures;

use super::{Readable, capital};
use crate::present::columns::{Cell, Column, Kind, column, raw, read, spreadsheet};
use crate::present::document::Document;
use crate::present::table::Table;
use crate::present::view::View;
use crate::present::words;
use crate::statistics::Confidence;
use crate::statistics::estimate::ReplicateMean;
use crate::study::SMALLEST_DIFFERENCE;
use crate::study::why::one_at_a_time::{Given, Off, What};
use crate::study::why::{Input, Kind as Unknown, Share, Why};

/// Parameters shown in the table and the picture.
const SHOWN: usize = 10;
/// A half width of a share from which the reader is told that it is wide.
const WIDE: f64 = 0.15;
/// A gain below this is called small without a number: the luck of the simulation is of that size.
const SMALL_GAIN: f64 = 0.05;

impl Readable for Why {
    fn document(&self, view: &View) -> Document {
        let mut out = Document::new(view.head(), headline(self));
        out.figure("why");
        let groups = "Groups of assumptions: in how much of the spread each has a hand";
        out.plain_table(groups, group_table(self, view));
        if let Some(parameters) = &self.parameters {
            let caption = "Single unknowns that drive the odds or the choice";
            out.plain_table(caption, parameter_table(parameters, view));
        }
        out.paragraphs(notes(self));
        out.paragraphs([GIVEN_NOTE.to_owned()]);
        if !self.given.is_empty() {
            out.plain_table("Where a value that was given is a little off", given_table(view, self));
        }
        out.paragraphs([run_line(self, view)]);
        out
    }

    /// Groups and parameters.
    fn spreadsheet(&self, _view: &View) -> Table {
        type Row<'a> = (&'static str, &'a Input);
        let levels = [("group", Some(&self.groups)), ("parameter", self.parameters.as_ref())];
        let rows: Vec<Row> =
            levels.into_iter().flat_map(|(l, all)| all.into_iter().flatten().map(move |i| (l, i))).collect();
        let mut columns: Vec<Column<Row>> = vec![
            raw("level", |r: &Row| r.0),
            raw("name", |r: &Row| r.1.name.clone()),
            raw("means", |r: &Row| r.1.means.clone()),
            raw("known_by", |r: &Row| known(r.1)),
        ];
        type Of = fn(&Input) -> Option<Share>;
        let odds: Of = |i| Some(i.odds);
        let difference: Of = |i| i.difference;
        for (name, of) in [("odds", odds), ("difference", difference)] {
            columns.extend([
                raw(format!("{name}_total_share"), move |r: &Row| of(r.1).map(|s| s.index.total.mean)),
                raw(format!("{name}_total_se"), move |r: &Row| of(r.1).map(|s| s.index.total.se)),
                raw(format!("{name}_first_share"), move |r: &Row| of(r.1).map(|s| s.index.first.mean)),
                raw(format!("{name}_stands_out"), move |r: &Row| of(r.1).map(|s| s.stands_out)),
            ]);
        }
        columns.push(raw("worth_per_100", |r: &Row| r.1.worth.map(|_| Cell::Number(r.1.gain()))));
        spreadsheet(&columns, &rows)
    }

    /// For each unknown its share in the odds and in the choice.
    #[cfg(feature = "cli")]
    fn pictures(&self, view: &View) -> Vec<crate::present::document::Picture> {
        pictures::pictures(view, self)
    }

    fn rests_on(&self) -> String {
        let lost = if self.parameters.is_none() { ", and only whole groups are told apart" } else { "" };
        if self.complete { String::new() } else { format!("fewer scrambles than asked for{lost}") }
    }
}

fn run_line(why: &Why, view: &View) -> String {
    let budget = view.budget;
    format!("{} worlds of {} passes each, seed {}.", why.worlds, budget.passes, budget.seed)
}

fn named(inputs: &[&Input]) -> String {
    inputs.iter().map(|i| i.means.as_str()).collect::<Vec<_>>().join("; then ")
}

/// The finding.
fn headline(why: &Why) -> String {
    let s = &why.strikes;
    let leader = &why.baits[why.leader];
    let mut said = format!(
        "{} passes end in a strike with {leader}.",
        capital(&words::range_per_100(s.point, s.low, s.high))
    );
    let inputs = why.parameters.as_ref().unwrap_or(&why.groups);
    match drivers(inputs, |i| Some(i.odds)).as_slice() {
        [] => said.push_str(" Nothing stands out as driving that spread."),
        some => said.push_str(&format!(" That spread rests most on {}.", named(some))),
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
        some => said.push_str(&format!("; that rests most on {}.", named(some))),
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

fn long_name(input: &Input) -> String {
    match input.kind {
        Unknown::Readiness => {
            format!("{}: attention, hunger, temperature, season, drawn together", input.means)
        }
        _ => input.means.clone(),
    }
}

/// How well an input is known: the grade of a parameter, the count of a set.
fn known(input: &Input) -> String {
    match input.grade {
        Some(grade) => grade.name().into(),
        None => words::count(input.members, "assumption", "assumptions"),
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

/// Columns of shares that groups and single unknowns have in common.
fn shares<'a>() -> [Column<'a, &'a Input>; 4] {
    [
        column("", "odds (%)", Kind::Right, |i: &&Input| percent(Some(i.odds))),
        column("", "±", Kind::Right, |i: &&Input| give_or_take(Some(i.odds))),
        column("", "choice (%)", Kind::Right, |i: &&Input| percent(i.difference)),
        column("", "±", Kind::Right, |i: &&Input| give_or_take(i.difference)),
    ]
}

fn group_table(why: &Why, view: &View) -> Table {
    let mut columns = vec![column("", "groups of assumptions", Kind::Text, |i: &&Input| long_name(i))];
    columns.extend(shares());
    read(&columns, &why.groups.iter().collect::<Vec<_>>(), view.units)
}

fn parameter_table(parameters: &[Input], view: &View) -> Table {
    let mut columns = vec![
        column("", "single unknowns of the groups that matter", Kind::Text, |i: &&Input| long_name(i)),
        column("", "known by", Kind::Text, |i: &&Input| known(i)),
    ];
    columns.extend(shares());
    columns.push(column("", "worth knowing", Kind::Right, |i: &&Input| gain(i.gain())));
    read(&columns, &shown(parameters), view.units)
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

fn notes(why: &Why) -> Vec<String> {
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
             four times the --worlds, which about halves them."
                .into(),
        );
    }
    notes.push(dropped(why));
    notes.extend(find_out(why));
    notes
}

/// What the shares do not hold.
const GIVEN_NOTE: &str = "All this takes what you gave as true. No knowledge of fish makes up for a wrong depth. What \
    you can read again with a line, a disc and a thermometer, and what becomes of the answer where it is a little off \
    (middle world, per 100 passes):";

/// What becomes of the answer where a value that was given is off.
fn given_table(view: &View, why: &Why) -> Table {
    type Row<'a> = (&'a Given, Off, bool);
    let mut rows: Vec<Row> = Vec::new();
    for g in &why.given {
        rows.push((g, g.here, true));
        rows.extend([g.lower, g.higher].into_iter().flatten().map(|off| (g, off, false)));
    }
    let mut columns = vec![
        column("", "what you gave", Kind::Text, |r: &Row| if r.2 { given_words(r.0.what) } else { "" }),
        column("", "if it is", Kind::Text, |r: &Row| {
            let value = given_value(view, r.0.what, r.1.value);
            if r.2 { format!("{value}, as given") } else { value }
        }),
        column("", "odds", Kind::Right, |r: &Row| words::number_per_100(r.1.strikes)),
    ];
    if why.next.is_some() {
        columns.push(column("", "choice", Kind::Text, |r: &Row| r.1.difference.map(words::more_or_fewer)));
    }
    read(&columns, &rows, view.units)
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

fn given_value(view: &View, what: What, value: f64) -> String {
    let u = view.units;
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

/// Named among those to find out first.
const FIRST: usize = 3;

/// What finding out would be worth, and what to do first.
fn find_out(why: &Why) -> Vec<String> {
    let best = &why.baits[why.best_now];
    let all = why.evpi.mean;
    let mut notes = Vec::new();
    let amount =
        if all < SMALL_GAIN { "hardly anything".into() } else { format!("about {}", words::two_digits(all)) };
    let verdict = if why.finding_out_matters() {
        "that is worth finding out."
    } else {
        "less than 1, the smallest difference that matters here, so no finding out is worth a cast for the sake of \
         the choice alone."
    };
    notes.push(format!(
        "What finding out is worth: as long as nothing more is known, throw {best}. Somebody who knew everything \
         about the fish would sometimes throw another bait and gain {amount} in 100 passes on average: {verdict} \
         \"Worth knowing\" is the part of it that a single unknown gives, in strikes per 100 passes."
    ));
    let Some(parameters) = &why.parameters else { return notes };
    let mut worth: Vec<&Input> = parameters.iter().filter(|p| p.gain() >= SMALL_GAIN).collect();
    worth.sort_by(|a, b| b.gain().total_cmp(&a.gain()));
    worth.truncate(FIRST);
    let (order, aim) = if worth.is_empty() {
        (
            drivers(parameters, |p| Some(p.odds)),
            "For narrower odds (no single unknown here would change the choice)",
        )
    } else {
        (worth, "What to find out first for a better choice")
    };
    let mut first = format!("{aim}:");
    let mut ways: Vec<&str> = order.iter().map(|p| way(p).0).collect();
    ways.dedup();
    for one in ways {
        let names: Vec<String> = order.iter().filter(|p| way(p).0 == one).map(|p| p.means.clone()).collect();
        first.push_str(&format!("\n- {}: {one}.", names.join("; ")));
    }
    if !order.is_empty() {
        notes.push(first);
    }
    notes.extend(by_hand(parameters));
    notes
}

/// The driving unknowns that an angler can measure.
fn by_hand(parameters: &[Input]) -> Option<String> {
    let mut own: Vec<&Input> = parameters.iter().filter(|p| p.drives() && way(p).1).collect();
    let share = |p: &Input| p.odds.index.total.mean.max(p.difference.map_or(0.0, |d| d.index.total.mean));
    own.sort_by(|a, b| share(b).total_cmp(&share(a)));
    own.truncate(FIRST);
    let lines = own.iter().map(|p| {
        let choice =
            p.difference.map_or(String::new(), |d| format!(", {} % of the choice", percent(Some(d))));
        format!("\n- {} ({} % of the odds{choice}): {}", p.means.clone(), percent(Some(p.odds)), way(p).0)
    });
    (!own.is_empty()).then(|| {
        format!("What you can measure yourself, the most telling first:{}", lines.collect::<String>())
    })
}

/// How an unknown could be found out, and whether an angler can do it without waiting for casts.
fn way(input: &Input) -> (&'static str, bool) {
    const CASTS: (&str, bool) = (
        "no instrument measures it; only casts speak to it, those without a strike too. Keep a log of bait, casts and \
         strikes, and put it to `callup learn`",
        false,
    );
    if input.grade.is_none() {
        return CASTS;
    }
    match (input.name.as_str(), input.name.split('.').next().unwrap_or_default()) {
        ("bait.depth_error", _) => (
            "reel the bait, on your own line and cast, along a marked rope or over a bar of known depth until it \
              just touches",
            true,
        ),
        ("water.secchi_error", _) => (
            "lower a disc on the spot, on the shady side, down until it is gone and up until it shows, and take the \
              mean",
            true,
        ),
        ("sky.cloud_error", _) => ("hold a light meter level under that sky", true),
        ("hearing.rattle_level", _) => {
            ("it takes a hydrophone, a metre from the bait in a quiet pool", false)
        }
        (_, "water" | "tint" | "field" | "beam" | "surface") => {
            ("lower a light meter on a marked rope, turned up, level and down", true)
        }
        (_, "finish") => {
            ("hold the bait beside a grey card, in shade and in sun, and compare with a light meter", true)
        }
        (_, "roll" | "glint") => ("film the working bait from the side in clear water", true),
        (_, "sight" | "near" | "hearing" | "swim" | "largemouth" | "smallmouth" | "forage") => (
            "no day on the water tells it; it takes a tank. Look for a better published value and lay it over with \
             --model",
            false,
        ),
        _ => CASTS,
    }
}
