//! What to find out first: the assumptions by what knowing them would be worth over several waters.

use super::assumptions::{number, range};
use crate::engine::Budget;
use crate::models::{Experiments, Grade, Models, Parameter};
use crate::present::escape::terminal_text;
use crate::present::figures::{self, Words, why as figure};
use crate::present::scene::Scene;
use crate::present::table::{Column, Table};
use crate::present::words;
use crate::study::why::Kind;
use crate::study::why::waters::{Measured, Unknown, Waters};
use serde_json::{Value, json};

/// Unknowns shown unless all are asked for.
const SHOWN: usize = 15;
/// Unknowns in the picture.
const DRAWN: usize = 12;
/// Nineteen runs in twenty lie within so many standard errors: there are dozens of scrambles over all waters.
const REACH: f64 = 1.96;

/// Per cent under which nothing is written out.
const FINEST: f64 = 0.01;

/// What the answer is asked about.
#[derive(Debug, Clone, Copy)]
pub struct Asked<'a> {
    /// Assumptions.
    pub models: &'a Models,
    /// What would settle them.
    pub experiments: &'a Experiments,
    /// How much was computed in each water.
    pub budget: Budget,
}

/// One unknown in words.
struct Said<'a> {
    name: &'a str,
    means: &'a str,
    /// The lowest grade of its members.
    grade: Grade,
    /// Value and range of a parameter.
    value: Option<String>,
    source: String,
    experiment: &'a str,
    members: Vec<&'a str>,
}

/// Name of the product whose members are taken as one.
const READINESS: &str = "readiness";

impl<'a> Asked<'a> {
    fn say(&self, unknown: &Unknown) -> Said<'a> {
        let all = &self.models.parameters;
        let parameter = match unknown.kind {
            Kind::Parameter(d) => all.get(d),
            _ => None,
        };
        let name = parameter.map_or(READINESS, |p| p.name.as_str());
        let experiment = self.experiments.settling(name).map_or("none is described yet", |e| e.text.as_str());
        match parameter {
            Some(p) => Said {
                name,
                // A level's reference ("re 1 uPa") stands in the list of assumptions.
                means: p.means.split(", re ").next().unwrap_or_default(),
                grade: p.grade,
                value: Some(value(p)),
                source: p.source.clone(),
                experiment,
                members: vec![name],
            },
            None => {
                let of = |p: &&Parameter| p.product.is_some();
                Said {
                    name,
                    means: "how ready and attentive the fish are",
                    grade: all.iter().filter(of).map(|p| p.grade).max().unwrap_or(Grade::Guess),
                    value: None,
                    source:
                        "drawn together and known only as a product, calibrated to catch rates; each has a \
                             source of its own in `callup assumptions`"
                            .into(),
                    experiment,
                    members: all.iter().filter(of).map(|p| p.name.as_str()).collect(),
                }
            }
        }
    }
}

fn value(p: &Parameter) -> String {
    let unit = if p.unit == "1" { String::new() } else { format!(" {}", p.unit) };
    format!("{} ({}){unit}", number(p.default), range(p))
}

/// A share in per cent, "·" where it is not told from luck.
fn percent(m: Measured) -> String {
    match 100.0 * m.mean {
        _ if !m.stands_out => "·".into(),
        p if p < FINEST => format!("<{FINEST}"),
        p => words::two_digits(p),
    }
}

fn give_or_take(m: Measured) -> String {
    match 100.0 * REACH * m.se {
        p if p < FINEST => format!("<{FINEST}"),
        p => words::two_digits(p),
    }
}

