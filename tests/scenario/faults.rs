//! Every class of fault: the right place, and a remedy.

use callup::scenario::{Diagnostic, Severity};

use super::catalogue::{GOOD, checked, errors, faults, good_with, render};

/// One changed piece of the good file and what must come of it.
struct Case {
    old: &'static str,
    new: &'static str,
    /// The marked text.
    marked: &'static str,
    /// A part of the title or label.
    says: &'static str,
    /// A part of the help.
    help: &'static str,
}

const fn case(
    old: &'static str,
    new: &'static str,
    marked: &'static str,
    says: &'static str,
    help: &'static str,
) -> Case {
    Case { old, new, marked, says, help }
}

const BOX: &str = "use = [\"90 mm, standard lip, silent\", \"110 mm, deep lip, rattling, mirror\"]";

const ERRORS: &[Case] = &[
    // Units and types.
    case("\"15 ft\"", "\"15 lb\"", "\"15 lb\"", "measures a force", "\"15 ft\""),
    case("\"15 ft\"", "\"15\"", "\"15\"", "has no unit", "\"15 m\" or \"15 ft\""),
    case("\"15 ft\"", "15", "15", "has no unit", "\"15 m\" or \"15 ft\""),
    case("\"15 ft\"", "15.5", "15.5", "has no unit", "\"15.5 m\" or \"15.5 ft\""),
    case("\"15 ft\"", "\"15 fathoms\"", "\"15 fathoms\"", "not a unit of length", "ft"),
    case("\"15 ft\"", "\"4,6 m\"", "\"4,6 m\"", "comma", "4.6 m"),
    case("\"15 ft\"", "\"deep\"", "\"deep\"", "does not begin with a number", "15 ft"),
    case("\"15 ft\"", "\"\"", "\"\"", "empty", "15 ft"),
    case("\"15 ft\"", "\"1e999 m\"", "\"1e999 m\"", "not a finite number", "15 ft"),
    case("\"15 ft\"", "true", "true", "true or false where a length is wanted", "depth = \"15 ft\""),
    case("\"15 ft\"", "[\"15 ft\"]", "[\"15 ft\"]", "a list where", "depth = \"15 ft\""),
    case("cloud = 0.9", "cloud = \"0.9\"", "\"0.9\"", "is not a number", "cloud = 0.9"),
    case("cloud = 0.9", "cloud = \"90 %\"", "\"90 %\"", "is not a number", "cloud = 0.9"),
    case("cloud = 0.9", "cloud = nan", "nan", "out of range", "from 0 to 1"),
    case("\"clear\"", "3", "3", "is not a text", "tint = \"clear\""),
    // Ranges.
    case("cloud = 0.9", "cloud = 9", "9", "out of range", "from 0 to 1"),
    case("\"3 m/s\"", "\"200 mph\"", "\"200 mph\"", "this is 89.408 m/s", "40 m/s"),
    case("\"13 C\"", "\"13 F\"", "\"13 F\"", "this is -10.5556 C", "0 C to 40 C"),
    case("\"13 C\"", "\"55 C\"", "\"55 C\"", "out of range", "40 C"),
    case("\"12 m\"", "\"0 m\"", "\"0 m\"", "out of range", "0.3 m"),
    case("\"12 m\"", "\"-3 m\"", "\"-3 m\"", "out of range", "0.3 m"),
    case("\"12 m\"", "\"9e300 m\"", "\"9e300 m\"", "out of range", "300 m"),
    case("\"3.4 m\"", "\"0 m\"", "\"0 m\"", "out of range", "0.05 m"),
    case("\"40 cm\"", "\"40 mm\"", "\"40 mm\"", "out of range", "0.15 m to 0.7 m"),
    case("latitude = 36.4", "latitude = 364", "364", "out of range", "-90 to 90"),
    case("longitude = -93.9", "longitude = -939", "-939", "out of range", "-180 to 180"),
    case("pause = 0.5", "pause = 1", "1", "out of range", "0 to 0.95"),
    case("\"0.8 m/s\"", "\"0 m/s\"", "\"0 m/s\"", "out of range", "to 5 m/s"),
    case("\"0.8 m/s\"", "\"8 m/s\"", "\"8 m/s\"", "out of range", "to 5 m/s"),
    case("\"0.28 mm\"", "\"0.28 in\"", "\"0.28 in\"", "this is 7.112 mm", "0.05 mm to 1.5 mm"),
    // Words.
    case("\"clear\"", "\"cler\"", "\"cler\"", "not a known water tint", "did you mean `clear`"),
    case("\"largemouth\"", "\"smalmouth\"", "\"smalmouth\"", "fish species", "did you mean `smallmouth`"),
    case("\"light\"", "\"crowded\"", "\"crowded\"", "fish pressure", "`moderate` or `heavy`"),
    case("\"from temperature\"", "\"postspawn\"", "\"postspawn\"", "fish phase", "did you mean `post-spawn`"),
    case("rain = \"none\"", "rain = \"hail\"", "\"hail\"", "sky rain", "`drizzle`"),
    case("\"shad\"", "\"shadd\"", "\"shadd\"", "forage kind", "did you mean `shad`"),
    case(
        "\"fluorocarbon\"",
        "\"fluorcarbon\"",
        "\"fluorcarbon\"",
        "tackle line",
        "did you mean `fluorocarbon`",
    ),
    // Keys.
    case("secchi =", "sechi =", "sechi", "no key `sechi` in [water]", "did you mean `secchi`"),
    case("tint =", "cloud = 0.5\ntint =", "cloud", "no key `cloud` in [water]", "belongs in [sky]"),
    case("[sky]", "colour = 3\n[sky]", "colour", "no key `colour` in [when]", "`date` or `time`"),
    case("[forage]", "[forrage]", "forrage", "no key `forrage` at the top", "did you mean `forage`"),
    case("zone =", "zoen =", "zoen", "no key `zoen` in [place]", "did you mean `zone`"),
    case("diameter =", "diametre =", "diametre", "no key", "did you mean `diameter`"),
    case("bottom =", "botom =", "botom", "no key", "did you mean `bottom`"),
    case("temperature = \"13 C\"\n", "", "[water]", "has no `temperature`", "temperature = \"13 C\""),
    // One of two, and not both.
    case("secchi = \"3.4 m\"\n", "", "[water]", "how clear", "secchi = \"3.4 m\""),
    case("tint =", "turbidity = \"4 NTU\"\ntint =", "turbidity", "both `secchi` and `turbidity`", "keep one"),
    case(
        "cast =",
        "strength = \"10 lb\"\ncast =",
        "strength",
        "both `diameter` and `strength`",
        "keep the diameter",
    ),
    case("diameter = \"0.28 mm\"\n", "", "[tackle]", "how thick", "strength = \"10 lb\""),
    case("diameter = \"0.28 mm\"", "strength = \"1 N\"", "\"1 N\"", "no usable diameter", "spool"),
    case("speed =", "launch = \"25 m/s\"\nspeed =", "launch", "both `cast` and `launch`", "keep the cast"),
    case("zone =", "utc_offset = \"-05:00\"\nzone =", "zone", "both `zone` and `utc_offset`", "keep"),
    case("zone = \"America/Chicago\"\n", "", "[place]", "no time zone", "utc_offset"),
    // Place and time.
    case(
        "America/Chicago",
        "America/Chicgo",
        "\"America/Chicgo\"",
        "no time zone `America/Chicgo`",
        "America/Chicago",
    ),
    case("America/Chicago", "Xyzzy", "\"Xyzzy\"", "no time zone", "IANA"),
    case("zone = \"America/Chicago\"", "utc_offset = \"-25:00\"", "\"-25:00\"", "not an offset", "-05:00"),
    case("\"2026-04-14\"", "\"2026-02-30\"", "\"2026-02-30\"", "no such day", "2026-04-14"),
    case("\"2026-04-14\"", "\"4/14/2026\"", "\"4/14/2026\"", "year-month-day", "2026-04-14"),
    case("\"2026-04-14\"", "\"14-04-2026\"", "\"14-04-2026\"", "the year comes first", "2026-04-14"),
    case("\"2026-04-14\"", "\"1066-10-14\"", "\"1066-10-14\"", "1970 to 2100", "2026-04-14"),
    case("\"07:30\"", "\"25:30\"", "\"25:30\"", "time of day", "07:30"),
    case("\"07:30\"", "\"13:30 pm\"", "\"13:30 pm\"", "time of day", "7:30 am"),
    case("\"07:30\"", "\"dawn\"", "\"dawn\"", "time of day", "07:30"),
    // Things that do not fit together.
    case("\"15 ft\"", "\"50 ft\"", "\"50 ft\"", "below the bottom", "raise the fish"),
    case("\"9 cm\"", "\"40 cm\"", "\"40 cm\"", "as long as the fish", "what they eat"),
    // The box.
    case(BOX, "use = []", "[box]", "the box is empty", "[[box.bait]]"),
    case(BOX, "", "[box]", "the box is empty", "use = \"all\""),
    case(BOX, "use = 3", "3", "not a list of baits", "use = \"all\""),
    case(BOX, "use = [3]", "3", "not the name of a bait", "90 mm, standard lip, silent"),
    case(
        BOX,
        "use = [\"90 mm, standard lip, silnt\"]",
        "\"90 mm, standard lip, silnt\"",
        "unknown bait",
        "`90 mm, standard lip, silent`",
    ),
    case(BOX, "use = [\"whopper\"]", "\"whopper\"", "unknown bait", "[[box.bait]]"),
    case(
        BOX,
        "use = [\"90 mm, standard lip, silent, pearly\"]",
        "\"90 mm, standard lip, silent, pearly\"",
        "no finish `pearly`",
        "did you mean `pearl`",
    ),
    case(
        BOX,
        "use = [\"90 mm, standard lip, silent\", \"90 MM, standard lip, silent\"]",
        "\"90 MM, standard lip, silent\"",
        "two baits called",
        "name of its own",
    ),
    case(BOX, "[[box.bait]]\nlength = \"90 mm\"\n", "[[box.bait]]", "lacks lip, sound, finish", "like ="),
    case(
        BOX,
        "[[box.bait]]\nlike = \"90 mm, standard lip, silent\"\ntrebles = 2.5\n",
        "2.5",
        "not a whole number",
        "trebles = 2",
    ),
    case(
        BOX,
        "[[box.bait]]\nlike = \"90 mm, standard lip, silent\"\nheight = \"95 mm\"\n",
        "[[box.bait]]",
        "thicker than it is long",
        "less than its length",
    ),
    case(
        BOX,
        "[[box.bait]]\nlike = \"90 mm, standard lip, silent\"\nbuoyancy = \"0.4 N\"\n",
        "[[box.bait]]",
        "weigh nothing",
        "smaller buoyancy",
    ),
    case(
        BOX,
        "[[box.bait]]\nlike = \"90 mm, standard lip, silent\"\ncolor = \"dark\"\n",
        "color",
        "no key `color` in [[box.bait]]",
        "`finish`",
    ),
    case(BOX, "bait = [1]", "1", "not a list of tables", "[[box.bait]]"),
    case(
        BOX,
        "[[box.bait]]\nlike = \"90 mm, standard lip, silent\"\nname = \" \"\n",
        "\" \"",
        "name is empty",
        "write a name",
    ),
    // Form.
    case("\"clear\"", "clear", "clear", "needs quotes", "write \"clear\""),
    case("\"15 ft\"", "15 ft", "15 ft", "needs quotes", "write \"15 ft\""),
    case("tint =", "secchi = \"2 m\"\ntint =", "secchi", "`secchi` is there twice", "take the other away"),
];

