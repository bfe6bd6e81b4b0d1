//! Closed forms, tables and worked examples from outside, worked again on the user's machine.

use super::{Context, Study, Unanswered};
use crate::bait::{drag, path, sound, tow};
use crate::engine::Control;
use crate::fish::{noticing, rising, sight, size, swimming, temperature};
use crate::water::{clarity, contrast, medium, sky, spectrum, sun, surface};
use serde::{Serialize, Serializer};
use serde_json::json;

/// One check.
#[derive(Debug, Clone, PartialEq)]
pub struct Check {
    /// What is worked out.
    pub case: &'static str,
    /// The number from outside.
    pub expected: f64,
    /// The number here.
    pub got: f64,
    /// Largest difference allowed.
    pub tolerance: f64,
    /// Where the expected number comes from.
    pub source: &'static str,
}

impl Check {
    /// Whether it holds.
    pub fn holds(&self) -> bool {
        (self.got - self.expected).abs() <= self.tolerance
    }
}

fn check(case: &'static str, expected: f64, got: f64, tolerance: f64, source: &'static str) -> Check {
    Check { case, expected, got, tolerance, source }
}

impl Serialize for Check {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        json!({
            "case": self.case, "expected": self.expected, "got": self.got, "tolerance": self.tolerance,
            "holds": self.holds(), "source": self.source,
        })
        .serialize(to)
    }
}

/// All checks.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Checks {
    /// One after the other.
    pub checks: Vec<Check>,
}

impl Checks {
    /// Whether all hold.
    pub fn hold(&self) -> bool {
        self.checks.iter().all(Check::holds)
    }
}

/// The checks, worked on this machine.
#[derive(Debug, Clone, Copy, Default)]
pub struct Selfcheck;

impl Study for Selfcheck {
    const NAME: &'static str = "selfcheck";
    type Answer = Checks;

    fn steps(&self, _on: &Context) -> usize {
        0
    }

    fn run(&self, _on: &Context, _control: &Control) -> Result<Checks, Unanswered> {
        Ok(Checks { checks: selfcheck() })
    }
}

/// Works all checks.
pub fn selfcheck() -> Vec<Check> {
    let mut all = light_checks();
    all.extend(sight_checks());
    all.extend(mechanics_checks());
    all.extend(fish_checks());
    all.extend(chance_checks());
    all
}

fn light_checks() -> Vec<Check> {
    let spa = sun::Place::new(39.742_476, -105.178_6).and_then(|p| p.sun(1_066_419_030.0));
    let (elevation, azimuth) = spa.map_or((f64::NAN, f64::NAN), |s| (s.elevation_deg, s.azimuth_deg));
    const SPA: &str =
        "Reda & Andreas 2004, Solar Energy 76:577, worked example (from memory; pvlib 0.16.1 agrees)";
    const JERLOV: &str = "Jerlov, Optical Oceanography, table of reflectances";
    vec![
        check("sun's zenith angle, worked example (deg)", 50.127_954, 90.0 - elevation, 1e-4, SPA),
        check("sun's azimuth, worked example (deg)", 194.340_24, azimuth, 1e-4, SPA),
        check(
            "log10 lux at civil dusk, clear sky",
            0.533,
            crate::maths::log10(sky::clear_sky_lux(-6.0, 0.0)),
            0.02,
            "Janiczek & DeYoung 1987, USNO Circular 171; AMS glossary: 3.5-2 lux",
        ),
        check(
            "light left under full cloud",
            0.25,
            sky::cloud_factor(1.0),
            1e-12,
            "Kasten & Czeplak 1980, Solar Energy 24:177",
        ),
        check(
            "light left under half cloud",
            0.9290,
            sky::cloud_factor(0.5),
            1e-4,
            "Kasten & Czeplak 1980, Solar Energy 24:177",
        ),
        check("reflection at 60 deg", 0.059, surface::fresnel(60f64.to_radians(), 4.0 / 3.0), 1.5e-3, JERLOV),
        check("reflection at 80 deg", 0.349, surface::fresnel(80f64.to_radians(), 4.0 / 3.0), 1.5e-3, JERLOV),
        check(
            "reflection of a uniform sky",
            0.066,
            surface::sky_reflectance(1.333, 0.0),
            1e-3,
            "Jerlov, by integration; the classic value",
        ),
        check(
            "Snell's window, half angle (deg)",
            48.607,
            surface::critical_angle_rad(1.333).to_degrees(),
            1e-3,
            "Snell's law",
        ),
        check(
            "slope of ripple at 5 m/s",
            0.0286,
            surface::mean_square_slope(5.0),
            1e-9,
            "Cox & Munk 1954 (total from memory)",
        ),
        check(
            "pure water at 550 nm (1/m)",
            0.0565,
            spectrum::PURE_WATER_PER_M[15],
            1e-12,
            "Pope & Fry 1997, Appl. Opt. 36:8710",
        ),
        check(
            "green cone at 600 nm",
            0.2860,
            spectrum::cone_sensitivity(535.0, 600.0),
            1e-4,
            "Govardovskii et al. 2000 template (from memory; numpy 2.4.6)",
        ),
        check(
            "Kirk's K, a 0.2, b 1, mu0 0.86 (1/m)",
            0.3187,
            clarity::kirk_k_per_m(0.2, 1.0, 0.86),
            1e-4,
            "Kirk 1984, Limnol. Oceanogr. 29:350 (from memory; numpy 2.4.6)",
        ),
        check(
            "Carlson's index at 2 m",
            50.01,
            medium::carlson_index(2.0),
            0.01,
            "Carlson 1977, Limnol. Oceanogr. 22:361",
        ),
        check(
            "density of water at 20 C (kg/m3)",
            998.2041,
            medium::density_kg_m3(20.0),
            1e-4,
            "Kell 1975; Tanaka 2001 within 0.003",
        ),
        check(
            "viscosity of water at 20 C (mPa s)",
            1.002,
            1000.0 * medium::viscosity_pa_s(20.0),
            1e-6,
            "Kestin et al. 1978 (from memory)",
        ),
    ]
}

