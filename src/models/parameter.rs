//! One assumption: what it means, how large it may be, how well it is known.

use crate::maths::special::normal_quantile;
use crate::maths::{exp, ln, logistic, logit};
use serde::{Deserialize, Serialize};

/// How well a number is known, best first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Grade {
    /// Measured on black bass, or a property of water or light.
    Measured,
    /// Follows from measurements of something near.
    Inferred,
    /// What those who do it say, without a source.
    #[serde(rename = "common practice")]
    CommonPractice,
    /// An estimate of ours.
    Guess,
}

impl Grade {
    /// The grade's name as the files write it.
    pub fn name(self) -> &'static str {
        match self {
            Grade::Measured => "measured",
            Grade::Inferred => "inferred",
            Grade::CommonPractice => "common practice",
            Grade::Guess => "guess",
        }
    }
    /// All grades, best first.
    pub const ALL: [Grade; 4] = [Grade::Measured, Grade::Inferred, Grade::CommonPractice, Grade::Guess];
}

/// The kind of assumption: what a rule of thumb can be said to rest on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Group {
    /// Light, water and eye.
    Optics,
    /// Line, bait and swimming.
    Mechanics,
    /// Hunger and temperature.
    Appetite,
    /// Season of the spawn.
    Phase,
    /// Refusal and fishing pressure.
    Wariness,
    /// Size of the bait against the prey and the fish.
    Size,
    /// Rattles, hearing and the near field.
    Sound,
}

impl Group {
    /// All groups.
    pub const ALL: [Group; 7] = [
        Group::Optics,
        Group::Mechanics,
        Group::Appetite,
        Group::Phase,
        Group::Wariness,
        Group::Size,
        Group::Sound,
    ];
    /// What the numbers of the group say, in a few words.
    pub fn in_words(self) -> &'static str {
        match self {
            Self::Optics => "light, water and eye",
            Self::Mechanics => "line, bait and swimming",
            Self::Appetite => "appetite apart from readiness",
            Self::Phase => "season of the spawn apart from readiness",
            Self::Wariness => "refusal and fishing pressure",
            Self::Size => "size of the bait against prey and fish",
            Self::Sound => "rattles, hearing and the near field",
        }
    }

    /// The group's name as the files write it.
    pub fn name(self) -> &'static str {
        match self {
            Group::Optics => "optics",
            Group::Mechanics => "mechanics",
            Group::Appetite => "appetite",
            Group::Phase => "phase",
            Group::Wariness => "wariness",
            Group::Size => "size",
            Group::Sound => "sound",
        }
    }
}

/// How plausible values lie between low and high.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Spread {
    /// Two-piece normal in the logarithm: for positive quantities.
    Lognormal,
    /// Two-piece normal.
    Normal,
    /// Two-piece normal on the log-odds: for shares between 0 and 1.
    Share,
    /// A definition: never drawn.
    Fixed,
    /// One of two mechanisms: 1 with the chance `default`, else 0.
    Choice,
}

/// One assumption of the model.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Parameter {
    /// Dotted name, unique.
    pub name: String,
    /// What it is, in words.
    pub means: String,
    /// 5 % point of what is plausible.
    pub low: f64,
    /// Middle of what is plausible; the value under `--fixed`.
    pub default: f64,
    /// 95 % point of what is plausible.
    pub high: f64,
    /// Shape of the distribution between.
    pub spread: Spread,
    /// Least possible value.
    pub least: f64,
    /// Greatest possible value.
    pub most: f64,
    /// Unit, `1` for a pure number.
    pub unit: String,
    /// How well it is known.
    pub grade: Grade,
    /// What kind of assumption it is.
    pub group: Group,
    /// Name of the product it is a factor of, if it is drawn against the other factors.
    pub product: Option<String>,
    /// Whether only one of the members marked so acts at a time.
    pub alternative: bool,
    /// Whether a high value lowers the product.
    pub lowers: bool,
    /// Where the number comes from, and how sure that is.
    pub source: String,
    /// File it stands in.
    pub file: String,
}

/// Standard normal value of the 95 % point.
const Z_95: f64 = 1.644_853_626_951_472_2;

