//! Light in the water, contrast and the water itself against numbers from outside the project.

use crate::reference::{number, table};
use callup::water::clarity::{SecchiSplit, Tint, kirk_k_per_m, secchi_m_from_turbidity};
use callup::water::contrast::{beam_lux_at, effective_attenuation, illuminance_at, transmittance};
use callup::water::medium::{carlson_index, density_kg_m3, kinematic_viscosity_m2_s, viscosity_pa_s};
use callup::water::radiance::{Corners, Field, Ratios};
use callup::water::sky::{Above, Sky};
use callup::water::spectrum::{PHOTOPIC, PURE_WATER_PER_M, Recipe, cone_sensitivity, wavelength_nm, weights};
use callup::water::surface::{
    BelowSurface, REFRACTIVE_INDEX, RoughSurface, critical_angle_rad, ripple_blur_rad,
};
use proptest::prelude::*;
use std::f64::consts::FRAC_PI_2;

/// Two formulas fitted to different measurements of water.
const DENSITY_FORMULAS_AGREE_KG_M3: f64 = 0.004;

fn near(got: f64, wanted: f64, tolerance: f64) {
    assert!((got - wanted).abs() <= tolerance, "{got} is not {wanted} within {tolerance}");
}

/// A test lake's matter: nearly clear water with a little of everything.
fn clear_recipe() -> Recipe {
    Recipe {
        dissolved_440_per_m: 0.15,
        dissolved_slope_per_nm: 0.0165,
        chlorophyll_mg_m3: 1.0,
        particle_440_per_m: 0.025,
        particle_slope_per_nm: 0.011,
        scattering_550_per_m: 0.6,
        scattering_exponent: 1.0,
    }
}

fn stained_recipe() -> Recipe {
    Recipe {
        dissolved_440_per_m: 5.0,
        chlorophyll_mg_m3: 3.0,
        particle_440_per_m: 0.12,
        scattering_550_per_m: 1.5,
        ..clear_recipe()
    }
}

fn clay_recipe() -> Recipe {
    Recipe {
        dissolved_440_per_m: 1.5,
        chlorophyll_mg_m3: 5.0,
        particle_440_per_m: 2.0,
        scattering_550_per_m: 25.0,
        ..clear_recipe()
    }
}

const CONES_NM: [f64; 2] = [535.0, 614.0];
const CLEAR: SecchiSplit = SecchiSplit { gamma: 8.69, gamma_k: 1.7, mu0: 0.86 };
const ROUGH: RoughSurface = RoughSurface { most_reflected: 0.30, full_from_m_s: 3.0 };

fn sky(cloud: f64) -> Sky {
    Sky { cloud, cloud_spread: 1.0, floor_lux: 0.002, air_extinction: 0.3 }
}

#[test]
fn pure_water_cones_and_the_daylight_eye() {
    let at = |nm: f64| PURE_WATER_PER_M[((nm - 400.0) / 10.0) as usize];
    assert_eq!((at(440.0), at(550.0), at(650.0)), (0.00635, 0.0565, 0.340));
    near(1.0 / at(650.0), 2.94, 0.005);
    // Pope & Fry give the minimum as 0.0044 +- 0.0006 1/m at 418 nm.
    let lowest = (0..31).min_by(|&a, &b| PURE_WATER_PER_M[a].total_cmp(&PURE_WATER_PER_M[b])).unwrap();
    assert_eq!(wavelength_nm(lowest), 420.0);
    near(PURE_WATER_PER_M[lowest], 0.0044, 0.0006);
    // The candela's V(lambda) integrates to 106.86 nm over 360-830 nm, of which 0.05 lie outside.
    near(10.0 * PHOTOPIC.iter().sum::<f64>(), 106.86, 0.1);
    // The template with scipy 1.17.1.
    for (peak, nm, s) in [
        (535.0, 450.0, 0.2371),
        (535.0, 535.0, 1.0008),
        (535.0, 600.0, 0.2860),
        (614.0, 535.0, 0.3857),
        (614.0, 650.0, 0.7642),
    ] {
        near(cone_sensitivity(peak, nm), s, 1e-4);
    }
}

