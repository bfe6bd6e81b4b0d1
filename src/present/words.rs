//! How numbers and findings are said.
//!
//! One denominator throughout (100 passes), at most two significant digits, nothing finer than is
//! known, zero never said as zero. The forms follow the advice on natural frequencies (Gigerenzer &
//! Hoffrage 1995, Psychol. Rev. 102:684, from memory) and on ranges in numbers (van der Bles et al.
//! 2020, doi 10.1073/pnas.1913678117).

use crate::statistics::estimate::Estimate;

/// Strikes per 100 below and above which no number is said.
const LEAST_SAID: f64 = 0.95;
const MOST_SAID: f64 = 99.0;
/// A difference per 100 smaller than this is less than 1 either way.
const LEAST_DIFFERENCE: f64 = 0.75;

/// A number of strikes per 100, without "about": "under 1", "1.5", "7", "34", "over 99".
///
/// Below 3 the nearest half, above it the nearest whole number.
pub fn number_per_100(p: f64) -> String {
    if !p.is_finite() {
        "not known".into()
    } else if p < LEAST_SAID {
        "under 1".into()
    } else if p > MOST_SAID {
        "over 99".into()
    } else {
        amount(p)
    }
}

/// A positive amount in at most two digits: halves below 3, whole numbers above.
fn amount(x: f64) -> String {
    if x < 2.75 {
        let halves = (2.0 * x).round() / 2.0;
        if halves.fract() == 0.0 { format!("{halves:.0}") } else { format!("{halves:.1}") }
    } else if x < 99.5 {
        format!("{x:.0}")
    } else {
        two_digits(x)
    }
}

