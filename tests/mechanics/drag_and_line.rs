//! Drag of line and lip, diameters, sizes of the body.

use super::*;

#[test]
fn cylinder_drag_follows_both_published_fits() {
    for row in table("cd_cylinder") {
        let re = row.num("Re");
        close("Sucker & Brauer", sucker_brauer(re), row.num("Cd_SuckerBrauer1975"), SIX_DIGITS);
        if (50.0..=5000.0).contains(&re) {
            // The scatter between two fits to measurements.
            close("the one by the other", sucker_brauer(re), row.num("Cd_Cheng2013"), 0.09);
        }
    }
}

#[test]
fn plate_follows_its_table_and_has_no_jump() {
    for row in table("plate_cn") {
        let deg = row.num("alpha_deg");
        close("CN", plate_normal_force(deg), row.num("CN"), SIX_DIGITS);
        let cl = plate_normal_force(deg) * deg.to_radians().cos();
        close("CL", cl, row.num("CL"), SIX_DIGITS);
    }
    for deg in [40.0, 50.0] {
        close("at a seam", plate_normal_force(deg - 1e-9), plate_normal_force(deg + 1e-9), 1e-8);
    }
}

#[test]
fn bodies_have_the_areas_of_the_fit() {
    for row in table("bait_fit") {
        let name = row.text("bait");
        let b = body(name);
        close("drag area", b.drag_area_m2(&COEFFICIENTS), row.num("drag_area_m2"), SIX_DIGITS);
        close("down-lift area", b.downlift_area_m2(&COEFFICIENTS), row.num("downlift_area_m2"), SIX_DIGITS);
        let trim = Trim::of(&pull(name), 0.8, WATER);
        close("trim angle", trim.angle_deg(), row.num("eps_deg"), SIX_DIGITS);
    }
}

#[test]
fn lines_have_the_diameter_and_weight_of_their_strength() {
    for row in table("line_diameter") {
        let strength = row.num("strength_MPa_on_gross_area") * 1e6;
        let d = line::diameter_from_strength_m(row.num("break_N"), strength);
        close("diameter", d * 1e3, row.num("d_mm"), SIX_DIGITS);
        let l = Line { diameter_m: d, density_kg_m3: row.num("density_kgm3") };
        let w = l.submerged_weight_n_m(WATER);
        close("weight", w * 1e3, row.num("submerged_weight_mN_per_m"), SIX_DIGITS);
        close("back to strength", l.breaking_force_n(strength), row.num("break_N"), 1e-12);
    }
}

#[test]
fn a_volume_is_what_floats_the_mass() {
    let mut b = body("medium_std_lip");
    close("suspending", b.volume_m3(1000.0), 1e-5, 1e-12);
    b.buoyancy_n = 0.0098;
    assert!(b.volume_m3(1000.0) > 1.09e-5, "a floating bait displaces more than its mass");
}

/// Mean of R1 R2 over directions by brute force on the ellipsoid: R1 R2 = (abc)^2 / h^4, h the support
/// function. Thomsen's surface formula is good to 1.1 %.
#[test]
fn mean_curvature_product_is_the_surface_over_four_pi() {
    let b = body("medium_std_lip");
    let [x, y, z] = [0.045f64, 0.0085, 0.006];
    let (mut sum, mut weight) = (0.0, 0.0);
    let n = 2000;
    for i in 0..n {
        let u = (i as f64 + 0.5) / n as f64;
        for j in 0..400 {
            let az = (j as f64 + 0.5) / 400.0 * std::f64::consts::FRAC_PI_2;
            let s = (1.0 - u * u).sqrt();
            // The long axis is the polar one: the sharp ends need many points, the girth few.
            let h2 = (x * u).powi(2) + (y * s * az.cos()).powi(2) + (z * s * az.sin()).powi(2);
            sum += (x * y * z).powi(2) / (h2 * h2);
            weight += 1.0;
        }
    }
    close("R1 R2", b.mean_curvature_product_m2(), sum / weight, 0.012);
}
