//! Logs as people write them: what is understood, and what is refused with what words.

use callup::models::Models;
use callup::scenario::{Catalogue, Diagnostic, library, load};
use callup::study::learn::cells::{Base, Plan, plan};
use callup::study::learn::log::{Log, read};

const BAIT: &str = "\"90 mm, standard lip, silent, half-flash\"";

fn parsed(text: &str) -> Result<Log, Vec<Diagnostic>> {
    read(text, "log.csv", &Catalogue::of(&Models::embedded().unwrap()))
}

/// The whole road from text to counts, over the default scenario.
fn planned(text: &str) -> Result<Plan, Vec<Diagnostic>> {
    let models = Models::embedded().unwrap();
    let source = library::get(library::DEFAULT).unwrap();
    let scenario = load(source, "default", &[], &Catalogue::of(&models)).unwrap().scenario;
    let base = Base { source, file: "default", overrides: &[], scenario: &scenario, models: &models };
    plan(&parsed(text)?, "log.csv", base)
}

fn said(faults: &[Diagnostic], text: &str) -> String {
    faults.iter().map(|f| f.render_plain(text)).collect()
}

#[test]
fn form_does_not_matter() {
    let plain = format!("date,time,bait,casts,strikes,water.secchi\n2026-04-14,07:30,{BAIT},20,2,3.4 m\n");
    let want = parsed(&plain).unwrap().rows[0].clone();
    let same = [
        // Order, units in the heading, a plain word for the value.
        format!("strikes,casts,clarity (m),bait,date,time\n2,20,3.4,{BAIT},2026-04-14,07:30\n"),
        format!("strikes , casts,secchi [m], bait,date,time\n2, 20 ,3.4, {BAIT} ,2026-04-14,07:30"),
        // A byte order mark, line ends of two characters, comments, blank lines and lines of empty cells.
        format!(
            "\u{feff}# mine\r\ndate,time,bait,casts,strikes,secchi (ft)\r\n\r\n2026-04-14,07:30,{BAIT},20,2,3.4 m\r\n,,,,,\r\n"
        ),
        // Semicolons, tabs.
        "date;time;bait;casts;strikes;secchi (m)\n2026-04-14;07:30;90 mm, standard lip, silent, half-flash;20;2;3.4\n"
            .into(),
        "date\ttime\tbait\tcasts\tstrikes\tsecchi\n2026-04-14\t07:30\t90 mm, standard lip, silent, half-flash\t20\t2\t3.4 m\n"
            .into(),
        // An extra column, upper case.
        format!("DATE,Time,Bait,Casts,Strikes,Secchi (m),Remarks\n2026-04-14,07:30,{BAIT},20,2,3.4,\"a, b\"\n"),
    ];
    for text in &same {
        let log = parsed(text).unwrap_or_else(|f| panic!("{}", said(&f, text)));
        assert_eq!(log.rows.len(), 1, "{text}");
        let row = &log.rows[0];
        assert_eq!((row.date, row.casts, row.strikes), (want.date, want.casts, want.strikes), "{text}");
        assert_eq!(row.bait.0, want.bait.0, "{text}");
        let mut own = row.overrides.clone();
        own.sort();
        let mut other = want.overrides.clone();
        other.sort();
        assert_eq!(own, other, "{text}");
    }
    let extra = parsed(&same[5]).unwrap();
    assert_eq!(extra.ignored, vec![("Remarks".to_owned(), None)]);
    let slip = parsed(&format!("date,bait,casts,strikes,clarrity\n2026-04-14,{BAIT},1,0,2 m\n")).unwrap();
    assert_eq!(slip.ignored, vec![("clarrity".to_owned(), Some("clarity".to_owned()))]);
}

#[test]
fn empty_cells_are_left_to_the_scenario_and_counted() {
    let text =
        format!("date,bait,casts,strikes,wind\n2026-04-14,{BAIT},20,2,\n2026-04-15,{BAIT},20,2,4 m/s\n");
    let log = parsed(&text).unwrap();
    assert_eq!(log.left_open, vec![("sky.wind", 1)]);
    assert!(log.rows[0].overrides.is_empty());
}