/// `x` rounded to two significant digits, no decimals at or above 10, no trailing ".0" or exponent.
///
/// ```
/// use callup::present::words::two_digits;
/// assert_eq!(two_digits(1234.0), "1200");
/// assert_eq!(two_digits(7.0), "7");
/// assert_eq!(two_digits(0.0347), "0.035");
/// ```
pub fn two_digits(x: f64) -> String {
    if !x.is_finite() {
        return "not known".into();
    }
    if x == 0.0 {
        return "0".into();
    }
    // Nothing that anglers count or measure; written shortly so that it cannot burst a layout.
    if !(1e-6..1e9).contains(&x.abs()) {
        return format!("{x:.1e}");
    }
    let power = x.abs().log10().floor() as i32 - 1;
    let unit = 10f64.powi(power.abs());
    let rounded = if power >= 0 { (x / unit).round() * unit } else { (x * unit).round() / unit };
    let decimals = if rounded.abs() >= 9.95 { 0 } else { power.min(0).unsigned_abs() as usize };
    let text = format!("{rounded:.decimals$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    text.replace('-', "−")
}

/// "about 7", "under 1".
pub fn per_100(p: f64) -> String {
    let n = number_per_100(p);
    if (LEAST_SAID..=MOST_SAID).contains(&p) { format!("about {n}") } else { n }
}

/// "about 7 (3 to 14)": a middle value and the range of plausible worlds, for labels.
pub fn short_range(median: f64, low: f64, high: f64) -> String {
    with_range(per_100(median), median, low, high)
}

/// "about 7 in 100 (3 to 14)".
pub fn range_per_100(median: f64, low: f64, high: f64) -> String {
    with_range(format!("{} in 100", per_100(median)), median, low, high)
}

fn with_range(said: String, median: f64, low: f64, high: f64) -> String {
    if !low.is_finite() || !high.is_finite() {
        return said;
    }
    let (m, l, h) = (number_per_100(median), number_per_100(low), number_per_100(high));
    if l == h && l == m {
        said
    } else if l == "under 1" && m == "under 1" {
        format!("{said} (up to {h})")
    } else if l == h {
        format!("{said} ({l})")
    } else {
        format!("{said} ({l} to {h})")
    }
}

/// The luck of a simulation as it is said: "under 0.1", "0.3"; one standard error.
pub fn luck(se: f64) -> String {
    if se < 0.1 { "under 0.1".into() } else { format!("{se:.1}") }
}

/// What is seen from nearer than this, in the reader's unit, is not seen: it would be written as 0.0.
pub const UNSEEN: f64 = 0.05;

/// A difference per 100 too small for halves: "under 0.1", "0.3", "1.2".
pub fn small(value: f64) -> String {
    if value.abs() < 0.005 {
        "0".into()
    } else if value.abs() < 0.05 {
        "under 0.1".into()
    } else {
        two_digits((10.0 * value).round() / 10.0)
    }
}

/// "7 (3 to 14)", "<1 (up to 2)": as short as it can be said.
pub fn shortest_range(median: f64, low: f64, high: f64) -> String {
    short_range(median, low, high).replace("about ", "").replace("under ", "<")
}

/// "1.4 (0.3 to 4)": strikes in an hour.
pub fn per_hour(e: &Estimate) -> String {
    let said = |x: f64| if x < 0.01 { "<0.01".to_owned() } else { two_digits(x) };
    let [middle, low, high] = [e.point, e.low, e.high].map(said);
    if low == high { middle } else { format!("{middle} ({low} to {high})") }
}

/// A signed difference per 100 in words: "3 more", "1.5 fewer", "less than 1 either way".
pub fn more_or_fewer(d: f64) -> String {
    if !d.is_finite() {
        "not known".into()
    } else if d.abs() < LEAST_DIFFERENCE {
        "less than 1 either way".into()
    } else {
        format!("{} {}", amount(d.abs()), if d > 0.0 { "more" } else { "fewer" })
    }
}

/// "about 3 more in 100 (1 fewer to 6 more)": a difference and its range over plausible worlds.
pub fn difference_per_100(median: f64, low: f64, high: f64) -> String {
    let told = |d: f64| d.abs() >= LEAST_DIFFERENCE;
    let about = if median.is_finite() && told(median) { "about " } else { "" };
    let said = format!("{about}{} in 100", more_or_fewer(median));
    if !low.is_finite() || !high.is_finite() || !median.is_finite() {
        return said;
    }
    let (l, h) = (more_or_fewer(low), more_or_fewer(high));
    match (told(low), told(high)) {
        (false, false) => said,
        _ if l == h => format!("{said} ({l})"),
        // Both ends on one side: the word for it is said once.
        (true, true) if low > 0.0 => format!("{said} ({} to {h})", amount(low)),
        (true, true) if high < 0.0 => format!("{said} ({} to {l})", amount(-high)),
        (true, true) => format!("{said} ({l} to {h})"),
        (false, true) => format!("{said} (none to {h})"),
        (true, false) => format!("{said} ({l} to none)"),
    }
}

/// "1 bait", "3 baits", "no baits".
pub fn count(n: usize, one: &str, many: &str) -> String {
    match n {
        0 => format!("no {many}"),
        1 => format!("1 {one}"),
        n => format!("{n} {many}"),
    }
}

/// "A", "A and B", "A, B and C".
pub fn list<S: AsRef<str>>(names: &[S]) -> String {
    joined(names, "and")
}

/// "A", "A or B", "A, B or C".
pub fn either_of<S: AsRef<str>>(names: &[S]) -> String {
    joined(names, "or")
}

fn joined<S: AsRef<str>>(names: &[S], last_by: &str) -> String {
    match names {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [most @ .., last] => {
            let most: Vec<&str> = most.iter().map(AsRef::as_ref).collect();
            format!("{} {last_by} {}", most.join(", "), last.as_ref())
        }
    }
}

/// What is said of the baits that could each be the best, out of `of` compared.
pub fn tie<S: AsRef<str>>(names: &[S], of: usize) -> String {
    match names {
        [] => "No bait can be called the best.".into(),
        [one] => format!("{} leads in nearly every plausible world.", one.as_ref()),
        [a, b] => {
            format!("{} and {}: either could be the best; take the one you like.", a.as_ref(), b.as_ref())
        }
        all if all.len() == of => format!("All {of} could be the best: nothing known here tells them apart."),
        all => format!("{}: each could be the best of the {of}; take the one you like.", list(all)),
    }
}

/// A share of plausible worlds as a count of ten: "8 in 10 plausible worlds", "all", "none".
pub fn worlds(share: f64) -> String {
    if !share.is_finite() {
        return "an unknown share of plausible worlds".into();
    }
    match (share.clamp(0.0, 1.0) * 10.0).round() as u32 {
        10 if share >= 0.995 => "all plausible worlds".into(),
        10 => "more than 9 in 10 plausible worlds".into(),
        0 if share <= 0.005 => "no plausible world".into(),
        0 => "fewer than 1 in 10 plausible worlds".into(),
        n => format!("about {n} in 10 plausible worlds"),
    }
}

/// Text broken at spaces into lines of at most `width` columns; a longer word keeps a line of its own.
/// Line breaks in the text stay.
pub fn wrap(text: &str, width: usize) -> Vec<String> {
    let mut lines = Vec::new();
    for paragraph in text.split('\n') {
        let mut line = String::new();
        for word in paragraph.split_whitespace() {
            if !line.is_empty() && columns(&line) + 1 + columns(word) > width {
                lines.push(std::mem::take(&mut line));
            }
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(word);
        }
        lines.push(line);
    }
    lines
}

/// How many columns of a terminal a text takes: none for marks that combine, two for East Asian wide
/// letters and pictographs, one for the rest (the broad ranges of Unicode Annex 11).
pub fn columns(text: &str) -> usize {
    text.chars().map(char_columns).sum()
}

/// Columns of one character, see [`columns`].
pub fn char_columns(c: char) -> usize {
    match c {
        c if c.is_control() => 0,
        '\u{300}'..='\u{36f}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' => 0,
        '\u{2060}'..='\u{206f}' | '\u{fe00}'..='\u{fe0f}' | '\u{feff}' => 0,
        '\u{1100}'..='\u{115f}' | '\u{2e80}'..='\u{a4cf}' | '\u{ac00}'..='\u{d7a3}' => 2,
        '\u{f900}'..='\u{faff}' | '\u{fe30}'..='\u{fe6f}' | '\u{ff00}'..='\u{ff60}' => 2,
        '\u{ffe0}'..='\u{ffe6}' | '\u{1f300}'..='\u{1faff}' | '\u{20000}'..='\u{3fffd}' => 2,
        _ => 1,
    }
}