/// The whole answer as text: a table, then each unknown with its source and its experiment.
pub fn text(asked: &Asked, found: &Waters, all: bool, width: usize) -> String {
    let shown = if all { found.unknowns.len() } else { SHOWN.min(found.unknowns.len()) };
    let mut out = String::new();
    let mut paragraph = |text: &str| {
        out.push_str(&words::wrap(&terminal_text(text), width).join("\n"));
        out.push_str("\n\n");
    };
    paragraph(&format!("What to find out first, over {}.", waters(found)));
    paragraph(&headline(asked, found));
    let mut table = Table::new(vec![
        Column::number(""),
        Column::text("what nobody knows"),
        Column::text("known by"),
        Column::number("odds").unit("%"),
        Column::number("±"),
        Column::number("worth").unit("%"),
        Column::number("±"),
        Column::number("waters"),
    ]);
    let mut list = Vec::new();
    for (k, unknown) in found.unknowns.iter().take(shown).enumerate() {
        let said = asked.say(unknown);
        table.push([
            (k + 1).to_string(),
            said.means.to_owned(),
            said.grade.name().into(),
            percent(unknown.share),
            give_or_take(unknown.share),
            percent(unknown.worth),
            give_or_take(unknown.worth),
            unknown.waters.to_string(),
        ]);
        let value = said.value.map_or(format!("{} assumptions", said.members.len()), |v| v);
        list.push(format!(
            "{}. {}: {value}, {}{}\n   Source: {}.\n   Experiment: {}",
            k + 1,
            said.name,
            said.grade.name(),
            most_in(found, unknown),
            said.source.trim_end_matches('.'),
            said.experiment
        ));
    }
    out.push_str(&table.terminal(width));
    for note in [notes(found), list.iter().map(|l| format!("{l}\n")).collect::<String>()] {
        out.push('\n');
        for line in note.lines() {
            let indent = &line[..line.len() - line.trim_start().len()];
            for part in words::wrap(&terminal_text(line), width.saturating_sub(indent.len())) {
                out.push_str(&format!("{indent}{part}\n"));
            }
        }
    }
    let rest = found.unknowns.len() - shown;
    let more = if rest > 0 { format!("{rest} more: --all. ") } else { String::new() };
    out.push_str(&format!("\n{more}{}\n", run_line(asked)));
    out
}

/// Where an unknown has most of a hand.
fn most_in(found: &Waters, unknown: &Unknown) -> String {
    let most = Measured { mean: unknown.most, ..unknown.share };
    let water = found.waters.get(unknown.most_in).filter(|_| most.stands_out);
    water.map_or(String::new(), |w| format!("; most in {} ({} % of the odds)", w.name, percent(most)))
}

fn waters(found: &Waters) -> String {
    words::count(found.waters.len(), "invented water", "invented waters")
}

fn run_line(asked: &Asked) -> String {
    let b = asked.budget;
    format!("In each water {} worlds of {} passes, seed {}.", 2 * b.draws, b.points, b.seed)
}

/// The finding.
fn headline(asked: &Asked, found: &Waters) -> String {
    const NAMED: usize = 3;
    let told: Vec<&Unknown> =
        found.unknowns.iter().filter(|u| u.share.stands_out || u.worth.stands_out).collect();
    if told.is_empty() {
        return "Nothing stands out of the luck of the simulation; give more --draws.".into();
    }
    let first = told.iter().take(NAMED).map(|u| {
        let said = asked.say(u);
        let narrows = format!("a hand in {} % of the spread of the odds", percent(u.share));
        let betters = format!("{} % more strikes by choosing with it", percent(u.worth));
        let gives = [(u.share, narrows), (u.worth, betters)];
        let gives: Vec<String> =
            gives.into_iter().filter(|(m, _)| m.stands_out).map(|(_, said)| said).collect();
        format!("{} ({}; {})", said.means, said.grade.name(), gives.join(", "))
    });
    let guesses = told.iter().take(SHOWN).filter(|u| asked.say(u).grade == Grade::Guess).count();
    format!(
        "Most worth finding out: {}. Of the first {}, {guesses} are guesses today. Knowing everything would add {} % to the \
         strikes of the bait chosen.",
        first.collect::<Vec<_>>().join("; then "),
        told.len().min(SHOWN),
        words::two_digits(100.0 * found.everything())
    )
}

fn notes(found: &Waters) -> String {
    format!(
        "\"Odds\": in how many per cent of the spread of the odds of the best bait an unknown has a hand (total index), \
         mean over the waters, 0 where it moves nothing; unknowns work together, so the shares add up to more than 100, \
         and the luck of the passes takes {} %. \"Worth\": how many per cent more strikes a choice of bait that knew it \
         would draw. The order is by the sum of that share and of its part in the worth of knowing everything. \"±\" is the luck of the simulation, nineteen runs in twenty; \"·\" is not told from it. \"Waters\": in \
         how many it moves anything.\n",
        percent(Measured { mean: found.floor, se: 0.0, stands_out: true })
    )
}