#[test]
fn rows_share_conditions_and_cells() {
    let other = "\"110 mm, deep lip, rattling, chartreuse\"";
    let text = format!(
        "date,time,bait,casts,strikes\n2026-04-14,07:30,{BAIT},10,1\n2026-04-14,07:30,{other},5,0\n\
         2026-04-14,07:30,{BAIT},10,0\n2026-04-15,07:30,{BAIT},7,2\n"
    );
    let plan = planned(&text).unwrap_or_else(|f| panic!("{}", said(&f, &text)));
    assert_eq!((plan.settings.len(), plan.cells.len()), (2, 3));
    assert_eq!(plan.counts.by_cell(), vec![(20.0, 1.0), (5.0, 0.0), (7.0, 2.0)]);
    assert_eq!(plan.counts.days.len(), 2);
    // The second bait is not in the box; the catalogue has it.
    assert_eq!(plan.cells[1].bait, "110 mm, deep lip, rattling, chartreuse");
}

/// What is wrong, the line and column where, what is said, what to write instead.
const BAD: &[(&str, usize, usize, &str, &str)] = &[
    ("", 1, 1, "the log is empty", "date,time,bait"),
    ("# only a remark\n", 1, 1, "the log is empty", "date,time,bait"),
    ("date,bait,casts,strikes\n", 2, 1, "the log has no rows", "one row"),
    ("date,bait,casts\n2026-04-14,B,3\n", 1, 1, "no column `strikes`", "date, time, bait"),
    ("date,bait,casts,strike\n2026-04-14,B,3,1\n", 1, 1, "no column `strikes`", "is it `strike`"),
    (
        "date,bait,casts,strikes,casts\n2026-04-14,B,3,1,3\n",
        1,
        25,
        "two columns for casts",
        "one of them away",
    ),
    (
        "date,bait,casts,strikes,secchi,clarity\n2026-04-14,B,3,1,3 m,3 m\n",
        1,
        32,
        "two columns for water.secchi",
        "away",
    ),
    (
        "date,bait,casts,strikes,secchi (lb)\n2026-04-14,B,3,1,3\n",
        1,
        25,
        "unit of the column water.secchi",
        "one of m",
    ),
    ("date,bait,casts,strikes,cloud (m)\n2026-04-14,B,3,1,0.2\n", 1, 25, "has no unit", "from 0 to 1"),
    (
        "date,bait,casts,strikes,finish\n2026-04-14,B,3,1,mirror\n",
        1,
        25,
        "would change every bait",
        "name of the bait",
    ),
    ("date,bait,casts,strikes\n14.4.2026,B,3,1\n", 2, 1, "`14.4.2026` is not a date", "2026-04-14"),
    ("date,bait,casts,strikes\n2026-02-30,B,3,1\n", 2, 1, "`2026-02-30` is not a date", "year-month-day"),
    ("date,bait,casts,strikes\n,B,3,1\n", 2, 1, "no date", "year-month-day"),
    ("date,bait,casts,strikes\n2026-04-14,,3,1\n", 2, 12, "names no bait", "write the bait's name"),
    (
        "date,bait,casts,strikes\n2026-04-14,B,many,1\n",
        2,
        14,
        "`many` is not a number of casts",
        "write 0, 1, 2",
    ),
    ("date,bait,casts,strikes\n2026-04-14,B,-3,1\n", 2, 14, "`-3` is not a number of casts", "write 0, 1, 2"),
    ("date,bait,casts,strikes\n2026-04-14,B,99999,1\n", 2, 14, "99999 casts in one row", "10000 is the most"),
    ("date,bait,casts,strikes\n2026-04-14,B,3\n", 2, 15, "gives no strikes", "0 where there were none"),
    ("date,bait,casts,strikes\n2026-04-14,B,3,4\n", 2, 16, "4 strikes in 3 casts", "count a cast once"),
    ("date,bait,casts,strikes\n2026-04-14,90 mm, silent,3,1\n", 2, 28, "the row has 5 cells", "into quotes"),
    ("date,bait,casts,strikes\n2026-04-14,\"90 mm,3,1\n", 2, 12, "a quote is not closed", "close it"),
    (
        "date,bait,casts,strikes\n2026-04-14,\"B\"x,3,1\n",
        2,
        15,
        "follows the closing quote",
        "double a quote",
    ),
    (
        "date,bait,casts,strikes,secchi\n2026-04-14,B,3,1,3.4\n",
        2,
        18,
        "`3.4` has no unit",
        "into the heading",
    ),
    (
        "date;bait;casts;strikes;secchi (m)\n2026-04-14;B;3;1;3,4\n",
        2,
        18,
        "not a length with its unit",
        "decimal point",
    ),
    ("date,bait,casts,strikes,secchi (m)\n2026-04-14,B,3,1,400\n", 2, 18, "is out of range", "write a value"),
    (
        "date,bait,casts,strikes,tint\n2026-04-14,B,3,1,brown\n",
        2,
        18,
        "not a known water tint",
        "tea-stained",
    ),
    (
        "date,bait,casts,strikes,cloud\n2026-04-14,B,3,1,5\n",
        2,
        18,
        "`sky.cloud` is out of range",
        "from 0 to 1",
    ),
    ("date,time,bait,casts,strikes\n2026-04-14,late,90 mm,3,1\n", 2, 12, "`late` is not a time", "07:30"),
    ("date,bait,casts,strikes\n2026-04-14,no such bait,3,1\n", 2, 12, "there is no bait `no such bait`", ""),
    (
        "date,bait,casts,strikes\n2026-04-14,half-flash,3,1\n",
        2,
        12,
        "several baits of the box answer",
        "write one of",
    ),
    (
        "date,bait,casts,strikes,depth (m)\n2026-04-14,130 mm,3,1,40\n",
        2,
        12,
        "several baits of the box",
        "write one of",
    ),
];

