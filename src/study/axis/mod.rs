//! The axes of a sweep: which value is varied, and over what.
//!
//! An axis is written `NAME=FROM..TO`, `NAME=FROM..TO:STEPS`, `NAME=a,b,c`, `NAME=all` or just `NAME`. Names are
//! paths of a scenario or the plain words of [`names::WORDS`]. Quantities carry a unit, which one end may leave to
//! the other (`clarity=0.5..6m:12`); the time of day is counted in hours (`hour=5..20:16`, or
//! `hour=05:30..20:30:16`). A range over a factor of eight or more is cut into equal ratios, others into equal
//! differences; `lin` or `log` after the steps settles it (`:12log`).

pub mod names;
mod range;

use crate::maths::{exp, ln};
use crate::scenario::diagnostic::visible;
use crate::scenario::{Setting, SettingKind};
use crate::units::Dimension;
use serde::ser::SerializeMap;
use serde::{Serialize, Serializer};

/// More steps than this on one axis are a slip: no picture could show them.
pub const MOST_STEPS: usize = 200;
/// From this ratio between the ends on, equal ratios are the default.
const LOGARITHMIC_FROM: f64 = 8.0;

/// One axis.
#[derive(Debug, Clone, PartialEq)]
pub struct Axis {
    /// The path of the value varied.
    pub path: &'static str,
    /// What it is, in a few words.
    pub about: &'static str,
    /// Its values.
    pub values: Values,
}

/// The values of an axis.
#[derive(Debug, Clone, PartialEq)]
pub enum Values {
    /// Numbers, rising, in the unit kept.
    Numbers {
        /// The values.
        values: Vec<f64>,
        /// The kind of quantity; none for a bare number.
        dimension: Option<Dimension>,
        /// Equal ratios rather than equal differences.
        logarithmic: bool,
    },
    /// Hours since midnight on the local clock, rising, whole seconds.
    Hours(Vec<f64>),
    /// Words.
    Words(Vec<String>),
}

/// The value of one step.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(untagged)]
pub enum Step {
    /// In the unit kept.
    Number(f64),
    /// A word.
    Word(String),
}

impl Serialize for Axis {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let mut map = to.serialize_map(None)?;
        map.serialize_entry("path", self.path)?;
        let (unit, log) = match &self.values {
            Values::Words(words) => {
                map.serialize_entry("values", words)?;
                return map.end();
            }
            Values::Hours(_) => ("h", false),
            Values::Numbers { dimension, logarithmic, .. } => {
                (dimension.map_or("1", Dimension::key), *logarithmic)
            }
        };
        map.serialize_entry("unit", unit)?;
        map.serialize_entry("spacing", if log { "log" } else { "lin" })?;
        map.serialize_entry("values", &self.numbers())?;
        map.end()
    }
}

/// What holds where the text of an axis does not say.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Wish {
    /// Steps.
    pub steps: usize,
    /// Equal ratios wherever they are possible.
    pub logarithmic: bool,
}

