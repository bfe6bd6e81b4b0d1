//! Casting, pauses, near field and noise.

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

/// Density of air-free water, kg/m3: Kell (1975), J. Chem. Eng. Data 20:97 (from memory).
fn kell(t: f64) -> f64 {
    let top = 999.83952
        + t * (16.945176
            + t * (-7.9870401e-3 + t * (-46.170461e-6 + t * (105.56302e-9 - t * 280.54253e-12))));
    top / (1.0 + 16.879850e-3 * t)
}

#[test]
fn pauses_drift_as_computed_elsewhere() {
    // Small differences of large densities lose digits.
    const FIVE_DIGITS: f64 = 2e-5;
    for row in table("pause_drift") {
        let (tuned_at, now) = (row.num("T_neutral_C"), row.num("T_water_C"));
        let bait = drift::Tuned {
            volume_m3: row.num("vol_cm3") * 1e-6,
            water_density_kg_m3: kell(tuned_at),
            temperature_c: tuned_at,
            expansion_per_k: row.num("body_alpha_1e-6_per_K") * 1e-6,
        };
        let force = bait.sinking_force_n(kell(now), now);
        close("force, mN", force * 1e3, row.num("net_sink_force_mN"), FIVE_DIGITS);
        let v = drift::terminal_speed_m_s(force, kell(now), row.num("CD"), row.num("broadside_area_m2"));
        close("speed, cm/s", v * 100.0, row.num("terminal_sink_cmps"), FIVE_DIGITS);
        let tau = drift::settling_time_s(bait.mass_kg(), force, v, 1.0);
        if row.num("time_const_s") > 0.0 {
            close("time", tau, row.num("time_const_s"), FIVE_DIGITS);
        }
        // The drift is the integral of the speed (trapezium rule).
        let n = 5000;
        let h = 5.0 / n as f64;
        let sum: f64 = (0..n)
            .map(|i| i as f64 * h)
            .map(|t| 0.5 * h * (drift::speed_m_s(v, tau, t) + drift::speed_m_s(v, tau, t + h)))
            .sum();
        close("drift", drift::drift_m(v, tau, 5.0), sum, 1e-6);
    }
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
    for row in table("shallow_cutoff") {
        let h = row.num("depth_m");
        let rigid = sound::cutoff_hz(h, 1480.0, f64::INFINITY);
        close("rigid", rigid, row.num("fc_rigid_Hz"), SIX_DIGITS);
        close("sand", sound::cutoff_hz(h, 1480.0, 1650.0), row.num("fc_sand_cb1650_Hz"), SIX_DIGITS);
    }
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
            let level = source_db - sound::spreading_loss_db(range, water_depth_m);
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
