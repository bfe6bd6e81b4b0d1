//! The values of one world draw under their names.

use super::draw::Draw;
use super::files::{Models, ModelsError};
use std::cell::Cell;

/// A struct of numbers from a table, `field: "name of the parameter"`; after `..` stands what is put together from
/// several, or is no number.
macro_rules! named {
    ($(#[$about:meta])* $kind:ident($get:ident $(, $given:ident: $of:ty)*) {
        $($field:ident: $name:literal,)*
        .. $($(#[$meant:meta])* $more:ident: $type:ty = $value:expr,)*
    }) => {
        $(#[$about])*
        #[derive(Debug, Clone, PartialEq)]
        pub struct $kind {
            $(#[doc = concat!("`", $name, "`.")] pub $field: f64,)*
            $($(#[$meant])* pub $more: $type,)*
        }

        impl $kind {
            /// Takes the values from `$get`, which gives one by its name.
            pub(super) fn named(
                $get: &dyn Fn(&str) -> Result<f64, ModelsError>
                $(, $given: $of)*
            ) -> Result<Self, ModelsError> {
                Ok(Self { $($field: $get($name)?,)* $($more: $value,)* })
            }
        }
    };
}
pub(super) use named;

/// Species in the order of the tables below, as parameter names spell them.
pub const SPECIES: [&str; 2] = ["largemouth", "smallmouth"];
/// Phases in the order of the tables below, as parameter names spell them.
pub const PHASES: [&str; 6] = ["winter", "prespawn", "spawn", "postspawn", "summer", "fall"];
/// Fishing pressures in the order of the tables below; unfished water is the reference.
pub const PRESSURES: [&str; 4] = ["unfished", "light", "moderate", "heavy"];
/// The shares of light that make a look.
const SHARES: [&str; 4] = ["diffuse_green", "diffuse_red", "specular", "transmittance"];

impl Assumed {
    /// Every value at its default.
    ///
    /// # Errors
    /// As [`Assumed::of`].
    pub fn defaults(models: &Models) -> Result<Self, ModelsError> {
        Self::of(models, &Draw::defaults(models))
    }

    /// Reads the values of a draw.
    ///
    /// # Errors
    /// [`ModelsError::Missing`] where the models lack a parameter that the simulator needs.
    pub fn of(models: &Models, draw: &Draw) -> Result<Self, ModelsError> {
        // Names are asked for almost in the order of the list: each is looked for from the last one on.
        let last = Cell::new(0);
        let get = |name: &str| {
            let found = models.index_from(last.get(), name);
            last.set(found.unwrap_or_default());
            let value = found.and_then(|i| draw.values.get(i).copied());
            value.ok_or_else(|| ModelsError::Missing(name.to_owned()))
        };
        Self::named(&get, models)
    }
}

type Get<'a> = &'a dyn Fn(&str) -> Result<f64, ModelsError>;

/// One value for each of `names`, under the parameter name that `path` makes of it.
pub(super) fn each<const N: usize, T: Default + Copy>(
    names: [&str; N],
    path: impl Fn(&str) -> Result<T, ModelsError>,
) -> Result<[T; N], ModelsError> {
    let mut all = [T::default(); N];
    for (value, name) in all.iter_mut().zip(names) {
        *value = path(name)?;
    }
    Ok(all)
}

fn look(get: Get, kind: &str, name: &str) -> Result<[f64; 4], ModelsError> {
    each(SHARES, |share| get(&format!("{kind}.{name}.{share}")))
}

fn pressure(get: Get, what: &str) -> Result<[f64; 4], ModelsError> {
    each(PRESSURES, |name| match name {
        "unfished" => Ok(1.0),
        _ => get(&format!("pressure.{name}.{what}")),
    })
}

named! {
    /// One value for everything the model assumes: a world draw, or the defaults.
    ///
    /// Field names follow the parameter names of `models/`, where meaning, unit, range and source stand.
    Assumed(get, models: &Models) {
        contrast_threshold: "sight.contrast_threshold",
        half_light_lux: "sight.half_light",
        dark_light_lux: "sight.dark_light",
        sensitivity: "sight.sensitivity",
        sight_fish_to_fish: "sight.fish_to_fish",
        sight_notice_rate: "sight.notice_rate",
        detail_arcmin: "sight.detail_angle",
        range_over_width: "sight.range_over_width",
        detail_share: "sight.detail_share",
        detail_light: "sight.detail_light",
        near_point_m: "sight.near_point",
        green_cone_nm: "sight.green_cone",
        red_cone_nm: "sight.red_cone",
        near_threshold: "near.threshold",
        twitch_acceleration: "near.twitch_acceleration",
        near_notice_rate: "near.notice_rate",
        rattle_level_db: "hearing.rattle_level",
        hearing_threshold_db: "hearing.threshold",
        critical_ratio_db: "hearing.critical_ratio",
        lake_noise_offset_db: "hearing.lake_noise_offset",
        drizzle_noise_db: "hearing.drizzle_noise",
        rain_noise_db: "hearing.rain_noise",
        hearing_frequency_hz: "hearing.frequency",
        hearing_notice_rate: "hearing.notice_rate",
        half_loud_m: "hearing.half_loud",
        attention: "appetite.attention",
        blind_attention: "appetite.blind_attention",
        attention_alike: "appetite.attention_alike",
        ready_alike: "appetite.ready_alike",
        ready: "appetite.ready",
        temperature_power: "appetite.temperature_power",
        cold_floor: "appetite.cold_floor",
        commit: "appetite.commit",
        hooked: "appetite.hooked",
        approach: "swim.approach",
        burst: "swim.burst",
        cold_slope: "swim.cold_slope",
        critical_25: "swim.critical_25",
        lead: "swim.lead",
        pace_fish_to_fish: "swim.fish_to_fish",
        heat_from_c: "swim.heat_from",
        heat_loss_per_c: "swim.heat_loss",
        by_bladder: "rise.by_bladder",
        bladder_half: "rise.bladder_half",
        bladder_scale: "rise.bladder_scale",
        willing_distance_m: "rise.willing_distance",
        bigger_meal_power: "rise.bigger_meal_power",
        willing_fish_to_fish: "rise.fish_to_fish",
        refuse_hazard: "refuse.hazard",
        wariness_fish_to_fish: "refuse.fish_to_fish",
        refuse_look: "refuse.look",
        look_veil: "refuse.look_veil",
        largest_meal: "size.largest_meal",
        largest_meal_spread: "size.fish_to_fish",
        refuse_size: "refuse.size",
        size_width: "refuse.size_width",
        refuse_sound: "refuse.sound",
        half_width_m: "pass.half_width",
        reachable: "fish.reachable",
        largemouth_slope: "largemouth.feeding.slope",
        largemouth_best_c: "largemouth.feeding.best",
        largemouth_end_c: "largemouth.feeding.end",
        smallmouth_by_warm_curve: "smallmouth.feeding.by_warm_curve",
        smallmouth_warm_slope: "smallmouth.feeding.warm_slope",
        smallmouth_warm_best_c: "smallmouth.feeding.warm_best",
        smallmouth_warm_end_c: "smallmouth.feeding.warm_end",
        smallmouth_cool_slope_below: "smallmouth.feeding.cool_slope_below",
        smallmouth_cool_slope_above: "smallmouth.feeding.cool_slope_above",
        smallmouth_cool_best_c: "smallmouth.feeding.cool_best",
        smallmouth_cool_end_c: "smallmouth.feeding.cool_end",
        night_floor_lux: "sky.night_floor",
        cloud_error: "sky.cloud_error",
        air_extinction: "sky.air_extinction",
        most_reflected: "surface.most_reflected",
        rough_from_m_s: "surface.rough_from",
        drizzle_as_wind_m_s: "surface.drizzle_as_wind",
        rain_as_wind_m_s: "surface.rain_as_wind",
        secchi_cosine: "water.secchi_cosine",
        secchi_error: "water.secchi_error",
        secchi_total: "water.secchi_total",
        turbidity_residual: "water.turbidity_residual",
        moon_height_deg: "sky.moon_height",
        zenith_clear: "field.zenith_clear",
        zenith_diffuse: "field.zenith_diffuse",
        zenith_muddy: "field.zenith_muddy",
        nadir_clear: "field.nadir_clear",
        nadir_muddy: "field.nadir_muddy",
        clear_secchi_m: "field.clear_secchi",
        stained_secchi_m: "field.stained_secchi",
        muddy_secchi_m: "field.muddy_secchi",
        beam_extra: "beam.extra",
        glint_share: "glint.share",
        glint_facet_rad: "glint.facet_angle",
        roll_bait_deg: "roll.bait",
        roll_forage_deg: "roll.forage",
        depth_error: "bait.depth_error",
        silhouette_share: "bait.silhouette_share",
        body_drag: "bait.body_drag",
        treble_drag_area_m2: "bait.treble_drag_area",
        flight_drag: "cast.flight_drag",
        cast_angle_deg: "cast.angle",
        release_height_m: "cast.release_height",
        air_density_kg_m3: "cast.air_density",
        spool_friction_n: "cast.spool_friction",
        line_friction: "line.friction",
        line_drag_multiplier: "line.drag_multiplier",
        between_casts_s: "practice.between_casts",
        casts_per_hour: "practice.casts_per_hour",
        casts_at_one_fish: "practice.casts_at_one_fish",
        season_hours: "practice.season_hours",
        lifetime_seasons: "practice.lifetime_seasons",
        depth_off_m: "practice.depth_off",
        temperature_off_c: "practice.temperature_off",
        ratio_off: "practice.ratio_off",
        ..
        /// `fish.pressure`: what is left of readiness, by [`PRESSURES`].
        pressure_appetite: [f64; 4] = pressure(get, "appetite")?,
        /// How many times warier fish are, by [`PRESSURES`].
        pressure_wariness: [f64; 4] = pressure(get, "wariness")?,
        /// Readiness by phase, for largemouth and smallmouth, by [`PHASES`].
        phase: [[f64; 6]; 2] =
            each(SPECIES, |species| each(PHASES, |phase| get(&format!("{species}.phase.{phase}"))))?,
        /// K times Secchi depth by tint, in the order of the models.
        gamma_k: Vec<f64> =
            models.tints.iter().map(|t| get(&format!("tint.{}.gamma_k", t.name))).collect::<Result<_, _>>()?,
        /// Scattered green, scattered red, mirrored, let through: by finish.
        finishes: Vec<[f64; 4]> =
            models.finishes.iter().map(|f| look(get, "finish", f)).collect::<Result<_, _>>()?,
        /// The same by prey.
        forages: Vec<[f64; 4]> =
            models.forages.iter().map(|f| look(get, "forage", &f.name)).collect::<Result<_, _>>()?,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_named_value_is_in_the_files() {
        let models = Models::embedded().expect("embedded");
        let fixed = Assumed::defaults(&models).expect("complete");
        assert_eq!(fixed.half_light_lux, 1.0);
        assert_eq!(fixed.pressure_appetite[0], 1.0);
        assert_eq!(fixed.finishes.len(), models.finishes.len());
    }

    #[test]
    fn a_missing_parameter_is_named() {
        let mut models = Models::embedded().expect("embedded");
        models.parameters.retain(|p| p.name != "swim.lead");
        let error = Assumed::defaults(&models);
        assert_eq!(error, Err(ModelsError::Missing("swim.lead".into())));
    }
}
