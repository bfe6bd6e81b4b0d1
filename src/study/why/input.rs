//! One input of the study with its shares.

use crate::models::Group;
use crate::statistics::information::ParameterInformation;
use crate::statistics::sensitivity::IndexEstimate;

/// What an input is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Kind {
    /// The members of the product of readiness, drawn against each other and so taken as one.
    Readiness,
    /// What is left of a group of assumptions.
    Group(Group),
    /// A parameter, by its place in the models.
    Parameter(usize),
}

/// A share of the spread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Share {
    /// First-order and total index with their errors.
    pub index: IndexEstimate,
    /// Whether the total index stands out of the floor.
    pub stands_out: bool,
}

/// One input.
#[derive(Debug, Clone, PartialEq)]
pub struct Input {
    /// What it is.
    pub kind: Kind,
    /// Parameters in it.
    pub members: usize,
    /// Its share of the spread of the leader's odds.
    pub odds: Share,
    /// Its share of the spread of the difference to the next bait.
    pub difference: Option<Share>,
    /// What knowing it would add, strikes per 100 passes; not worked out for groups.
    pub worth: Option<ParameterInformation>,
}

impl Input {
    /// Whether it drives the odds or the difference.
    pub fn drives(&self) -> bool {
        self.odds.stands_out || self.difference.is_some_and(|d| d.stands_out)
    }

    /// What knowing it would add with the noise taken off, strikes per 100 passes; 0 where it is not told from noise.
    pub fn gain(&self) -> f64 {
        self.worth.filter(ParameterInformation::stands_out).map_or(0.0, |w| w.corrected())
    }
}

/// Sorts by the total share of the leader's odds, the greatest first.
pub fn by_share(inputs: &mut [Input]) {
    inputs.sort_by(|a, b| b.odds.index.total.mean.total_cmp(&a.odds.index.total.mean));
}
