//! What may be written after `--over`.

use callup::models::Models;
use callup::scenario::{Catalogue, Setting, SettingKind, paths};
use callup::study::axis::names::{WORDS, sweepable};
use callup::study::axis::{Axis, AxisError, MOST_STEPS, Values, Wish};
use proptest::prelude::*;
use std::sync::LazyLock;

static SETTINGS: LazyLock<Vec<Setting>> =
    LazyLock::new(|| paths(&Catalogue::of(&Models::embedded().expect("embedded"))));

const WISH: Wish = Wish { steps: 25, logarithmic: false };

fn axis(text: &str) -> Result<Axis, AxisError> {
    Axis::parse(text, WISH, &SETTINGS)
}

fn good(text: &str) -> Axis {
    axis(text).unwrap_or_else(|e| panic!("{text}: {e}; {}", e.help()))
}

fn bad(text: &str) -> (String, String) {
    match axis(text) {
        Ok(axis) => panic!("{text} was read as {axis:?}"),
        Err(e) => (e.to_string(), e.help()),
    }
}

#[test]
fn plain_words_stand_for_paths() {
    for (word, path) in [
        ("clarity", "water.secchi"),
        ("tint", "water.tint"),
        ("Depth", "fish.depth"),
        ("hour", "when.time"),
        ("cloud", "sky.cloud"),
        ("wind", "sky.wind"),
        ("temperature", "water.temperature"),
        ("phase", "fish.phase"),
        ("pressure", "fish.pressure"),
        ("forage", "forage.length"),
        ("bait length", "bait.length"),
        ("finish", "bait.finish"),
        ("rattle", "bait.sound"),
        ("sound", "bait.sound"),
        ("lip", "bait.lip"),
        ("line", "tackle.diameter"),
        ("cast", "tackle.cast"),
        ("pause", "tackle.pause"),
        ("rod-tip", "tackle.rod_tip"),
        ("rod tip", "tackle.rod_tip"),
        ("speed", "tackle.speed"),
        ("tackle.rod_tip", "tackle.rod_tip"),
    ] {
        assert_eq!(good(word).path, path, "{word}");
    }
    for (word, path) in WORDS {
        assert_eq!(good(word).path, *path, "{word}");
    }
}

#[test]
fn every_value_that_is_a_number_a_word_or_an_hour_can_be_an_axis() {
    for setting in SETTINGS.iter().filter(|s| sweepable(s)) {
        let axis = good(setting.path);
        assert!(axis.len() >= 2, "{}", setting.path);
        assert_eq!(good(&format!("{}=all", setting.path)), axis);
    }
    for path in ["title", "place.zone", "when.date", "box.use"] {
        let (what, help) = bad(path);
        assert!(what.contains("cannot be varied") && help.contains("--set"), "{what} {help}");
    }
}

#[test]
fn ranges_carry_units_which_one_end_may_lend() {
    let same = good("water.secchi=0.5 m..6 m:12");
    assert_eq!(good("water.secchi=0.5m..6m:12"), same);
    assert_eq!(good("clarity=0.5..6m:12"), same);
    assert_eq!(good("clarity=0.5m..6:12"), same);
    assert_eq!(good("clarity=50cm..6m:12log"), same);
    assert!(same.is_logarithmic());
    assert!(!good("clarity=0.5..6m:12lin").is_logarithmic());
    // 5 and 30 international feet.
    let feet = good("depth=5..30ft:6lin").numbers();
    assert!((feet[0] - 1.524).abs() < 1e-12 && (feet[5] - 9.144).abs() < 1e-12, "{feet:?}");
    // 50 and 77 F are 10 and 25 C exactly.
    let warm = good("temperature=50..77 F:4").numbers();
    assert!((warm[0] - 10.0).abs() < 1e-12 && (warm[1] - 15.0).abs() < 1e-12, "{warm:?}");
    for (text, must) in [
        ("clarity=0.5..6:12", "write \"0.5 m\""),
        ("clarity=0.5..6lb:12", "units"),
        ("clarity=0,5..6m:12", "decimal point"),
        ("clarity=0.5..60m:12", "keep to 0.05 m to 40 m"),
        ("cloud=0..1.5", "keep to 0 to 1"),
        ("cloud=much..1", "number"),
        ("clarity=", "--over \"water.secchi=0.3 m..10 m:12\""),
        ("clarity=...", "use one of the units"),
        ("clarity=murky", "--over"),
    ] {
        let (what, help) = bad(text);
        assert!(what.len() > 5 && help.contains(must), "{text}: {what}; {help}");
    }
}

