//! Are posteriors as sure as they should be? Ranks of truths must be even.

use super::ranks::{Calibration, calibrate};
use super::toy::{Toy, open_pair, parameter};
use callup::engine::Budget;
use callup::engine::Control;
use callup::models::{Models, Spread};
use callup::scenario::{Catalogue, library, load};
use callup::study::learn::cells::{Base, Simulated, plan};
use callup::study::learn::counts::Counts;
use callup::study::learn::log::read;
use callup::study::learn::sampler::PlainDraws;
use callup::study::learn::surrogate::Pair;
use std::fmt::Write;

/// A right sampler fails at this for one quantity in 10 000; eight quantities make a false alarm in 1250 seeds.
const FALSE_ALARM: f64 = 1e-4;

/// Two baits, three conditions, six days, 330 casts.
fn casts() -> Counts {
    Counts::of([
        (0, 0, 40, 0),
        (0, 1, 40, 0),
        (1, 0, 30, 0),
        (1, 2, 30, 0),
        (2, 1, 50, 0),
        (3, 0, 20, 0),
        (3, 2, 60, 0),
        (4, 1, 30, 0),
        (5, 2, 30, 0),
    ])
}

fn toy() -> Toy<impl Fn(&[f64]) -> Vec<f64> + Sync> {
    let share = |x: f64| 1.0 / (1.0 + (-x).exp());
    Toy::new(6, move |z| {
        let level = -1.5 + 0.8 * z[0] + 0.3 * z[1] * z[1];
        vec![
            0.6 * share(level),
            0.6 * share(level + 0.7 * z[2]),
            // One of two mechanisms, as some of the model's unknowns are.
            0.6 * share(level + if z[3] < 0.0 { 0.9 * z[4] } else { -0.5 }),
        ]
    })
}

fn said(name: &str, outcome: &Calibration) -> String {
    let mut out = format!("{name}: {} logs fitted, {} refused\n", outcome.fitted, outcome.refused);
    for r in &outcome.ranks {
        writeln!(out, "{}: chi-square {:.1}, p {:.2e}, counts {:?}", r.name, r.chi_square(), r.p(), r.counts)
            .expect("text");
    }
    out
}

#[test]
fn ranks_of_truths_are_even() {
    let [per_cast, day_spread] = open_pair();
    let pair = Pair { per_cast: &per_cast, day_spread: &day_spread };
    let model = toy();
    let plain = PlainDraws::new(&model, 11, 512).unwrap();
    let outcome = calibrate(&model, &casts(), (pair, pair), &plain, &[0, 2, 3], (400, 11)).unwrap();
    println!("{}", said("toy", &outcome));
    // Refusing a log now and then is its right; were it often, the ranks would say nothing.
    assert!(outcome.refused <= 8, "{}", said("toy", &outcome));
    for ranks in &outcome.ranks {
        assert!(ranks.p() > FALSE_ALARM, "{}", said(&ranks.name, &outcome));
    }
}

/// The check can fail: a fit that takes passes per cast for known too well is found out.
#[test]
fn ranks_show_an_overconfident_fit_up() {
    let [per_cast, day_spread] = open_pair();
    let narrow = parameter("pass.per_cast", Spread::Lognormal, [0.2, 0.3, 0.45]);
    let (pair, truly) = (
        Pair { per_cast: &narrow, day_spread: &day_spread },
        Pair { per_cast: &per_cast, day_spread: &day_spread },
    );
    let model = toy();
    let plain = PlainDraws::new(&model, 12, 512).unwrap();
    let outcome = calibrate(&model, &casts(), (pair, truly), &plain, &[0, 2, 3], (100, 12)).unwrap();
    assert!(outcome.ranks[0].p() < FALSE_ALARM, "{}", said("narrow", &outcome));
}

/// A log of the shape of the shipped ones, over which truths are ranked with the simulator itself.
const LOG: &str = "date,time,bait,casts,strikes,secchi (m)\n\
    2026-04-11,07:30,\"90 mm, standard lip, silent, half-flash\",40,0,3.4\n\
    2026-04-11,08:30,\"110 mm, deep lip, rattling, mirror\",40,0,3.4\n\
    2026-04-12,07:30,\"90 mm, standard lip, silent, half-flash\",40,0,2\n\
    2026-04-12,08:30,\"110 mm, deep lip, rattling, mirror\",40,0,2\n\
    2026-04-18,07:00,\"90 mm, standard lip, silent, half-flash\",60,0,3.4\n\
    2026-04-19,07:00,\"110 mm, deep lip, rattling, mirror\",60,0,3.4\n";

