//! A cube kept between runs, so that a sweep that was stopped can go on to the very bits of one that was not.
//!
//! The file: a line that names the format; a line of JSON that says what was asked ([`Fingerprint`]); the number of
//! cells worked out (32 bits); for each its number (32 bits) and its strikes as bit patterns of doubles, bait after
//! bait, world after world; last a check sum of all before (64 bits). Numbers are little-endian.

use super::{Cube, Sweep};
use serde::{Deserialize, Serialize};

/// The first line; the number is raised when the form changes.
const FORMAT: &[u8] = b"callup sweep 1\n";
/// How every kept sweep begins, of whatever version.
pub const MARK: &str = "callup sweep ";
/// The longest second line that is read, bytes: 200 words on each axis and 200 baits stay far below.
const LONGEST_HEAD: usize = 1 << 20;

/// Everything that fixes the bits of a sweep.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Fingerprint {
    /// Version of the program.
    pub version: String,
    /// Check sum of the scenario's text.
    pub scenario: String,
    /// Values put in place of the file's.
    pub overrides: Vec<String>,
    /// Check sum of the assumptions.
    pub models: String,
    /// Seed.
    pub seed: u64,
    /// Worlds.
    pub draws: usize,
    /// Passes in each.
    pub points: usize,
    /// Whether every assumption is at its default.
    pub fixed: bool,
    /// The axes.
    pub axes: Vec<String>,
    /// The baits.
    pub baits: Vec<String>,
}

/// Why a file cannot be gone on with.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum FileError {
    /// Not such a file.
    #[error("this is not a sweep kept by this program; give a file written with --save")]
    NotASweep,
    /// Cut off or changed.
    #[error("the file is damaged ({0}); run the sweep anew with --save")]
    Damaged(&'static str),
    /// Another run.
    #[error("the file holds another sweep: {0}; ask the same question as then, or run anew with --save")]
    Another(String),
}

/// The 64-bit FNV-1a check sum: finds slips and damage, not malice (Fowler, Noll & Vo, RFC 9923, from memory).
///
/// ```
/// // Published test vector: FNV-1a of "a".
/// assert_eq!(callup::study::sweep::file::check_sum(b"a"), 0xaf63_dc4c_8601_ec8c);
/// ```
pub fn check_sum(bytes: &[u8]) -> u64 {
    bytes.iter().fold(0xcbf2_9ce4_8422_2325, |h, b| (h ^ u64::from(*b)).wrapping_mul(0x0100_0000_01b3))
}

impl Fingerprint {
    /// How this run differs from the one asked for now, in words; `None` where it does not.
    fn differs(&self, now: &Self) -> Option<String> {
        let of = |what: &str, then: &dyn std::fmt::Display, now: &dyn std::fmt::Display| {
            Some(format!("{what} {then} then, {now} now"))
        };
        let list = |l: &[String]| if l.is_empty() { "none".to_owned() } else { l.join("; ") };
        if self.version != now.version {
            of("program version", &self.version, &now.version)
        } else if self.axes != now.axes {
            of("axes", &list(&self.axes), &list(&now.axes))
        } else if self.scenario != now.scenario {
            Some("the scenario's text is not the same".into())
        } else if self.overrides != now.overrides {
            of("values set", &list(&self.overrides), &list(&now.overrides))
        } else if self.models != now.models {
            Some("the assumptions are not the same".into())
        } else if self.seed != now.seed {
            of("seed", &self.seed, &now.seed)
        } else if self.fixed != now.fixed {
            let word = |fixed| if fixed { "at their defaults" } else { "drawn" };
            of("assumptions", &word(self.fixed), &word(now.fixed))
        } else if self.draws != now.draws {
            of("worlds", &self.draws, &now.draws)
        } else if self.points != now.points {
            of("passes in each world", &self.points, &now.points)
        } else if self.baits != now.baits {
            of("baits", &list(&self.baits), &list(&now.baits))
        } else {
            None
        }
    }
}