/// Why a text is no axis.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum AxisError {
    /// No such name.
    #[error("there is nothing called `{}` to vary", visible(name))]
    Unknown {
        /// As written.
        name: String,
        /// What looks like it.
        near: Vec<String>,
        /// Every path.
        all: Vec<String>,
    },
    /// A name of several values.
    #[error("`{}` may mean several things", visible(name))]
    Ambiguous {
        /// As written.
        name: String,
        /// What it may mean.
        paths: Vec<String>,
    },
    /// A text of its own rules.
    #[error("`{path}` cannot be varied")]
    NotSweepable {
        /// The path.
        path: String,
    },
    /// Neither a range nor a list.
    #[error("`{}` is not a range of {path}", visible(text))]
    NoRange {
        /// The path.
        path: String,
        /// As written.
        text: String,
        /// A range that would do.
        example: String,
    },
    /// An end that is no such quantity.
    #[error("{path}: {what}")]
    Quantity {
        /// The path.
        path: String,
        /// What is wrong.
        what: String,
        /// What to write.
        help: String,
    },
    /// An end outside the limits.
    #[error("{path}: {} lies outside {low} to {high}", visible(text))]
    OutOfLimits {
        /// The path.
        path: String,
        /// As written.
        text: String,
        /// Least value.
        low: String,
        /// Greatest value.
        high: String,
    },
    /// Only one value.
    #[error("{path} has one value only")]
    OneValue {
        /// The path.
        path: String,
        /// The value, as it may follow an equals sign.
        value: String,
    },
    /// No number of steps.
    #[error("`{}` is not a number of steps", visible(text))]
    Steps {
        /// As written.
        text: String,
    },
    /// Too many steps.
    #[error("{steps} steps are more than the {MOST_STEPS} that one axis may have")]
    TooMany {
        /// As asked.
        steps: usize,
    },
    /// A word that is not in the list.
    #[error("`{}` is not a value of {path}", visible(word))]
    Word {
        /// The path.
        path: String,
        /// As written.
        word: String,
        /// The words.
        words: Vec<String>,
    },
    /// Equal ratios asked of a range that has none.
    #[error("{path} cannot be cut into equal ratios from {from}")]
    NoRatio {
        /// The path.
        path: String,
        /// Where it begins.
        from: String,
    },
}

impl AxisError {
    /// What to write instead.
    pub fn help(&self) -> String {
        match self {
            Self::Unknown { near, all, .. } => {
                let names = format!("the values are {}", all.join(", "));
                if near.is_empty() { names } else { format!("did you mean {}? {names}", near.join(" or ")) }
            }
            Self::Ambiguous { paths, .. } => format!("write one of {}", paths.join(", ")),
            Self::NotSweepable { path } => {
                format!("set it once with --set {path}=... and vary something else")
            }
            Self::NoRange { path, example, .. } => format!("write --over \"{path}={example}\""),
            Self::Quantity { help, .. } => help.clone(),
            Self::OutOfLimits { low, high, .. } => format!("keep to {low} to {high}"),
            Self::OneValue { path, value } => {
                format!("give two values or more, or fix it with --set \"{path}={value}\"")
            }
            Self::Steps { .. } => {
                "write a whole number of two or more after the last colon, as in :12, :12lin or \
                                   :12log"
                    .into()
            }
            Self::TooMany { .. } => format!("write :{MOST_STEPS} or fewer"),
            Self::Word { words, .. } => format!("write some of {}, with commas, or all", words.join(", ")),
            Self::NoRatio { .. } => {
                "begin above zero, or write lin for equal differences (temperatures and hours have \
                                     no ratios)"
                    .into()
            }
        }
    }
}

impl Axis {
    /// Its path with the unit that its numbers are kept in at the end, as programs read it.
    pub fn key(&self) -> String {
        match &self.values {
            Values::Numbers { dimension: Some(d), .. } => format!("{}_{}", self.path, d.key()),
            Values::Hours(_) => format!("{}_h", self.path),
            _ => self.path.to_owned(),
        }
    }

    /// A value in the unit kept: itself, or of an axis of words the word at that place.
    pub fn kept(&self, value: f64) -> Step {
        match &self.values {
            Values::Words(words) => Step::Word(words.get(value as usize).cloned().unwrap_or_default()),
            _ => Step::Number(value),
        }
    }

