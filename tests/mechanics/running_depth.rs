//! Depth of a retrieve: against continuous equations, another implementation.

use super::*;

/// 210 combinations of bait, line, cast, speed and rod tip.
#[test]
fn greatest_depth_matches_the_grid() {
    for row in table("zmax_grid") {
        let l = thread(row.text("line"), row.num("d_mm"));
        let r = retrieve(row.num("cast_m"), row.num("U_mps"), row.num("tip_height_m"));
        let room = match row.text("line") {
            _ if r.speed_m_s < 0.5 => CUTTING_AT_A_CRAWL,
            "fluoro" => CUTTING_HEAVY,
            _ => CUTTING,
        };
        let what = format!("{:?}", row.0);
        let path = path(row.text("bait"), &l, &r);
        close(&what, path.max_depth_m(), row.num("zmax_m"), room);
        // The table stops short of the tip and counts points.
        let share = path.share_within_of_max(0.3048) * r.cast_m / (r.cast_m - r.rod_tip_m - 0.3);
        assert!((share - row.num("share_within_1ft")).abs() < 0.02, "share {share}: {what}");
        for (got, column) in [
            (path.reeled_to_max_m(), "line_reeled_to_max_m"),
            (path.reeled_to_share_of_max_m(0.9), "line_reeled_to_90pct_m"),
        ] {
            // Their figure is that of the next whole step, 0.6 % of the cast, of a slightly different path.
            assert!((got - row.num(column)).abs() < 0.025 * r.cast_m, "{column} {got}: {what}");
        }
    }
}

/// The same equations without any cutting, by a library's adaptive integrators.
#[test]
fn greatest_depth_matches_the_continuous_equations() {
    /// The library's tolerance, and the straight piece between its output points.
    const CONTINUOUS: f64 = 1e-4;
    /// Twelve pieces and one step a knot.
    const USUAL: f64 = 4e-3;
    let fine = Detail { steps_per_knot: 3, pieces: 100, constant_drag: None };
    for row in table("zmax_continuous") {
        let l = thread(row.text("line"), row.num("d_mm"));
        let r = retrieve(row.num("cast_m"), row.num("U_mps"), row.num("tip_height_m"));
        let p = pull(row.text("bait"));
        let what = format!("{:?}", row.0);
        let exact = row.num("zmax_m");
        let solved = Path::solve(&r, &p, &l, fine).expect("fine");
        close(&what, solved.max_depth_m(), exact, CONTINUOUS);
        let at = solved.reeled_to_max_m() - row.num("line_reeled_to_max_m");
        assert!(at.abs() < 0.02 * r.cast_m, "deepest {at} m apart: {what}");
        let quick = Path::solve(&r, &p, &l, Detail::default()).expect("usual");
        close(&what, quick.max_depth_m(), exact, USUAL);
    }
}

#[test]
fn greatest_depth_answers_to_each_input_as_the_continuous_equations_do() {
    /// The library's tolerance and a cut into a hundred pieces.
    const FINE: f64 = 3e-4;
    /// The usual cut; worst for a heavy line at a crawl.
    const USUAL: f64 = 4e-3;
    let others: HashMap<(String, String), f64> = table("zmax_sensitivity")
        .iter()
        .map(|r| ((r.text("bait").into(), r.text("change").into()), r.num("zmax_m")))
        .collect();
    let base = retrieve(27.0, 0.8, 0.3);
    let mut tested = 0;
    for row in table("sensitivity_continuous") {
        let name = row.text("bait");
        let (mut r, mut b, mut c, mut constant_drag) = (base, body(name), COEFFICIENTS, None);
        let change = row.text("change");
        let (line, rest) = match change.strip_prefix("mono ") {
            Some(rest) => (thread("mono", 0.28), rest),
            None => (thread("fluoro", 0.28), change),
        };
        let value = |key: &str| rest.strip_prefix(key).and_then(|v| v.parse::<f64>().ok());
        if let Some(v) = value("U=") {
            r.speed_m_s = v;
        } else if let Some(v) = value("tip_height=") {
            r.rod_tip_m = v;
        } else if let Some(v) = value("Cf=") {
            r.friction = v;
        } else if let Some(v) = value("Cd_const=") {
            constant_drag = Some(v);
        } else if let Some(v) = value("CD_body=") {
            c.body_drag = v;
        } else if let Some(v) = value("lip_incidence") {
            b.lip_incidence_deg += v;
        } else if let Some(v) = value("net_buoyancy_N=") {
            b.buoyancy_n = v;
        } else if rest.starts_with("nu=1.57e-6") {
            r.viscosity_m2_s = 1.57e-6;
        } else if rest.starts_with("nu=0.80e-6") {
            r.viscosity_m2_s = 0.80e-6;
        } else {
            assert_eq!(rest, "base");
        }
        let what = format!("{name}, {change}");
        let solve =
            |detail| Path::solve(&r, &b.pull(&c), &line, detail).expect("a usual retrieve").max_depth_m();
        let fine = solve(Detail { steps_per_knot: 3, pieces: 100, constant_drag });
        close(&what, fine, row.num("zmax_m"), FINE);
        let usual = solve(Detail { constant_drag, ..Detail::default() });
        close(&what, usual, row.num("zmax_m"), USUAL);
        let other = others[&(name.to_string(), change.to_string())];
        let crawl = ["U=0.3", "U=0.5", "net_buoyancy_N=0.020"].iter().any(|c| change.ends_with(c));
        close(&what, usual, other, if crawl { CUTTING_AT_A_CRAWL } else { CUTTING_HEAVY });
        tested += 1;
    }
    assert_eq!(tested, 90);
}

#[test]
fn the_whole_path_matches() {
    /// In units of the greatest depth: a straight-line table where the path bends, and twelve pieces.
    const CONTINUOUS: f64 = 4e-3;
    let fine = Detail { steps_per_knot: 3, pieces: 100, constant_drag: None };
    for row in table("path_continuous") {
        let l = thread(row.text("line"), row.num("d_mm"));
        let r = retrieve(row.num("cast_m"), row.num("U_mps"), row.num("tip_height_m"));
        let reeled = row.num("line_reeled_m");
        for detail in [Detail::default(), fine] {
            let p = Path::solve(&r, &pull(row.text("bait")), &l, detail).expect("path");
            let miss = (p.depth_at_reeled(reeled) - row.num("depth_m")).abs() / p.max_depth_m();
            assert!(miss < CONTINUOUS, "{:?}: {miss}", row.0);
            close("by fraction", p.depth_at_fraction(reeled / r.cast_m), p.depth_at_reeled(reeled), 1e-12);
        }
    }
    let l = thread("fluoro", 0.28);
    for row in table("depth_profiles") {
        let p = path(row.text("bait"), &l, &retrieve(row.num("cast_m"), 0.8, 0.3));
        let miss = (p.depth_at_reeled(row.num("line_reeled_m")) - row.num("depth_m")).abs();
        // The other implementation's cutting, and its coarse steps in the last two metres.
        let room = if row.num("line_reeled_m") <= 24.0 { CUTTING_HEAVY } else { 2.0 * CUTTING_HEAVY };
        assert!(miss < room * p.max_depth_m(), "{:?}: {miss}", row.0);
    }
}