fn sight_checks() -> Vec<Check> {
    let k = 3.495 - 0.85;
    vec![
        check(
            "contrast left looking up 2 m, c 1, K 0.3",
            0.24660,
            contrast::transmittance(1.0, 0.3, 1.0, 2.0),
            1e-5,
            "Duntley 1963, JOSA 53:214",
        ),
        check(
            "contrast left level",
            0.13534,
            contrast::transmittance(1.0, 0.3, 0.0, 2.0),
            1e-5,
            "Duntley 1963, JOSA 53:214",
        ),
        check(
            "contrast left looking down",
            0.07427,
            contrast::transmittance(1.0, 0.3, -1.0, 2.0),
            1e-5,
            "Duntley 1963, JOSA 53:214",
        ),
        check(
            "range of a black target, up (m)",
            5.5886,
            sight::contrast_range(1.0, 0.02, 0.7),
            1e-4,
            "Duntley 1963, JOSA 53:214",
        ),
        check(
            "small-target range (m)",
            2.874_93,
            sight::small_target_range(2.4e-4, 1.45e5, 1.0 + 1e-4, 0.5),
            1e-5,
            "Aksnes & Utne 1997, Sarsia 82:137; scipy 1.17.1 lambertw",
        ),
        check(
            "the same in dim light (m)",
            2.329_80,
            sight::small_target_range(2.4e-4, 1.45e5, 2.0, 0.5),
            1e-5,
            "Aksnes & Utne 1997, Sarsia 82:137; scipy 1.17.1 lambertw",
        ),
        check(
            "bait from below at 3 m, small-target (m)",
            1.4808,
            sight::small_target_range(0.98 * 1.125e-3, 1e5, 1.0 + 1.0 / 1419.4, k),
            1e-3,
            "the same; numpy 2.4.6",
        ),
        check(
            "bait from below at 3 m, contrast-limited (m)",
            1.4711,
            sight::contrast_range(0.98, 0.02 * (1.0 + 1.0 / 1419.4), k),
            1e-3,
            "the same; numpy 2.4.6",
        ),
        check(
            "log10 lux left at 11 Secchi depths at noon",
            -3.12,
            crate::maths::log10(contrast::illuminance_at(1e5, 1.7, 11.0)),
            0.01,
            "McMahon & Holanov 1995, J. Fish Biol. 46:759: largemouth fail between 2e-4 and 3e-3 lux",
        ),
        check(
            "range at which 3 mm shows at 17 arcmin (m)",
            0.61,
            sight::detail_range(0.003, 17.0),
            0.005,
            "trigonometry",
        ),
    ]
}

fn mechanics_checks() -> Vec<Check> {
    let straight = tow::weightless(0.3, 30f64.to_radians(), 10.0, 0.5 * 1000.0 * 1.2 * 0.28e-3 * 0.64);
    let chain = tow::catenary(1.0, 0.5, 4.0);
    // No line drag: the bait's path is a logarithmic spiral about the rod tip.
    let spiral = spiral_depth(20.0);
    vec![
        check(
            "drag of a cylinder at Re 100",
            1.4490,
            drag::sucker_brauer(100.0),
            1e-4,
            "Sucker & Brauer 1975 (scipy 1.17.1)",
        ),
        check(
            "normal force of a plate at 30 deg",
            1.0572,
            drag::plate_normal_force(30.0),
            1e-4,
            "Hoerner's plates (from memory)",
        ),
        check(
            "weightless towed line, depth (m)",
            2.945_455,
            straight.up_m,
            1e-5,
            "closed form; scipy 1.17.1",
        ),
        check("hanging line, sag (m)", 2.472_136, chain.up_m, 1e-6, "catenary"),
        check(
            "critical angle of a towed line, q 1 (deg)",
            51.827_292,
            tow::critical_angle_rad(1.0).to_degrees(),
            1e-6,
            "Pode 1951, DTMB 687 (from memory); closed form",
        ),
        check(
            "retrieve without line drag, depth (m)",
            3.741_987,
            spiral,
            0.02,
            "logarithmic spiral, closed form",
        ),
        check(
            "near field of a twitch (m)",
            0.329_61,
            sound::near_field_range_m(sound::equivalent_radius_m(1e-5), 15.0, 1e-3),
            1e-5,
            "dipole of an oscillating sphere",
        ),
        check(
            "sea noise at 1 kHz, 5 m/s (dB)",
            60.93,
            sound::wind_noise_db(1000.0, 5.0),
            0.01,
            "Coates 1989 / Stojanovic 2007 fit to Wenz 1962",
        ),
    ]
}