#[test]
fn every_class_of_fault_has_its_place_and_its_remedy() {
    for case in ERRORS {
        let source = good_with(case.old, case.new);
        let found = errors(&source);
        let shown = render(&found, &source);
        let fits = |fault: &&Diagnostic| {
            let marked = fault.span.clone().and_then(|span| source.get(span)).unwrap_or_default();
            marked == case.marked
                && format!("{} {}", fault.title, fault.label).contains(case.says)
                && fault.help.contains(case.help)
        };
        assert!(found.iter().any(|fault| fits(&fault)), "{} -> {}: got\n{shown}", case.old, case.new);
    }
}

#[test]
fn one_change_gives_one_fault() {
    // A misspelt name is one fault too: what it stands for is not missed as well.
    for case in ERRORS {
        let source = good_with(case.old, case.new);
        let found = errors(&source);
        assert_eq!(found.len(), 1, "{} -> {}: got\n{}", case.old, case.new, render(&found, &source));
    }
}

#[test]
fn a_cast_that_does_not_reach_the_water_is_refused() {
    let source = good_with("\"0.3 m\"", "\"4 m\"").replace("\"27 m\"", "\"3 m\"");
    let found = errors(&source);
    assert_eq!(found.len(), 1, "{}", render(&found, &source));
    assert!(found[0].title.contains("does not reach the water"));
    assert!(found[0].help.contains("lower the rod tip"));
}

