//! The odds: strikes per 100 passes, ties, losses, what the spread rests on.

#[cfg(feature = "cli")]
mod pictures;

use super::{Readable, capital, either};
use crate::present::columns::{Cell, Column, Kind, column, raw, read, spreadsheet};
use crate::present::document::Document;
use crate::present::table::Table;
use crate::present::view::View;
use crate::present::words;
use crate::study::odds::{BaitOdds, Finding, Odds};
use crate::study::pace;

impl Readable for Odds {
    fn document(&self, view: &View) -> Document {
        let mut table = read(&columns(self), &self.in_order(), view.units);
        table.in_parts = Some((WIDE, 4));
        let mut out = Document::new(view.head(), headline(self));
        out.figure("column").figure("odds");
        out.plain_table("Every bait of the box, most strikes first", table);
        out.texts(explanations(view, self));
        out.texts(lost(self)).figure("losses");
        if !self.drivers.is_empty() {
            let named = self.drivers.iter().map(|d| {
                let way = if d.correlation > 0.0 { "more" } else { "fewer" };
                format!("{} ({}, {way} strikes if higher)", d.means, d.grade.name())
            });
            let named = named.collect::<Vec<_>>().join("; ");
            out.text(format!("The spread of the leader's odds goes most with: {named}."));
        }
        out
    }

    fn spreadsheet(&self, _view: &View) -> Table {
        spreadsheet(&columns(self), &self.baits)
    }

    #[cfg(feature = "cli")]
    fn pictures(&self, view: &View) -> Vec<crate::present::document::Picture> {
        pictures::pictures(view, self)
    }

    fn rests_on(&self) -> String {
        format!("{} worlds", self.draws)
    }
}

/// Columns of a terminal from which all is told in one table.
const WIDE: usize = 100;

fn columns(odds: &Odds) -> Vec<Column<'static, BaitOdds>> {
    let mut all = vec![
        column("could_be_best", " ", Kind::Mark, |b: &BaitOdds| b.could_be_best),
        column("bait", "bait", Kind::Text, |b: &BaitOdds| b.name.clone()),
        column("strikes_per_100", "strikes in 100", Kind::Odds, |b: &BaitOdds| b.strikes),
        raw("simulation_se", |b: &BaitOdds| b.strikes.simulation_se),
        column("rank", "rank", Kind::Ranks, |b: &BaitOdds| Cell::Range(b.rank.0 as f64, b.rank.1 as f64)),
        column("never_noticed", "never noticed", Kind::OfHundred, |b: &BaitOdds| b.losses.never_noticed),
        column("stayed_put", "stayed put", Kind::OfHundred, |b: &BaitOdds| b.losses.stayed_put),
        column("turned_away", "turned away", Kind::OfHundred, |b: &BaitOdds| b.losses.turned_away),
        raw("struck", |b: &BaitOdds| b.losses.struck),
        column("running_depth_m", "runs to", Kind::Length, |b: &BaitOdds| b.running_depth_m),
        column("seen_from_up_m", "seen from", Kind::Length, |b: &BaitOdds| b.seen_from.up),
        raw("seen_from_level_m", |b: &BaitOdds| b.seen_from.level),
        raw("seen_from_down_m", |b: &BaitOdds| b.seen_from.down),
    ];
    if odds.baits.iter().any(|b| b.per_hour.is_some()) {
        all.push(column("strikes_per_hour", "strikes an hour", Kind::PerHour, |b: &BaitOdds| b.per_hour));
    }
    all
}

/// The finding: how many strikes the leader draws and who could be the best.
pub fn headline(odds: &Odds) -> String {
    let Some(leader) = odds.leader() else { return "The box is empty.".into() };
    let strikes =
        capital(&words::range_per_100(leader.strikes.point, leader.strikes.low, leader.strikes.high));
    format!("{strikes} passes near such a fish end in a strike with {}. {}", leader.name, ties(odds))
}

fn ties(odds: &Odds) -> String {
    let of = odds.baits.len();
    let named = |places: &[usize]| places.iter().map(|&b| odds.baits[b].name.as_str()).collect::<Vec<_>>();
    match odds.finding() {
        Finding::EmptyBox => words::tie::<&str>(&[], of),
        Finding::Leads => words::tie(&named(&odds.order[..1]), of),
        Finding::Few(possible) => format!(
            "Each of these could be the best, so take the one you like: {}.",
            named(&possible).join("; ")
        ),
        Finding::Many { possible, first } => {
            let group = if possible == of { format!("All {of}") } else { format!("{possible} of {of}") };
            let near =
                format!("{group} come within 1 in 100 of the best in at least one plausible world in ten");
            match first.len() {
                0 => format!("{near}, and no rank tells them apart: take the one you like."),
                few if few <= crate::study::odds::LISTED => {
                    format!("{near}; but by rank only {} may come first.", either(&named(&first)))
                }
                many => format!("{near}; but by rank only {many} of them may come first."),
            }
        }
    }
}

/// How to read the table, and how sure its numbers are.
fn explanations(view: &View, odds: &Odds) -> Vec<String> {
    let mut notes = vec![
        "● could be the best: leads, or is within 1 in 100 of the leader, in at least one plausible world in ten. \
         Ranks span nine in ten plausible worlds. Losses are means; with the strikes they add up to 100. Seen from: \
         how far below it a fish sees the bait."
            .to_owned(),
    ];
    if view.budget.fixed {
        notes.push(view.run_line());
    } else {
        let worst = odds.baits.iter().map(|b| b.strikes.simulation_se).fold(0.0, f64::max);
        notes.push(format!(
            "The ranges are what nobody knows about fish: nine in ten plausible worlds lie within. The luck of this \
             simulation adds {} to a middle value at most (one standard error). {}",
            words::luck(worst),
            view.run_line(),
        ));
    }
    notes.extend(odds.leader().and_then(|leader| by_the_hour(view, odds, leader)));
    notes
}

/// What strikes in an hour are counted by.
fn by_the_hour(view: &View, odds: &Odds, leader: &BaitOdds) -> Option<String> {
    let hour = words::per_hour(leader.per_hour.as_ref()?);
    if let (Some(passes), Some(s)) = (leader.passes_per_cast, &leader.per_100_casts) {
        let within = match view.prepared.fish_reachable {
            Some(share) => {
                format!("{} in 100 of them within reach as you say", words::two_digits(100.0 * share))
            }
            None => {
                "only a share of them within reach (`fish.reachable`, a guess until you give it)".to_owned()
            }
        };
        return Some(format!(
            "With the density of fish given, and {within}, a cast of the leader passes {} such fish on average: {} per \
             100 casts, {hour} an hour.",
            words::two_digits(passes),
            words::short_range(s.point, s.low, s.high),
        ));
    }
    let of = |b: &&BaitOdds| b.per_hour.as_ref().map_or(0.0, |e| e.point);
    let most = odds.baits.iter().max_by(|a, b| of(a).total_cmp(&of(b)))?;
    Some(format!(
        "Strikes an hour: if every cast of {} passes one such fish; a longer cast passes more, and takes longer. Most \
         in an hour: {}.",
        view.units.length(pace::mean_cast_m(view.prepared)),
        most.name
    ))
}

/// Where most fish are lost with the leader, and what that means.
fn lost(odds: &Odds) -> Option<String> {
    let leader = odds.leader()?;
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
