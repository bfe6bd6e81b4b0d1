//! Model and measurement side by side, and the word for it.

use super::{Claim, Pattern, Row};
use crate::maths::{exp, ln};
use crate::statistics::estimate::Estimate;
use crate::study::over_worlds;
use serde::Serialize;

/// A model is right within this factor, or near within the next.
pub const RIGHT: f64 = 1.5;
/// See [`RIGHT`].
pub const NEAR: f64 = 2.0;
/// Share of plausible worlds in which a pattern must hold.
pub const PATTERN_WORLDS: f64 = 0.8;

/// The word for a number, or for a trial of numbers. The order is from best to worst.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Word {
    /// The measured number lies within nine plausible worlds in ten, and within 1.5 times of their middle.
    Agrees,
    /// One of: within nine in ten, or within twice the middle.
    Near,
    /// Neither.
    Misses,
    /// Every pattern holds in at least eight plausible worlds in ten.
    PatternHolds,
    /// One does not.
    PatternFails,
}

impl Word {
    /// The word as it is printed.
    pub fn label(self) -> &'static str {
        match self {
            Self::Agrees => "agrees",
            Self::Near => "near",
            Self::Misses => "misses",
            Self::PatternHolds => "pattern holds",
            Self::PatternFails => "pattern fails",
        }
    }
}

/// What the model says of a row.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RowReading {
    /// Middle of the plausible worlds, where nine in ten lie, and the luck of the simulation.
    #[serde(serialize_with = "estimate")]
    pub model: Estimate,
    /// Model over measured, by the middle; none where nothing was measured.
    pub ratio: Option<f64>,
    /// The word; none where nothing was measured.
    pub word: Option<Word>,
}

fn estimate<S: serde::Serializer>(e: &Estimate, to: S) -> Result<S::Ok, S::Error> {
    use serde::ser::SerializeMap;
    let mut map = to.serialize_map(Some(4))?;
    map.serialize_entry("median", &e.point)?;
    map.serialize_entry("low", &e.low)?;
    map.serialize_entry("high", &e.high)?;
    map.serialize_entry("simulation_se", &e.simulation_se)?;
    map.end()
}

/// Reads the worlds of a row.
pub fn read_row(row: &Row, worlds: &[f64], per_scramble: usize) -> RowReading {
    let model = over_worlds(worlds, per_scramble);
    let measured = row.measured.map(|m| m.value);
    RowReading { ratio: measured.map(|m| model.point / m), word: measured.map(|m| word_of(m, &model)), model }
}

/// The word for one number.
pub fn word_of(measured: f64, model: &Estimate) -> Word {
    let ratio = model.point / measured;
    let within = |factor: f64| ratio.is_finite() && ratio <= factor && ratio >= 1.0 / factor;
    // Room for rounding, so that one world at its defaults can hold its own number.
    let room = 1e-9 * measured.abs();
    let inside = model.low <= measured + room && measured <= model.high + room;
    match inside {
        true if within(RIGHT) => Word::Agrees,
        inside if inside || within(NEAR) => Word::Near,
        _ => Word::Misses,
    }
}

/// What the model says of a pattern.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PatternReading {
    /// The ratio that the claim is about, over worlds.
    #[serde(serialize_with = "estimate")]
    pub ratio: Estimate,
    /// Share of plausible worlds in which it holds.
    pub holds_share: f64,
    /// Whether that is enough.
    pub holds: bool,
}

/// Reads a pattern; `worlds[row][world]`.
pub fn read_pattern(pattern: &Pattern, worlds: &[Vec<f64>], per_scramble: usize) -> PatternReading {
    let count = worlds.first().map_or(0, Vec::len);
    let ratios: Vec<f64> = (0..count)
        .map(|world| {
            let values: Vec<f64> = pattern.rows.iter().map(|&row| worlds[row][world]).collect();
            ratio_of(pattern.claim, &values)
        })
        .collect();
    let holds = |ratio: &&f64| match pattern.claim {
        Claim::Same => **ratio <= pattern.factor,
        Claim::Rises | Claim::Falls => **ratio >= pattern.factor,
    };
    let holds_share = ratios.iter().filter(holds).count() as f64 / count.max(1) as f64;
    PatternReading {
        ratio: over_worlds(&ratios, per_scramble),
        holds_share,
        holds: holds_share >= PATTERN_WORLDS,
    }
}