#[test]
fn a_time_that_the_clocks_skip_is_refused_with_the_time_after_the_gap() {
    // America/Chicago enters summer time on 2026-03-08 at 02:00.
    let source = good_with("\"2026-04-14\"", "\"2026-03-08\"").replace("\"07:30\"", "\"02:15\"");
    let found = errors(&source);
    assert_eq!(found.len(), 1, "{}", render(&found, &source));
    assert!(found[0].title.contains("does not exist on 2026-03-08"));
    assert!(found[0].help.contains("\"03:15\""), "{}", found[0].help);
}

#[test]
fn a_bait_longer_than_the_fish_is_refused_and_a_very_long_one_doubted() {
    let small = good_with("\"40 cm\"", "\"15 cm\"");
    let doubted = checked(&small).warnings;
    assert_eq!(doubted.len(), 1, "{}", render(&doubted, &small));
    assert!(doubted[0].title.contains("very long for these fish"));
    // 110 mm of 150 mm is 0.73; the 90 mm bait is 0.6 of it and is let pass.
    assert_eq!(small.get(doubted[0].span.clone().unwrap()), Some("\"110 mm, deep lip, rattling, mirror\""));

    let long = format!("{small}[[box.bait]]\nlike = \"110 mm, deep lip, rattling\"\nlength = \"160 mm\"\n");
    let refused = errors(&long);
    assert_eq!(refused.len(), 1, "{}", render(&refused, &long));
    assert!(refused[0].title.contains("longer than the fish"));
    assert!(refused[0].label.contains("160 mm, and the fish are 150 mm"));

    let all = small.replace(BOX, "use = \"all\"");
    let doubted = checked(&all).warnings;
    // One message for one place: 12 bodies of 110 mm and more.
    assert_eq!(doubted.len(), 1);
    assert!(doubted[0].title.starts_with("12 baits"), "{}", doubted[0].title);
}

