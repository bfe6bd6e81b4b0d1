//! Which unknowns drive the answer: text, tables, machine output, picture.

use super::{Asked, CAUTION, estimate_json};
use crate::models::{Group, Models};
use crate::present::figures::{self, Words, why as figure};
use crate::present::scene::Scene;
use crate::present::table::{Column, Table};
use crate::present::words;
use crate::statistics::Confidence;
use crate::statistics::estimate::ReplicateMean;
use crate::statistics::sensitivity::IndexEstimate;
use crate::study::why::{Input, Kind, Share, Why};
use serde_json::{Value, json};

/// Parameters shown in the table and the picture.
const SHOWN: usize = 10;
/// Named among those to find out first.
const FIRST: usize = 3;
/// A gain below this is called small without a number: the luck of the simulation is of that size.
const SMALL_GAIN: f64 = 0.05;

/// The whole answer as text.
pub fn text(asked: &Asked, models: &Models, why: &Why) -> String {
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
    for note in notes(asked, models, why) {
        // Each line of a list is broken by itself.
        paragraph(&note.lines().map(|line| asked.wrapped(line)).collect::<String>());
    }
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

fn group_table(models: &Models, why: &Why) -> Table {
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

fn parameter_table(models: &Models, parameters: &[Input]) -> Table {
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

fn notes(asked: &Asked, models: &Models, why: &Why) -> Vec<String> {
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
    notes.push(dropped(why));
    notes.extend(find_out(models, why));
    notes.push(format!(
        "All this takes what you gave as true: clarity, depth of the fish, light, speed. No assumption about fish \
         makes up for a wrong depth. `callup sweep --over depth` and `--over clarity` show how much they matter. \
         {} worlds of {} passes each, seed {}.",
        why.worlds, asked.budget.points, asked.budget.seed
    ));
    notes
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

/// What finding out would be worth, and what to do first.
fn find_out(models: &Models, why: &Why) -> Vec<String> {
    let best = &why.baits[why.best_now];
    let all = why.everything.mean;
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
    let mut ways: Vec<&str> = order.iter().map(|p| way(models, p).0).collect();
    ways.dedup();
    for one in ways {
        let names: Vec<String> =
            order.iter().filter(|p| way(models, p).0 == one).map(|p| short_name(models, p)).collect();
        first.push_str(&format!("\n- {}: {one}.", names.join("; ")));
    }
    if !order.is_empty() {
        notes.push(first);
    }
    notes.extend(by_hand(models, parameters));
    notes
}

/// The driving unknowns that an angler can measure.
fn by_hand(models: &Models, parameters: &[Input]) -> Option<String> {
    let mut own: Vec<&Input> = parameters.iter().filter(|p| p.drives() && way(models, p).1).collect();
    let share = |p: &Input| p.odds.index.total.mean.max(p.difference.map_or(0.0, |d| d.index.total.mean));
    own.sort_by(|a, b| share(b).total_cmp(&share(a)));
    own.truncate(FIRST);
    let lines = own.iter().map(|p| {
        let choice =
            p.difference.map_or(String::new(), |d| format!(", {} % of the choice", percent(Some(d))));
        format!(
            "\n- {} ({} % of the odds{choice}): {}",
            short_name(models, p),
            percent(Some(p.odds)),
            way(models, p).0
        )
    });
    (!own.is_empty()).then(|| {
        format!("What you can measure yourself, the most telling first:{}", lines.collect::<String>())
    })
}

/// How an unknown could be found out, and whether an angler can do it without waiting for casts.
fn way(models: &Models, input: &Input) -> (&'static str, bool) {
    const CASTS: (&str, bool) = (
        "no instrument measures it; only casts speak to it, those without a strike too. Keep a log of bait, casts and \
         strikes, and put it to `callup learn`",
        false,
    );
    let Kind::Parameter(d) = input.kind else { return CASTS };
    let Some(p) = models.parameters.get(d) else { return CASTS };
    match (p.name.as_str(), p.name.split('.').next().unwrap_or_default()) {
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

fn share_json(index: &IndexEstimate, stands_out: Option<bool>) -> Value {
    json!({
        "total_share": index.total.mean,
        "total_se": index.total.se,
        "first_share": index.first.mean,
        "first_se": index.first.se,
        "stands_out": stands_out,
    })
}

fn input_json(models: &Models, input: &Input) -> Value {
    let parameter = match input.kind {
        Kind::Parameter(d) => models.parameters.get(d),
        _ => None,
    };
    json!({
        "name": key(models, input),
        "means": short_name(models, input),
        "grade": parameter.map(|p| p.grade),
        "group": match input.kind {
            Kind::Group(g) => Some(g.name()),
            Kind::Readiness => None,
            Kind::Parameter(_) => parameter.map(|p| p.group.name()),
        },
        "members": input.members,
        "odds": share_json(&input.odds.index, Some(input.odds.stands_out)),
        "difference": input.difference.map(|d| share_json(&d.index, Some(d.stands_out))),
        "worth_per_100": input.worth.map(|w| json!({
            "corrected": input.gain(), "raw": w.raw, "floor": w.floor, "floor_95": w.floor_95,
        })),
    })
}

/// Name for programs.
fn key(models: &Models, input: &Input) -> String {
    match input.kind {
        Kind::Parameter(d) => models.parameters.get(d).map_or(String::new(), |p| p.name.clone()),
        Kind::Readiness => "readiness".into(),
        Kind::Group(group) => group.name().into(),
    }
}

/// Machine output.
pub fn json(asked: &Asked, models: &Models, why: &Why) -> Value {
    let mut document = asked.document("why");
    let inputs = |all: &[Input]| all.iter().map(|i| input_json(models, i)).collect::<Vec<Value>>();
    for (key, value) in [
        ("leader", json!(why.baits[why.leader])),
        ("next", json!(why.next.map(|n| &why.baits[n]))),
        ("strikes_per_100", estimate_json(&why.strikes)),
        ("difference_per_100", json!(why.difference.as_ref().map(estimate_json))),
        (
            "floor",
            json!({
                "odds": share_json(&why.floor, None),
                "difference": why.difference_floor.as_ref().map(|f| share_json(f, None)),
            }),
        ),
        ("groups", inputs(&why.groups).into()),
        ("parameters", json!(why.parameters.as_deref().map(inputs))),
        (
            "perfect_information_per_100",
            json!({
                "mean": why.everything.mean, "simulation_se": why.everything.se,
            }),
        ),
        ("best_now", json!(why.baits[why.best_now])),
        ("parameters_varied", json!(why.varied.0)),
        ("parameters_idle", json!(why.varied.1)),
        ("worlds", json!(why.worlds)),
        ("complete", json!(why.complete)),
    ] {
        document.insert(key.into(), value);
    }
    document.into()
}

/// Groups and parameters for a spreadsheet.
pub fn csv(models: &Models, why: &Why) -> Table {
    let names = [
        "level",
        "name",
        "means",
        "known_by",
        "odds_total_share",
        "odds_total_se",
        "odds_first_share",
        "odds_stands_out",
        "difference_total_share",
        "difference_total_se",
        "difference_first_share",
        "difference_stands_out",
        "worth_per_100",
    ];
    let mut table = Table::new(names.iter().map(|n| Column::text(n)).collect());
    let levels = [("group", Some(&why.groups)), ("parameter", why.parameters.as_ref())];
    for (level, input) in
        levels.into_iter().flat_map(|(l, all)| all.into_iter().flatten().map(move |i| (l, i)))
    {
        let share = |s: Option<Share>| match s {
            Some(s) => {
                let numbers =
                    [s.index.total.mean, s.index.total.se, s.index.first.mean].map(|v| v.to_string());
                numbers.into_iter().chain([s.stands_out.to_string()]).collect()
            }
            None => vec![String::new(); 4],
        };
        let mut row =
            vec![level.to_owned(), key(models, input), short_name(models, input), known(models, input)];
        row.extend(share(Some(input.odds)));
        row.extend(share(input.difference));
        row.push(input.worth.map_or(String::new(), |_| input.gain().to_string()));
        table.push(row);
    }
    table
}

/// The picture.
pub fn pictures(asked: &Asked, models: &Models, why: &Why) -> Vec<(&'static str, Scene)> {
    let inputs: Vec<&Input> = match &why.parameters {
        Some(parameters) => shown(parameters),
        None => why.groups.iter().collect(),
    };
    let bar = |share: &Share| {
        let total = &share.index.total;
        let reach = reach(total);
        figure::Bar {
            value: 100.0 * total.mean,
            low: 100.0 * (total.mean - reach).max(0.0),
            high: 100.0 * (total.mean + reach),
            label: if share.stands_out {
                format!("{} %", whole_percent(total.mean))
            } else {
                "not told".into()
            },
            muted: !share.stands_out,
        }
    };
    let rows = inputs.iter().map(|i| figure::Row {
        name: short_name(models, i),
        below: known(models, i),
        bars: std::iter::once(&i.odds).chain(i.difference.as_ref()).map(bar).collect(),
    });
    let mut sides = vec![figure::Side {
        heading: format!("odds of {}", why.baits[why.leader]),
        floor: 100.0 * why.floor.total.mean,
    }];
    sides.extend(why.next.zip(why.difference_floor).map(|(n, f)| figure::Side {
        heading: format!("difference to {}", why.baits[n]),
        floor: 100.0 * f.total.mean,
    }));
    let note = format!(
        "Share of the spread in which each unknown has a hand (total index); they work together and add up to more \
         than 100. Marks: nineteen of twenty simulations. {}",
        asked.note_on(&format!(
            "{} worlds of {} passes each, seed {}.",
            why.worlds, asked.budget.points, asked.budget.seed
        ))
    );
    let input = figure::Why {
        words: Words { caption: caption(models, why), note },
        axis: "% of the spread".into(),
        floor: "luck of the passes".into(),
        sides,
        rows: rows.collect(),
    };
    vec![("why", figures::why::why(&input))]
}

fn caption(models: &Models, why: &Why) -> String {
    let inputs = why.parameters.as_ref().unwrap_or(&why.groups);
    let first =
        |of: &dyn Fn(&Input) -> Option<Share>| drivers(inputs, of).first().map(|i| short_name(models, i));
    match (first(&|i| Some(i.odds)), first(&|i| i.difference)) {
        (Some(a), Some(b)) if a == b => format!("Odds and choice both rest most on one unknown: {a}."),
        (Some(a), Some(b)) => format!("The odds rest most on {a}; the choice on {b}."),
        (Some(a), None) => format!("The odds rest most on {a}."),
        _ => "No unknown stands out of the luck of the simulation.".into(),
    }
}
