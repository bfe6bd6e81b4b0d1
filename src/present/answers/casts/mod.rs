//! How many casts tell two baits apart: the finding and the plans here, the rest of the text in `notes`, the
//! power curve, machine output and pictures beside.

mod curve;
mod machine;
mod notes;
mod pictures;

pub use machine::{csv, json};
pub use pictures::pictures;

use super::{Asked, CAUTION};
use crate::present::escape::terminal_text;
use crate::present::table::{Column, Table};
use crate::present::words;
use crate::study::SMALLEST_DIFFERENCE;
use crate::study::casts::{Casts, Fixed, Unit};

/// What the answer is about: a scenario, or nothing but two rates.
#[derive(Debug, Clone, Copy)]
pub struct About<'a> {
    /// The scenario, where baits are compared.
    pub asked: Option<Asked<'a>>,
    /// Columns of the terminal.
    pub width: usize,
}

impl About<'_> {
    fn wrapped(&self, text: &str) -> String {
        words::wrap(&terminal_text(text), self.width).join("\n") + "\n"
    }
}

/// The whole answer as text.
pub fn text(about: &About, casts: &Casts) -> String {
    let mut out = about.asked.map_or(String::new(), |a| a.conditions() + "\n");
    out.push_str(&about.wrapped(&headline(casts)));
    let plans = plans(casts);
    if !plans.rows.is_empty() {
        out.push('\n');
        out.push_str(&plans.terminal(about.width));
    }
    for note in notes::notes(about, casts) {
        out.push('\n');
        out.push_str(&about.wrapped(&note));
    }
    out.push('\n');
    out.push_str(&about.wrapped(CAUTION));
    out
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
pub fn headline(casts: &Casts) -> String {
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

/// The finding in a line or two, for a picture.
fn short_headline(casts: &Casts) -> String {
    match &casts.fixed {
        Some(f) => format!(
            "It takes about {} {} of each to tell {} apart: {}.",
            number(f.planned()),
            many(casts),
            both_rates(casts),
            time(casts, f.planned()).split(", if every").next().unwrap_or_default()
        ),
        None => headline(casts),
    }
}

/// The plans as a table.
fn plans(casts: &Casts) -> Table {
    let unit = many(casts);
    let mut table = Table::new(vec![
        Column::text("plan"),
        Column::number(&format!("{unit} of each")),
        Column::number("hours, both"),
        Column::text("what it does"),
    ]);
    let hours = |n: f64| words::two_digits(casts.hours(n));
    if let Some(f) = &casts.fixed {
        if let Some(n) = f.smallest {
            let says = format!(
                "the least whose exact chance is {} and stays so",
                in_100(casts.question.demand.power)
            );
            table.push(["fixed, exact".into(), n.to_string(), hours(n as f64), says]);
        }
        table.push(["fixed, by formula".into(), number(f.casts), hours(f.casts), fixed_words(f)]);
    }
    if let (Some(f), Some(a)) = (&casts.fixed, &casts.at_one_fish) {
        let n = (f.planned() * a.times_as_many).ceil();
        let says = format!("the same, {} in a row at the same fish: they are alike", a.casts);
        table.push(["fixed, few fish".into(), number(n), hours(n), says]);
    }
    if let Some(l) = &casts.lead {
        let p = &l.plan;
        let says = format!("stops at a lead of {}; names the worse one {}", p.lead, times(p.wrong));
        table.push(["in turn, mean".into(), number(p.mean_pairs), hours(p.mean_pairs), says]);
        let says = "the same, if the two are alike: it names one all the same".into();
        let alike = p.mean_pairs_if_alike;
        table.push(["in turn, if alike".into(), number(alike), hours(alike), says]);
    }
    table
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