fn spiral_depth(angle_deg: f64) -> f64 {
    use crate::bait::body::Pull;
    use crate::bait::line::Line;
    let retrieve = path::Retrieve {
        cast_m: 30.0,
        rod_tip_m: 0.3,
        speed_m_s: 0.8,
        water_density_kg_m3: 998.2,
        viscosity_m2_s: 1e-6,
        friction: 0.0,
        drag_multiplier: 1.0,
    };
    let pull = Pull {
        drag_area_m2: 3e-4,
        downlift_area_m2: 3e-4 * crate::maths::tan(angle_deg.to_radians()),
        buoyancy_n: 0.0,
    };
    let line = Line { diameter_m: 0.28e-3, density_kg_m3: 998.2 };
    let without_drag = path::Detail { constant_drag: Some(0.0), ..path::Detail::default() };
    path::Path::solve(&retrieve, &pull, &line, without_drag).map_or(f64::NAN, |p| p.max_depth_m())
}

fn fish_checks() -> Vec<Check> {
    const RICE: &str = "Rice et al. 1983, Kitchell form (Python 3.11)";
    let growth = |t: f64| 1.494 - 0.301 * t + 0.0204 * t * t - 0.000_367 * t * t * t;
    let chase = swimming::chase(1.0, 0.5, 3.0, 1.5).map_or(f64::NAN, |c| 3.0 * c.detour / c.speed_m_s);
    vec![
        check(
            "feeding at 10 C, largemouth",
            0.1859,
            temperature::feeding(10.0, 2.65, 27.5, 37.0),
            5e-4,
            RICE,
        ),
        check(
            "feeding at 30 C, largemouth",
            0.9148,
            temperature::feeding(30.0, 2.65, 27.5, 37.0),
            5e-4,
            RICE,
        ),
        check(
            "feeding against growth at 20 C",
            growth(20.0),
            temperature::feeding(20.0, 2.65, 27.5, 37.0),
            0.066,
            "growth of 60 g largemouth, Kentucky State University (meeting abstract): an independent curve",
        ),
        check(
            "critical speed at 14 C (lengths/s)",
            1.69,
            2.17 * swimming::cold_share(14.0, 0.8306, 2.17),
            5e-3,
            "Hasler et al. 2009, Can. J. Zool.",
        ),
        check("intercept 3 m away (s)", 2.6833, chase, 1e-4, "h / sqrt(v^2 - U^2)"),
        check(
            "share that rise 3 m from 8 m",
            0.8490,
            rising::bladder_share(3.0, 8.0, 0.25, 0.05),
            1e-4,
            "logistic in the drop of pressure; limits of Harden Jones 1952, J. Exp. Biol. 29:94",
        ),
        check(
            "standard weight of 400 mm largemouth (g)",
            974.0,
            size::standard_weight_g(0.4, -5.528, 3.273),
            0.1,
            "Henson 1991",
        ),
    ]
}

fn chance_checks() -> Vec<Check> {
    use crate::maths::exp;
    let h = noticing::pass_hazard(1.2, 1.5, f64::INFINITY, 2.0, 0.8);
    let rule = crate::maths::quadrature::gauss_legendre(24);
    let constant = crate::fish::inspection::clear_view(&rule, 4.135, 0.135, 0.0, 1e9);
    vec![
        check(
            "noticed on a passing hazard",
            0.901_592,
            1.0 - exp(-h),
            1e-6,
            "closed form; scipy 1.17.1 quadrature",
        ),
        check("not refused, 0.15/s for 4 s", 0.5488, exp(-0.15 * constant), 1e-4, "exp(-h t)"),
        check(
            "the quantile of 97.5 %",
            1.959_964,
            crate::maths::special::normal_quantile(0.975),
            1e-6,
            "Wichura 1988, AS 241; scipy 1.17.1",
        ),
        check(
            "Lambert's W of 1",
            0.567_143_290_4,
            crate::maths::special::lambert_w(1.0),
            1e-10,
            "Corless et al. 1996",
        ),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_check_holds_and_a_wrong_number_would_not() {
        let checks = selfcheck();
        assert!(checks.len() >= 40);
        for c in &checks {
            assert!(c.holds(), "{}: {} not {}", c.case, c.got, c.expected);
        }
        assert!(!Check { got: f64::NAN, ..checks[0].clone() }.holds());
    }
}