impl Sweep<'_> {
    /// What fixes the bits of this sweep.
    pub fn fingerprint(&self) -> Fingerprint {
        let r = &self.request;
        Fingerprint {
            version: env!("CARGO_PKG_VERSION").to_owned(),
            scenario: format!("{:016x}", check_sum(r.source.as_bytes())),
            overrides: r.overrides.iter().map(|(path, value)| format!("{path}={value}")).collect(),
            // Numbers in the shortest form that tells them apart: equal text means equal bits.
            models: format!("{:016x}", check_sum(format!("{:?}", r.models).as_bytes())),
            seed: r.budget.seed,
            draws: if r.budget.fixed { 1 } else { r.budget.worlds },
            points: r.budget.passes,
            fixed: r.budget.fixed,
            axes: r.axes.iter().map(super::Axis::write).collect(),
            baits: self.names.clone(),
        }
    }

    /// The bytes that keep a cube of this sweep.
    pub fn to_bytes(&self, cube: &Cube) -> Vec<u8> {
        let numbers = cube.baits.len() * cube.draws;
        let mut bytes = Vec::with_capacity(4096 + cube.done() * (4 + 8 * numbers));
        bytes.extend_from_slice(FORMAT);
        // A plain structure of texts and numbers always has a JSON form.
        bytes.extend_from_slice(serde_json::to_string(&self.fingerprint()).unwrap_or_default().as_bytes());
        bytes.push(b'\n');
        bytes.extend_from_slice(&(cube.done() as u32).to_le_bytes());
        for (i, cell) in cube.cells.iter().enumerate() {
            let Some(values) = cell else { continue };
            bytes.extend_from_slice(&(i as u32).to_le_bytes());
            values.iter().for_each(|v| bytes.extend_from_slice(&v.to_bits().to_le_bytes()));
        }
        let sum = check_sum(&bytes);
        bytes.extend_from_slice(&sum.to_le_bytes());
        bytes
    }

    /// The cube of a file, to go on with.
    ///
    /// # Errors
    /// [`FileError`]: no such file, a damaged one, or one of another sweep.
    pub fn read_bytes(&self, bytes: &[u8]) -> Result<Cube, FileError> {
        let body = bytes.strip_prefix(FORMAT).ok_or(FileError::NotASweep)?;
        let end = body.iter().take(LONGEST_HEAD).position(|b| *b == b'\n').ok_or(FileError::NotASweep)?;
        let then: Fingerprint =
            serde_json::from_slice(&body[..end]).map_err(|_| FileError::Damaged("its second line"))?;
        let (before, sum) = bytes.split_last_chunk::<8>().ok_or(FileError::Damaged("it ends too early"))?;
        if check_sum(before) != u64::from_le_bytes(*sum) {
            return Err(FileError::Damaged("its check sum is wrong"));
        }
        if let Some(how) = then.differs(&self.fingerprint()) {
            return Err(FileError::Another(how));
        }
        let mut cube = self.cube();
        let numbers = cube.baits.len() * cube.draws;
        let cut = || FileError::Damaged("it ends too early");
        let mut rest = body.get(end + 1..body.len().saturating_sub(8)).ok_or_else(cut)?;
        let count = take::<4>(&mut rest).map(u32::from_le_bytes).ok_or_else(cut)?;
        for _ in 0..count {
            let cell = take::<4>(&mut rest).map(u32::from_le_bytes).ok_or_else(cut)? as usize;
            let mut values = Vec::with_capacity(numbers);
            for _ in 0..numbers {
                let bits = take::<8>(&mut rest).map(u64::from_le_bytes).ok_or_else(cut)?;
                values.push(f64::from_bits(bits));
            }
            *cube.cells.get_mut(cell).ok_or(FileError::Damaged("a cell that is not in the sweep"))? =
                Some(values);
        }
        if rest.is_empty() { Ok(cube) } else { Err(FileError::Damaged("something follows its end")) }
    }
}

/// Takes `N` bytes off the front.
fn take<const N: usize>(rest: &mut &[u8]) -> Option<[u8; N]> {
    let (head, tail) = rest.split_first_chunk::<N>()?;
    *rest = tail;
    Some(*head)
}
