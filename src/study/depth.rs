//! How deep each bait runs on this tackle, and what tackle reaches a wanted depth.

use super::{Context, Study, Unanswered};
use crate::bait::line::Line;
use crate::bait::path::Path;
use crate::bait::reach::{Change, Reach, reach};
use crate::engine::Control;
use crate::models::{Assumed, Models};
use crate::scenario::{Bait, Scenario};
use crate::world::PrepareError;
use crate::world::prepared::{body_of, coefficients, line_of, path_of, retrieve_of};
use serde::{Serialize, Serializer};

/// How one bait runs.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BaitPath {
    /// Name.
    pub name: String,
    /// Greatest depth, bottom included, m.
    pub max_depth_m: f64,
    /// Range of the greatest depth by tuning and coefficients, 5-95 %, m.
    pub max_depth_range_m: (f64, f64),
    /// Line out when it lands, m.
    pub cast_m: f64,
    /// Line reeled in where it runs deepest, m.
    pub reeled_to_max_m: f64,
    /// Share of the retrieve within 0.3 m of the greatest depth.
    pub share_near_max: f64,
    /// Path as computed, down to the bottom: line reeled in and depth, m.
    pub path: Vec<[f64; 2]>,
}

/// How deep each bait runs, and where a depth is wanted what reaches it.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Depth {
    /// The depth wanted, m.
    pub wanted_m: Option<f64>,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Depths {
    /// One entry per bait, in the order of the box.
    pub baits: Vec<BaitPath>,
    /// Water depth, m.
    #[serde(skip)]
    pub bottom_m: f64,
    /// Mean depth of the fish, m.
    #[serde(skip)]
    pub fish_depth_m: f64,
    /// The depth wanted, m.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wanted_depth_m: Option<f64>,
    /// What reaches it, bait by bait.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub options: Option<Vec<Options>>,
}

impl Study for Depth {
    const NAME: &'static str = "depth";
    type Answer = Depths;

    fn steps(&self, _on: &Context) -> usize {
        0
    }

    fn run(&self, on: &Context, _control: &Control) -> Result<Depths, Unanswered> {
        let reaching = |depth_m| {
            (0..on.scenario.baits.len()).map(|bait| options(on.scenario, on.models, bait, depth_m)).collect()
        };
        let options = self.wanted_m.map(reaching).transpose()?;
        Ok(Depths { wanted_depth_m: self.wanted_m, options, ..depths(on.scenario, on.models)? })
    }
}

/// What reaches a wanted depth with one bait.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Options {
    /// Name of the bait.
    pub bait: String,
    /// Depth on the tackle as it is, m.
    pub now_m: f64,
    /// Line diameter alone.
    pub diameter: Reach,
    /// Cast alone.
    pub cast: Reach,
    /// Rod tip alone.
    pub rod_tip: Reach,
    /// The depth that each other line material reaches at the same diameter, m.
    #[serde(serialize_with = "as_map")]
    pub other_lines_m: Vec<(String, f64)>,
}

fn as_map<S: Serializer>(pairs: &[(String, f64)], to: S) -> Result<S::Ok, S::Error> {
    to.collect_map(pairs.iter().map(|(name, value)| (name, value)))
}

/// Ranges in which the inverse question looks: the tackle that people use.
pub mod sensible {
    /// Line diameter, m.
    pub const DIAMETER_M: (f64, f64) = (0.08e-3, 0.60e-3);
    /// Cast, m.
    pub const CAST_M: (f64, f64) = (8.0, 70.0);
    /// Rod tip above the water, m.
    pub const ROD_TIP_M: (f64, f64) = (0.0, 2.5);
}

/// Distance from the greatest depth that counts as near, m: one foot.
const NEAR_M: f64 = 0.3048;

fn fixed(models: &Models) -> Result<Assumed, PrepareError> {
    Ok(Assumed::defaults(models)?)
}

fn solve(scenario: &Scenario, a: &Assumed, bait: usize, line: &Line) -> Result<Path, PrepareError> {
    let bait = &scenario.baits[bait];
    path_of(bait, &retrieve_of(scenario, bait, line, a)?, line, a)
}

