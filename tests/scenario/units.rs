//! Units: exact factors, round trips, refusals.

use callup::units::{Dimension, UnitFault, UnitSystem, parse, significant};
use proptest::prelude::*;

/// Every unit with what one of it is in the unit kept. Exact definitions: NIST Special Publication 811
/// (2008), appendix B; the temperatures are fixed points of the scales.
const ONE: &[(Dimension, &str, f64)] = &[
    (Dimension::Length, "1 m", 1.0),
    (Dimension::Length, "1 cm", 0.01),
    (Dimension::Length, "90 mm", 0.09),
    (Dimension::Length, "1 ft", 0.3048),
    (Dimension::Length, "1 in", 0.0254),
    (Dimension::Length, "1 yd", 0.9144),
    (Dimension::Length, "3 1/2 in", 0.0889),
    (Dimension::Length, "1/2 in", 0.0127),
    (Dimension::Length, "-3 1/2 in", -0.0889),
    (Dimension::Length, "5'", 1.524),
    (Dimension::Length, "1e-3 m", 0.001),
    (Dimension::Temperature, "32 F", 0.0),
    (Dimension::Temperature, "212 °F", 100.0),
    (Dimension::Temperature, "-40 F", -40.0),
    (Dimension::Temperature, "273.15 K", 0.0),
    (Dimension::Temperature, "13 deg C", 13.0),
    (Dimension::Speed, "1 mph", 0.44704),
    (Dimension::Speed, "36 km/h", 10.0),
    (Dimension::Speed, "18 kn", 9.26),
    (Dimension::Speed, "1 ft/s", 0.3048),
    (Dimension::Force, "1 lb", 4.4482216152605),
    (Dimension::Force, "1 kg", 9.80665),
    (Dimension::Mass, "1 lb", 0.45359237),
    (Dimension::Mass, "1/2 oz", 0.014_174_761_562_5),
    (Dimension::Mass, "12 g", 0.012),
    (Dimension::Area, "1 sq in", 0.00064516),
    (Dimension::Area, "1.9 cm2", 0.00019),
    (Dimension::Angle, "56 deg", 56.0),
    (Dimension::Turbidity, "4 ntu", 4.0),
    (Dimension::FishDensity, "30 per ha", 30.0),
    (Dimension::FishDensity, "1 per acre", 2.471_053_814_671_653),
];

/// A few units in the last place: one multiplication and one division are rounded.
const ROUNDING: f64 = 4.0 * f64::EPSILON;

#[test]
fn units_have_their_exact_factors() {
    for (dimension, text, kept) in ONE {
        let read = parse(text, *dimension).unwrap_or_else(|error| panic!("{text}: {error}"));
        assert!((read - kept).abs() <= ROUNDING * kept.abs().max(1e-30), "{text}: {read} not {kept}");
    }
}

#[test]
fn spelling_is_forgiving_where_nothing_is_ambiguous() {
    for text in ["15ft", " 15  ft ", "15 FT", "15 feet", "+15 ft", "15\u{a0}ft", "15.0 ft", "015 ft"] {
        assert_eq!(parse(text, Dimension::Length), Ok(4.572), "{text}");
    }
    assert_eq!(parse("\u{2212}5 C", Dimension::Temperature), Ok(-5.0));
}

#[test]
fn refusals_say_what_is_allowed_and_show_an_example() {
    use Dimension::Length;
    let fault = |text: &str| parse(text, Length).expect_err(text);
    assert_eq!(fault("15 lb").fault, UnitFault::WrongUnit("lb".into(), Dimension::Force));
    assert_eq!(fault("15").fault, UnitFault::NoUnit("15".into()));
    assert_eq!(fault("15 fathoms").fault, UnitFault::UnknownUnit("fathoms".into()));
    assert_eq!(fault("4,6 m").fault, UnitFault::Comma("4,6".into()));
    assert_eq!(fault("ft").fault, UnitFault::NoNumber("ft".into()));
    assert_eq!(fault("1.2.3 m").fault, UnitFault::NoNumber("1.2.3 m".into()));
    assert_eq!(fault("1e999 m").fault, UnitFault::NotFinite("1e999".into()));
    assert_eq!(fault("1/0 in").fault, UnitFault::NotFinite("1/0".into()));
    for text in ["15 lb", "15", "15 fathoms", "", "nan m", "inf m", "1e400 m"] {
        let said = fault(text).to_string();
        assert!(said.contains("ft") && said.contains('"'), "{said}");
    }
    assert!(fault("4,6 m").help().contains("4.6 m"));
    assert!(parse("10 m", Dimension::Speed).expect_err("a length").to_string().contains("m/s"));
}

