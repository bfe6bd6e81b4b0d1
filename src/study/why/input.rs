//! One input of the study with its shares.

use crate::models::{Grade, Group, Models};
use crate::statistics::estimate::ReplicateMean;
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

impl Kind {
    /// Name for programs.
    pub fn name(&self, models: &Models) -> String {
        match self {
            Self::Parameter(d) => models.parameters.get(*d).map_or(String::new(), |p| p.name.clone()),
            Self::Readiness => "readiness".into(),
            Self::Group(group) => group.name().into(),
        }
    }

    /// What it is, in a few words.
    pub fn means(&self, models: &Models) -> String {
        match self {
            // A level's reference ("re 1 uPa") stands in the list of assumptions.
            Self::Parameter(d) => (models.parameters.get(*d))
                .map_or(String::new(), |p| p.means.split(", re ").next().unwrap_or_default().to_owned()),
            Self::Readiness => "how ready and attentive the fish are".into(),
            Self::Group(group) => group.in_words().into(),
        }
    }
}

/// One input.
#[derive(Debug, Clone, PartialEq)]
pub struct Input {
    /// What it is.
    pub kind: Kind,
    /// Name for programs.
    pub name: String,
    /// What it is, in a few words.
    pub means: String,
    /// How well a parameter is known.
    pub grade: Option<Grade>,
    /// The group that it is, or that it belongs to.
    pub group: Option<Group>,
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
    /// An input without shares.
    pub fn new(kind: Kind, members: usize, models: &Models) -> Self {
        let parameter = match kind {
            Kind::Parameter(d) => models.parameters.get(d),
            _ => None,
        };
        let none = ReplicateMean { mean: 0.0, se: 0.0, replicates: 0 };
        let nothing = Share { index: IndexEstimate { first: none, total: none }, stands_out: false };
        Self {
            name: kind.name(models),
            means: kind.means(models),
            grade: parameter.map(|p| p.grade),
            group: match kind {
                Kind::Group(group) => Some(group),
                _ => parameter.map(|p| p.group),
            },
            kind,
            members,
            odds: nothing,
            difference: None,
            worth: None,
        }
    }

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
