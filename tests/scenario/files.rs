//! The scenarios that come with the program, and what a good file becomes.

use callup::scenario::{Clarity, Lip, PhaseChoice, Pressure, Sound, Species, library, load};

use super::catalogue::{GOOD, catalogue, check, checked, good_with, render};

#[test]
fn every_scenario_of_the_library_loads_without_fault_or_warning() {
    assert!(library::list().len() >= 9);
    for (name, about) in library::list() {
        let source = library::get(name).expect("a listed scenario exists");
        let loaded = load(source, name, &[], &catalogue());
        let loaded = loaded.unwrap_or_else(|faults| panic!("{name}:\n{}", render(&faults, source)));
        assert!(loaded.warnings.is_empty(), "{name}:\n{}", render(&loaded.warnings, source));
        assert!(loaded.scenario.title.ends_with("(invented)"), "{name} must say that it is invented");
        assert!(!about.is_empty() && source.starts_with('#'), "{name} must say what it shows");
    }
}

#[test]
fn the_template_loads_without_fault_or_warning() {
    let loaded = checked(library::TEMPLATE);
    assert!(loaded.warnings.is_empty(), "{}", render(&loaded.warnings, library::TEMPLATE));
    let own = loaded.scenario.baits.last().expect("a bait");
    assert_eq!(own.name, "the old one");
    assert_eq!(own.finish, "bone");
    // 3 3/4 in = 95.25 mm exactly.
    assert!((own.length_m - 0.09525).abs() < 1e-15);
}

#[test]
fn the_default_comes_first_and_holds_twelve_baits() {
    assert_eq!(library::list()[0].0, library::DEFAULT);
    let loaded = checked(library::get(library::DEFAULT).expect("the default exists"));
    assert_eq!(loaded.scenario.baits.len(), 12);
    assert_eq!(library::get("Main-Lake-Point.toml"), library::get(library::DEFAULT));
    assert_eq!(library::get("no-such-lake"), None);
    assert_eq!(library::near("main-lake-piont").first(), Some(&"main-lake-point"));
}

#[test]
fn a_good_file_becomes_si() {
    let scenario = checked(GOOD).scenario;
    assert_eq!(scenario.title, "Test water");
    assert_eq!(scenario.place.zone, "America/Chicago");
    // 15 international feet.
    assert_eq!(scenario.fish.depth_m, 4.572);
    assert_eq!(scenario.fish.species, Species::Largemouth);
    assert_eq!(scenario.fish.phase, PhaseChoice::FromTemperature);
    assert_eq!(scenario.fish.pressure, Pressure::Light);
    assert_eq!(scenario.water.clarity, Clarity::Secchi(3.4));
    // 0.28 / 1000 is rounded twice, and may differ from 0.00028 in the last bit.
    assert!((scenario.tackle.diameter_m - 0.00028).abs() < 1e-18);
    // 2026-04-14 12:30 UTC by `date -u -d 2026-04-14T12:30Z +%s`.
    assert_eq!(scenario.when.unix_s, 1_776_169_800.0);
    assert_eq!(scenario.when.utc_offset_s, -5 * 3600);
    let [plain, mirror] = scenario.baits.as_slice() else { panic!("two baits") };
    assert_eq!((plain.name.as_str(), plain.finish.as_str()), ("90 mm, standard lip, silent", "pearl"));
    assert_eq!(mirror.name, "110 mm, deep lip, rattling, mirror");
    assert_eq!((mirror.lip, mirror.sound, mirror.finish.as_str()), (Lip::Deep, Sound::Rattling, "mirror"));
}

#[test]
fn strength_gives_the_tabled_diameters() {
    // Labels in pounds against diameters in mm, computed in Python from d = sqrt(4 F / (pi sigma)) with
    // 720, 680 and 1500 MPa; six digits are given, hence the tolerance.
    const LAST_DIGIT_MM: f64 = 1e-6;
    for (line, pounds, millimetres) in [
        ("nylon", 8, 0.250857),
        ("nylon", 12, 0.307236),
        ("fluorocarbon", 10, 0.288598),
        ("fluorocarbon", 15, 0.353459),
        ("braid", 20, 0.274801),
    ] {
        let source = good_with("line = \"fluorocarbon\"", &format!("line = \"{line}\""))
            .replace("diameter = \"0.28 mm\"", &format!("strength = \"{pounds} lb\""));
        let diameter_mm = checked(&source).scenario.tackle.diameter_m * 1000.0;
        assert!((diameter_mm - millimetres).abs() < LAST_DIGIT_MM, "{line} {pounds} lb: {diameter_mm}");
    }
}

#[test]
fn dates_and_times_may_stand_without_quotes_and_with_am_and_pm() {
    let bare = good_with("date = \"2026-04-14\"", "date = 2026-04-14");
    assert_eq!(checked(&bare).scenario.when.date, checked(GOOD).scenario.when.date);
    for (written, hour, minute) in
        [("12:00 am", 0, 0), ("12:15 pm", 12, 15), ("7:30 PM", 19, 30), ("0:05", 0, 5), ("23:59:59", 23, 59)]
    {
        let time = checked(&good_with("\"07:30\"", &format!("\"{written}\""))).scenario.when.time;
        assert_eq!((time.hour(), time.minute()), (hour, minute), "{written}");
    }
}