#[test]
fn kirk_and_secchi_numbers() {
    near(kirk_k_per_m(0.2, 1.0, 0.86), 0.3187, 1e-4);
    let (k, c) = CLEAR.attenuation_per_m(2.0);
    near(k, 0.85, 1e-12);
    near(c, 3.495, 1e-12);
    // Poole & Atkins: 18 % of the light is left at the Secchi depth.
    near(illuminance_at(1.0, k, 2.0), 0.18, 0.005);
    // Carlson's scale.
    for (z, index) in
        [(16.0, 20.05), (8.0, 30.04), (4.0, 40.02), (2.0, 50.01), (1.0, 60.0), (0.5, 69.99), (0.25, 79.98)]
    {
        near(carlson_index(z), index, 0.01);
    }
}

#[test]
fn the_green_band_of_clear_water_follows_shannon() {
    // Shannon (1975), Proc. SPIE 64: K = 0.2 c + 0.04 at 535 nm, 0.11 < c < 1.6 1/m, ocean and coastal water.
    // A lake's Secchi closure is another road to the same two numbers. Poole & Atkins' 1.7, on which it rests, is
    // itself reported anywhere from 1.2 to 3; the two come out from 13 % above (5 m) to 23 % below (12 m).
    const TWO_ROADS: f64 = 0.25;
    let tint = Tint::prepare(&clear_recipe(), CONES_NM).unwrap();
    for z in [5.0, 6.0, 8.0, 10.0, 12.0] {
        let water = tint.at_secchi(z, CLEAR);
        assert!(!water.limits.any());
        let (k, c) = (water.bands.k_per_m[0], water.bands.c_per_m[0]);
        near(k / (0.2 * c + 0.04), 1.0, TWO_ROADS);
    }
}

#[test]
fn the_colour_that_goes_deepest_depends_on_the_tint() {
    let best_nm = |recipe: &Recipe, z: f64, gamma_k: f64| {
        let split = SecchiSplit { gamma_k, ..CLEAR };
        let water = Tint::prepare(recipe, CONES_NM).unwrap().at_secchi(z, split);
        let (a, b) = (recipe.absorption_per_m(), recipe.scattering_per_m());
        let k: Vec<f64> = (0..31)
            .map(|i| {
                kirk_k_per_m(PURE_WATER_PER_M[i] + water.absorbing * a[i], water.scattering * b[i], 0.86)
            })
            .collect();
        let bands = water.bands.k_per_m;
        (wavelength_nm((0..31).min_by(|&i, &j| k[i].total_cmp(&k[j])).unwrap()), bands[0] < bands[1])
    };
    // Jerlov's coastal types 1C to 5C let 550 nm through best; in bog water red goes deepest.
    let (clear_nm, green_is_best) = best_nm(&clear_recipe(), 6.0, 1.7);
    assert!((530.0..=570.0).contains(&clear_nm) && green_is_best, "{clear_nm}");
    let (stained_nm, green_is_best) = best_nm(&stained_recipe(), 1.2, 2.5);
    assert!(stained_nm >= 600.0 && !green_is_best, "{stained_nm}");
    let (clay_nm, green_is_best) = best_nm(&clay_recipe(), 0.4, 1.1);
    assert!(clay_nm >= 600.0 && !green_is_best, "{clay_nm}");
}

/// Lakes as they were read: medians of the bins (lakes of all colours) within a quarter of the law of their middle colour, and from a tenth to nine
/// tenths of the visits within what the residual of the plausible worlds allows.
#[test]
fn turbidity_reads_as_the_secchi_depth_of_lakes_so_turbid() {
    const MEDIAN: f64 = 0.25;
    let models = callup::models::Models::embedded().unwrap();
    let law = |tint: &str| models.tints.iter().find(|t| t.name == tint).unwrap().turbidity_law;
    let residual = &models.parameters[models.index("water.turbidity_residual").unwrap()];
    for row in table("lakes_turbidity") {
        let [ntu, secchi, low, high, colour] =
            ["ntu", "secchi_m", "low", "high", "colour_ptco"].map(|c| number(&row, c));
        let tint = if colour <= 15.0 { "clear" } else { "clay" };
        let z = |residual| secchi_m_from_turbidity(ntu, law(tint), residual);
        near(z(0.0) / secchi, 1.0, MEDIAN);
        // The residual's 5 and 95 % points lie beyond the 10 and 90 % points of the bin, but for a tenth.
        assert!(
            z(residual.low) < 1.1 * low && z(residual.high) > 0.9 * high,
            "{ntu} NTU: {} {}",
            z(residual.low),
            z(residual.high)
        );
    }
    assert_eq!(secchi_m_from_turbidity(0.0, law("clear"), 0.0), f64::INFINITY);
}