impl Parameter {
    /// The value at which a share `u` (0 < u < 1) of the plausible values lies below.
    pub fn quantile(&self, u: f64) -> f64 {
        self.from_normal(normal_quantile(u))
    }

    /// The value at the standard normal score `z`: default at 0, low and high at -1.645 and 1.645.
    pub fn from_normal(&self, z: f64) -> f64 {
        let side = if z < 0.0 { self.low } else { self.high };
        let t = z.abs() / Z_95;
        let value = match self.spread {
            Spread::Fixed => self.default,
            Spread::Choice => f64::from(crate::maths::special::normal_cdf(z) < self.default),
            Spread::Normal => self.default + t * (side - self.default),
            Spread::Lognormal => self.default * exp(t * ln(side / self.default)),
            Spread::Share => logistic(logit(self.default) + t * (logit(side) - logit(self.default))),
        };
        value.clamp(self.least, self.most)
    }

    /// The value under `--fixed`: the default; for a choice of mechanisms the likelier one.
    pub fn fixed(&self) -> f64 {
        match self.spread {
            Spread::Choice => f64::from(self.default >= 0.5),
            _ => self.default,
        }
    }

    /// What is wrong with this entry, if anything, in words that say what to write instead.
    pub fn fault(&self) -> Option<String> {
        let Self { low, default, high, .. } = *self;
        let name = &self.name;
        if ![low, default, high].iter().all(|v| v.is_finite()) {
            return Some(format!("{name}: low, default and high must be finite numbers"));
        }
        if !(low <= default && default <= high) {
            return Some(format!("{name}: write low <= default <= high, not {low}, {default}, {high}"));
        }
        if default < self.least || default > self.most {
            return Some(format!(
                "{name}: the default {default} lies outside {} to {}",
                self.least, self.most
            ));
        }
        match self.spread {
            Spread::Lognormal if low <= 0.0 => Some(format!(
                "{name}: a lognormal spread needs low above 0; write another spread or a positive low"
            )),
            Spread::Share if low <= 0.0 || high >= 1.0 => {
                Some(format!("{name}: a share must lie between 0 and 1, both excluded"))
            }
            Spread::Choice if !(0.0..=1.0).contains(&default) => {
                Some(format!("{name}: a choice has a chance from 0 to 1 as its default"))
            }
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn parameter(spread: Spread, low: f64, default: f64, high: f64) -> Parameter {
        Parameter {
            name: "test.value".into(),
            means: "a test".into(),
            low,
            default,
            high,
            spread,
            least: f64::NEG_INFINITY,
            most: f64::INFINITY,
            unit: "1".into(),
            grade: Grade::Guess,
            group: Group::Optics,
            product: None,
            alternative: false,
            lowers: false,
            source: "none".into(),
            file: "test".into(),
        }
    }

    #[test]
    fn quantiles_meet_low_default_and_high() {
        for (spread, low, default, high) in [
            (Spread::Lognormal, 0.5, 1.0, 4.0),
            (Spread::Normal, -1.0, 0.5, 1.0),
            (Spread::Share, 0.2, 0.7, 0.8),
        ] {
            let p = parameter(spread, low, default, high);
            assert!(p.fault().is_none());
            for (u, want) in [(0.05, low), (0.5, default), (0.95, high)] {
                assert!((p.quantile(u) - want).abs() < 1e-9, "{spread:?} at {u}: {}", p.quantile(u));
            }
        }
    }

    #[test]
    fn a_choice_takes_each_mechanism_as_often_as_it_says() {
        let p = parameter(Spread::Choice, 0.3, 0.3, 0.3);
        let ones = (0..1000).filter(|i| p.quantile((f64::from(*i) + 0.5) / 1000.0) == 1.0).count();
        assert_eq!(ones, 300);
        assert_eq!(p.fixed(), 0.0);
    }

    #[test]
    fn faults_are_named() {
        assert!(parameter(Spread::Normal, 2.0, 1.0, 3.0).fault().is_some());
        assert!(parameter(Spread::Lognormal, 0.0, 1.0, 3.0).fault().is_some());
        assert!(parameter(Spread::Share, 0.1, 0.5, 1.0).fault().is_some());
    }
}