#[test]
fn bad_logs_are_refused_with_place_and_remedy() {
    for (text, line, column, title, help) in BAD {
        let Err(faults) = planned(text) else { panic!("taken: {text}") };
        let first = &faults[0];
        let rendered = said(&faults, text);
        assert!(first.title.contains(title), "{text}\n{rendered}");
        assert!(first.help.contains(help) && !first.help.is_empty(), "{text}\n{rendered}");
        assert_eq!(first.line_column(text), Some((*line, *column)), "{text}\n{rendered}");
    }
}

#[test]
fn every_faulty_row_is_told_at_once() {
    let text = format!(
        "date,bait,casts,strikes,secchi (m)\n2026-04-14,{BAIT},20,2,3\nnever,{BAIT},20,2,3\n2026-04-14,{BAIT},x,2,3\n\
         2026-04-15,{BAIT},20,30,3\n2026-04-15,{BAIT},20,3,deep\n"
    );
    let faults = planned(&text).unwrap_err();
    let lines: Vec<usize> = faults.iter().map(|f| f.line_column(&text).unwrap().0).collect();
    assert_eq!(lines, vec![3, 4, 5, 6], "{}", said(&faults, &text));
    // Faults that only the scenario knows: a fish below the bottom, in both rows that put it there.
    let text = format!(
        "date,bait,casts,strikes,fish depth (m)\n2026-04-14,{BAIT},20,2,40\n2026-04-14,{BAIT},20,2,4\n\
         2026-04-15,{BAIT},20,2,40\n"
    );
    let faults = planned(&text).unwrap_err();
    let lines: Vec<usize> = faults.iter().map(|f| f.line_column(&text).unwrap().0).collect();
    assert_eq!(lines, vec![2, 4], "{}", said(&faults, &text));
}

#[test]
fn a_density_of_fish_is_for_all_rows_or_none() {
    let all = format!(
        "date,bait,casts,strikes,density\n2026-04-14,{BAIT},20,2,30 per ha\n2026-04-15,{BAIT},9,1,20 per ha\n"
    );
    assert!(planned(&all).unwrap().density);
    let some = format!(
        "date,bait,casts,strikes,density\n2026-04-14,{BAIT},20,2,30 per ha\n2026-04-15,{BAIT},9,1,\n"
    );
    let faults = planned(&some).unwrap_err();
    assert!(faults[0].title.contains("density of fish"), "{}", said(&faults, &some));
}
