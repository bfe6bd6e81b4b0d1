//! How numbers are said, and tables.
use callup::present::table::{Column, Table};
use callup::present::words::*;

#[test]
fn numbers_per_100_are_said_with_what_is_known() {
    let cases = [
        (0.0, "under 1"),
        (0.4, "under 1"),
        (0.96, "about 1"),
        (1.3, "about 1.5"),
        (2.2, "about 2"),
        (2.8, "about 3"),
        (7.4, "about 7"),
        (9.6, "about 10"),
        (34.4, "about 34"),
        (99.4, "over 99"),
        (f64::NAN, "not known"),
    ];
    for (p, said) in cases {
        assert_eq!(per_100(p), said, "{p}");
    }
}

#[test]
fn ranges_keep_one_denominator() {
    assert_eq!(range_per_100(7.1, 2.9, 14.2), "about 7 in 100 (3 to 14)");
    assert_eq!(short_range(7.1, 2.9, 14.2), "about 7 (3 to 14)");
    assert_eq!(range_per_100(0.2, 0.0, 0.6), "under 1 in 100");
    assert_eq!(range_per_100(0.2, 0.0, 3.2), "under 1 in 100 (up to 3)");
    assert_eq!(range_per_100(2.0, 0.1, 6.0), "about 2 in 100 (under 1 to 6)");
    assert_eq!(range_per_100(7.0, f64::NAN, 9.0), "about 7 in 100");
    assert_eq!(range_per_100(7.0, 6.8, 7.2), "about 7 in 100");
}

#[test]
fn never_more_than_two_significant_digits() {
    for k in 0..20_000 {
        let p = f64::from(k) * 0.005;
        let said = number_per_100(p);
        let digits = said.chars().filter(char::is_ascii_digit).collect::<String>();
        assert!(digits.trim_start_matches('0').trim_end_matches('0').len() <= 2, "{p}: {said}");
        assert!(p < 9.5 || !said.contains('.'), "{p}: {said}");
    }
    assert_eq!(two_digits(1234.0), "1200");
    assert_eq!(two_digits(0.0347), "0.035");
    assert_eq!(two_digits(9.96), "10");
    assert_eq!(two_digits(-4.44), "−4.4");
    assert_eq!(two_digits(0.0), "0");
    assert_eq!(two_digits(f64::INFINITY), "not known");
}

#[test]
fn differences_have_a_direction_in_words() {
    assert_eq!(difference_per_100(3.1, 1.0, 5.2), "about 3 more in 100 (1 to 5 more)");
    assert_eq!(difference_per_100(-3.1, -5.2, -1.0), "about 3 fewer in 100 (1 to 5 fewer)");
    assert_eq!(difference_per_100(3.1, -1.1, 6.0), "about 3 more in 100 (1 fewer to 6 more)");
    assert_eq!(difference_per_100(3.1, 0.2, 6.0), "about 3 more in 100 (none to 6 more)");
    assert_eq!(difference_per_100(0.1, -0.3, 0.4), "less than 1 either way in 100");
}

#[test]
fn lists_and_counts() {
    assert_eq!(list(&["A", "B", "C"]), "A, B and C");
    assert_eq!(list(&["A", "B"]), "A and B");
    assert_eq!(count(0, "bait", "baits"), "no baits");
    assert_eq!(count(1, "bait", "baits"), "1 bait");
    assert_eq!(count(12, "bait", "baits"), "12 baits");
    assert!(tie(&["A", "B"], 5).starts_with("A and B: either"));
    assert!(tie(&["A", "B", "C"], 3).starts_with("All 3"));
    assert!(tie(&["A"], 3).starts_with("A leads"));
    assert_eq!(worlds(0.84), "about 8 in 10 plausible worlds");
    assert_eq!(worlds(0.98), "more than 9 in 10 plausible worlds");
    assert_eq!(worlds(1.0), "all plausible worlds");
    assert_eq!(worlds(0.01), "fewer than 1 in 10 plausible worlds");
}

#[test]
fn words_wrap_at_the_width() {
    let lines = wrap("one two three four", 9);
    assert_eq!(lines, ["one two", "three", "four"]);
    assert_eq!(wrap("first\n\nsecond", 40), ["first", "", "second"]);
    assert_eq!(wrap("unbreakable", 4), ["unbreakable"]);
    assert_eq!(columns("ab\u{301}漢"), 4);
}

fn sample() -> Table {
    let mut t = Table::new(vec![
        Column::text("bait"),
        Column::number("strikes").unit("in 100"),
        Column::number("depth").unit("ft"),
    ]);
    t.push(["90 mm, standard lip, silent, see-through", "about 7 (3 to 14)", "5.6"]);
    t.push(["110 mm, \"deep\" | lip", "under 1", "9.4"]);
    t.push(["short row"]);
    t
}

#[test]
fn terminal_tables_line_up_and_fit() {
    let wide = sample().terminal(200);
    let lines: Vec<&str> = wide.lines().collect();
    assert_eq!(lines.len(), 5);
    let end = |line: &str| columns(line);
    assert_eq!(end(lines[0]), end(lines[2]), "numbers end in one column:\n{wide}");
    assert_eq!(end(lines[2]), end(lines[3]));
    for width in [60, 50, 44] {
        let narrow = sample().terminal(width);
        assert!(narrow.lines().all(|l| columns(l) <= width), "{width}:\n{narrow}");
        // Nothing is lost by breaking the names.
        for word in ["standard", "see-through", "about 7 (3 to 14)", "under 1", "9.4"] {
            assert!(narrow.contains(word), "{word} at {width}:\n{narrow}");
        }
    }
    // Far too narrow: numbers stay whole.
    assert!(sample().terminal(10).contains("about 7 (3 to 14)"));
    assert_eq!(Table::default().terminal(40), "\n");
}

#[test]
fn tables_do_not_pass_on_control_characters() {
    let mut t = Table::new(vec![Column::text("a")]);
    t.push(["\u{1b}[31mred\u{202e}|<script>\n# x"]);
    assert!(!t.terminal(80).contains(['\u{1b}', '\u{202e}']));
}

#[test]
fn csv_survives_a_round_trip() -> Result<(), csv::Error> {
    let text = sample().csv()?;
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    assert_eq!(reader.headers()?, &csv::StringRecord::from(vec!["bait", "strikes (in 100)", "depth (ft)"]));
    let rows: Vec<csv::StringRecord> = reader.records().collect::<Result<_, _>>()?;
    assert_eq!(rows.len(), 3);
    assert_eq!(&rows[1][0], "110 mm, \"deep\" | lip");
    assert_eq!(&rows[2][1], "");
    Ok(())
}
