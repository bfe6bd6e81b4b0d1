//! From the text after the equals sign to the values of an axis.

use super::{AxisError, LOGARITHMIC_FROM, MOST_STEPS, Values, Wish};
use crate::maths::{exp, ln};
use crate::scenario::{Setting, SettingKind};
use crate::units::{Dimension, UnitFault, parse};

/// The hours that are swept where none are given.
const WAKING_HOURS: (f64, f64) = (5.0, 21.0);
/// The last second of a day, in hours.
const LAST_HOUR: f64 = 86_399.0 / 3600.0;
/// Numbers that are counts.
const COUNTS: &[&str] = &["bait.trebles"];

/// How a range is to be cut.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Spacing {
    Told { logarithmic: bool },
    Open,
}

/// A number as it may follow `path=`.
pub(super) fn written(value: f64, dimension: Option<Dimension>) -> String {
    dimension.map_or_else(|| value.to_string(), |d| d.write(value))
}

/// Words: the list, or all but the one that stands for a rule.
pub(super) fn words(path: &str, all: &[String], range: Option<&str>) -> Result<Values, AxisError> {
    let chosen: Vec<String> = match range {
        // "From temperature" is no phase of its own but the way one is found.
        None => all.iter().filter(|w| !w.starts_with("from ")).cloned().collect(),
        Some(list) => {
            let mut chosen = Vec::new();
            for word in list.split(',').map(str::trim) {
                let known = all.iter().find(|w| w.eq_ignore_ascii_case(word));
                let known = known.ok_or_else(|| AxisError::Word {
                    path: path.to_owned(),
                    word: word.to_owned(),
                    words: all.to_vec(),
                })?;
                if !chosen.contains(known) {
                    chosen.push(known.clone());
                }
            }
            chosen
        }
    };
    match chosen.as_slice() {
        [] => Err(AxisError::OneValue { path: path.to_owned(), value: "...".into() }),
        [one] => Err(AxisError::OneValue { path: path.to_owned(), value: one.clone() }),
        [..] if chosen.len() > MOST_STEPS => Err(AxisError::TooMany { steps: chosen.len() }),
        [..] => Ok(Values::Words(chosen)),
    }
}

/// Numbers from FROM to TO, or over the range worth looking at.
pub(super) fn numbers(
    setting: &Setting,
    dimension: Option<Dimension>,
    limits: (f64, f64),
    worth: (f64, f64),
    range: Option<&str>,
    wish: Wish,
) -> Result<Values, AxisError> {
    let path = setting.path;
    let (ends, steps, spacing) = match range {
        None => (worth, None, Spacing::Open),
        Some(text) => {
            let no_range = || no_range(setting, worth, dimension, text);
            let (from, rest) = text.split_once("..").ok_or_else(no_range)?;
            let (to, steps) = match rest.rsplit_once(':') {
                Some((to, steps)) => (to, Some(steps)),
                None => (rest, None),
            };
            let (steps, spacing) = steps.map_or(Ok((None, Spacing::Open)), cut)?;
            (both_ends(path, from.trim(), to.trim(), dimension, limits)?, steps, spacing)
        }
    };
    let (low, high) = (ends.0.min(ends.1), ends.0.max(ends.1));
    if low == high {
        return Err(AxisError::OneValue { path: path.to_owned(), value: written(low, dimension) });
    }
    if COUNTS.contains(&path) {
        let whole: Vec<f64> = (low.ceil() as i64..=high.floor() as i64).map(|n| n as f64).collect();
        if whole.len() < 2 {
            return Err(AxisError::OneValue { path: path.to_owned(), value: low.ceil().to_string() });
        }
        return Ok(Values::Numbers { values: whole, dimension, logarithmic: false });
    }
    let ratios = low > 0.0 && dimension != Some(Dimension::Temperature);
    let logarithmic = match spacing {
        Spacing::Told { logarithmic: true } if !ratios => {
            return Err(AxisError::NoRatio { path: path.to_owned(), from: written(low, dimension) });
        }
        Spacing::Told { logarithmic } => logarithmic,
        Spacing::Open => ratios && (wish.logarithmic || high / low >= LOGARITHMIC_FROM),
    };
    let steps = steps.unwrap_or(wish.steps.clamp(2, MOST_STEPS));
    Ok(Values::Numbers { values: spaced(low, high, steps, logarithmic), dimension, logarithmic })
}