#[test]
fn doubts_do_not_refuse_a_scenario() {
    for (old, new, says) in [
        ("depth_spread = \"0.5 m\"", "depth_spread = \"4 m\"", "reaches the bottom"),
        ("depth_spread = \"0.5 m\"", "depth_spread = \"2.5 m\"", "reaches the surface"),
        ("longitude = -93.9", "longitude = 93.9", "longitude and clock"),
        (
            BOX,
            "use = [\"90 mm, standard lip, silent\", \"90 mm, standard lip, silent, pearl\"]",
            "same bait under another name",
        ),
    ] {
        let source = good_with(old, new);
        let warnings = checked(&source).warnings;
        assert!(
            warnings
                .iter()
                .any(|warning| warning.title.contains(says) && warning.severity == Severity::Warning),
            "{new}: got\n{}",
            render(&warnings, &source)
        );
    }
}

#[test]
fn a_missing_table_is_one_fault_that_says_all_it_needs() {
    let start = GOOD.find("[tackle]").expect("there");
    let end = GOOD.find("[box]").expect("there");
    let source = format!("{}{}", &GOOD[..start], &GOOD[end..]);
    let found = errors(&source);
    assert_eq!(found.len(), 1, "{}", render(&found, &source));
    assert_eq!((found[0].span.clone(), found[0].title.as_str()), (None, "there is no [tackle] table"));
    for key in ["line =", "diameter =", "cast =", "speed =", "pause =", "rod_tip ="] {
        assert!(found[0].help.contains(key), "{}", found[0].help);
    }
    assert!(!found[0].help.contains("strength ="));
}

