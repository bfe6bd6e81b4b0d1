//! The conditions a box is packed for: several scenarios, a spread of values, or both.

use super::{MOST_CONDITIONS, PackError};
use crate::engine::each;
use crate::models::Models;
use crate::random::{Purpose, ScrambledSobol, key};
use crate::scenario::schema::limits;
use crate::scenario::{self, Bait, Catalogue, Clarity, Diagnostic, Scenario};
use crate::study::axis::{Axis, Values};

/// One scenario's text and what it counts.
#[derive(Debug, Clone, Copy)]
pub struct Source<'a> {
    /// Text of the file.
    pub text: &'a str,
    /// Its name.
    pub file: &'a str,
    /// Weight, above 0; only ratios count.
    pub weight: f64,
}

/// One condition.
#[derive(Debug, Clone, PartialEq)]
pub struct Condition {
    /// Which scenario it comes from.
    pub source: usize,
    /// Which independent sample of the spread it belongs to.
    pub scramble: usize,
    /// Values of the spread, in the unit kept; places of words.
    pub values: Vec<f64>,
    /// Share of all conditions, adding to 1.
    pub weight: f64,
}

/// Conditions, ready to be worked out.
#[derive(Debug, Clone)]
pub struct Conditions {
    /// What they are.
    pub list: Vec<Condition>,
    /// The scenario of each, all with one box.
    pub scenarios: Vec<Scenario>,
    /// Titles of the sources.
    pub titles: Vec<String>,
    /// How many conditions are doubtful, and the first doubt.
    pub doubts: Option<(usize, Diagnostic)>,
}

/// Independent samples of the spread; their disagreement is the error of sampling.
pub const SCRAMBLES: usize = 4;
/// Fewest conditions of one scenario with a spread.
const FEWEST: usize = 16;

