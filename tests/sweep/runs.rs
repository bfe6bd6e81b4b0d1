//! Sweeps as they are worked out: against `odds`, stopped, kept and gone on with.

use callup::engine::Control;
use callup::engine::{Budget, Strikes};
use callup::models::Models;
use callup::scenario::{self, Catalogue, library, paths};
use callup::study::axis::{Axis, Wish};
use callup::study::odds::odds;
use callup::study::sweep::file::FileError;
use callup::study::sweep::order::interleaved;
use callup::study::sweep::reading::{Answer, read};
use callup::study::sweep::{Cube, Request, Sweep, SweepError};
use callup::world::Prepared;
use std::sync::LazyLock;

static MODELS: LazyLock<Models> = LazyLock::new(|| Models::embedded().expect("embedded"));

/// Small enough for a test: 8 scrambles of one world each.
const SMALL: Budget = Budget { seed: 5, worlds: 8, passes: 64, fixed: false };

fn source() -> &'static str {
    library::get(library::DEFAULT).expect("embedded")
}

fn axes(over: &[&str]) -> Vec<Axis> {
    let settings = paths(&Catalogue::of(&MODELS));
    let wish = Wish { steps: 5, logarithmic: false };
    over.iter().map(|o| Axis::parse(o, wish, &settings).unwrap_or_else(|e| panic!("{e}"))).collect()
}

fn request<'a>(over: &[&str], overrides: &'a [(String, String)], baits: &'a [String]) -> Request<'a> {
    Request {
        source: source(),
        file: "main-lake-point.toml",
        overrides,
        models: &MODELS,
        axes: axes(over),
        baits,
        budget: SMALL,
    }
}

fn sweep(over: &[&str]) -> Sweep<'static> {
    Sweep::prepare(request(over, &[], &[])).unwrap_or_else(|e| panic!("{e}: {}", e.help()))
}

fn whole(sweep: &Sweep) -> Cube {
    let mut cube = sweep.cube();
    sweep.run(&mut cube, &Control::default()).expect("runs");
    assert!(cube.is_complete());
    cube
}

/// Long pauses cost casts: strikes in an hour by a cast of the scenario, 27 m, that passes one such fish.
#[test]
fn slowness_costs_casts() {
    let sweep = sweep(&["tackle.pause=0.1..0.9:3lin"]);
    let cube = whole(&sweep);
    let started = scenario::load(source(), "", &[], &Catalogue::of(&MODELS)).expect("sound").scenario;
    let hours = sweep.hours(&started).expect("possible").expect("pauses differ");
    let answer = Answer::of(cube, None).with_hours(Some(&hours));
    let hour = answer.by_the_hour.as_ref().expect("hours");
    assert_eq!(hour.one_pass_in_m, Some(27.0));
    for (cell, pause) in [0.1, 0.5, 0.9].into_iter().enumerate() {
        let casts = 3600.0 / (27.0 / (0.8 * (1.0 - pause)) + 12.0);
        let per_hour = hour.strikes[cell].as_ref().expect("worked out");
        for (e, s) in per_hour.iter().zip(&answer.readings[cell].as_ref().expect("worked out").strikes) {
            assert!((e.point - casts * s.point / 100.0).abs() < 1e-9);
        }
    }
    // Nothing that changes the pace: no hours.
    assert_eq!(self::sweep(&["clarity=1..5m:3"]).hours(&started).expect("possible"), None);
}

/// Common random numbers: a cell holds what `odds` gives for its conditions, bit for bit.
#[test]
fn a_cell_is_what_odds_gives() {
    for (over, cells) in [
        (&["clarity=0.5..6m:4", "depth=1..9m:3lin"][..], [0, 6, 11]),
        (&["hour=5..20:4"], [0, 1, 3]),
        (&["bait.length=60..140mm:3"], [0, 1, 2]),
        (&["tackle.cast=15..40m:3", "temperature=8..24C:2"], [0, 2, 5]),
        (&["tint", "rain"], [0, 4, 11]),
    ] {
        let sweep = sweep(over);
        let cube = whole(&sweep);
        for cell in cells {
            let overrides: Vec<(String, String)> =
                cube.axes.iter().zip(cube.places(cell)).map(|(a, i)| a.override_at(i)).collect();
            let checked =
                scenario::load(source(), "x", &overrides, &Catalogue::of(&MODELS)).expect("possible");
            let setting = Prepared::new(&checked.scenario, &MODELS).expect("setting");
            let settings = std::slice::from_ref(&setting);
            let table = Strikes::of(&MODELS, settings, SMALL, &Control::default()).expect("table");
            let expected = odds(&MODELS, &setting, &table, 0, SMALL.seed);
            let reading = read(&cube, cell).expect("worked out");
            assert_eq!(expected.baits.len(), reading.strikes.len(), "{over:?}");
            for (b, bait) in expected.baits.iter().enumerate() {
                assert_eq!(bait.strikes, reading.strikes[b], "{over:?} {overrides:?} {}", bait.name);
                assert_eq!(bait.leads, reading.leads[b]);
            }
        }
    }
}

