//! Closed forms of a towed line.

use super::*;

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
    }
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
    }
}

#[test]
fn long_heavy_line_settles_at_the_critical_angle() {
    for row in table("critical_angle") {
        let phi = tow::critical_angle_rad(row.num("q=w/(0.5 rho Cd d U^2)"));
        close("cosine", phi.cos(), row.num("cos_phi_c"), SIX_DIGITS);
        close("angle", phi.to_degrees(), row.num("phi_c_deg"), SIX_DIGITS);
    }
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