#[test]
fn water_clearer_than_water_is_held_and_said() {
    let tint = Tint::prepare(&clear_recipe(), CONES_NM).unwrap();
    for z in [60.0, 200.0, f64::INFINITY] {
        let water = tint.at_secchi(z, CLEAR);
        assert!(water.limits.clearer_than_water);
        assert_eq!(water.absorbing, 0.0);
        assert!(
            water.k_per_m > 0.0 && water.bands.c_per_m.iter().zip(water.bands.k_per_m).all(|(c, k)| *c > k)
        );
    }
    assert!(Recipe { scattering_550_per_m: 0.0, ..clear_recipe() }.check().is_err());
    assert!(Tint::prepare(&Recipe { chlorophyll_mg_m3: f64::NAN, ..clear_recipe() }, CONES_NM).is_err());
}

#[test]
fn contrast_fades_least_looking_up() {
    // c = 1, K = 0.3, 2 m, with scipy 1.17.1.
    near(transmittance(1.0, 0.3, 1.0, 2.0), 0.24660, 1e-5);
    near(transmittance(1.0, 0.3, 0.0, 2.0), 0.13534, 1e-5);
    near(transmittance(1.0, 0.3, -1.0, 2.0), 0.07427, 1e-5);
    // Range at which a black target falls to a contrast of 0.02.
    let range = |sine: f64| 50.0_f64.ln() / effective_attenuation(1.0, 0.3, sine);
    near(range(1.0), 5.5886, 1e-4);
    near(range(0.0), 3.9120, 1e-4);
    near(range(-1.0), 3.0092, 1e-4);
    // A black disk seen level vanishes at 4.8/c (Davies-Colley 1988): contrast exp(-4.8).
    near(transmittance(2.0, 0.5, 0.0, 4.8 / 2.0), (-4.8_f64).exp(), 1e-15);
    near(beam_lux_at(1000.0, 0.8, 0.5, 1.2, 2.0), 1250.0 * (-1.5_f64).exp(), 1e-9);
}

#[test]
fn the_field_of_light_has_the_irradiances_of_its_cone() {
    // Quadrature (scipy 1.17.1) of a field with a sharp window and a steeper fall below the horizon; only the
    // part below the horizon differs, so it is the side and the upward light that come out apart.
    const SAME_CONE: f64 = 0.01;
    const OTHER_NADIR: f64 = 0.06;
    let table =
        [(30.0, 0.3, 4.06, 0.577, 0.026), (10.0, 0.3, 1.82, 0.606, 0.074), (4.0, 0.5, 1.21, 0.672, 0.23)];
    for (zenith, nadir, side, down, up) in table {
        let field = Field::new(Ratios { zenith, nadir }, ripple_blur_rad(0.0, REFRACTIVE_INDEX));
        near(field.down / zenith / down, 1.0, SAME_CONE);
        near(field.side / side, 1.0, OTHER_NADIR);
        near(field.up / field.down / up, 1.0, OTHER_NADIR);
        // Closed forms of the sharp window: sin^2 in the cone, the rest at the horizontal radiance.
        let sine = 1.0 / REFRACTIVE_INDEX;
        near(field.down, zenith * sine * sine + (1.0 - sine * sine), SAME_CONE * field.down);
        // and of nadir^|sine|: 2 (e^a (a - 1) + 1)/a^2, a = ln nadir.
        let a: f64 = f64::ln(nadir);
        near(field.up, 2.0 * (a.exp() * (a - 1.0) + 1.0) / (a * a), 1e-4);
        near(field.radiance(FRAC_PI_2), zenith, 1e-6);
        near(field.radiance(0.0), 1.0, 1e-12);
        near(field.radiance(-FRAC_PI_2), nadir, 1e-12);
    }
    // A black box: every direction alike gives E = pi L on every side.
    let even = Field::new(Ratios { zenith: 1.0, nadir: 1.0 }, 0.01);
    for irradiance in [even.down, even.side, even.up] {
        near(irradiance, 1.0, 1e-4);
    }
}

#[test]
fn wind_blurs_the_rim_of_the_window() {
    let ratios = Ratios { zenith: 30.0, nadir: 0.3 };
    let edge = FRAC_PI_2 - critical_angle_rad(REFRACTIVE_INDEX);
    let at = |wind: f64, off_deg: f64| {
        Field::new(ratios, ripple_blur_rad(wind, REFRACTIVE_INDEX)).radiance(edge + off_deg.to_radians())
    };
    near(at(2.0, 0.0), 15.5, 0.1);
    assert!(at(0.0, -2.0) < at(5.0, -2.0) && at(0.0, 2.0) > at(5.0, 2.0));
    assert!(at(0.0, 2.0) > 29.9 && at(0.0, -2.0) < 1.1);
}

