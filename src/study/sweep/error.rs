//! Why a sweep cannot be done.

use super::{MOST_CELLS, MOST_NUMBERS};
use crate::models::ModelsError;
use crate::scenario::Diagnostic;
use crate::scenario::diagnostic::visible;
use crate::world::PrepareError;

/// Why a sweep cannot be done; [`SweepError::help`] says what to do.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum SweepError {
    /// No axis, or more than two.
    #[error("a sweep has one axis or two, not {count}")]
    Axes {
        /// As asked.
        count: usize,
    },
    /// The same axis twice.
    #[error("both axes vary {path}")]
    Twice {
        /// The path.
        path: &'static str,
    },
    /// Too many cells.
    #[error("{cells} cells are more than the {MOST_CELLS} that a sweep may have")]
    TooManyCells {
        /// As asked.
        cells: usize,
    },
    /// Too many numbers.
    #[error(
        "cells times baits times worlds make {numbers} numbers, more than the {MOST_NUMBERS} that are kept"
    )]
    TooLarge {
        /// As asked.
        numbers: usize,
    },
    /// A cell that cannot be.
    #[error("{bad} of {of} cells are impossible, the first at {at}")]
    Impossible {
        /// Its values.
        at: String,
        /// Cells that are impossible.
        bad: usize,
        /// All cells.
        of: usize,
        /// What is wrong with the first.
        faults: Vec<Diagnostic>,
    },
    /// Boxes that cannot be compared.
    #[error(
        "at {} the box holds {} different baits, at {} it holds {}",
        first.0, first.1, other.0, other.1
    )]
    BoxDiffers {
        /// Where, and how many.
        first: (String, usize),
        /// Where else, and how many.
        other: (String, usize),
    },
    /// No such bait, or several.
    #[error("{} `{}`", if *several { "several baits answer to" } else { "no bait of the box answers to" }, visible(name))]
    UnknownBait {
        /// As asked.
        name: String,
        /// Whether several do.
        several: bool,
        /// The baits it may be.
        names: Vec<String>,
    },
    /// A cell that cannot be set up.
    #[error("at {at}: {reason}")]
    Prepared {
        /// Its values.
        at: String,
        /// Why.
        reason: PrepareError,
    },
    /// The models are incomplete.
    #[error(transparent)]
    Models(#[from] ModelsError),
}

impl SweepError {
    /// What to do instead.
    pub fn help(&self) -> String {
        match self {
            Self::Axes { .. } => "give --over once or twice, as in --over clarity=0.5m..6m:12".into(),
            Self::Twice { .. } => "give the second --over another name".into(),
            Self::TooManyCells { .. } => "give fewer steps after the last colon, as in :40 and :30".into(),
            Self::TooLarge { .. } => {
                "give fewer steps, fewer --worlds, or choose some baits with --baits".into()
            }
            Self::Impossible { .. } => "narrow the range, or set what it runs against with --set".into(),
            Self::BoxDiffers { .. } => {
                "choose baits that stay different with --set box.use=..., or vary another property".into()
            }
            Self::UnknownBait { names, .. } => format!("the baits are: {}", names.join("; ")),
            Self::Prepared { .. } => "narrow the range to what the tackle can do".into(),
            Self::Models(_) => "check the files given with --model".into(),
        }
    }
}