/// Hours of the local clock.
pub(super) fn hours(setting: &Setting, range: Option<&str>, wish: Wish) -> Result<Values, AxisError> {
    let path = setting.path;
    let whole_seconds = |h: f64| (h * 3600.0).round() / 3600.0;
    let (from, to, steps) = match range {
        None => (WAKING_HOURS.0, WAKING_HOURS.1, None),
        Some(text) => {
            let no_range = || AxisError::NoRange {
                path: path.to_owned(),
                text: text.to_owned(),
                example: "5..20:16".into(),
            };
            let (from, rest) = text.split_once("..").ok_or_else(no_range)?;
            // Colons part hours from minutes where FROM has one, and the steps off in any case.
            let mut parts: Vec<&str> = rest.split(':').collect();
            let ends = if from.contains(':') { 2 } else { 1 };
            let steps = if parts.len() > ends { parts.pop() } else { None };
            let (from, to) = (hour(path, from)?, hour(path, &parts.join(":"))?);
            match steps.map(cut).transpose()? {
                Some((_, Spacing::Told { logarithmic: true })) => {
                    return Err(AxisError::NoRatio { path: path.to_owned(), from: from.to_string() });
                }
                Some((steps, _)) => (from, to, steps),
                None => (from, to, None),
            }
        }
    };
    let (low, high) = (whole_seconds(from.min(to)), whole_seconds(from.max(to)));
    let steps = steps.unwrap_or(wish.steps.clamp(2, MOST_STEPS));
    let mut values: Vec<f64> = spaced(low, high, steps, false).into_iter().map(whole_seconds).collect();
    values.dedup();
    if values.len() < 2 {
        return Err(AxisError::OneValue { path: path.to_owned(), value: super::clock(low) });
    }
    Ok(Values::Hours(values))
}

/// "5", "5.5" or "05:30" as hours.
fn hour(path: &str, text: &str) -> Result<f64, AxisError> {
    let text = text.trim();
    let bad = || AxisError::Quantity {
        path: path.to_owned(),
        what: format!("`{}` is not an hour of the day", crate::scenario::diagnostic::visible(text)),
        help: "write hours since midnight, as in hour=5.5..20:16, or hour=05:30..20:30:16".into(),
    };
    let hours = match text.split_once(':') {
        None => text.parse::<f64>().map_err(|_| bad())?,
        Some((hours, minutes)) => {
            let (hours, minutes): (u32, u32) =
                (hours.parse().map_err(|_| bad())?, minutes.parse().map_err(|_| bad())?);
            if minutes >= 60 {
                return Err(bad());
            }
            f64::from(hours) + f64::from(minutes) / 60.0
        }
    };
    if (0.0..=LAST_HOUR).contains(&hours) { Ok(hours) } else { Err(bad()) }
}

/// "12", "12lin" or "12log": the number of values and how they are spaced.
fn cut(text: &str) -> Result<(Option<usize>, Spacing), AxisError> {
    let text = text.trim();
    let (digits, spacing) = if let Some(digits) = text.strip_suffix("log") {
        (digits, Spacing::Told { logarithmic: true })
    } else if let Some(digits) = text.strip_suffix("lin") {
        (digits, Spacing::Told { logarithmic: false })
    } else {
        (text, Spacing::Open)
    };
    let digits = digits.trim();
    if digits.is_empty() && spacing != Spacing::Open {
        return Ok((None, spacing));
    }
    match digits.parse::<usize>() {
        Ok(steps) if steps > MOST_STEPS => Err(AxisError::TooMany { steps }),
        Ok(steps) if steps >= 2 => Ok((Some(steps), spacing)),
        _ => Err(AxisError::Steps { text: text.to_owned() }),
    }
}