#[test]
fn a_fixed_offset_serves_instead_of_a_zone() {
    for (written, name, seconds) in [
        ("-05:00", "-05:00", -18_000),
        ("+0530", "+05:30", 19_800),
        ("-6", "-06:00", -21_600),
        ("Z", "+00:00", 0),
        ("-03:30", "-03:30", -12_600),
    ] {
        let source = good_with("zone = \"America/Chicago\"", &format!("utc_offset = \"{written}\""));
        let scenario = checked(&source).scenario;
        assert_eq!(scenario.place.zone, name);
        assert_eq!(scenario.when.utc_offset_s, seconds);
    }
}

#[test]
fn the_repeated_hour_is_taken_the_first_time_and_doubted() {
    // America/Chicago leaves summer time on 2026-11-01 at 02:00; 01:30 CDT is 06:30 UTC.
    let source = good_with("\"2026-04-14\"", "\"2026-11-01\"").replace("\"07:30\"", "\"01:30\"");
    let loaded = checked(&source);
    assert_eq!(loaded.scenario.when.utc_offset_s, -5 * 3600);
    assert_eq!(loaded.scenario.when.unix_s, 1_793_514_600.0);
    assert_eq!(loaded.warnings.len(), 1);
    assert!(loaded.warnings[0].title.contains("twice"));
}

#[test]
fn the_whole_catalogue_or_one_name_can_be_the_box() {
    let list = "use = [\"90 mm, standard lip, silent\", \"110 mm, deep lip, rattling, mirror\"]";
    assert_eq!(checked(&good_with(list, "use = \"all\"")).scenario.baits.len(), 20);
    let one = checked(&good_with(list, "use = \"90 MM,standard  lip , silent,  Dark\"")).scenario;
    assert_eq!(one.baits[0].name, "90 mm, standard lip, silent, dark");
}

#[test]
fn an_own_bait_follows_its_length_and_lip_where_nothing_else_is_said() {
    let source = format!(
        "{GOOD}[[box.bait]]\nlike = \"90 mm, standard lip, silent\"\nlength = \"100 mm\"\n\
         [[box.bait]]\nname = \"plank\"\nlength = \"4 in\"\nlip = \"deep\"\nsound = \"rattling\"\n\
         finish = \"dark\"\nlip_area = \"5 cm2\"\ntrebles = 3\nbuoyancy = \"-0.01 N\"\n"
    );
    let baits = checked(&source).scenario.baits;
    let (like, plank) = (&baits[2], &baits[3]);
    assert_eq!(like.name, "100 mm, standard lip, silent, pearl");
    // At 100 mm the shape is the reference itself.
    assert_eq!((like.height_m, like.width_m, like.trebles), (0.0168, 0.0132, 2));
    assert!((like.lip_area_m2 - 0.0235 * 0.01).abs() < 1e-18);
    // 999 kg/m3 * pi/6 * 0.1 * 0.0168 * 0.0132 m3 = 11.599715 g (Python).
    assert!((like.mass_kg - 0.011_599_715).abs() < 1e-9, "{}", like.mass_kg);
    assert_eq!(plank.length_m, 0.1016);
    assert_eq!((plank.lip_area_m2, plank.trebles, plank.lip_incidence_deg), (0.0005, 3, 49.0));
    // It sinks with 0.01 N: heavier than its displacement by 0.01 N / 9.80665 m/s2.
    let shape = catalogue().shape;
    let displaced = shape.mass_kg(0.1016, plank.height_m, plank.width_m, 0.0);
    assert!((plank.mass_kg - displaced - 0.01 / 9.80665).abs() < 1e-15);
}

#[test]
fn a_running_depth_may_be_given_and_shows_in_the_name() {
    let table = "[[box.bait]]\nlike = \"90 mm, standard lip, silent\"\nruns = \"7 ft\"\n";
    let baits = checked(&format!("{GOOD}{table}")).scenario.baits;
    let given = baits.last().expect("the third");
    assert_eq!(given.runs_m, Some(7.0 * 0.3048));
    assert_eq!(given.name, "90 mm, standard lip, silent, pearl, runs 2.1 m");
    assert!(baits[..2].iter().all(|bait| bait.runs_m.is_none()));
}

#[test]
fn what_may_be_left_out_has_its_stated_value() {
    let mut source = GOOD.to_string();
    for line in [
        "title = \"Test water\"\n",
        "rain = \"none\"\n",
        "phase = \"from temperature\"\n",
        "length = \"9 cm\"\n",
    ] {
        assert!(source.contains(line));
        source = source.replace(line, "");
    }
    let short = checked(&source).scenario;
    let full = checked(GOOD).scenario;
    assert_eq!(short.title, "untitled");
    assert_eq!((short.sky, short.fish, short.forage), (full.sky, full.fish, full.forage));
}

#[test]
fn a_byte_order_mark_and_windows_line_ends_do_no_harm() {
    let windows = format!("\u{feff}{}", GOOD.replace('\n', "\r\n"));
    assert_eq!(checked(&windows).scenario, checked(GOOD).scenario);
}

#[test]
fn a_scenario_becomes_json_with_units_in_its_keys() {
    let json = serde_json::to_value(checked(GOOD).scenario).expect("plain data");
    assert_eq!(json["water"]["clarity"]["secchi_m"], 3.4);
    assert_eq!(json["when"]["date"], "2026-04-14");
    assert_eq!(json["fish"]["phase"], "from-temperature");
    assert_eq!(json["baits"][1]["lip"], "deep");
    assert!(check(GOOD).is_ok());
}
