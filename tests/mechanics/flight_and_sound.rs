//! Casting, near field and noise.

use super::*;

#[test]
fn casts_fly_as_far_as_computed_elsewhere() {
    for row in table("cast_distance") {
        let cast = Cast {
            mass_kg: row.num("mass_kg"),
            drag_area_m2: row.num("CdA_m2"),
            speed_m_s: row.num("v0_mps"),
            elevation_deg: row.num("angle_deg"),
            height_m: row.num("release_h_m"),
            tail_wind_m_s: row.num("wind_mps_tail_positive"),
            air_density_kg_m3: 1.204,
            line_kg_m: row.num("line_mu_kgpm"),
            friction_n: row.num("friction_N"),
        };
        let what = format!("{:?}", row.0);
        let landing = cast.fly().expect("a cast");
        close(&what, landing.range_m, row.num("range_m"), SIX_DIGITS);
        close(&what, landing.time_s, row.num("time_s"), SIX_DIGITS);
        // The table has the highest of the integrator's output points, which is not quite the crest.
        close(&what, landing.apex_m, row.num("apex_m"), 5e-4);
        assert!(landing.apex_m >= row.num("apex_m") * (1.0 - SIX_DIGITS), "{what}");
        close(&what, landing.impact_m_s, row.num("impact_speed_mps"), SIX_DIGITS);
    }
}

#[test]
fn a_bait_hung_up_by_friction_is_refused() {
    let cast = Cast {
        mass_kg: 0.001,
        drag_area_m2: 1e-4,
        speed_m_s: 25.0,
        elevation_deg: 40.0,
        height_m: 2.0,
        tail_wind_m_s: 0.0,
        air_density_kg_m3: 1.204,
        line_kg_m: 7e-5,
        friction_n: 1.0,
    };
    assert!(matches!(cast.fly(), Err(Refusal::Outside { .. })));
    assert!(Cast { friction_n: 0.008, ..cast }.fly().is_ok());
    assert!(Cast { mass_kg: 0.0, ..cast }.fly().is_err());
}

#[test]
fn wind_noise_and_near_field_match() {
    for row in table("ambient_noise") {
        let got = sound::wind_noise_db(row.num("f_Hz"), row.num("wind_mps"));
        close("noise", got, row.num("NL_Coates_dB_re_1uPa2_per_Hz"), SIX_DIGITS);
    }
    for row in table("nearfield_range") {
        let a = sound::equivalent_radius_m(row.num("vol_cm3") * 1e-6);
        close("radius", a, row.num("a_eq_m"), SIX_DIGITS);
        let r = sound::near_field_range_m(a, row.num("source_accel_mps2"), row.num("threshold_mps2"));
        close("range", r, row.num("range_m_on_axis"), SIX_DIGITS);
    }
}

/// Loss of level from 1 m: spherical as far as the water is deep, cylindrical beyond.
fn spreading_loss_db(range_m: f64, water_depth_m: f64) -> f64 {
    let near = range_m.min(water_depth_m);
    20.0 * near.log10() + 10.0 * (range_m / near).log10()
}

#[test]
fn the_audible_range_undoes_the_spreading() {
    for source_db in [80.0, 115.0, 130.0, 160.0] {
        for water_depth_m in [0.8, 3.0, 12.0] {
            let r = sound::Rattle {
                source_db,
                threshold_db: 110.0,
                noise_db: 42.0,
                critical_ratio_db: 24.0,
                water_depth_m,
            };
            let range = r.audible_range_m();
            let level = source_db - spreading_loss_db(range, water_depth_m);
            close("level at the range", level, r.needed_db(), 1e-12);
        }
    }
    let noisy = sound::Rattle {
        source_db: 130.0,
        threshold_db: 100.0,
        noise_db: 91.0,
        critical_ratio_db: 24.0,
        water_depth_m: 10.0,
    };
    // 130 - max(100, 115) = 15 dB: 10^(15/20) m.
    close("masked", noisy.audible_range_m(), 5.623413, 1e-6);
}