#[test]
fn ranges_may_be_written_backwards_but_not_be_points() {
    assert_eq!(good("depth=9..1m:5lin"), good("depth=1..9m:5lin"));
    assert_eq!(good("depth=9..1m:5lin").numbers(), vec![1.0, 3.0, 5.0, 7.0, 9.0]);
    for text in ["depth=4m..4m:3", "depth=4m", "cloud=0.5", "tint=clay", "hour=7..7"] {
        let (what, help) = bad(text);
        assert!(what.contains("one value only") && help.contains("--set"), "{text}: {what} {help}");
    }
}

#[test]
fn steps_are_two_to_two_hundred() {
    assert_eq!(good("depth=1..9m").len(), WISH.steps);
    assert_eq!(good("depth=1..9m:200").len(), MOST_STEPS);
    assert_eq!(good("depth=1..9m:2").numbers(), vec![1.0, 9.0]);
    assert!(bad("depth=1..9m:201").1.contains(":200 or fewer"));
    assert!(bad("depth=1..9m:99999999999999999999999").1.contains("whole number"));
    for text in ["depth=1..9m:1", "depth=1..9m:0", "depth=1..9m:", "depth=1..9m:-3", "depth=1..9m:2.5"] {
        assert!(bad(text).1.contains(":12log"), "{text}");
    }
    assert_eq!(good("bait.trebles=0..3").numbers(), vec![0.0, 1.0, 2.0, 3.0]);
}

#[test]
fn equal_ratios_from_a_factor_of_eight_or_where_told() {
    assert!(!good("depth=1..7.9m").is_logarithmic());
    assert!(good("depth=1..8m").is_logarithmic());
    assert!(good("depth=1..3m:log").is_logarithmic());
    let log = Axis::parse("depth=1..3m", Wish { logarithmic: true, ..WISH }, &SETTINGS).expect("good");
    assert!(log.is_logarithmic());
    // No ratios of degrees Celsius, and none from zero.
    assert!(!good("temperature=4..32 C").is_logarithmic());
    assert!(!good("cloud=0..1").is_logarithmic());
    for text in ["temperature=4..32 C:12log", "cloud=0..1:12log", "hour=5..20:16log"] {
        assert!(bad(text).1.contains("lin"), "{text}");
    }
    let ratios = good("clarity=0.5..8m:5").numbers();
    // Rounding of an exponential and a logarithm.
    assert!(ratios.windows(2).all(|p| (p[1] / p[0] - 2.0).abs() < 1e-12), "{ratios:?}");
}

#[test]
fn words_are_all_or_some() {
    let words = |text: &str| match good(text).values {
        Values::Words(words) => words,
        other => panic!("{other:?}"),
    };
    assert_eq!(words("tint"), ["clear", "tea-stained", "algae-green", "clay"]);
    assert_eq!(words("tint = Clay, clear,clay"), ["clay", "clear"]);
    // The way to find a phase is no phase.
    assert_eq!(words("phase").len(), 6);
    assert_eq!(words("phase=from temperature,spawn").len(), 2);
    let (what, help) = bad("tint=clear,muddy");
    assert!(what.contains("muddy") && help.contains("algae-green"), "{what} {help}");
    bad("tint=");
    bad("tint=,");
}