/// Both ends in the unit kept, within the limits; a unit may stand at either or both.
fn both_ends(
    path: &str,
    from: &str,
    to: &str,
    dimension: Option<Dimension>,
    limits: (f64, f64),
) -> Result<(f64, f64), AxisError> {
    let one = |text: &str, other: &str| -> Result<f64, AxisError> {
        let quantity = |what, help| AxisError::Quantity { path: path.to_owned(), what, help };
        let value = match dimension {
            None => text.parse::<f64>().ok().filter(|v| v.is_finite()).ok_or_else(|| {
                let what = format!("`{}` is not a number", crate::scenario::diagnostic::visible(text));
                quantity(what, format!("write a number from {} to {}", limits.0, limits.1))
            })?,
            Some(dimension) => match parse(text, dimension) {
                Ok(value) => value,
                Err(e) => {
                    let lent = match e.fault {
                        UnitFault::NoUnit(_) => {
                            unit_of(other).and_then(|unit| parse(&format!("{text} {unit}"), dimension).ok())
                        }
                        _ => None,
                    };
                    lent.ok_or_else(|| quantity(e.what(), e.help()))?
                }
            },
        };
        if value >= limits.0 && value <= limits.1 {
            return Ok(value);
        }
        Err(AxisError::OutOfLimits {
            path: path.to_owned(),
            text: text.to_owned(),
            low: written(limits.0, dimension),
            high: written(limits.1, dimension),
        })
    };
    Ok((one(from, to)?, one(to, from)?))
}

/// What stands after the number of a quantity.
fn unit_of(text: &str) -> Option<&str> {
    let bytes = text.as_bytes();
    let number = |(i, c): &(usize, char)| {
        let exponent = matches!(c, 'e' | 'E')
            && bytes.get(i + 1).is_some_and(|b| b.is_ascii_digit() || matches!(b, b'+' | b'-'));
        c.is_ascii_digit() || matches!(c, '.' | ',' | '/' | '+' | '-' | ' ') || exponent
    };
    let (at, _) = text.char_indices().find(|c| !number(c))?;
    text.get(at..)
}

fn no_range(setting: &Setting, worth: (f64, f64), dimension: Option<Dimension>, text: &str) -> AxisError {
    let text = text.trim();
    // A single good value is not a misspelt range.
    let alone = match dimension {
        Some(dimension) => parse(text, dimension).is_ok(),
        None => text.parse::<f64>().is_ok(),
    };
    if alone && matches!(setting.kind, SettingKind::Number { .. }) {
        return AxisError::OneValue { path: setting.path.to_owned(), value: text.to_owned() };
    }
    AxisError::NoRange {
        path: setting.path.to_owned(),
        text: text.to_owned(),
        example: format!("{}..{}:12", written(worth.0, dimension), written(worth.1, dimension)),
    }
}

/// `steps` values from `low` to `high`, the ends exact.
fn spaced(low: f64, high: f64, steps: usize, logarithmic: bool) -> Vec<f64> {
    let last = steps.saturating_sub(1).max(1);
    let ratio = if logarithmic { ln(high / low) } else { 0.0 };
    let mut values: Vec<f64> = (0..steps)
        .map(|i| match i as f64 / last as f64 {
            _ if i == 0 => low,
            _ if i == last => high,
            t if logarithmic => low * exp(t * ratio),
            t => low + t * (high - low),
        })
        .map(|v| v.clamp(low, high))
        .collect();
    // Ends a few bits apart leave no room for steps between them.
    values.dedup();
    values
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_unit_is_found_behind_any_number() {
        for (text, unit) in [
            ("6m", Some("m")),
            ("3 1/2 in", Some("in")),
            ("1e-3 m", Some("m")),
            ("30 per ha", Some("per ha")),
            ("12", None),
            ("", None),
            ("5 °C", Some("°C")),
        ] {
            assert_eq!(unit_of(text), unit, "{text}");
        }
    }

    #[test]
    fn spacing_keeps_the_ends_and_the_ratio() {
        let values = spaced(0.5, 8.0, 5, true);
        assert_eq!((values[0], values[4]), (0.5, 8.0));
        // Rounding of one exponential and one logarithm.
        assert!((values[2] - 2.0).abs() < 1e-14, "{values:?}");
        assert_eq!(spaced(0.0, 1.0, 5, false), vec![0.0, 0.25, 0.5, 0.75, 1.0]);
    }
}
