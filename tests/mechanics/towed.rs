//! The towed line against its closed forms.

use super::*;

/// Enough Runge-Kutta steps for ten digits on 30-200 m of line.
const STEPS: usize = 20_000;
const CLOSED: f64 = 1e-6;

fn plain(speed: f64, diameter_m: f64, weight_n_m: f64, friction: f64, density: f64) -> TowedLine {
    TowedLine {
        speed_m_s: speed,
        diameter_m,
        weight_n_m,
        water_density_kg_m3: density,
        viscosity_m2_s: VISCOSITY,
        friction,
        drag: CylinderDrag::Constant(1.2),
    }
}

#[test]
fn weightless_line_is_a_catenary_on_its_side() {
    for row in table("cable_weightless") {
        let (t, phi, d) = (row.num("T_N"), row.num("phi0_deg").to_radians(), row.num("d_m"));
        let (u, length) = (row.num("U_mps"), row.num("L_m"));
        let load = 0.5 * row.num("rho_kgm3") * row.num("Cd") * d * u * u;
        let exact = tow::weightless(t, phi, length, load);
        close("lambda", t / load, row.num("lambda_m"), SIX_DIGITS);
        close("angle", exact.angle_rad.to_degrees(), row.num("phi1_deg"), SIX_DIGITS);
        close("x", exact.along_m, row.num("x_m"), SIX_DIGITS);
        close("depth", exact.up_m, row.num("depth_m"), SIX_DIGITS);
        let marched = plain(u, d, 0.0, 0.0, row.num("rho_kgm3")).follow(t, phi, length, STEPS).expect("line");
        close("marched angle", marched.angle_rad, exact.angle_rad, CLOSED);
        close("marched x", marched.along_m, exact.along_m, CLOSED);
        close("marched depth", marched.up_m, exact.up_m, CLOSED);
    }
}

#[test]
fn constant_rub_has_its_closed_form() {
    let load = 0.5 * 1000.0 * 1.2 * 0.28e-3 * 0.8 * 0.8;
    let (angle, tension) = tow::weightless_with_rub(0.3, 30f64.to_radians(), 30.0, load, 0.004);
    // Computed with scipy 1.17.1 to seven digits.
    close("angle", angle.to_degrees(), 5.301588, 2e-7);
    close("tension", tension, 0.42, 1e-12);
    // With a vanishing rub it becomes the frictionless form.
    let (limit, _) = tow::weightless_with_rub(0.3, 30f64.to_radians(), 30.0, load, 1e-12);
    close("limit", limit, tow::weightless(0.3, 30f64.to_radians(), 30.0, load).angle_rad, CLOSED);
}

#[test]
fn hanging_line_is_a_catenary() {
    for row in table("cable_catenary") {
        let (h, w, length) = (row.num("H_N"), row.num("w_Npm"), row.num("L_m"));
        let exact = tow::catenary(h, w, length);
        close("x", exact.along_m, row.num("x_m"), SIX_DIGITS);
        close("z", exact.up_m, row.num("z_m"), SIX_DIGITS);
        close("tension", exact.tension_n, row.num("T_top_N"), SIX_DIGITS);
        close("angle", exact.angle_rad.to_degrees(), row.num("phi_top_deg"), SIX_DIGITS);
        let marched = plain(0.0, 1e-3, w, 0.0, WATER).follow(h, 0.0, length, STEPS).expect("line");
        close("marched x", marched.along_m, exact.along_m, CLOSED);
        close("marched z", marched.up_m, exact.up_m, CLOSED);
        close("marched tension", marched.tension_n, exact.tension_n, CLOSED);
    }
}

#[test]
fn long_heavy_line_settles_at_the_critical_angle() {
    for row in table("critical_angle") {
        let phi = tow::critical_angle_rad(row.num("q=w/(0.5 rho Cd d U^2)"));
        close("cosine", phi.cos(), row.num("cos_phi_c"), SIX_DIGITS);
        close("angle", phi.to_degrees(), row.num("phi_c_deg"), SIX_DIGITS);
    }
    let line = plain(0.5, 1e-3, 0.02, 0.0, WATER);
    let q = 0.02 / (0.5 * WATER * 1.2 * 1e-3 * 0.25);
    let end = line.follow(0.5, 60f64.to_radians(), 200.0, STEPS).expect("line");
    close("march to it", end.angle_rad, tow::critical_angle_rad(q), CLOSED);
    close("computed elsewhere", end.angle_rad.to_degrees(), 20.700511, CLOSED);
}

#[test]
fn fishing_line_alone_gives_almost_no_depth() {
    for row in table("critical_angle_lines") {
        let l = thread(row.text("line"), row.num("d_m") * 1e3);
        let u = row.num("U_mps");
        // Drag depends on the angle sought: a fixed point.
        let (mut phi, mut cd, mut q) = (0.1f64, 0.0, 0.0);
        for _ in 0..200 {
            cd = sucker_brauer(u * phi.sin() * l.diameter_m / VISCOSITY);
            q = l.submerged_weight_n_m(WATER) / (0.5 * WATER * cd * l.diameter_m * u * u);
            phi = tow::critical_angle_rad(q);
        }
        close("weight", l.submerged_weight_n_m(WATER), row.num("w_Npm"), SIX_DIGITS);
        close("Cd", cd, row.num("Cd"), SIX_DIGITS);
        close("q", q, row.num("q"), SIX_DIGITS);
        close("angle", phi.to_degrees(), row.num("phi_c_deg"), SIX_DIGITS);
    }
}

#[test]
fn towed_baits_run_as_deep_as_computed_elsewhere() {
    let l = thread("fluoro", 0.28);
    for row in table("trolling_depth") {
        let line = TowedLine {
            drag: CylinderDrag::Reynolds { multiplier: 1.0 },
            ..plain(0.8, l.diameter_m, l.submerged_weight_n_m(WATER), FRICTION, WATER)
        };
        let end = line.behind(&pull(row.text("bait")), row.num("line_out_m"), 4000).expect("line");
        close("depth", end.up_m, row.num("depth_m_at_0.8mps_0.28mm_fluoro"), SIX_DIGITS);
        // The last digit is the other integrator's.
        close("angle", end.angle_rad.to_degrees(), row.num("phi_surface_deg"), 2e-5);
        close("tension", end.tension_n, row.num("T_surface_N"), SIX_DIGITS);
    }
}

#[test]
fn a_line_without_pull_is_refused() {
    let line = plain(0.8, 2.8e-4, 0.0, 0.0, WATER);
    assert!(line.follow(0.0, 0.5, 10.0, 10).is_err());
    assert!(line.follow(1.0, 0.5, -1.0, 10).is_err());
}