#[test]
fn an_empty_file_names_every_table() {
    let found = errors("");
    let titles: Vec<&str> = found.iter().map(|fault| fault.title.as_str()).collect();
    let tables = ["place", "when", "sky", "water", "fish", "forage", "tackle", "box"];
    assert_eq!(titles, tables.map(|table| format!("there is no [{table}] table")));
}

/// The good file with ten things wrong on ten lines.
pub const TEN: &str = r#"title = "Ten faults"
[place]
latitude = 136.4
longitude = -93.9
zone = "America/Chicgo"
[when]
date = "2026-02-30"
time = "07:30"
[sky]
cloud = 90
wind = "3 m/s"
[water]
secchi = "3.4 lb"
tint = clear
temperature = "13 C"
bottom = "3 m"
[fish]
species = "largemouth"
length = "40 cm"
depth = "15 ft"
depth_spread = "0.5 m"
presure = "light"
pressure = "light"
[forage]
kind = "shadd"
[tackle]
line = "fluorocarbon"
diameter = "0.28 mm"
cast = "27 m"
speed = 0.8
pause = 0.5
rod_tip = "0.3 m"
[box]
use = ["90 mm, standard lip, silent"]
"#;

#[test]
fn ten_faults_come_out_as_ten_in_the_order_of_the_file() {
    let found = faults(TEN);
    let lines: Vec<usize> =
        found.iter().filter_map(|fault| fault.line_column(TEN)).map(|place| place.0).collect();
    // latitude, zone, date, cloud, secchi, tint, depth (below the bottom), presure, shadd, speed.
    assert_eq!(lines, [3, 5, 7, 10, 13, 14, 20, 22, 25, 30], "{}", render(&found, TEN));
}

#[test]
fn lines_and_columns_count_from_one_and_in_characters() {
    // A key after a comment with letters of several bytes; the column is that of the opening quote.
    let source = good_with("tint = \"clear\"", "tint = \"żółć\" # ąę");
    let found = errors(&source);
    let line = 1 + GOOD[..GOOD.find("tint").expect("there")].matches('\n').count();
    assert_eq!(found[0].line_column(&source), Some((line, 8)));
    let after = good_with(
        "secchi = \"3.4 m\"\ntint = \"clear\"",
        "\"żółć\" = 1\nsecchi = \"3.4 m\"\ntint = \"clear\"",
    );
    let found = errors(&after);
    assert_eq!(found[0].line_column(&after).map(|place| place.1), Some(1));
}

#[test]
fn faults_of_form_do_not_hide_faults_of_meaning_elsewhere_nor_invent_any() {
    let source = good_with("tint = \"clear\"", "tint = ").replace("cloud = 0.9", "cloud = 9");
    let found = errors(&source);
    assert_eq!(found.len(), 2, "{}", render(&found, &source));
    assert!(found[0].title.contains("out of range"));
    assert!(found[1].help.contains("write a value after the equals sign"));
    // An unclosed list swallows what follows: what it took is not asked for.
    let source = good_with("[tackle]\n", "[tackle\n");
    let found = errors(&source);
    assert!(
        found.iter().all(|fault| !fault.title.contains("has no") && !fault.title.contains("there is no [")),
        "{}",
        render(&found, &source)
    );
}
