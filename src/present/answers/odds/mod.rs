//! The odds: strikes per 100 passes, ties, losses, what the spread rests on.

mod machine;

pub use machine::{csv, json};

use super::{Asked, CAUTION};
use crate::present::figures::{self, Words, column, losses as losses_figure, odds as odds_figure};
use crate::present::scene::Scene;
use crate::present::table::{Column, Table};
use crate::present::words;
use crate::study::odds::{BaitOdds, Odds};
use crate::study::pace;
use crate::units::UnitSystem;
use crate::world::World;

/// The whole answer as text.
pub fn text(asked: &Asked, odds: &Odds) -> String {
    let mut out = asked.conditions();
    out.push('\n');
    out.push_str(&asked.wrapped(&headline(odds)));
    out.push('\n');
    let whole = table(asked, odds);
    if asked.width >= WIDE {
        out.push_str(&whole.terminal(asked.width));
    } else {
        // A name keeps to one line or two where the columns are shared out over two tables.
        out.push_str(&part(&whole, &[0, 1, 2, 3]).terminal(asked.width));
        out.push('\n');
        let rest: Vec<usize> = std::iter::once(1).chain(4..whole.columns.len()).collect();
        out.push_str(&part(&whole, &rest).terminal(asked.width));
    }
    out.push('\n');
    for paragraph in notes(asked, odds) {
        out.push_str(&asked.wrapped(&paragraph));
    }
    out.push('\n');
    out.push_str(&asked.wrapped(CAUTION));
    out
}

/// Columns of a terminal from which all is told in one table.
const WIDE: usize = 100;

/// Some columns of a table.
fn part(whole: &Table, keep: &[usize]) -> Table {
    let chosen = |row: &Vec<String>| keep.iter().map(|&i| row[i].clone()).collect();
    Table {
        columns: keep.iter().map(|&i| whole.columns[i].clone()).collect(),
        rows: whole.rows.iter().map(chosen).collect(),
    }
}

/// The finding: how many strikes the leader draws and who could be the best.
pub fn headline(odds: &Odds) -> String {
    let Some(leader) = odds.order.first().map(|&b| &odds.baits[b]) else {
        return "The box is empty.".into();
    };
    let strikes = words::range_per_100(leader.strikes.point, leader.strikes.low, leader.strikes.high);
    format!(
        "{} passes near such a fish end in a strike with {}. {}",
        capital(&strikes),
        leader.name,
        ties(odds)
    )
}

/// The finding in a line or two, for a picture that names every bait itself.
fn short_headline(odds: &Odds) -> String {
    let Some(leader) = odds.order.first().map(|&b| &odds.baits[b]) else {
        return "The box is empty.".into();
    };
    let strikes = words::range_per_100(leader.strikes.point, leader.strikes.low, leader.strikes.high);
    let first = odds.baits.iter().filter(|b| b.rank.0 == 1).count();
    let rank = match (first, odds.baits.len()) {
        (0 | 1, _) => String::new(),
        (n, of) if n == of => format!(" All {of} may come first by rank."),
        (n, of) => format!(" {n} of {of} may come first by rank."),
    };
    format!("{} passes end in a strike with {}.{rank}", capital(&strikes), leader.name)
}

/// Who could be the best, told apart by rank where the odds alone do not.
fn ties(odds: &Odds) -> String {
    const LISTED: usize = 4;
    let named = |keep: &dyn Fn(&BaitOdds) -> bool| -> Vec<&str> {
        odds.order.iter().map(|&b| &odds.baits[b]).filter(|b| keep(b)).map(|b| b.name.as_str()).collect()
    };
    let of = odds.baits.len();
    let possible = named(&|b| b.could_be_best);
    if possible.len() <= LISTED {
        return match possible.as_slice() {
            [] | [_] => words::tie(&possible, of),
            some => {
                format!("Each of these could be the best, so take the one you like: {}.", some.join("; "))
            }
        };
    }
    let first = named(&|b| b.rank.0 == 1);
    let group =
        if possible.len() == of { format!("All {of}") } else { format!("{} of {of}", possible.len()) };
    let near = format!("{group} come within 1 in 100 of the best in at least one plausible world in ten");
    if first.len() == of || first.is_empty() {
        return format!("{near}, and no rank tells them apart: take the one you like.");
    }
    let which = if first.len() <= LISTED { either(&first) } else { format!("{} of them", first.len()) };
    format!("{near}; but by rank only {which} may come first.")
}

/// Names that hold commas, one after the other.
fn either(names: &[&str]) -> String {
    match names {
        [most @ .., last] if !most.is_empty() => format!("{}; or {last}", most.join("; ")),
        _ => names.concat(),
    }
}

fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or(String::new(), |c| c.to_uppercase().chain(chars).collect())
}

