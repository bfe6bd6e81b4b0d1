//! The shape of a line being reeled in.

use super::*;

fn pivot(l: &Line, pieces: usize) -> Pivot {
    retrieve(27.0, 0.8, 0.3).pivot(l, Detail { pieces, ..Detail::default() })
}

fn delta_rad(row: &Row, pieces: usize) -> f64 {
    let l = thread(row.text("line"), row.num("d_m") * 1e3);
    let trim = Trim::of(&pull(row.text("bait")), 0.8, WATER);
    let sin_chord = (row.num("depth_m") + 0.3) / row.num("R_m");
    let cos_chord = (1.0 - sin_chord * sin_chord).sqrt();
    pivot(&l, pieces).slope_below_chord(&trim, row.num("R_m"), sin_chord, cos_chord, 0.3).atan()
}

#[test]
fn velocity_below_the_chord_matches_the_continuous_equations() {
    /// A fine cut: what is left is the drag table's 6e-5 and the integration's own error.
    const FINE: f64 = 3e-5;
    /// The usual twelve pieces.
    const USUAL: f64 = 4e-3;
    for row in table("delta_continuous") {
        let expected = row.num("delta_rad");
        close(row.text("bait"), delta_rad(&row, 400), expected, FINE);
        close(row.text("bait"), delta_rad(&row, 12), expected, USUAL);
        // Second order: a cut twice as fine is nearly four times as close.
        let error = |pieces| (delta_rad(&row, pieces) - expected).abs();
        assert!(error(48) < 0.4 * error(24), "{} then {}", error(24), error(48));
    }
}

#[test]
fn velocity_below_the_chord_matches_the_other_implementation() {
    for row in table("delta_unit_tests") {
        let trim = Trim::of(&pull(row.text("bait")), 0.8, WATER);
        close("speed", trim.speed_m_s, row.num("V_mps"), SIX_DIGITS);
        // Its own error, of first order, is 5e-4 of the angle with 400 pieces.
        close(row.text("bait"), delta_rad(&row, 400), row.num("delta_rad_n400"), 6e-4);
        close(row.text("bait"), delta_rad(&row, 12), row.num("delta_rad_n12"), CUTTING);
    }
}

#[test]
fn constant_drag_has_its_closed_form() {
    for row in table("pivot_line_closed") {
        let eps = row.num("eps_deg").to_radians();
        let lambda = row.num("Lambda");
        let trim = Trim { speed_m_s: 1.0, tension_n: 1.0, slope: eps.tan() };
        let chord = 10.0;
        let p = Pivot {
            diameter_m: 1e-3,
            weight_n_m: 0.0,
            water_density_kg_m3: 1000.0,
            viscosity_m2_s: 1e-6,
            friction: 0.0,
            drag: CylinderDrag::Constant(lambda / (0.5 * 1000.0 * 1e-3 * chord)),
            pieces: 2000,
        };
        let delta = p.slope_below_chord(&trim, chord, 0.1, 0.99f64.sqrt(), 0.0).atan();
        close("chord angle", delta.to_degrees(), row.num("delta_chord_deg"), SIX_DIGITS);
    }
}

/// Without line drag the bait follows a logarithmic spiral.
#[test]
fn a_line_without_drag_gives_the_spiral() {
    for row in table("logspiral_check") {
        let (eps, r0, h) = (row.num("eps_deg").to_radians(), row.num("R0_m"), row.num("H_m"));
        let theta0 = (h / r0).asin();
        let exact = r0 * (-(eps - theta0) / eps.tan()).exp() * eps.sin() - h;
        close("closed form", exact, row.num("zmax_exact_m"), SIX_DIGITS);
        let p = Pull { drag_area_m2: 1e-3, downlift_area_m2: 1e-3 * eps.tan(), buoyancy_n: 0.0 };
        let l = Line { diameter_m: 2.8e-4, density_kg_m3: WATER };
        let r = Retrieve { friction: 0.0, ..retrieve(r0, 0.8, h) };
        let detail = Detail { steps_per_knot: 60, constant_drag: Some(0.0), ..Detail::default() };
        let got = Path::solve(&r, &p, &l, detail).expect("spiral").max_depth_m();
        close("solved", got, exact, 1e-5);
        let quick = Path::solve(&r, &p, &l, Detail { steps_per_knot: 2, ..detail }).expect("spiral");
        close("with the usual steps", quick.max_depth_m(), exact, 2e-4);
    }
}