#[test]
fn a_resumed_sweep_gives_the_same_bits() {
    let sweep = sweep(&["clarity=0.5..6m:8", "depth=1..9m:6lin"]);
    let full = whole(&sweep);
    for kept in [0, 1, 33, 48] {
        let mut part = sweep.cube();
        for &cell in interleaved(&full.shape()).iter().take(kept) {
            part.cells[cell] = full.cells[cell].clone();
        }
        let mut back = sweep.read_bytes(&sweep.to_bytes(&part)).expect("readable");
        assert_eq!(back, part);
        sweep.run(&mut back, &Control::default()).expect("runs");
        // The bytes hold the bit patterns.
        assert!(sweep.to_bytes(&back) == sweep.to_bytes(&full), "{kept}");
    }
}

#[test]
fn a_stopped_sweep_keeps_whole_cells_spread_evenly() {
    let sweep = sweep(&["clarity=0.5..6m:30", "depth=1..9m:20lin"]);
    let (control, mut cube) = (Control::default(), sweep.cube());
    std::thread::scope(|scope| {
        scope.spawn(|| {
            while control.done() == 0 {
                std::thread::yield_now();
            }
            control.stop();
        });
        sweep.run(&mut cube, &control).expect("runs");
    });
    assert!(cube.done() < cube.cells.len(), "stopped too late to tell");
    let first: Vec<usize> = interleaved(&cube.shape()).into_iter().take(cube.done()).collect();
    assert!(first.iter().all(|&c| cube.cells[c].is_some()));
    // Asked to stop before it began, it does nothing.
    let mut empty = sweep.cube();
    sweep.run(&mut empty, &control).expect("runs");
    assert_eq!(empty.done(), 0);
}

#[test]
fn cells_not_worked_out_are_shown_as_their_nearest() {
    let sweep = sweep(&["clarity=0.5..6m:3lin", "depth=1..9m:3lin"]);
    let full = whole(&sweep);
    let mut part = sweep.cube();
    part.cells[0] = full.cells[0].clone();
    part.cells[8] = full.cells[8].clone();
    assert_eq!(part.nearest(1), Some(0));
    assert_eq!(part.nearest(5), Some(8));
    let answer = Answer::of(part, None);
    assert_eq!(answer.near(7), answer.readings[8].as_ref());
    assert_eq!(Answer::of(sweep.cube(), None).near(0), None);
}

#[test]
fn a_file_of_another_sweep_is_refused_by_name() {
    let over = ["clarity=0.5..6m:3", "depth=1..9m:2lin"];
    let first = sweep(&over);
    let bytes = first.to_bytes(&whole(&first));
    let set = [("sky.wind".to_owned(), "5 m/s".to_owned())];
    let two = ["70 mm".to_owned(), "150 mm".to_owned()];
    let text = format!("{}\n# changed\n", source());
    let mut models = MODELS.clone();
    models.parameters[0].default *= 1.001;
    let usual = || request(&over, &[], &[]);
    let budget = |b: Budget| Request { budget: b, ..usual() };
    for (other, must) in [
        (request(&["clarity=0.5..6m:4", "depth=1..9m:2lin"], &[], &[]), "axes"),
        (request(&over, &set, &[]), "values set none then, sky.wind=5 m/s now"),
        (request(&over, &[], &two), "baits"),
        (budget(Budget { seed: 6, ..SMALL }), "seed 5 then, 6 now"),
        (budget(Budget { worlds: 16, ..SMALL }), "worlds 8 then, 16 now"),
        (budget(Budget { passes: 128, ..SMALL }), "passes in each world 64 then, 128 now"),
        (budget(Budget { fixed: true, ..SMALL }), "assumptions drawn then, at their defaults now"),
        (Request { source: &text, ..usual() }, "scenario's text"),
        (Request { models: &models, ..usual() }, "assumptions are not the same"),
    ] {
        let other = Sweep::prepare(other).unwrap_or_else(|e| panic!("{must}: {e}"));
        match other.read_bytes(&bytes) {
            Err(e @ FileError::Another(_)) => assert!(e.to_string().contains(must), "{must}: {e}"),
            result => panic!("{must}: {result:?}"),
        }
    }
}