#[test]
fn fields_blend_between_their_corners() {
    let corners = Corners {
        sunny_clear: Ratios { zenith: 30.0, nadir: 0.3 },
        soft: Ratios { zenith: 10.0, nadir: 0.3 },
        muddy: Ratios { zenith: 4.0, nadir: 0.5 },
        clear_from_m: 3.0,
        stained_m: 1.1,
        muddy_to_m: 0.4,
    };
    let zenith = |cloud, z| Ratios::blend(&corners, cloud, z).zenith;
    near(zenith(0.0, 5.0), 30.0, 1e-9);
    near(zenith(1.0, 5.0), 10.0, 1e-9);
    near(zenith(0.5, 5.0), 300.0_f64.sqrt(), 1e-9);
    near(zenith(0.0, 1.1), 10.0, 1e-9);
    near(zenith(0.3, 0.2), 4.0, 1e-9);
    near(Ratios::blend(&corners, 0.0, 0.1).nadir, 0.5, 1e-9);
}

#[test]
fn density_and_viscosity() {
    for row in table("water_properties") {
        let t = number(&row, "T_C");
        // Six digits in the table.
        near(density_kg_m3(t), number(&row, "rho_Kell1975_kgm3"), 6e-4);
        near(density_kg_m3(t), number(&row, "rho_Tanaka2001_kgm3"), DENSITY_FORMULAS_AGREE_KG_M3);
        near(viscosity_pa_s(t) * 1e3 / number(&row, "mu_mPas"), 1.0, 1e-5);
        near(kinematic_viscosity_m2_s(t) * 1e6 / number(&row, "nu_mm2ps"), 1.0, 1e-5);
    }
    // UNESCO's equation of state for pure water (from memory).
    for (t, rho) in [(4.0, 999.9750), (10.0, 999.7021), (20.0, 998.2063), (30.0, 995.6511)] {
        near(density_kg_m3(t), rho, DENSITY_FORMULAS_AGREE_KG_M3);
    }
    assert!(density_kg_m3(4.0) > density_kg_m3(0.0) && density_kg_m3(4.0) > density_kg_m3(8.0));
}

#[test]
fn from_the_sky_to_three_metres() {
    // 77850 lux x 0.25 x 0.934 x exp(-0.85 x 3), all diffuse, with scipy 1.17.1.
    let above = Sky { floor_lux: 0.0, ..sky(1.0) }.above(45.0);
    assert_eq!(above.diffuse_share, 1.0);
    let below = BelowSurface::of(above, 45.0, 0.0, ROUGH);
    near(illuminance_at(below.total_lux(), 0.85, 3.0) / 1419.4, 1.0, 0.005);
    // A beam alone loses only its own reflection and keeps its slant.
    let beam = BelowSurface::of(Above { lux: 1000.0, diffuse_share: 0.0 }, 45.0, 0.0, ROUGH);
    near(beam.total_lux(), 1000.0 * (1.0 - 0.0279), 0.1);
    near(beam.cos_refracted, 32.037_f64.to_radians().cos(), 1e-5);
}

#[test]
fn largemouth_feed_down_to_eleven_secchi_depths() {
    // McMahon & Holanov (1995), J. Fish Biol. 46:759-767: foraging success holds to 0.003 lux and is 62 % at
    // 0.0002 lux; they put the limit at 5.5 m where the Secchi depth is 0.5 m and 44 m where it is 4 m.
    let between = |lux: f64| (2e-4..3e-3).contains(&lux);
    let noon = BelowSurface::of(sky(0.0).above(60.0), 60.0, 2.0, ROUGH);
    let tint = Tint::prepare(&clear_recipe(), CONES_NM).unwrap();
    for (secchi, limit) in [(0.5, 5.5), (4.0, 44.0)] {
        let k = tint.at_secchi(secchi, CLEAR).k_per_m;
        let lux = illuminance_at(noon.total_lux(), k, limit);
        assert!(between(lux), "{lux} lux at {limit} m");
        assert!(between(illuminance_at(1e5, k, limit)));
    }
    // Full moon, about 0.3 lux: 1.6 m and 13 m.
    for (secchi, limit) in [(0.5, 1.6), (4.0, 13.0)] {
        assert!(between(illuminance_at(0.3, tint.at_secchi(secchi, CLEAR).k_per_m, limit)));
    }
}

