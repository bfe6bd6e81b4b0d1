//! A scenario with everything that needs no world draw: the sun, the running paths, the places in the catalogues.

use super::look::Outline;
use crate::bait::Refusal;
use crate::bait::body::{Body, BodyCoefficients, Sound};
use crate::bait::cast::Cast as Flight;
use crate::bait::line::Line;
use crate::bait::path::{Detail, Path, Retrieve};
use crate::models::{Assumed, Models, ModelsError};
use crate::scenario::phase::phase_bands;
use crate::scenario::{Bait, Cast, Clarity, Phase, Pressure, Rain, Scenario, Species};
use crate::water::clarity::Tint;
use crate::water::medium;
use crate::water::spectrum::{Recipe, RecipeError};
use crate::water::sun::{Place, Sun, SunError};
use std::sync::Arc;

/// Why a checked scenario cannot be set up.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum PrepareError {
    /// The sun cannot be placed.
    #[error(transparent)]
    Sun(#[from] SunError),
    /// A bait cannot run.
    #[error("{bait}: {reason}")]
    Path {
        /// Bait.
        bait: String,
        /// Why.
        reason: Refusal,
    },
    /// The tint's recipe is impossible.
    #[error("tint {tint}: {reason}")]
    Recipe {
        /// Tint.
        tint: String,
        /// Why.
        reason: RecipeError,
    },
    /// A name that the models do not hold.
    #[error("the models hold no {kind} named `{name}`")]
    Unknown {
        /// Finish, prey, line or tint.
        kind: &'static str,
        /// Name.
        name: String,
    },
    /// The models are incomplete.
    #[error(transparent)]
    Models(#[from] ModelsError),
}

/// A bait with its running path on this tackle.
#[derive(Debug, Clone, PartialEq)]
pub struct BaitInWater {
    /// Name.
    pub name: String,
    /// Sizes as the optics sees them.
    pub outline: Outline,
    /// Displaced volume, cubic metres.
    pub volume_m3: f64,
    /// Whether it rattles.
    pub rattles: bool,
    /// Finish, place in the models.
    pub finish: usize,
    /// Running path as computed, before the error of tuning.
    pub path: Path,
}

/// A scenario, set up.
#[derive(Debug, Clone, PartialEq)]
pub struct Prepared {
    /// Where the sun stands.
    pub sun: Sun,
    /// Cloud cover, 0..1.
    pub cloud: f64,
    /// Lit share of the moon, if it is up; else 0.
    pub moon: f64,
    /// Wind, m/s.
    pub wind_m_s: f64,
    /// Rain.
    pub rain: Rain,
    /// Wind that roughens the surface as the rain does, m/s.
    pub rain_as_wind_m_s: f64,
    /// Clarity as given.
    pub clarity: Clarity,
    /// ln of the Secchi depth in m at 1 NTU, and its slope by ln NTU, in water of this tint.
    pub turbidity_law: [f64; 2],
    /// Tint, place in the models.
    pub tint_index: usize,
    /// Tint, spectra worked out.
    pub tint: Tint,
    /// Water temperature, C.
    pub temperature_c: f64,
    /// Water depth, m.
    pub bottom_m: f64,
    /// 0 largemouth, 1 smallmouth.
    pub species: usize,
    /// Phase, place in [`crate::models::assumed::PHASES`].
    pub phase: usize,
    /// Pressure, place in [`crate::models::assumed::PRESSURES`].
    pub pressure: usize,
    /// Fish length, m.
    pub fish_length_m: f64,
    /// Fish depth, m.
    pub fish_depth_m: f64,
    /// Standard deviation of its depth, m.
    pub depth_spread_m: f64,
    /// Fish per hectare, if known.
    pub fish_per_ha: Option<f64>,
    /// Share of them within reach, if known.
    pub fish_reachable: Option<f64>,
    /// Prey, place in the models.
    pub forage: usize,
    /// Prey, sizes.
    pub prey: Outline,
    /// Time between two retrieves, s.
    pub between_casts_s: f64,
    /// Mean speed of the bait, pauses included, m/s.
    pub mean_speed_m_s: f64,
    /// Share of the time in which it moves.
    pub moving_share: f64,
    /// The box.
    pub baits: Arc<[BaitInWater]>,
}

/// Names of the phases by place in the tables of the models.
pub const PHASE_NAMES: [&str; 6] = ["winter", "pre-spawn", "spawn", "post-spawn", "summer", "fall"];

/// Phase by place in the tables of the models.
pub fn phase_index(phase: Phase) -> usize {
    match phase {
        Phase::Winter => 0,
        Phase::PreSpawn => 1,
        Phase::Spawn => 2,
        Phase::PostSpawn => 3,
        Phase::Summer => 4,
        Phase::Fall => 5,
    }
}

fn find<T>(
    all: &[T],
    kind: &'static str,
    name: &str,
    of: impl Fn(&T) -> &str,
) -> Result<usize, PrepareError> {
    all.iter()
        .position(|t| of(t) == name)
        .ok_or_else(|| PrepareError::Unknown { kind, name: name.to_owned() })
}

/// The body of a scenario's bait.
pub fn body_of(bait: &Bait) -> Body {
    Body {
        length_m: bait.length_m,
        height_m: bait.height_m,
        width_m: bait.width_m,
        mass_kg: bait.mass_kg,
        trebles: bait.trebles,
        lip_area_m2: bait.lip_area_m2,
        lip_incidence_deg: bait.lip_incidence_deg,
        buoyancy_n: bait.buoyancy_n,
    }
}

/// How the scenario's tackle pulls a bait through its water, from where the cast puts it.
///
/// # Errors
/// [`PrepareError::Path`] for a bait that cannot be cast.
pub fn retrieve_of(
    scenario: &Scenario,
    bait: &Bait,
    line: &Line,
    fixed: &Assumed,
) -> Result<Retrieve, PrepareError> {
    let t = scenario.water.temperature_c;
    let cast_m = match scenario.tackle.cast {
        Cast::LineOut(line_out_m) => line_out_m,
        Cast::Launch(speed_m_s) => {
            flight(bait, line, speed_m_s, fixed)
                .fly()
                .map_err(|reason| PrepareError::Path { bait: bait.name.clone(), reason })?
                .range_m
        }
    };
    Ok(Retrieve {
        cast_m,
        rod_tip_m: scenario.tackle.rod_tip_m,
        speed_m_s: scenario.tackle.speed_m_s,
        water_density_kg_m3: medium::density_kg_m3(t),
        viscosity_m2_s: medium::kinematic_viscosity_m2_s(t),
        friction: fixed.line_friction,
        drag_multiplier: fixed.line_drag_multiplier,
    })
}

/// The flight of a bait through still air: how the wind stands to the cast, the scenario does not say.
fn flight(bait: &Bait, line: &Line, speed_m_s: f64, fixed: &Assumed) -> Flight {
    Flight {
        mass_kg: bait.mass_kg,
        drag_area_m2: fixed.flight_drag * fixed.silhouette_share * bait.length_m * bait.height_m,
        speed_m_s,
        elevation_deg: fixed.cast_angle_deg,
        height_m: fixed.release_height_m,
        tail_wind_m_s: 0.0,
        air_density_kg_m3: fixed.air_density_kg_m3,
        line_kg_m: line.mass_kg_m(),
        friction_n: fixed.spool_friction_n,
    }
}

/// The scenario's line.
///
/// # Errors
/// [`PrepareError::Unknown`] for a material that the models do not hold.
pub fn line_of(scenario: &Scenario, models: &Models) -> Result<Line, PrepareError> {
    let i = find(&models.lines, "line", &scenario.tackle.line, |l| &l.name)?;
    Ok(Line { diameter_m: scenario.tackle.diameter_m, density_kg_m3: models.lines[i].density_kg_m3 })
}

/// Drag of body and hooks, from the models.
pub fn coefficients(fixed: &Assumed) -> BodyCoefficients {
    BodyCoefficients { body_drag: fixed.body_drag, treble_drag_area_m2: fixed.treble_drag_area_m2 }
}

/// The running path of a bait on this tackle: worked out, then scaled where the scenario says how deep it runs.
///
/// # Errors
/// [`PrepareError::Path`] for a bait that cannot run.
pub fn path_of(bait: &Bait, retrieve: &Retrieve, line: &Line, fixed: &Assumed) -> Result<Path, PrepareError> {
    let solve = || {
        let body = body_of(bait);
        body.check()?;
        let path = Path::solve(retrieve, &body.pull(&coefficients(fixed)), line, Detail::default())?;
        match bait.runs_m {
            Some(depth_m) => path.scaled_to(depth_m),
            None => Ok(path),
        }
    };
    solve().map_err(|reason| PrepareError::Path { bait: bait.name.clone(), reason })
}

impl Prepared {
    /// Sets a scenario up: places the sun, runs every bait, finds every name.
    ///
    /// # Errors
    /// [`PrepareError`]; a scenario checked against the same models meets none but a sun outside its years.
    pub fn new(scenario: &Scenario, models: &Models) -> Result<Self, PrepareError> {
        let fixed = Assumed::defaults(models)?;
        let tint_index = find(&models.tints, "tint", scenario.water.tint.label(), |t| &t.name)?;
        let forage = find(&models.forages, "forage", &scenario.forage.kind, |f| &f.name)?;
        let prey = &models.forages[forage];
        let length = scenario.forage.length_m;
        let line = line_of(scenario, models)?;
        let baits = scenario
            .baits
            .iter()
            .map(|bait| {
                let retrieve = retrieve_of(scenario, bait, &line, &fixed)?;
                offered(bait, &retrieve, &line, models, &fixed)
            })
            .collect::<Result<_, _>>()?;
        Ok(Self {
            sun: Place::new(scenario.place.latitude_deg, scenario.place.longitude_deg)?
                .sun(scenario.when.unix_s)?,
            cloud: scenario.sky.cloud,
            moon: scenario.sky.moon,
            wind_m_s: scenario.sky.wind_m_s,
            rain: scenario.sky.rain,
            rain_as_wind_m_s: fixed.rain_as_wind(scenario.sky.rain),
            clarity: scenario.water.clarity,
            turbidity_law: models.tints[tint_index].turbidity_law,
            tint_index,
            tint: prepare(models, tint_index, &fixed)?,
            temperature_c: scenario.water.temperature_c,
            bottom_m: scenario.water.bottom_m,
            species: usize::from(scenario.fish.species == Species::Smallmouth),
            phase: phase_index(
                scenario.phase(&phase_bands(models), &models.calendar).unwrap_or(Phase::Summer),
            ),
            pressure: match scenario.fish.pressure {
                Pressure::Unfished => 0,
                Pressure::Light => 1,
                Pressure::Moderate => 2,
                Pressure::Heavy => 3,
            },
            fish_length_m: scenario.fish.length_m,
            fish_depth_m: scenario.fish.depth_m,
            depth_spread_m: scenario.fish.depth_spread_m,
            fish_per_ha: scenario.fish.density_per_ha,
            fish_reachable: scenario.fish.reachable,
            forage,
            prey: outline(length, prey.height_share * length, prey.width_share * length, &fixed),
            between_casts_s: fixed.between_casts_s,
            mean_speed_m_s: scenario.tackle.speed_m_s * (1.0 - scenario.tackle.pause),
            moving_share: 1.0 - scenario.tackle.pause,
            baits,
        })
    }

    /// Deepest point that any bait of the box is computed to reach, m.
    pub fn deepest_path_m(&self) -> f64 {
        self.baits.iter().map(|b| b.path.max_depth_m()).fold(0.0, f64::max)
    }
}

impl Assumed {
    /// Wind that roughens the surface as much as the rain, m/s.
    fn rain_as_wind(&self, rain: Rain) -> f64 {
        match rain {
            Rain::None => 0.0,
            Rain::Drizzle => self.drizzle_as_wind_m_s,
            Rain::Rain => self.rain_as_wind_m_s,
        }
    }
}

fn outline(length_m: f64, height_m: f64, width_m: f64, fixed: &Assumed) -> Outline {
    let body = Body {
        length_m,
        height_m,
        width_m,
        mass_kg: 0.0,
        trebles: 0,
        lip_area_m2: 0.0,
        lip_incidence_deg: 0.0,
        buoyancy_n: 0.0,
    };
    Outline {
        length_m,
        height_m,
        width_m,
        curvature_m2: body.mean_curvature_product_m2(),
        silhouette_share: fixed.silhouette_share,
    }
}

fn offered(
    bait: &Bait,
    retrieve: &Retrieve,
    line: &Line,
    models: &Models,
    fixed: &Assumed,
) -> Result<BaitInWater, PrepareError> {
    let body = body_of(bait);
    Ok(BaitInWater {
        name: bait.name.clone(),
        outline: outline(bait.length_m, bait.height_m, bait.width_m, fixed),
        volume_m3: body.volume_m3(retrieve.water_density_kg_m3),
        rattles: bait.sound == Sound::Rattling,
        finish: find(&models.finishes, "finish", &bait.finish, |f| f)?,
        path: path_of(bait, retrieve, line, fixed)?,
    })
}

fn prepare(models: &Models, index: usize, fixed: &Assumed) -> Result<Tint, PrepareError> {
    let t = &models.tints[index];
    let recipe = Recipe {
        dissolved_440_per_m: t.dissolved_440,
        dissolved_slope_per_nm: t.slope_per_nm,
        chlorophyll_mg_m3: t.chlorophyll,
        particle_440_per_m: t.particles_440,
        particle_slope_per_nm: t.particles_slope_per_nm,
        scattering_550_per_m: t.scattering_550,
        scattering_exponent: t.scattering_power,
    };
    Tint::prepare(&recipe, [fixed.green_cone_nm, fixed.red_cone_nm])
        .map_err(|reason| PrepareError::Recipe { tint: t.name.clone(), reason })
}
