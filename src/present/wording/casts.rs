//! How many casts tell two baits apart: the finding, the plans, what the table does not say, the power curve.

#[cfg(feature = "cli")]
mod pictures;

use super::{About, Readable, capital};
use crate::present::columns::{Kind, column, raw, read, spreadsheet};
use crate::present::document::Document;
use crate::present::table::Table;
use crate::present::view::View;
use crate::present::words;
use crate::study::SMALLEST_DIFFERENCE;
use crate::study::casts::curve::{Point, curve};
use crate::study::casts::{Casts, Fixed, Lead, Showing, Unit, Worlds};

impl Readable for Casts {
    fn document(&self, view: &View) -> Document {
        let head = if self.worlds.is_some() { view.head() } else { Vec::new() };
        let mut out = Document::new(head, headline(self));
        let plans = plans(self, view);
        if !plans.rows.is_empty() {
            out.plain_table("The plans", plans);
        }
        out.figure("casts-power").figure("casts-lead");
        out.paragraphs(notes(view, self));
        out
    }

    /// The power curve.
    fn spreadsheet(&self, _view: &View) -> Table {
        let over = |k: usize| move |p: &Point| p.worlds.map(|w| w[k]);
        let columns = [
            raw("of_each", |p: &Point| p.of_each as f64),
            raw("power", |p: &Point| p.power),
            raw("power_worlds_mean", over(0)),
            raw("power_worlds_low", over(1)),
            raw("power_worlds_high", over(2)),
        ];
        spreadsheet(&columns, &curve(self))
    }

    /// Power against casts, and how the lead wanders.
    #[cfg(feature = "cli")]
    fn pictures(&self, view: &View) -> Vec<crate::present::document::Picture> {
        pictures::pictures(view, self)
    }

    fn rests_on(&self) -> String {
        self.worlds.as_ref().map_or(String::new(), |w| format!("{} worlds", w.rates.len()))
    }

    fn about(&self) -> About {
        if self.worlds.is_some() { About::Scenario } else { About::Nothing }
    }
}

/// "casts" or "passes".
fn many(casts: &Casts) -> &'static str {
    match casts.unit {
        Unit::Casts { .. } => "casts",
        Unit::Passes => "passes",
    }
}

/// "about 4 in 100" for the model's odds, "7 in 100" for a rate that was given.
fn said_rate(casts: &Casts, rate: f64) -> String {
    let bare = bare_rate(casts, rate);
    let about = casts.worlds.is_some() && bare.starts_with(|c: char| c.is_ascii_digit());
    format!("{}{bare} in 100", if about { "about " } else { "" })
}

/// "4 and 3 in 100".
fn both_rates(casts: &Casts) -> String {
    format!("{} and {} in 100", bare_rate(casts, casts.rates[0]), bare_rate(casts, casts.rates[1]))
}

/// A rate in 100: as it was given, or the model's rounded; finer where both baits would round to the same.
fn bare_rate(casts: &Casts, rate: f64) -> String {
    let [a, b] = casts.rates.map(|p| words::number_per_100(100.0 * p));
    match casts.worlds {
        None => plain_rate(rate),
        Some(_) if a == b && casts.fixed.is_some() => words::two_digits(100.0 * rate),
        Some(_) => words::number_per_100(100.0 * rate),
    }
}

/// A rate as it was given, in 100, with the digits it has up to four.
fn plain_rate(rate: f64) -> String {
    let text = format!("{:.4}", 100.0 * rate);
    let short = text.trim_end_matches('0').trim_end_matches('.');
    if short == "0" { words::two_digits(100.0 * rate) } else { short.to_owned() }
}

/// "150 mm, deep lip (about 4 in 100)", or the rate alone.
fn said_name(casts: &Casts, k: usize) -> String {
    let rate = said_rate(casts, casts.rates[k]);
    if casts.worlds.is_some() { format!("{} ({rate})", casts.names[k]) } else { rate }
}

/// A number of casts in at most two digits.
fn number(count: f64) -> String {
    if count.is_finite() { words::two_digits(count) } else { "no number".into() }
}

/// A chance as a count of 100 trials.
fn in_100(chance: f64) -> String {
    match 100.0 * chance {
        c if c < 0.95 => "under 1 in 100".into(),
        c if c > 99.05 => "over 99 in 100".into(),
        c => format!("{c:.0} in 100"),
    }
}