/// The long run, by hand: `cargo test --release --test all learn:: -- --ignored --nocapture long_calibration`.
/// Its last outcome is kept in tests/reference/learn_calibration.txt.
#[test]
#[ignore = "ten minutes"]
fn long_calibration() {
    let models = Models::embedded().unwrap();
    let catalogue = Catalogue::of(&models);
    let source = library::get(library::DEFAULT).unwrap();
    let scenario = load(source, "default", &[], &catalogue).unwrap().scenario;
    let log = read(LOG, "log", &catalogue).unwrap();
    let base = Base { source, file: "default", overrides: &[], scenario: &scenario, models: &models };
    let plan = plan(&log, "log", base).unwrap();
    let budget = Budget { seed: 21, worlds: 1024, passes: 64, fixed: false };
    let control = Control::default();
    let model = Simulated::new(&plan, &models, budget, &control);
    let get = |name: &str| models.index(name).unwrap();
    let (a, s) = (get("pass.per_cast"), get("pass.day_spread"));
    let pair = Pair { per_cast: &models.parameters[a], day_spread: &models.parameters[s] };
    let plain = PlainDraws::new(&model, 21, 1024).unwrap();
    let unknowns = ["appetite.ready", "refuse.hazard", "sight.notice_rate", "rise.by_bladder"].map(get);
    let logs = std::env::var("CALLUP_CALIBRATION_LOGS").ok().and_then(|n| n.parse().ok()).unwrap_or(1000);
    let outcome = calibrate(&model, &plan.counts, (pair, pair), &plain, &unknowns, (logs, 21)).unwrap();
    println!("{}", said("simulator", &outcome));
    for ranks in &outcome.ranks {
        assert!(ranks.p() > FALSE_ALARM, "{}", ranks.name);
    }
}

/// How a log of 500 rows fares, by hand: `cargo test --release --test all learn:: -- --ignored --nocapture large_log`. The
/// strikes are made up by the simulator in worlds drawn from the prior; most such logs must be fitted.
#[test]
#[ignore = "minutes"]
fn large_logs_are_fitted() {
    let baits = [
        "90 mm, standard lip, silent, half-flash",
        "110 mm, deep lip, silent, half-flash",
        "110 mm, deep lip, rattling, mirror",
        "130 mm, deep lip, silent, half-flash",
    ];
    let mut text = "date,time,bait,casts,strikes,clarity (m)\n".to_owned();
    for row in 0..500 {
        let (day, hour) = (row / 8, 6 + row % 8);
        let secchi = 2.0 + 0.1 * ((7 * row) % 20) as f64;
        let date = format!("2026-{:02}-{:02}", 3 + day / 28, 1 + day % 28);
        let bait = baits[(row + day) % 4];
        writeln!(text, "{date},{hour:02}:{:02},\"{bait}\",12,0,{secchi:.1}", (13 * row) % 60).expect("text");
    }
    let models = Models::embedded().unwrap();
    let catalogue = Catalogue::of(&models);
    let source = library::get(library::DEFAULT).unwrap();
    let scenario = load(source, "default", &[], &catalogue).unwrap().scenario;
    let log = read(&text, "log", &catalogue).unwrap();
    let base = Base { source, file: "default", overrides: &[], scenario: &scenario, models: &models };
    let plan = plan(&log, "log", base).unwrap();
    let draws = callup::study::learn::usual_draws(plan.cells.len());
    let budget = Budget { seed: 31, worlds: draws, passes: callup::study::learn::USUAL_POINTS, fixed: false };
    let control = Control::default();
    let model = Simulated::new(&plan, &models, budget, &control);
    let get = |name: &str| models.index(name).unwrap();
    let (a, s) = (get("pass.per_cast"), get("pass.day_spread"));
    let pair = Pair { per_cast: &models.parameters[a], day_spread: &models.parameters[s] };
    let start = std::time::Instant::now();
    let plain = PlainDraws::new(&model, 31, draws).unwrap();
    println!("{} cells, {draws} plain worlds in {:?}", plan.cells.len(), start.elapsed());
    let logs = 4;
    let outcome = calibrate(&model, &plan.counts, (pair, pair), &plain, &[a], (logs, 31)).unwrap();
    println!("{} of {logs} fitted, {} refused, {:?}", outcome.fitted, outcome.refused, start.elapsed());
    assert!(outcome.refused <= 1);
}