/// Last over first, first over last, or largest over smallest. Nothing anywhere is the same everywhere.
fn ratio_of(claim: Claim, values: &[f64]) -> f64 {
    let (first, last) = (values.first().copied().unwrap_or(0.0), values.last().copied().unwrap_or(0.0));
    let largest = values.iter().copied().fold(0.0, f64::max);
    let smallest = values.iter().copied().fold(f64::INFINITY, f64::min);
    let (over, under) = match claim {
        Claim::Rises => (last, first),
        Claim::Falls => (first, last),
        Claim::Same => (largest, smallest),
    };
    if over == under { 1.0 } else { over / under }
}

/// A trial as read: its rows, its patterns and the word.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Reading {
    /// One for each row.
    pub rows: Vec<RowReading>,
    /// One for each pattern.
    pub patterns: Vec<PatternReading>,
    /// The word: of numbers the best that more than half of the scored rows reach, and no better than
    /// near where one of them misses; of patterns whether all hold.
    pub word: Word,
    /// Geometric mean of the scored ratios; none without numbers, or where the model says zero.
    pub mean_ratio: Option<f64>,
    /// The scored ratio farthest from 1.
    pub worst_ratio: Option<f64>,
}

/// Reads a trial.
pub fn read(rows: &[Row], patterns: &[Pattern], worlds: &[Vec<f64>], per_scramble: usize) -> Reading {
    let read: Vec<RowReading> = rows.iter().zip(worlds).map(|(r, w)| read_row(r, w, per_scramble)).collect();
    let patterns: Vec<PatternReading> =
        patterns.iter().map(|p| read_pattern(p, worlds, per_scramble)).collect();
    let any_scored = rows.iter().any(|r| r.scored && r.measured.is_some());
    // Where nothing is scored the word is still said, of all rows.
    let counted: Vec<&RowReading> =
        rows.iter().zip(&read).filter(|(row, _)| row.scored || !any_scored).map(|(_, r)| r).collect();
    let words: Vec<Word> = counted.iter().filter_map(|r| r.word).collect();
    let ratios: Vec<f64> = counted.iter().filter_map(|r| r.ratio).collect();
    let word = match most_reach(&words) {
        Some(word) => word,
        None if patterns.iter().all(|p| p.holds) => Word::PatternHolds,
        None => Word::PatternFails,
    };
    // A pattern beside numbers can only take from them, and so can a number that misses.
    let word = match word {
        Word::Agrees | Word::Near if patterns.iter().any(|p| !p.holds) => Word::Misses,
        Word::Agrees if words.contains(&Word::Misses) => Word::Near,
        word => word,
    };
    let off = |r: f64| if r > 0.0 { ln(r).abs() } else { f64::INFINITY };
    let positive = !ratios.is_empty() && ratios.iter().all(|r| *r > 0.0 && r.is_finite());
    let mean = || exp(ratios.iter().map(|r| ln(*r)).sum::<f64>() / ratios.len() as f64);
    Reading {
        word,
        mean_ratio: positive.then(mean),
        worst_ratio: ratios.iter().copied().max_by(|a, b| off(*a).total_cmp(&off(*b))),
        rows: read,
        patterns,
    }
}

/// The best word that more than half of the rows reach, so that of two rows the worse one speaks; none for no rows.
pub fn most_reach(words: &[Word]) -> Option<Word> {
    let reach = |word: &Word| 2 * words.iter().filter(|w| *w <= word).count() > words.len();
    [Word::Agrees, Word::Near, Word::Misses].into_iter().find(reach)
}
