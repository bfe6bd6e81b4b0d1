//! What a rule rests on, in words. Names come from the model files: escape the text before it is
//! printed, as all text from files.

use crate::models::{Grade, Group, Groups};
use crate::study::attribution::{Attribution, Carrier, Flag, Share};

/// A group in plain words.
pub fn group_words(group: Group) -> &'static str {
    match group {
        Group::Optics => "light and sight",
        Group::Mechanics => "depth, speed and swimming",
        Group::Appetite => "hunger",
        Group::Phase => "season",
        Group::Wariness => "wariness",
        Group::Size => "size",
        Group::Sound => "sound",
    }
}

/// Guesses named in one breath.
const NAMED: usize = 3;
/// Smallest share told.
const TOLD: f64 = 0.1;

/// What it rests on, for a verdict line: "follows from physics and measurement (light and sight about 85 %)".
pub fn line(c: &Attribution) -> String {
    let flag = match c.flag() {
        Flag::NoDifference if c.explained.cancels() => {
            format!("no difference to explain: {}", against_each_other(c))
        }
        Flag::NoDifference => "no difference to explain".into(),
        Flag::Physics => format!("follows from physics and measurement ({})", shares(c)),
        Flag::Restates(group) => match c.restated() {
            Some(carrier) => format!("restates the assumption {} ({})", carrier.name, graded(carrier)),
            None => format!("restates what is assumed about {}", group_words(group)),
        },
        Flag::Mixed => format!("mixed ({})", shares(c)),
    };
    match guesses(c) {
        Some(names) => format!("{flag}; its size hangs on {names}"),
        None => flag,
    }
}

/// The same in a sentence that can be quoted.
pub fn sentence(c: &Attribution) -> String {
    let first = match c.flag() {
        Flag::NoDifference if c.explained.cancels() => {
            format!("There is no difference to explain because {}.", against_each_other(c))
        }
        Flag::NoDifference => "There is no difference to explain.".into(),
        Flag::Physics => format!(
            "It follows from physics and measurement: {} make the difference, and it points the same way with every \
             opinion about fish switched off.",
            physics(c)
        ),
        Flag::Restates(group) => match c.restated() {
            Some(carrier) => format!(
                "It only restates an assumption, {}: {} ({}).",
                carrier.name,
                carrier.means,
                graded(carrier)
            ),
            None => format!("It only restates what is assumed about {}.", group_words(group)),
        },
        Flag::Mixed => {
            let alone = if c.explained.survives_on_physics() {
                "Physics and measurement alone would point the same way"
            } else {
                "Physics and measurement alone do not show it"
            };
            format!("It rests on several things: {}. {alone}.", shares(c))
        }
    };
    match guesses(c) {
        Some(names) => format!("{first} Its size hangs on {names}."),
        None => first,
    }
}

fn graded(carrier: &Carrier) -> String {
    match carrier.grade {
        Grade::Guess => "a guess".into(),
        grade => grade.name().into(),
    }
}

/// Guesses beside the one that a restatement names already.
fn guesses(c: &Attribution) -> Option<String> {
    let restated = c.restated();
    let names: Vec<&str> =
        c.rests_on_guess().into_iter().filter(|g| restated != Some(g)).map(|g| g.name.as_str()).collect();
    let (named, rest) = names.split_at(names.len().min(NAMED));
    match (named.len(), rest.len()) {
        (0, _) => None,
        (1, _) => Some(format!("a guess ({})", named[0])),
        (_, 0) => Some(format!("guesses ({})", named.join(", "))),
        (_, more) => Some(format!("guesses ({} and {more} more)", named.join(", "))),
    }
}

/// The groups of physics that carry it: "light and sight together with depth, speed and swimming".
fn physics(c: &Attribution) -> String {
    let carrying = c.carrying().into_iter().filter(|g| Groups::PHYSICS.has(*g));
    carrying.map(group_words).collect::<Vec<_>>().join(" together with ")
}

/// "light and sight about 55 %, hunger about 25 %; against it wariness about 20 %".
fn shares(c: &Attribution) -> String {
    let mut strong: Vec<&Share> = c.explained.shares.iter().filter(|s| s.share.abs() >= TOLD).collect();
    strong.sort_by(|a, b| b.share.abs().total_cmp(&a.share.abs()));
    let told = |sign: f64| -> Vec<String> {
        let of = strong.iter().filter(|s| s.share * sign > 0.0);
        of.map(|s| format!("{} about {} %", group_words(s.group), twentieths(s.share))).collect()
    };
    let (with, against) = (told(1.0).join(", "), told(-1.0).join(", "));
    match (with.is_empty(), against.is_empty()) {
        (true, true) => "no group stands out".into(),
        (_, true) => with,
        (true, false) => format!("against it {against}"),
        (false, false) => format!("{with}; against it {against}"),
    }
}

/// Per cent to the nearest 5: the luck of the simulation allows no more.
fn twentieths(share: f64) -> u32 {
    5 * (20.0 * share.abs()).round() as u32
}

/// "light and sight work for it, size against it, and they cancel".
fn against_each_other(c: &Attribution) -> String {
    let strongest = |sign: f64| {
        let best = c.explained.shares.iter().max_by(|a, b| (sign * a.per_100).total_cmp(&(sign * b.per_100)));
        best.map_or("nothing", |s| group_words(s.group))
    };
    format!("{} for it and {} against it cancel", strongest(1.0), strongest(-1.0))
}