#[test]
fn a_damaged_file_is_refused() {
    let sweep = sweep(&["clarity=0.5..6m:3", "depth=1..9m:2lin"]);
    let bytes = sweep.to_bytes(&whole(&sweep));
    assert!(sweep.read_bytes(&bytes).is_ok());
    assert_eq!(sweep.read_bytes(b""), Err(FileError::NotASweep));
    assert_eq!(sweep.read_bytes(b"callup sweep 1\n"), Err(FileError::NotASweep));
    for cut in [20, bytes.len() / 2, bytes.len() - 1] {
        assert!(sweep.read_bytes(&bytes[..cut]).is_err(), "{cut}");
    }
    // Any bit turned in the numbers is found; steps of a prime reach all parts of the file.
    for at in (0..bytes.len()).step_by(97) {
        let mut broken = bytes.clone();
        broken[at] ^= 0x10;
        assert!(sweep.read_bytes(&broken).is_err(), "{at}");
    }
    let longer = [bytes.as_slice(), b"x"].concat();
    assert!(sweep.read_bytes(&longer).is_err());
}

#[test]
fn a_property_of_the_bait_merges_the_box() {
    let box_of = |names: &str| [("box.use".to_owned(), names.to_owned())];
    let set = box_of(
        "90 mm, deep lip, silent, pearl; 110 mm, deep lip, silent, pearl; 90 mm, deep lip, rattling, pearl",
    );
    let sweep = Sweep::prepare(request(&["bait.length=60..140mm:3"], &set, &[])).expect("possible");
    // The two that differ in length only are one bait; what is varied is not part of the names.
    assert_eq!(sweep.cube().baits, ["deep lip, silent, pearl", "deep lip, rattling, pearl"]);
    let set = box_of("90 mm, deep lip, silent, pearl");
    let alone = Sweep::prepare(request(&["finish", "rattle"], &set, &[])).expect("possible");
    assert_eq!(alone.cube().baits, ["90 mm, deep lip"]);
}

#[test]
fn some_baits_can_be_chosen() {
    let chosen = ["150 mm".to_owned(), "110 MM, standard lip, silent, pearl".to_owned()];
    let sweep = Sweep::prepare(request(&["clarity"], &[], &chosen)).expect("possible");
    assert_eq!(
        sweep.cube().baits,
        ["110 mm, standard lip, silent, pearl", "150 mm, deep lip, silent, pearl"]
    );
    for (name, must) in [("deep", "several baits"), ("spoon", "no bait"), ("", "no bait")] {
        let wished = [name.to_owned()];
        let error = Sweep::prepare(request(&["clarity"], &[], &wished)).expect_err("refused");
        assert!(error.to_string().contains(must), "{error}");
        assert!(error.help().contains("150 mm, deep lip, silent, pearl"), "{}", error.help());
    }
}

#[test]
fn impossible_sweeps_are_refused_with_a_remedy() {
    let refused = |over: &[&str]| Sweep::prepare(request(over, &[], &[])).expect_err("refused");
    assert!(matches!(refused(&[]), SweepError::Axes { count: 0 }));
    assert!(matches!(refused(&["depth", "hour", "tint"]), SweepError::Axes { count: 3 }));
    assert!(matches!(refused(&["depth", "fish depth"]), SweepError::Twice { path: "fish.depth" }));
    let cells = refused(&["clarity=1..5m:101", "depth=1..9m:100"]);
    assert!(matches!(cells, SweepError::TooManyCells { cells: 10_100 }), "{cells}");
    // The bottom lies at 12 m.
    match refused(&["depth=10..20m:11"]) {
        SweepError::Impossible { at, bad, of, faults } => {
            assert_eq!((at.as_str(), of), ("fish.depth = 13 m", 11));
            assert!(bad >= 8 && !faults.is_empty(), "{bad}");
        }
        other => panic!("{other}"),
    }
    let budget = Budget { worlds: 4096, ..SMALL };
    let large = Request { budget, ..request(&["clarity=1..5m:100", "depth=1..9m:100"], &[], &[]) };
    assert!(matches!(Sweep::prepare(large), Err(SweepError::TooLarge { .. })));
}