/// The baits as a table, most strikes first.
pub fn table(asked: &Asked, odds: &Odds) -> Table {
    let (_, unit) = asked.units.length_value(1.0);
    let mut columns = vec![
        Column::text(" "),
        Column::text("bait"),
        Column::text("strikes in 100"),
        Column::text("rank"),
        Column::number("never noticed"),
        Column::number("stayed put"),
        Column::number("turned away"),
        Column::number("runs to").unit(unit),
        Column::number("seen from").unit(unit),
    ];
    if odds.baits.iter().any(|b| b.per_hour.is_some()) {
        columns.push(Column::text("strikes an hour"));
    }
    let mut table = Table::new(columns);
    for bait in odds.order.iter().map(|&b| &odds.baits[b]) {
        let s = &bait.strikes;
        let mut row = vec![
            if bait.could_be_best { "●".to_owned() } else { String::new() },
            bait.name.clone(),
            words::short_range(s.point, s.low, s.high),
            short_rank(bait.rank),
            whole(bait.losses.never_noticed),
            whole(bait.losses.stayed_put),
            whole(bait.losses.turned_away),
            length(asked.units, bait.running_depth_m),
            length(asked.units, bait.seen_from.up),
        ];
        row.extend(bait.per_hour.map(|e| words::per_hour(&e)));
        table.push(row);
    }
    table
}

fn short_rank((best, worst): (usize, usize)) -> String {
    if best == worst { best.to_string() } else { format!("{best} to {worst}") }
}

fn whole(value: f64) -> String {
    if value < 0.5 { "<1".into() } else { format!("{value:.0}") }
}

fn length(units: UnitSystem, metres: f64) -> String {
    format!("{:.1}", units.length_value(metres).0)
}

/// How to read the table, and how sure its numbers are.
pub fn explanations(asked: &Asked, odds: &Odds) -> Vec<String> {
    let mut notes = vec![
        "● could be the best: leads, or is within 1 in 100 of the leader, in at least one plausible world in ten. \
         Ranks span nine in ten plausible worlds. Losses are means; with the strikes they add up to 100. Seen from: \
         how far below it a fish sees the bait."
            .to_owned(),
    ];
    if !asked.budget.fixed {
        let worst = odds.baits.iter().map(|b| b.strikes.simulation_se).fold(0.0, f64::max);
        notes.push(format!(
            "The ranges are what nobody knows about fish: nine in ten plausible worlds lie within. The luck of this \
             simulation adds {} to a middle value at most (one standard error). {}",
            if worst < 0.1 { "under 0.1".to_owned() } else { format!("{worst:.1}") },
            asked.run_line(),
        ));
    } else {
        notes.push(asked.run_line());
    }
    notes.extend(odds.order.first().and_then(|&b| by_the_hour(asked, odds, &odds.baits[b])));
    notes
}

/// What the table does not say by itself.
fn notes(asked: &Asked, odds: &Odds) -> Vec<String> {
    let mut notes = explanations(asked, odds);
    notes.extend(lost(odds));
    if !odds.drivers.is_empty() {
        let named: Vec<String> = odds
            .drivers
            .iter()
            .map(|d| {
                let way = if d.correlation > 0.0 { "more" } else { "fewer" };
                format!("{} ({}, {way} strikes if higher)", d.means, d.grade.name())
            })
            .collect();
        notes.push(format!("The spread of the leader's odds goes most with: {}.", named.join("; ")));
    }
    notes
}

/// What strikes in an hour are counted by.
fn by_the_hour(asked: &Asked, odds: &Odds, leader: &BaitOdds) -> Option<String> {
    let hour = words::per_hour(leader.per_hour.as_ref()?);
    Some(match (leader.passes_per_cast, &leader.per_100_casts) {
        (Some(passes), Some(s)) => format!(
            "With the density of fish given, and {}, a cast of the leader passes {} such fish on average: {} per 100 \
             casts, {hour} an hour.",
            match asked.setting.fish_reachable {
                Some(share) =>
                    format!("{} in 100 of them within reach as you say", words::two_digits(100.0 * share)),
                None => "only a share of them within reach (`fish.reachable`, a guess until you give it)"
                    .to_owned(),
            },
            words::two_digits(passes),
            words::short_range(s.point, s.low, s.high),
        ),
        _ => {
            let most = odds.baits.iter().max_by(|a, b| {
                let of = |b: &BaitOdds| b.per_hour.as_ref().map_or(0.0, |e| e.point);
                of(a).total_cmp(&of(b))
            })?;
            format!(
                "Strikes an hour: if every cast of {} passes one such fish; a longer cast passes more, and \
                 takes longer. Most in an hour: {}.",
                asked.units.length(pace::mean_cast_m(asked.setting)),
                most.name
            )
        }
    })
}

/// Where most fish are lost with the leader, and what that means.
pub fn lost(odds: &Odds) -> Option<String> {
    let leader = odds.order.first().map(|&b| &odds.baits[b])?;
    let l = &leader.losses;
    let stages = [
        (
            l.never_noticed,
            "never notice it: a bait that runs nearer, is seen further or passes more slowly would help",
        ),
        (l.stayed_put, "notice it and stay put: less to climb, a slower bait or keener fish would help"),
        (l.turned_away, "come and turn away: less time to look it over or a likeness to the prey would help"),
    ];
    let most = stages.iter().max_by(|a, b| a.0.total_cmp(&b.0))?;
    Some(format!("With {}, {:.0} of 100 fish {}.", leader.name, most.0, most.1))
}