/// Runs every bait of the scenario.
///
/// # Errors
/// [`PrepareError`] for a bait that cannot run or a line that the models do not hold.
pub fn depths(scenario: &Scenario, models: &Models) -> Result<Depths, PrepareError> {
    let a = fixed(models)?;
    let line = line_of(scenario, models)?;
    let bottom_m = scenario.water.bottom_m;
    let error = models.index("bait.depth_error").map(|i| &models.parameters[i]);
    let baits = (0..scenario.baits.len())
        .map(|i| {
            let path = solve(scenario, &a, i, &line)?;
            let deepest = path.max_depth_m();
            let at = |u: f64| (deepest * error.map_or(1.0, |p| p.quantile(u))).min(bottom_m);
            Ok(BaitPath {
                name: scenario.baits[i].name.clone(),
                max_depth_m: deepest.min(bottom_m),
                max_depth_range_m: (at(0.05), at(0.95)),
                cast_m: path.cast_m(),
                reeled_to_max_m: path.reeled_to_max_m(),
                share_near_max: path.share_within_of_max(NEAR_M),
                path: path.points().map(|(x, z)| [x, z.min(bottom_m)]).collect(),
            })
        })
        .collect::<Result<_, PrepareError>>()?;
    let fish_depth_m = scenario.fish.depth_m;
    Ok(Depths { baits, bottom_m, fish_depth_m, wanted_depth_m: None, options: None })
}

/// What line, cast or rod tip takes bait number `bait` to `depth_m`, one change at a time.
///
/// # Errors
/// [`PrepareError`] as in [`depths`], or for a depth that is no depth.
pub fn options(
    scenario: &Scenario,
    models: &Models,
    bait: usize,
    depth_m: f64,
) -> Result<Options, PrepareError> {
    let a = fixed(models)?;
    let line = line_of(scenario, models)?;
    let retrieve = retrieve_of(scenario, &scenario.baits[bait], &line, &a)?;
    let name = scenario.baits[bait].name.clone();
    let refuse = |reason| PrepareError::Path { bait: name.clone(), reason };
    let now_m = solve(scenario, &a, bait, &line)?.max_depth_m();
    // A depth that the user gave says how far the computed ones are off; other tackle is corrected likewise.
    let computed = Bait { runs_m: None, ..scenario.baits[bait].clone() };
    let off = match now_m / path_of(&computed, &retrieve, &line, &a)?.max_depth_m() {
        ratio if ratio.is_finite() && ratio > 0.0 => ratio,
        _ => 1.0,
    };
    let pull = body_of(&scenario.baits[bait]).pull(&coefficients(&a));
    let look = |change: Change, range: (f64, f64)| {
        let found = reach(depth_m / off, change, range, &retrieve, &pull, &line).map_err(refuse)?;
        Ok::<_, PrepareError>(match found {
            Reach::At(value) => Reach::At(value),
            Reach::TooDeepForIt { deepest_m } => Reach::TooDeepForIt { deepest_m: deepest_m * off },
            Reach::TooShallowForIt { shallowest_m } => {
                Reach::TooShallowForIt { shallowest_m: shallowest_m * off }
            }
        })
    };
    // A rod tip cannot be higher than the cast is long.
    let tip = (sensible::ROD_TIP_M.0, sensible::ROD_TIP_M.1.min(0.5 * retrieve.cast_m));
    let other_lines_m = models
        .lines
        .iter()
        .filter(|l| l.name != scenario.tackle.line)
        .map(|l| {
            let other = Line { density_kg_m3: l.density_kg_m3, ..line };
            let path = path_of(&computed, &retrieve, &other, &a)?;
            Ok((l.name.clone(), path.max_depth_m() * off))
        })
        .collect::<Result<_, PrepareError>>()?;
    Ok(Options {
        now_m,
        diameter: look(Change::Diameter, sensible::DIAMETER_M)?,
        cast: look(Change::Cast, sensible::CAST_M)?,
        rod_tip: look(Change::RodTip, tip)?,
        other_lines_m,
        bait: name,
    })
}