/// Machine output.
pub fn json(asked: &Asked, found: &Waters) -> Value {
    let mut document = super::head("assumptions", Some(asked.budget), Value::Null);
    let measured = |m: Measured| json!({ "mean": m.mean, "simulation_se": m.se, "stands_out": m.stands_out });
    let unknowns = found.unknowns.iter().enumerate().map(|(k, u)| {
        let said = asked.say(u);
        json!({
            "rank": k + 1,
            "name": said.name,
            "means": said.means,
            "grade": said.grade,
            "members": said.members,
            "total_share": measured(u.share),
            "worth_of_strikes": measured(u.worth),
            "waters": u.waters,
            "most_share": u.most,
            "most_in": found.waters.get(u.most_in).map(|w| &w.name),
            "source": said.source,
            "experiment": said.experiment,
        })
    });
    let waters = found.waters.iter().map(|w| {
        json!({
            "name": w.name, "leader": w.leader, "strikes_per_100": w.strikes,
            "perfect_information_of_strikes": w.everything,
        })
    });
    for (key, value) in [
        ("by_worth", unknowns.collect::<Vec<_>>().into()),
        ("waters", waters.collect::<Vec<_>>().into()),
        ("floor", json!(found.floor)),
        ("complete", json!(found.waters.len() == found.asked)),
    ] {
        document.insert(key.into(), value);
    }
    document.into()
}

/// For a spreadsheet.
pub fn csv(asked: &Asked, found: &Waters) -> Table {
    let names = [
        "rank",
        "name",
        "means",
        "grade",
        "total_share",
        "total_share_se",
        "total_share_stands_out",
        "worth_of_strikes",
        "worth_of_strikes_se",
        "worth_of_strikes_stands_out",
        "waters",
        "most_in",
        "most_share",
        "source",
        "experiment",
    ];
    let mut table = Table::new(names.iter().map(|n| Column::text(n)).collect());
    for (k, u) in found.unknowns.iter().enumerate() {
        let said = asked.say(u);
        let measured = |m: Measured| [m.mean.to_string(), m.se.to_string(), m.stands_out.to_string()];
        let mut row = vec![
            (k + 1).to_string(),
            said.name.to_owned(),
            said.means.to_owned(),
            said.grade.name().to_owned(),
        ];
        row.extend(measured(u.share));
        row.extend(measured(u.worth));
        row.extend([
            u.waters.to_string(),
            found.waters.get(u.most_in).map_or(String::new(), |w| w.name.clone()),
            u.most.to_string(),
            said.source,
            said.experiment.to_owned(),
        ]);
        table.push(row);
    }
    table
}

/// The picture: a bar for the share of the odds and one for the worth.
pub fn pictures(asked: &Asked, found: &Waters) -> Vec<(&'static str, Scene)> {
    let bar = |m: Measured| figure::Bar {
        value: 100.0 * m.mean.max(0.0),
        low: 100.0 * (m.mean - REACH * m.se).max(0.0),
        high: 100.0 * (m.mean + REACH * m.se).max(0.0),
        label: if m.stands_out { format!("{} %", percent(m)) } else { "not told".into() },
        muted: !m.stands_out,
    };
    let rows = found.unknowns.iter().take(DRAWN).map(|u| {
        let said = asked.say(u);
        let below = said.grade.name().to_owned();
        figure::Row { name: said.means.to_owned(), below, bars: vec![bar(u.share), bar(u.worth)] }
    });
    let rows: Vec<figure::Row> = rows.collect();
    let guesses = found.unknowns.iter().take(DRAWN).filter(|u| asked.say(u).grade == Grade::Guess).count();
    let caption = match found.unknowns.first() {
        Some(u) => format!(
            "Of the {} things most worth finding out, {guesses} are guesses today. First comes: {}.",
            rows.len(),
            asked.say(u).means
        ),
        None => "Nothing is left to find out.".into(),
    };
    let note = format!(
        "Left: share of the spread of the odds of the best bait in which each has a hand (total index); right: how many \
         more strikes a choice of bait that knew it would draw; both in the mean over {}. Below each name: how well it is \
         known. Marks: nineteen of twenty simulations. {} A model, not a promise.",
        waters(found),
        run_line(asked)
    );
    let side =
        |heading: &str, axis: &str, floor| figure::Side { heading: heading.into(), axis: axis.into(), floor };
    let input = figure::Why {
        words: Words { caption, note },
        floor: "luck of the passes".into(),
        one_scale: false,
        sides: vec![
            side("narrows the odds", "% of the spread", Some(100.0 * found.floor)),
            side("betters the choice", "% more strikes", None),
        ],
        rows,
    };
    vec![("by-worth", figures::why::why(&input))]
}