/// The pictures: name and scene.
pub fn pictures(asked: &Asked, odds: &Odds, defaults: &World) -> Vec<(&'static str, Scene)> {
    vec![
        ("odds", figures::odds::odds(&dots(asked, odds))),
        ("losses", figures::losses::losses(&stages(asked, odds))),
        ("column", figures::column::column(&water_column(asked, odds, defaults))),
    ]
}

fn dots(asked: &Asked, odds: &Odds) -> odds_figure::Odds {
    let rows = odds.order.iter().map(|&b| &odds.baits[b]).map(|b| odds_figure::Row {
        name: b.name.clone(),
        dots: b.dots.clone(),
        median: b.strikes.point,
        low: b.strikes.low,
        high: b.strikes.high,
        could_be_best: b.could_be_best,
    });
    odds_figure::Odds {
        words: Words { caption: short_headline(odds), note: asked.note() },
        rows: rows.collect(),
    }
}

fn stages(asked: &Asked, odds: &Odds) -> losses_figure::Losses {
    let rows = odds.order.iter().map(|&b| &odds.baits[b]).map(|b| losses_figure::Row {
        name: b.name.clone(),
        never_noticed: b.losses.never_noticed,
        stayed_put: b.losses.stayed_put,
        turned_away: b.losses.turned_away,
        struck: b.losses.struck,
    });
    let caption = lost(odds).unwrap_or_default();
    losses_figure::Losses { words: Words { caption, note: asked.note() }, rows: rows.collect() }
}

/// The house figure, for the leader, the bait in the middle and the last.
fn water_column(asked: &Asked, odds: &Odds, defaults: &World) -> column::Column {
    let (u, setting) = (asked.units, asked.setting);
    let length = |metres: f64| u.length_value(metres).0;
    let mut shown: Vec<usize> = [0, odds.order.len() / 2, odds.order.len().saturating_sub(1)]
        .iter()
        .filter_map(|&i| odds.order.get(i).copied())
        .collect();
    shown.dedup();
    let baits: Vec<column::Bait> = shown
        .iter()
        .map(|&b| {
            let seen = odds.baits[b].seen_from;
            column::Bait {
                name: odds.baits[b].name.clone(),
                path: setting.baits[b]
                    .path
                    .points()
                    .map(|(x, z)| (length(x), length(z.min(setting.bottom_m))))
                    .collect(),
                seen: Some(column::Range {
                    up: length(seen.up),
                    level: length(seen.level),
                    down: length(seen.down),
                }),
            }
        })
        .collect();
    let k = defaults.k_per_m[defaults.clearest];
    let light = (0..=40).map(|i| {
        let z = setting.bottom_m * f64::from(i) / 40.0;
        (length(z), crate::maths::exp(-k * z))
    });
    let up = setting.sun.elevation_deg > 0.0;
    column::Column {
        words: Words { caption: reach_caption(asked, odds, &shown), note: asked.note() },
        unit: u.length_value(1.0).1.into(),
        tint: match asked.scenario.water.tint {
            crate::scenario::Tint::Clear => column::Tint::Clear,
            crate::scenario::Tint::TeaStained => column::Tint::Tea,
            crate::scenario::Tint::AlgaeGreen => column::Tint::Green,
            crate::scenario::Tint::Clay => column::Tint::Clay,
        },
        light: light.collect(),
        sun: up.then(|| column::Sun {
            elevation_deg: setting.sun.elevation_deg,
            refracted_deg: 90.0 - crate::maths::acos(defaults.below.cos_refracted).to_degrees(),
        }),
        fish: Some(column::Fish {
            depth: length(setting.fish_depth_m),
            spread: length(setting.depth_spread_m),
            reeled: None,
        }),
        baits,
        secchi: Some(length(defaults.secchi_m)),
        bottom: Some(length(setting.bottom_m)),
    }
}

/// Whether the fish can see the leader from where it hangs.
fn reach_caption(asked: &Asked, odds: &Odds, shown: &[usize]) -> String {
    let Some(leader) = shown.first().map(|&b| &odds.baits[b]) else { return String::new() };
    let gap = asked.setting.fish_depth_m - leader.running_depth_m;
    let (u, seen) = (asked.units, &leader.seen_from);
    let range = if gap >= 0.0 { seen.up } else { seen.down };
    let way = if gap >= 0.0 { "below" } else { "above" };
    let sight = match u.length(range) {
        nearly_nothing if nearly_nothing.starts_with("0.0 ") => "cannot make it out".to_string(),
        far => format!("sees it from {far}{}", if range < gap.abs() { ", not far enough" } else { "" }),
    };
    format!(
        "{} runs to {}; the fish hangs {} {way} that and {sight}.",
        leader.name,
        u.length(leader.running_depth_m),
        u.length(gap.abs()),
    )
}
