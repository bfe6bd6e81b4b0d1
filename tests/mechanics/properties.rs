//! What must hold for any input.

use super::*;
use callup::bait::{Lip, Sound};
use proptest::prelude::*;

fn usual() -> impl Strategy<Value = (usize, f64, f64, f64, f64, f64)> {
    (0usize..3, 0.12f64..0.40, 12.0f64..45.0, 0.4f64..2.0, 0.0f64..1.5, 950.0f64..1800.0)
}

fn solve(bait: usize, mm: f64, cast: f64, speed: f64, tip: f64, density: f64) -> Path {
    let l = Line { diameter_m: mm * 1e-3, density_kg_m3: density };
    path(BAITS[bait], &l, &retrieve(cast, speed, tip))
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(200) })]

    #[test]
    fn depth_is_never_negative_and_ends_at_the_surface((b, d, c, u, h, rho) in usual()) {
        let p = solve(b, d, c, u, h, rho);
        prop_assert_eq!(p.points().count(), callup::bait::path::KNOTS);
        for (reeled, z) in p.points() {
            prop_assert!(z >= 0.0 && z <= p.max_depth_m() + 1e-12);
            prop_assert!(z <= (c - reeled).max(0.0), "deeper than the line is long");
        }
        prop_assert_eq!(p.depth_at_reeled(0.0), 0.0);
        prop_assert!(p.depth_at_fraction(1.0) < 1e-9);
    }

    #[test]
    fn thinner_longer_lower_is_deeper((b, d, c, u, h, rho) in usual()) {
        let z = solve(b, d, c, u, h, rho).max_depth_m();
        // Thick PVDF can sink by its own weight at a crawl; nylon and braid cannot.
        if rho < 1200.0 {
            prop_assert!(solve(b, d * 0.9, c, u, h, rho).max_depth_m() > z);
        }
        prop_assert!(solve(b, d, c * 1.1, u, h, rho).max_depth_m() > z);
        prop_assert!(solve(b, d, c, u, h + 0.1, rho).max_depth_m() < z);
    }

    #[test]
    fn no_finite_input_panics(
        x in proptest::array::uniform12(prop_oneof![
            any::<f64>(), -1e3f64..1e3, 0.0f64..1.0, 0.0f64..1e-3,
        ]),
        y in proptest::array::uniform12(0.0f64..1.0),
    ) {
        let r = Retrieve {
            cast_m: x[0], rod_tip_m: x[1], speed_m_s: x[2], water_density_kg_m3: x[3],
            viscosity_m2_s: x[4], friction: x[5], drag_multiplier: x[6],
        };
        let p = Pull { drag_area_m2: x[7], downlift_area_m2: x[8], buoyancy_n: x[9] };
        let l = Line { diameter_m: x[10], density_kg_m3: x[11] };
        let _ = Path::solve(&r, &p, &l, Detail::default());
        let _ = reach(x[0], Change::Cast, (x[1], x[2]), &r, &p, &l);
        // Anywhere in what is accepted, the answer is a depth.
        let log = |u: f64, low: f64, high: f64| low * (high / low).powf(u);
        let r = Retrieve {
            cast_m: log(y[0], 1.0, 500.0), rod_tip_m: log(y[0], 1.0, 500.0) * y[1] * 0.999,
            speed_m_s: log(y[2], 0.01, 20.0), water_density_kg_m3: 500.0 + 1500.0 * y[3],
            viscosity_m2_s: log(y[4], 1e-8, 1e-3), friction: y[5], drag_multiplier: log(y[6], 0.01, 100.0),
        };
        let p = Pull {
            drag_area_m2: log(y[7], 1e-6, 0.1), downlift_area_m2: 0.1 * y[8], buoyancy_n: 20.0 * y[9] - 10.0,
        };
        let l = Line { diameter_m: log(y[10], 1e-5, 1e-2), density_kg_m3: log(y[11], 100.0, 20_000.0) };
        let path = Path::solve(&r, &p, &l, Detail::default());
        prop_assert!(path.is_ok(), "{:?} for {:?} {:?} {:?}", path, r, p, l);
        let z = path.map_or(f64::NAN, |p| p.max_depth_m());
        prop_assert!((0.0..=500.0).contains(&z));
        let cast = Cast {
            mass_kg: x[0], drag_area_m2: x[1], speed_m_s: x[2], elevation_deg: x[3], height_m: x[4],
            tail_wind_m_s: x[5], air_density_kg_m3: x[6], line_kg_m: x[7], friction_n: x[8],
        };
        let _ = cast.fly();
    }

    #[test]
    fn a_scaled_finish_is_possible(g in -0.2f64..1.5, r in -0.2f64..1.5, s in -0.2f64..1.5, t in -0.2f64..1.5) {
        let f = Finish { diffuse: [g, r], specular: s, transmittance: t };
        let possible = |f: &Finish| {
            let [green, red] = f.diffuse;
            [green, red, f.specular, f.transmittance].iter().all(|s| *s >= 0.0)
                && f.sum().iter().all(|s| *s <= 1.0 + 1e-12)
        };
        let scaled = f.scaled_to_one();
        prop_assert!(possible(&scaled));
        if possible(&f) {
            prop_assert!((scaled.specular - f.specular).abs() < 1e-11);
        }
    }
}

#[test]
fn labels_come_back() {
    for s in Sound::ALL {
        assert_eq!(Sound::from_label(s.label()), Some(*s));
    }
    for l in Lip::ALL {
        assert_eq!(Lip::from_label(l.label()), Some(*l));
    }
    assert_eq!(Lip::from_label("square"), None);
}