/// Draws and checks the conditions.
///
/// # Errors
/// [`PackError`]: a faulty scenario, a value that makes one impossible, two baits of one name.
pub fn conditions(
    sources: &[Source<'_>],
    overrides: &[(String, String)],
    models: &Models,
    axes: &[Axis],
    wanted: usize,
    seed: u64,
) -> Result<Conditions, PackError> {
    for (k, axis) in axes.iter().enumerate() {
        if axis.path.starts_with("bait.") || axis.path.starts_with("box.") {
            return Err(PackError::BaitAxis { path: axis.path });
        }
        if axes[..k].iter().any(|other| other.path == axis.path) {
            return Err(PackError::Twice { path: axis.path });
        }
    }
    let catalogue = Catalogue::of(models);
    let mut bases = Vec::new();
    for source in sources {
        let loaded = scenario::load(source.text, source.file, overrides, &catalogue);
        let checked = loaded.map_err(|faults| PackError::Faults {
            text: source.text.to_owned(),
            at: source.file.to_owned(),
            faults,
        })?;
        bases.push(checked.scenario);
    }
    let baits = all_baits(sources, &bases)?;
    let per = match (axes.is_empty(), wanted / sources.len().max(1)) {
        (true, _) => 1,
        (false, share) => share.max(FEWEST).next_power_of_two(),
    };
    if per * sources.len() > MOST_CONDITIONS {
        return Err(PackError::TooMany { conditions: per * sources.len() });
    }
    let total: f64 = sources.iter().map(|s| s.weight).sum();
    let list: Vec<Condition> = (0..sources.len() * per)
        .map(|i| {
            let (source, point) = (i / per, i % per);
            // Every scenario sees the same spread.
            let scramble = point * SCRAMBLES / per;
            Condition {
                source,
                scramble,
                values: drawn_values(axes, point % per.div_ceil(SCRAMBLES), scramble, seed),
                weight: sources[source].weight / total / per as f64,
            }
        })
        .collect();
    let loaded = each(list.len(), |i| {
        let (condition, mut set) = (&list[i], overrides.to_vec());
        set.extend(axes.iter().zip(&condition.values).map(|(axis, v)| written(axis, *v)));
        let source = &sources[condition.source];
        scenario::load(source.text, source.file, &set, &catalogue)
    });
    let mut scenarios = Vec::with_capacity(list.len());
    let mut doubts: Option<(usize, Diagnostic)> = None;
    for (condition, one) in list.iter().zip(loaded) {
        let source = &sources[condition.source];
        let checked = one.map_err(|faults| PackError::Faults {
            text: source.text.to_owned(),
            at: format!("{} at {}", source.file, said(axes, &condition.values)),
            faults,
        })?;
        if let Some(first) = checked.warnings.into_iter().next() {
            doubts.get_or_insert((0, first)).0 += 1;
        }
        scenarios.push(Scenario { baits: baits.clone(), ..checked.scenario });
    }
    Ok(Conditions { list, scenarios, titles: bases.into_iter().map(|b| b.title).collect(), doubts })
}

/// Every bait of every box, each once: what is carried is carried everywhere.
fn all_baits(sources: &[Source<'_>], bases: &[Scenario]) -> Result<Vec<Bait>, PackError> {
    let mut all: Vec<(usize, &Bait)> = Vec::new();
    for (s, base) in bases.iter().enumerate() {
        for bait in &base.baits {
            let same = |name: &str| name.to_lowercase() == bait.name.to_lowercase();
            match all.iter().find(|(_, other)| same(&other.name)) {
                Some((_, other)) if Bait { name: other.name.clone(), ..bait.clone() } == **other => {}
                Some((first, _)) => {
                    return Err(PackError::TwoBaits {
                        name: bait.name.clone(),
                        first: sources[*first].file.to_owned(),
                        second: sources[s].file.to_owned(),
                    });
                }
                None => all.push((s, bait)),
            }
        }
    }
    Ok(all.into_iter().map(|(_, bait)| bait.clone()).collect())
}

/// One value of every axis: even over the steps of the axis, so even in ratios where the axis is.
fn drawn_values(axes: &[Axis], point: usize, scramble: usize, seed: u64) -> Vec<f64> {
    let sobol = ScrambledSobol::new(seed, Purpose::Design, key("conditions to pack for") ^ scramble as u64);
    axes.iter()
        .enumerate()
        .map(|(k, axis)| {
            let u = sobol.at(point as u32, k);
            match &axis.values {
                Values::Words(words) => (u * words.len() as f64).floor(),
                Values::Numbers { .. } | Values::Hours(_) => {
                    let place = u * (axis.len().saturating_sub(1)) as f64;
                    axis.between(place as usize, place - place.floor())
                }
            }
        })
        .collect()
}

/// A value of an axis as an override.
fn written(axis: &Axis, value: f64) -> (String, String) {
    let values = match &axis.values {
        Values::Numbers { dimension, logarithmic, .. } => {
            Values::Numbers { values: vec![value], dimension: *dimension, logarithmic: *logarithmic }
        }
        Values::Hours(_) => Values::Hours(vec![value]),
        Values::Words(words) => Values::Words(words.get(value as usize).cloned().into_iter().collect()),
    };
    Axis { values, ..axis.clone() }.override_at(0)
}

/// "fish.depth = 4 m, sky.cloud = 0.3".
fn said(axes: &[Axis], values: &[f64]) -> String {
    let one = |(axis, v): (&Axis, &f64)| {
        let (path, text) = written(axis, *v);
        format!("{path} = {text}")
    };
    axes.iter().zip(values).map(one).collect::<Vec<_>>().join(", ")
}

/// The spread of a single scenario for which none is given: clarity from half to twice, the depth of the fish from
/// half to one and a half times (within the water), any cloud. A convention of this project, as axes are written.
pub fn usual_spread(scenario: &Scenario) -> Vec<String> {
    // Half and twice may not leave what a scenario may say.
    let held = |path: &str, value: f64| limits(path).map_or(value, |(low, high)| value.clamp(low, high));
    let spread = |path: &str, value: f64, unit: &str| {
        format!("{path}={} {unit}..{} {unit}", held(path, 0.5 * value), held(path, 2.0 * value))
    };
    let clarity = match scenario.water.clarity {
        Clarity::Secchi(depth_m) => spread("water.secchi", depth_m, "m"),
        Clarity::Turbidity(ntu) => spread("water.turbidity", ntu, "NTU"),
    };
    let depth = scenario.fish.depth_m;
    let deep = (1.5 * depth).min(scenario.water.bottom_m).max(depth);
    let shallow = held("fish.depth", 0.5 * depth);
    vec![clarity, format!("fish.depth={shallow} m..{deep} m"), "sky.cloud=0..1".into()]
}