prop_compose! {
    fn recipes()(
        dissolved_440_per_m in 0.05..8.0_f64,
        dissolved_slope_per_nm in 0.010..0.022_f64,
        chlorophyll_mg_m3 in 0.0..60.0_f64,
        particle_440_per_m in 0.0..3.0_f64,
        particle_slope_per_nm in 0.008..0.014_f64,
        scattering_550_per_m in 0.2..30.0_f64,
        scattering_exponent in 0.0..1.5_f64,
    ) -> Recipe {
        Recipe {
            dissolved_440_per_m, dissolved_slope_per_nm, chlorophyll_mg_m3, particle_440_per_m,
            particle_slope_per_nm, scattering_550_per_m, scattering_exponent,
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever the recipe, the scaled water dims and blurs as the Secchi reading asked: the daylight eye has
    /// exp(-Gamma_K) of its light left at Z, and by that light c is (Gamma - Gamma_K) / Z.
    #[test]
    fn the_closure_gives_back_the_secchi_reading(
        recipe in recipes(), z in 0.1..12.0_f64, gamma_k in 0.8..2.6_f64, gamma in 8.0..9.0_f64, mu0 in 0.7..0.98_f64,
    ) {
        let split = SecchiSplit { gamma, gamma_k, mu0 };
        let water = Tint::prepare(&recipe, CONES_NM).unwrap().at_secchi(z, split);
        let (a, b) = (recipe.absorption_per_m(), recipe.scattering_per_m());
        let eye = weights(&PHOTOPIC);
        let a: Vec<f64> = (0..31).map(|i| PURE_WATER_PER_M[i] + water.absorbing * a[i]).collect();
        let b: Vec<f64> = (0..31).map(|i| water.scattering * b[i]).collect();
        let left: Vec<f64> = (0..31).map(|i| eye[i] * (-z * kirk_k_per_m(a[i], b[i], mu0)).exp()).collect();
        let light: f64 = left.iter().sum();
        let c = (0..31).map(|i| left[i] * (a[i] + b[i])).sum::<f64>() / light;
        let k_goal = split.attenuation_per_m(z).0;
        prop_assert!(!water.limits.not_met);
        prop_assert!((c / split.attenuation_per_m(z).1 - 1.0).abs() < 1e-6);
        prop_assert!((-light.ln() / z / water.k_per_m - 1.0).abs() < 1e-9);
        if water.limits.clearer_than_water {
            prop_assert!(water.k_per_m >= k_goal && water.absorbing == 0.0);
        } else {
            prop_assert!((light / (-gamma_k).exp() - 1.0).abs() < 1e-6);
        }
        for band in 0..2 {
            prop_assert!(water.bands.c_per_m[band] > water.bands.k_per_m[band]);
            prop_assert!(water.bands.k_per_m[band] > 0.0);
        }
    }

    /// A clearer water of the same tint fades less, in both bands.
    #[test]
    fn attenuation_falls_with_secchi_depth(
        recipe in recipes(), z in 0.1..10.0_f64, factor in 1.01..3.0_f64, gamma_k in 0.8..2.6_f64,
    ) {
        let split = SecchiSplit { gamma_k, ..CLEAR };
        let tint = Tint::prepare(&recipe, CONES_NM).unwrap();
        let (near, far) = (tint.at_secchi(z, split), tint.at_secchi(z * factor, split));
        for band in 0..2 {
            prop_assert!(far.bands.c_per_m[band] < near.bands.c_per_m[band]);
            prop_assert!(far.bands.k_per_m[band] < near.bands.k_per_m[band] * (1.0 + 1e-9));
        }
        prop_assert!(illuminance_at(1e4, near.bands.k_per_m[0], 3.0) < illuminance_at(1e4, near.bands.k_per_m[0], 2.0));
    }

    /// The field is positive, between nadir and zenith, and never falls as the eye turns up.
    #[test]
    fn it_never_gets_darker_looking_up(
        zenith in 1.0..60.0_f64, nadir in 0.05..1.0_f64, blur in 0.0..0.3_f64, e in -1.57..1.57_f64, up in 0.0..1.0_f64,
    ) {
        let field = Field::new(Ratios { zenith, nadir }, blur);
        let (low, high) = (field.radiance(e), field.radiance(e + up));
        prop_assert!(low <= high + 1e-9 && low >= nadir - 1e-9 && high <= zenith + 1e-9);
    }
}