#[test]
fn hours_are_numbers_or_clock_times() {
    assert_eq!(good("hour=5..20:16").numbers()[..3], [5.0, 6.0, 7.0]);
    assert_eq!(good("hour=5.5..20.5:16"), good("hour=05:30..20:30:16"));
    assert_eq!(good("hour=05:30..20:30").len(), WISH.steps);
    assert_eq!(good("hour=6..7:3").override_at(1), ("when.time".into(), "06:30:00".into()));
    for text in ["hour=5..24", "hour=-1..5", "hour=05:60..07:00", "hour=morning..noon", "hour=NaN..5"] {
        assert!(bad(text).1.contains("hour="), "{text}");
    }
}

#[test]
fn wrong_names_are_answered_with_near_ones_and_the_list() {
    let (what, help) = bad("clarrity=1..2m");
    assert!(what.contains("clarrity") && help.contains("did you mean clarity"), "{help}");
    assert!(bad("water.sechi=1..2m").1.contains("water.secchi"));
    assert!(bad("temprature").1.contains("water.temperature"));
    let (_, help) = bad("tide=1..2");
    assert!(help.contains("water.secchi") && help.contains("bait.finish"), "{help}");
    let (what, help) = bad("length=5..10cm");
    assert!(what.contains("several") && help.contains("fish.length") && help.contains("bait.length"));
    bad("");
    bad("=");
}

/// A setting that is a number, with two values within its limits.
fn numeric_range() -> impl Strategy<Value = (usize, f64, f64, usize, bool)> {
    (0..SETTINGS.len(), 0.0..1.0f64, 0.0..1.0f64, 2..=MOST_STEPS, any::<bool>())
}

proptest! {
    /// What is written is read back to the same bits.
    #[test]
    fn axes_survive_writing_and_reading((s, a, b, steps, log) in numeric_range()) {
        let setting = &SETTINGS[s];
        let SettingKind::Number { limits, .. } = setting.kind else { return Ok(()) };
        let at = |u: f64| crate::common::written(setting, limits.0 + u * (limits.1 - limits.0));
        let text = format!("{}={}..{}:{steps}{}", setting.path, at(a), at(b), if log { "log" } else { "" });
        if let Ok(axis) = axis(&text) {
            prop_assert_eq!(axis.len(), if setting.path == "bait.trebles" { axis.len() } else { steps });
            prop_assert!(axis.numbers().windows(2).all(|p| p[0] < p[1]));
            prop_assert_eq!(&good(&axis.write()), &axis);
        } else {
            // Only a range without ratios, or one without two whole numbers, may be refused.
            prop_assert!(log || setting.path == "bait.trebles", "{}", text);
        }
    }

    #[test]
    fn hours_survive_writing_and_reading(a in 0.0..23.9f64, b in 0.0..23.9f64, steps in 2..=MOST_STEPS) {
        if let Ok(axis) = axis(&format!("hour={a}..{b}:{steps}")) {
            prop_assert_eq!(&good(&axis.write()), &axis);
        }
    }

    #[test]
    fn no_text_makes_it_panic(text in "\\PC{0,60}") {
        let _ = axis(&text);
    }

    #[test]
    fn no_text_behind_a_known_name_makes_it_panic(s in 0..SETTINGS.len(), text in "[0-9.:,eE+ -/a-z°µ'\"]{0,24}") {
        let name = SETTINGS[s].path;
        if let Err(e) = axis(&format!("{name}={text}")) {
            prop_assert!(!e.to_string().is_empty() && !e.help().is_empty());
        }
    }

    /// Whatever is read lies within the limits of a scenario.
    #[test]
    fn what_is_read_is_within_limits(s in 0..SETTINGS.len(), a in -1e3..1e3f64, b in -1e3..1e3f64) {
        let setting = &SETTINGS[s];
        let SettingKind::Number { limits, .. } = setting.kind else { return Ok(()) };
        if let Ok(axis) = axis(&format!("{}={}..{}", setting.path, crate::common::written(setting, a), crate::common::written(setting, b))) {
            prop_assert!(axis.numbers().iter().all(|v| limits.0 <= *v && *v <= limits.1));
        }
    }
}