#[test]
fn every_dimension_has_a_good_example_and_writes_what_it_can_read() {
    for dimension in Dimension::ALL {
        let value = parse(dimension.example(), dimension).expect("its own example");
        assert_eq!(parse(&dimension.write(value), dimension), Ok(value));
    }
}

#[test]
fn numbers_are_said_the_way_people_say_them() {
    let (metric, us) = (UnitSystem::Metric, UnitSystem::Us);
    assert_eq!((metric.length(4.572), us.length(4.572)), ("4.6 m".into(), "15.0 ft".into()));
    assert_eq!((metric.length(120.4), us.length(-0.001)), ("120 m".into(), "0.0 ft".into()));
    assert_eq!((metric.short_length(0.09), us.short_length(0.0889)), ("90 mm".into(), "3.5 in".into()));
    assert_eq!(
        (metric.short_length(0.00028), us.short_length(0.00028)),
        ("0.28 mm".into(), "0.011 in".into())
    );
    assert_eq!((metric.temperature(13.2), us.temperature(13.2)), ("13 C".into(), "56 F".into()));
    assert_eq!((metric.speed(0.8), us.speed(4.4704)), ("0.80 m/s".into(), "10 mph".into()));
    assert_eq!((metric.force(44.48), us.force(44.48)), ("44 N".into(), "10 lb".into()));
    assert_eq!(metric.length(f64::NAN), "unknown");
    for (value, text) in
        [(9.96, "10"), (0.0, "0.0"), (-1234.0, "-1200"), (99.6, "100"), (0.000_123, "0.00012")]
    {
        assert_eq!(significant(value, 2), text);
    }
    assert_eq!(UnitSystem::from_label(" US "), Some(us));
    assert_eq!(UnitSystem::from_label("imperial"), None);
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// Written in any unit of its kind and read back, a number stays itself but for rounding.
    #[test]
    fn reading_is_linear_and_writing_inverts_it(number in -1e6..1e6f64, which in 0usize..9) {
        let dimension = Dimension::ALL[which];
        for name in dimension.unit_names() {
            let kept = parse(&format!("{number} {name}"), dimension).expect("a good quantity");
            let zero = parse(&format!("0 {name}"), dimension).expect("zero");
            let one = parse(&format!("1 {name}"), dimension).expect("one");
            // Linear: the value follows from those of 0 and 1; the temperature scales lose digits to their offset.
            let line = zero + (one - zero) * number;
            prop_assert!((kept - line).abs() <= 1e-12 * (line.abs() + zero.abs() + 1.0) * 1e3, "{} {}", number, name);
            let again = parse(&dimension.write(kept), dimension).expect("own writing");
            prop_assert_eq!(again, kept);
        }
    }

    #[test]
    fn no_text_makes_it_panic(text in "\\PC*", which in 0usize..9) {
        if let Err(error) = parse(&text, Dimension::ALL[which]) {
            prop_assert!(!error.to_string().is_empty());
        }
    }

    #[test]
    fn texts_like_quantities_are_read_or_refused(text in "[-+0-9 ./,eE]{0,8} ?(ft|m|in|C|lb|'|\")?", which in 0usize..9) {
        if let Ok(value) = parse(&text, Dimension::ALL[which]) {
            prop_assert!(value.is_finite());
        }
    }

    /// A people's number is within half a unit of its last digit.
    #[test]
    fn two_digits_are_the_nearest_two_digits(value in prop::num::f64::NORMAL.prop_filter("size", |v| v.abs() > 1e-9 && v.abs() < 1e12)) {
        let said: f64 = significant(value, 2).parse().expect("a number");
        // Half of the second digit is at most 5 % of the number; the text itself is rounded once.
        prop_assert!((said - value).abs() <= 0.05 * value.abs() * (1.0 + 1e-12), "{} {}", value, said);
    }
}
