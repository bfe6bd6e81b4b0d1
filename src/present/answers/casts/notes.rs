//! What the table of plans does not say.

use super::{About, both_rates, in_100, many, number, said_rate, times};
use crate::present::words;
use crate::study::casts::{Casts, Fixed, Lead, Showing, Unit, Worlds};

/// The paragraphs, in order.
pub(super) fn notes(about: &About, casts: &Casts) -> Vec<String> {
    let mut notes = Vec::new();
    notes.extend(casts.worlds.as_ref().map(|w| over_worlds(casts, w)));
    notes.extend(casts.fixed.as_ref().and_then(by_formula));
    notes.extend(casts.lead.as_ref().map(|l| in_turn(casts, l)));
    notes.extend(casts.showing.as_ref().map(|s| showing(casts, s)));
    notes.push(empty_log(casts));
    notes.extend(pass_and_cast(casts));
    notes.push(premises(casts));
    notes.extend(about.asked.map(|a| a.run_line()));
    notes
}

/// The number of casts differs from world to world.
fn over_worlds(casts: &Casts, w: &Worlds) -> String {
    let unit = many(casts);
    if w.rates.len() == 1 {
        return "One world only: with --fixed every assumption is at its default, so there is no spread to tell."
            .into();
    }
    let d = &w.difference;
    let high = w.size(0.95);
    let up_to = if high > MANY { format!("over {}", thousands(MANY)) } else { number(high) };
    let mut said = format!(
        "What nobody knows about fish makes the number uncertain: half of the plausible worlds need fewer than {} \
         {unit} of each, and nine in ten lie between {} and {up_to} (by formula). {} draws {}; it draws more in {}.",
        number(w.size(0.5)),
        number(w.size(0.05)),
        casts.names[0],
        words::difference_per_100(d.point, d.low, d.high),
        words::worlds(w.first_better)
    );
    if w.too_small > 0.0 {
        said.push_str(&format!(
            " In {} the difference is under 1 in 100: too small to matter, however many {unit} could show it.",
            words::worlds(w.too_small)
        ));
    }
    said
}

/// Sizes beyond are not told apart.
const MANY: f64 = 1e6;

fn thousands(count: f64) -> String {
    if count >= 1e6 { "a million".into() } else { words::two_digits(count) }
}

/// What the formula is worth.
fn by_formula(fixed: &Fixed) -> Option<String> {
    Some(match fixed.smallest {
        Some(n) if (n as f64 - fixed.casts).abs() >= 1.0 => format!(
            "The formula is an approximation, good for many strikes: it says {} where {n} are enough.",
            number(fixed.casts)
        ),
        Some(_) => return None,
        None => "So many are worked out by formula, an approximation that is good for many strikes.".into(),
    })
}

/// How the plan that stops early is fished.
fn in_turn(casts: &Casts, lead: &Lead) -> String {
    let p = &lead.plan;
    let unit = if many(casts) == "casts" { "cast" } else { "pass" };
    let said = format!(
        "In turn: one {unit} of the one bait, one of the other, and so on. Count only the turns in which just one of \
         them struck, and stop when one bait leads by {} such turns. You may watch the count all the time, which the \
         fixed plan does not allow: looked at again and again, it calls alike baits different far more often.",
        p.lead
    );
    let over = casts.worlds.as_ref().filter(|w| w.rates.len() > 1).and_then(|w| w.in_turn);
    over.map_or(said.clone(), |(wrong, turns)| {
        format!(
            "{said} The lead is chosen for the middle odds; over all plausible worlds it names the worse bait {}, after \
             {} turns in the middle world.",
            times(wrong),
            number(turns)
        )
    })
}

/// What a number of casts could show.
fn showing(casts: &Casts, s: &Showing) -> String {
    let unit = many(casts);
    let mut said = format!("With {} {unit} of each", s.casts);
    if casts.fixed.is_some() {
        said.push_str(&format!(" you would tell {} apart {}", both_rates(casts), times(s.power)));
        if let Some(over) =
            s.power_over_worlds.filter(|_| casts.worlds.as_ref().is_some_and(|w| w.rates.len() > 1))
        {
            said.push_str(&format!(", and the two baits {} over all plausible worlds", times(over)));
        }
        said.push_str(". From ");
    } else {
        said.push_str(", from ");
    }
    said.push_str(&said_rate(casts, s.from));
    let power = in_100(casts.question.demand.power);
    match s.smallest {
        Some(p) => said.push_str(&format!(
            " only {} or more would be told with a chance of {power}.",
            format_args!("{} in 100", words::two_digits(100.0 * p))
        )),
        None => {
            said.push_str(&format!(" not even a strike every time would be told with a chance of {power}."))
        }
    }
    said.push_str(&format!(
        " Expect {} and {} strikes on average. {} {unit} without a strike leave up to {} possible.",
        words::two_digits(s.strikes[0]),
        words::two_digits(s.strikes[1]),
        s.casts,
        at_most(s.none_leaves)
    ));
    said
}

fn at_most(rate: f64) -> String {
    format!("{} in 100", words::two_digits((100.0 * rate).min(100.0)))
}

/// What an empty log says.
fn empty_log(casts: &Casts) -> String {
    let (unit, hour) = (many(casts), &casts.hour);
    format!(
        "{} {unit} without a strike say no more than \"at most {}\"; {} (an hour's casts) say \"at most {}\" (95 % \
         sure, Wilson). No strike yet is no reason to call a bait dead.",
        capital(&small_number(casts.few.0)),
        at_most(casts.few.1),
        hour.casts,
        at_most(hour.none_leaves)
    )
}

fn small_number(n: usize) -> String {
    const NAMES: [&str; 10] = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"];
    NAMES.get(n).map_or_else(|| n.to_string(), |s| (*s).to_owned())
}

fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or(String::new(), |c| c.to_uppercase().chain(chars).collect())
}

/// How passes and casts hang together.
fn pass_and_cast(casts: &Casts) -> Option<String> {
    match casts.unit {
        Unit::Passes => Some(
            "A pass is not a cast: these are passes near such a fish, and many a cast passes none. If one cast in three \
             passes one, take three times as many casts. Where somebody knows how many fish there are, --set \
             fish.density=\"30 per ha\" turns passes into casts."
                .into(),
        ),
        Unit::Casts { passes: Some([a, b]) } => {
            let [first, second] = [a, b].map(words::two_digits);
            Some(format!(
                "With the density of fish given, a cast passes {} such fish on average. Where they are scattered at \
                 random, a cast draws a strike with the chance 1 - exp(-m p), m being that number and p the chance of a \
                 pass.",
                if a == b { first } else { format!("{first} (the one bait) or {second} (the other)") },
            ))
        }
        Unit::Casts { passes: None } => None,
    }
}

/// What all plans rest on.
fn premises(casts: &Casts) -> String {
    let q = &casts.question;
    let pace = if casts.pace_from_tackle {
        "from the length and speed of the retrieve and the time between two, `practice.between_casts`"
    } else if q.pace_per_h.is_some() {
        "as you said"
    } else {
        "common practice, no source"
    };
    format!(
        "All this takes every cast for a fresh try at the same odds, in the same water, light and company of fish. Days \
         differ, and the casts of one day are alike, so change baits cast by cast and spread the casts over many days. \
         Asked for: told apart in {}, a false alarm in {} (--power, --alpha). Time: {} casts an hour ({pace}), {} hours \
         a season (--pace, --hours).",
        in_100(q.demand.power),
        in_100(q.demand.alpha),
        words::two_digits(casts.pace_per_h),
        words::two_digits(q.hours_per_season)
    )
}