    /// The value of a step, in the unit kept.
    pub fn value(&self, step: usize) -> Step {
        match &self.values {
            Values::Words(words) => Step::Word(words.get(step).cloned().unwrap_or_default()),
            _ => Step::Number(self.numbers().get(step).copied().unwrap_or(f64::NAN)),
        }
    }
    /// Reads an axis; `settings` are the values a scenario has ([`crate::scenario::paths`]).
    ///
    /// # Errors
    /// [`AxisError`], with what to write instead.
    ///
    /// ```
    /// use callup::models::Models;
    /// use callup::scenario::{Catalogue, paths};
    /// use callup::study::axis::{Axis, Wish};
    /// let settings = paths(&Catalogue::of(&Models::embedded().unwrap()));
    /// let wish = Wish { steps: 25, logarithmic: false };
    /// let axis = Axis::parse("clarity=0.5..6m:12", wish, &settings).unwrap();
    /// assert_eq!((axis.path, axis.len()), ("water.secchi", 12));
    /// assert_eq!(axis.override_at(11), ("water.secchi".into(), "6 m".into()));
    /// assert!(Axis::parse("clarety=0.5..6m", wish, &settings).unwrap_err().help().contains("clarity"));
    /// ```
    pub fn parse(text: &str, wish: Wish, settings: &[Setting]) -> Result<Self, AxisError> {
        let (name, range) = match text.split_once('=') {
            Some((name, range)) => (name.trim(), Some(range.trim())),
            None => (text.trim(), None),
        };
        let setting = names::find(name, settings)?;
        let range = range.filter(|r| !r.eq_ignore_ascii_case("all"));
        let values = match &setting.kind {
            SettingKind::Choice(words) => range::words(setting.path, words, range)?,
            SettingKind::Number { dimension, limits, sweep } => {
                range::numbers(setting, *dimension, *limits, *sweep, range, wish)?
            }
            SettingKind::Text => range::hours(setting, range, wish)?,
        };
        Ok(Self { path: setting.path, about: setting.about, values })
    }

    /// Number of values.
    pub fn len(&self) -> usize {
        match &self.values {
            Values::Numbers { values, .. } | Values::Hours(values) => values.len(),
            Values::Words(words) => words.len(),
        }
    }

    /// Whether there are none (which no axis that was read has).
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// Whether its values are words.
    pub fn is_words(&self) -> bool {
        matches!(self.values, Values::Words(_))
    }

    /// Whether equal ratios lie between neighbours.
    pub fn is_logarithmic(&self) -> bool {
        matches!(self.values, Values::Numbers { logarithmic: true, .. })
    }

    /// The numbers in the unit kept (hours for the time of day); for words their places.
    pub fn numbers(&self) -> Vec<f64> {
        match &self.values {
            Values::Numbers { values, .. } | Values::Hours(values) => values.clone(),
            Values::Words(words) => (0..words.len()).map(|i| i as f64).collect(),
        }
    }

    /// Value number `i` as an override: path and text.
    pub fn override_at(&self, i: usize) -> (String, String) {
        let text = match &self.values {
            Values::Numbers { values, dimension, .. } => {
                values.get(i).map_or(String::new(), |&v| range::written(v, *dimension))
            }
            Values::Hours(hours) => hours.get(i).map_or(String::new(), |&h| clock(h)),
            Values::Words(words) => words.get(i).cloned().unwrap_or_default(),
        };
        (self.path.to_owned(), text)
    }

    /// The place between values `i` and `i + 1` that is the share `t` of the way, in the unit kept.
    pub fn between(&self, i: usize, t: f64) -> f64 {
        let values = self.numbers();
        let at = |k: usize| values.get(k.min(values.len().saturating_sub(1))).copied().unwrap_or(f64::NAN);
        let (a, b) = (at(i), at(i + 1));
        if self.is_logarithmic() { a * exp(t * ln(b / a)) } else { a + t * (b - a) }
    }

    /// The axis in a form that [`Axis::parse`] reads back to the same.
    pub fn write(&self) -> String {
        let ends = |values: &[f64], one: &dyn Fn(f64) -> String| {
            let end = |v: Option<&f64>| v.map_or(String::new(), |v| one(*v));
            format!("{}..{}:{}", end(values.first()), end(values.last()), values.len())
        };
        match &self.values {
            Values::Numbers { values, dimension, logarithmic } => {
                let steps = if *logarithmic { "log" } else { "lin" };
                format!("{}={}{steps}", self.path, ends(values, &|v| range::written(v, *dimension)))
            }
            Values::Hours(hours) => format!("{}={}", self.path, ends(hours, &|h| h.to_string())),
            Values::Words(words) => format!("{}={}", self.path, words.join(",")),
        }
    }
}

/// Hours since midnight as "05:30:00".
fn clock(hours: f64) -> String {
    let seconds = (hours * 3600.0).round().clamp(0.0, 86_399.0) as u32;
    format!("{:02}:{:02}:{:02}", seconds / 3600, seconds / 60 % 60, seconds % 60)
}