/// How long so many casts of each take.
fn time(casts: &Casts, of_each: f64) -> String {
    let (hours, seasons) = (casts.hours(of_each), casts.seasons(of_each));
    let season = format!("{} hours", words::two_digits(casts.question.hours_per_season));
    let lifetime = casts.question.lifetime_seasons;
    let said = if seasons > lifetime {
        format!("not in a lifetime ({lifetime:.0} seasons of {season})")
    } else if seasons > 1.0 {
        format!("{} seasons of {season}", words::two_digits(seasons))
    } else if hours >= 1.0 {
        format!("{} hours of fishing", words::two_digits(hours))
    } else {
        format!("{} minutes of fishing", words::two_digits((60.0 * hours).max(1.0)))
    };
    match casts.unit {
        Unit::Casts { .. } => said,
        Unit::Passes if seasons > lifetime => said,
        Unit::Passes => format!("at least {said}, if every cast passed one such fish"),
    }
}

/// The finding.
fn headline(casts: &Casts) -> String {
    let (unit, Some(fixed)) = (many(casts), &casts.fixed) else {
        return format!(
            "{} and {} strike alike at {}: no number of {} tells them apart, so take the one you like.",
            casts.names[0],
            casts.names[1],
            said_rate(casts, casts.rates[0]),
            many(casts)
        );
    };
    let gap = 100.0 * (casts.rates[0] - casts.rates[1]).abs();
    let verdict = if gap < SMALLEST_DIFFERENCE {
        " A difference under 1 in 100 is too small to matter: take the one you like."
    } else {
        ""
    };
    format!(
        "To tell {} from {} takes about {} {unit} of each: {}.{verdict}",
        said_name(casts, 0),
        said_name(casts, 1),
        number(fixed.planned()),
        time(casts, fixed.planned())
    )
}

/// The plans as a table.
fn plans(casts: &Casts, view: &View) -> Table {
    type Row = (&'static str, f64, String);
    let mut rows: Vec<Row> = Vec::new();
    if let Some(f) = &casts.fixed {
        if let Some(n) = f.smallest {
            let power = in_100(casts.question.demand.power);
            let says = format!("the least whose exact chance is {power} and stays so");
            rows.push(("fixed, exact", n as f64, says));
        }
        rows.push(("fixed, by formula", f.casts, fixed_words(f)));
    }
    if let (Some(f), Some(a)) = (&casts.fixed, &casts.at_one_fish) {
        let says = format!("the same, {} in a row at the same fish: they are alike", a.casts);
        rows.push(("fixed, few fish", (f.planned() * a.times_as_many).ceil(), says));
    }
    if let Some(Lead { plan: p, .. }) = &casts.lead {
        let says = format!("stops at a lead of {}; names the worse one {}", p.lead, times(p.wrong));
        rows.push(("in turn, mean", p.mean_pairs, says));
        let says = "the same, if the two are alike: it names one all the same".into();
        rows.push(("in turn, if alike", p.mean_pairs_if_alike, says));
    }
    let columns = [
        column("", "plan", Kind::Text, |r: &Row| r.0),
        column("", format!("{} of each", many(casts)), Kind::Right, |r: &Row| match r.0 {
            "fixed, exact" => format!("{:.0}", r.1),
            _ => number(r.1),
        }),
        column("", "hours, both", Kind::Number, |r: &Row| casts.hours(r.1)),
        column("", "what it does", Kind::Text, |r: &Row| r.2.clone()),
    ];
    read(&columns, &rows, view.units)
}

fn fixed_words(fixed: &Fixed) -> String {
    let power = format!(
        "tells them apart {}{}",
        times(fixed.power),
        if fixed.power_is_exact { " (exact)" } else { " (by formula)" }
    );
    match fixed.false_alarm {
        Some(size) => format!("{power}; were they alike, {} {}", "it would call them different", times(size)),
        None => power,
    }
}

/// "in 81 of 100 trials".
fn times(chance: f64) -> String {
    match 100.0 * chance {
        c if c < 0.95 => "in fewer than 1 of 100 trials".into(),
        c if c > 99.05 => "in more than 99 of 100 trials".into(),
        c => format!("in {} of 100 trials", if c < 9.95 { format!("{c:.1}") } else { format!("{c:.0}") }),
    }
}

/// The paragraphs, in order.
fn notes(view: &View, casts: &Casts) -> Vec<String> {
    let mut notes = Vec::new();
    notes.extend(casts.worlds.as_ref().map(|w| over_worlds(casts, w)));
    notes.extend(casts.fixed.as_ref().and_then(by_formula));
    notes.extend(casts.lead.as_ref().map(|l| in_turn(casts, l)));
    notes.extend(casts.showing.as_ref().map(|s| showing(casts, s)));
    notes.push(empty_log(casts));
    notes.extend(pass_and_cast(casts));
    notes.push(premises(casts));
    notes.extend(casts.worlds.as_ref().map(|_| view.run_line()));
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
