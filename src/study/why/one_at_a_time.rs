//! What the asker gave and may have got wrong: the odds where a reading is off by as much as it easily is.
//!
//! The design varies what nobody knows and takes the scenario as true. Here the scenario is varied, one value at a
//! time, in worlds and passes that are the same for all.

use super::WhyError;
use crate::engine::Control;
use crate::engine::{Budget, Strikes};
use crate::models::{Assumed, Models};
use crate::scenario::{Clarity, Scenario};
use crate::study::over_worlds;
use crate::world::{PrepareError, Prepared};
use ndarray::Axis;

/// Worlds and passes: enough for the middle of the odds to a few tenths.
const BUDGET: (usize, usize) = (256, 128);
/// A fish hangs no nearer than this to surface and bottom, m.
const EDGE_M: f64 = 0.1;

/// A value of the scenario.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum What {
    /// Depth of the fish, m.
    Depth,
    /// Secchi depth, m.
    Secchi,
    /// Turbidity, NTU.
    Turbidity,
    /// Speed of the line, m/s.
    Speed,
    /// Temperature, C.
    Temperature,
}

/// One value as given or off by a little, and what becomes of the odds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Off {
    /// The value, SI.
    pub value: f64,
    /// Strikes of the leader per 100 passes, the middle world.
    pub strikes: f64,
    /// How many more than the next, the middle world; none for a box of one.
    pub difference: Option<f64>,
}

/// What becomes of the odds where a value is off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Given {
    /// Which.
    pub what: What,
    /// As given.
    pub here: Off,
    /// Lower; none where that cannot be.
    pub lower: Option<Off>,
    /// Higher; none where that cannot be.
    pub higher: Option<Off>,
}

/// The scenario with one value in place of its own; none where the two cannot go together.
fn with(scenario: &Scenario, what: What, value: f64) -> Option<Scenario> {
    let mut other = scenario.clone();
    let possible = match what {
        What::Depth => {
            other.fish.depth_m = value;
            value > EDGE_M && value < scenario.water.bottom_m - EDGE_M
        }
        What::Secchi => {
            other.water.clarity = Clarity::Secchi(value);
            value > 0.0
        }
        What::Turbidity => {
            other.water.clarity = Clarity::Turbidity(value);
            value > 0.0
        }
        What::Speed => {
            other.tackle.speed_m_s = value;
            value > 0.0
        }
        What::Temperature => {
            other.water.temperature_c = value;
            value > 0.0
        }
    };
    possible.then_some(other)
}

/// Every value with how far off it may be: as given, lower, higher.
fn values(scenario: &Scenario, practice: &Assumed) -> Vec<(What, [f64; 3])> {
    let step = |v: f64, d: f64| [v, v - d, v + d];
    let ratio = |v: f64| [v, v / practice.ratio_off, v * practice.ratio_off];
    let clarity = match scenario.water.clarity {
        Clarity::Secchi(depth_m) => (What::Secchi, ratio(depth_m)),
        Clarity::Turbidity(ntu) => (What::Turbidity, ratio(ntu)),
    };
    vec![
        (What::Depth, step(scenario.fish.depth_m, practice.depth_off_m)),
        clarity,
        (What::Speed, ratio(scenario.tackle.speed_m_s)),
        (What::Temperature, step(scenario.water.temperature_c, practice.temperature_off_c)),
    ]
}

/// Works out what becomes of the odds of the leader and of the choice; nothing where it is stopped.
///
/// # Errors
/// Faults of the models; a scenario that cannot be set up is left out.
pub fn given(
    models: &Models,
    scenario: &Scenario,
    (leader, next): (usize, Option<usize>),
    seed: u64,
    control: &Control,
) -> Result<Vec<Given>, WhyError> {
    let baits: Vec<usize> = std::iter::once(leader).chain(next).collect();
    let only = Scenario {
        baits: baits.iter().filter_map(|&b| scenario.baits.get(b).cloned()).collect(),
        ..scenario.clone()
    };
    let wanted = values(&only, &Assumed::defaults(models)?);
    let mut settings = Vec::new();
    // The place of each value's table, where it can be.
    let mut places = Vec::new();
    for (what, three) in &wanted {
        for &value in three {
            let prepared = with(&only, *what, value).map(|other| Prepared::new(&other, models));
            places.push(match prepared {
                Some(Ok(prepared)) => {
                    settings.push(prepared);
                    Some(settings.len() - 1)
                }
                Some(Err(PrepareError::Models(e))) => return Err(e.into()),
                _ => None,
            });
        }
    }
    let (draws, points) = BUDGET;
    let table = Strikes::of(
        models,
        &settings,
        Budget { seed, worlds: draws, passes: points, fixed: false },
        control,
    )?;
    if table.draws() < draws {
        return Ok(Vec::new());
    }
    let struck = table.struck();
    let middle = |condition: usize, f: &dyn Fn(&[f64]) -> f64| {
        let of = struck.index_axis(Axis(0), condition);
        let values: Vec<f64> = of.axis_iter(Axis(1)).map(|w| 100.0 * f(&w.to_vec())).collect();
        over_worlds(&values, table.per_scramble).point
    };
    let off = |place: Option<usize>, value: f64| {
        place.map(|c| Off {
            value,
            strikes: middle(c, &|w| w[0]),
            difference: next.map(|_| middle(c, &|w| w[0] - w[1])),
        })
    };
    Ok(wanted
        .iter()
        .zip(places.chunks(3))
        .filter_map(|((what, v), p)| {
            let here = off(p[0], v[0])?;
            Some(Given { what: *what, here, lower: off(p[1], v[1]), higher: off(p[2], v[2]) })
        })
        .collect())
}
