//! Depth of a retrieve: another simulation, what hardly matters, refusals and the way back from a wanted depth.

use super::*;

/// A transient simulation with the line cut into elastic pieces that slide through the water: other
/// equations of motion, same drag laws. It runs 0.5-2.8 % shallower than the pivoting line.
#[test]
fn the_pivoting_line_agrees_with_a_transient_simulation() {
    for row in table("lumped_vs_fast") {
        let l = thread(row.text("line"), row.num("d_mm"));
        let p = path(row.text("bait"), &l, &retrieve(row.num("cast_m"), 0.8, 0.3));
        close(row.text("bait"), p.max_depth_m(), row.num("zmax_lumped_m"), 0.03);
        let out_at_max = row.num("cast_m") - p.reeled_to_max_m();
        assert!((out_at_max - row.num("line_out_at_max_lumped_m")).abs() < 1.5, "deepest at {out_at_max}");
    }
}

/// Drag, down-lift and line drag all go with the square of the speed, so a neutral bait on nylon
/// (almost neutral itself) runs the same path at any speed, but for the line's drag coefficient:
/// -4 to +9 % between 0.6 and 1.6 m/s against 0.8 m/s.
#[test]
fn speed_hardly_matters_on_nylon() {
    let l = thread("mono", 0.28);
    for name in BAITS {
        let at = |u: f64| path(name, &l, &retrieve(27.0, u, 0.3)).max_depth_m();
        let base = at(0.8);
        for u in [0.6, 0.7, 1.0, 1.2, 1.4, 1.6] {
            let ratio = at(u) / base;
            assert!((0.96..1.09).contains(&ratio), "{name} at {u} m/s runs {ratio} of its depth");
        }
    }
}

#[test]
fn a_retrieve_runs_shallower_than_a_tow() {
    let l = thread("fluoro", 0.28);
    for row in table("trolling_depth") {
        if row.num("line_out_m") == 27.0 {
            let z = path(row.text("bait"), &l, &retrieve(27.0, 0.8, 0.3)).max_depth_m();
            assert!(z < 0.7 * row.num("depth_m_at_0.8mps_0.28mm_fluoro"));
        }
    }
}

#[test]
fn a_bait_that_floats_too_hard_stays_up() {
    let p = Pull { buoyancy_n: 0.5, ..pull("medium_std_lip") };
    let path = Path::solve(&retrieve(27.0, 0.3, 0.3), &p, &thread("mono", 0.28), Detail::default());
    let path = path.expect("a cork");
    assert_eq!(path.max_depth_m(), 0.0);
    assert_eq!(path.share_within_of_max(0.1), 1.0);
    assert!(path.scaled_to(2.0).is_err(), "no factor takes the surface down");
}

#[test]
fn a_given_running_depth_keeps_the_shape_of_the_retrieve() {
    let path = path("medium_std_lip", &thread("fluoro", 0.28), &retrieve(27.0, 0.8, 0.3));
    let deeper = path.scaled_to(2.0 * path.max_depth_m()).expect("twice as deep");
    assert_eq!(deeper.reeled_to_max_m(), path.reeled_to_max_m());
    for ((r, d), (s, e)) in path.points().zip(deeper.points()) {
        assert_eq!(r, s);
        assert!((e - 2.0 * d).abs() < 1e-12, "{e} against twice {d} at {r} m");
    }
    assert!(path.scaled_to(30.0).is_err(), "deeper than the line is long");
}

#[test]
fn finer_steps_change_next_to_nothing() {
    for (name, line) in [("medium_std_lip", "fluoro"), ("large_deep_lip", "mono")] {
        let (l, r) = (thread(line, 0.28), retrieve(27.0, 0.8, 0.3));
        let usual = path(name, &l, &r).max_depth_m();
        let fine = Path::solve(&r, &pull(name), &l, Detail { steps_per_knot: 20, ..Detail::default() })
            .expect("fine");
        close("steps", usual, fine.max_depth_m(), 1e-3);
        let cut = Path::solve(&r, &pull(name), &l, Detail { pieces: 240, ..Detail::default() }).expect("cut");
        close("pieces", usual, cut.max_depth_m(), 3e-3);
    }
}

#[test]
fn impossible_retrieves_are_refused_with_advice() {
    let (l, p) = (thread("mono", 0.28), pull("medium_std_lip"));
    let good = retrieve(27.0, 0.8, 0.3);
    let bad = [
        Retrieve { cast_m: 0.0, ..good },
        Retrieve { cast_m: f64::NAN, ..good },
        Retrieve { speed_m_s: -0.8, ..good },
        Retrieve { speed_m_s: 0.0, ..good },
        Retrieve { rod_tip_m: 27.0, ..good },
        Retrieve { rod_tip_m: -1.0, ..good },
        Retrieve { viscosity_m2_s: 0.0, ..good },
        Retrieve { water_density_kg_m3: f64::INFINITY, ..good },
    ];
    for r in bad {
        let refusal = Path::solve(&r, &p, &l, Detail::default()).expect_err("refused");
        assert!(refusal.to_string().contains(": "), "no advice in {refusal}");
    }
    assert!(matches!(
        Path::solve(&Retrieve { rod_tip_m: 30.0, ..good }, &p, &l, Detail::default()),
        Err(Refusal::TipBeyondCast { .. })
    ));
    let inches = Line { diameter_m: 0.28, density_kg_m3: 1140.0 };
    assert!(Path::solve(&good, &p, &inches, Detail::default()).is_err());
    assert!(Body { length_m: -1.0, ..body("medium_std_lip") }.check().is_err());
    for name in BAITS {
        body(name).check().expect("a real bait");
    }
}

#[test]
fn the_inverse_comes_back_to_the_depth() {
    let (r, l, p) = (retrieve(27.0, 0.8, 0.3), thread("fluoro", 0.28), pull("large_deep_lip"));
    let solve =
        |r: &Retrieve, l: &Line| Path::solve(r, &p, l, Detail::default()).expect("path").max_depth_m();
    for wanted in [2.6, 3.2] {
        for (change, range) in
            [(Change::Diameter, (1e-4, 6e-4)), (Change::Cast, (10.0, 60.0)), (Change::RodTip, (0.0, 2.5))]
        {
            match (change, reach(wanted, change, range, &r, &p, &l).expect("tackle")) {
                (Change::Diameter, Reach::At(d)) => {
                    close("diameter", solve(&r, &Line { diameter_m: d, ..l }), wanted, 1e-4)
                }
                (Change::Cast, Reach::At(c)) => {
                    close("cast", solve(&Retrieve { cast_m: c, ..r }, &l), wanted, 1e-4)
                }
                (Change::RodTip, Reach::At(h)) => {
                    close("tip", solve(&Retrieve { rod_tip_m: h, ..r }, &l), wanted, 1e-3)
                }
                (Change::RodTip, Reach::TooDeepForIt { deepest_m }) => {
                    assert!(wanted > 3.0 && deepest_m < wanted, "tip at the water gives {deepest_m} m")
                }
                other => panic!("{other:?} for {wanted} m"),
            }
        }
    }
    let deep = reach(30.0, Change::Cast, (10.0, 60.0), &r, &p, &l).expect("tackle");
    assert!(matches!(deep, Reach::TooDeepForIt { deepest_m } if deepest_m < 6.0));
    let shallow = reach(0.1, Change::Cast, (10.0, 60.0), &r, &p, &l).expect("tackle");
    assert!(matches!(shallow, Reach::TooShallowForIt { shallowest_m } if shallowest_m > 1.0));
}
