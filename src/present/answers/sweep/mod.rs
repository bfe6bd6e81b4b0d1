//! A sweep: which bait leads where, where the lead changes, where it cannot be told.

pub mod labels;
pub mod machine;
pub mod pictures;
mod sentences;

use sentences::capital;
pub use sentences::{headline, partial};

use super::{Asked, CAUTION};
use crate::present::table::{Column, Table};
use crate::present::words;
use crate::study::sweep::reading::{Answer, overall, shares};
use labels::Side;

/// Baits shown one by one; more could not be told apart in a picture.
const SHOWN: usize = 4;
/// Letters that stand for baits in a map of characters.
const LETTERS: &[u8; 26] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZ";
/// Where it cannot be told, and where it makes no difference.
const UNTOLD: char = '·';
const LEVEL: char = '-';

/// The whole answer as text.
pub fn text(asked: &Asked, answer: &Answer) -> String {
    let sides: Vec<Side> = answer.cube.axes.iter().map(|a| Side::of(asked, a)).collect();
    let mut out = asked.conditions();
    let varied: Vec<String> = sides.iter().map(Side::described).collect();
    out.push_str(&asked.wrapped(&format!("Varied: {}.", varied.join("; "))));
    out.push('\n');
    out.push_str(&asked.wrapped(&headline(&sides, answer)));
    for sentence in
        sentences::more(&sides, answer).into_iter().chain(sentences::by_the_hour(asked, &sides, answer))
    {
        out.push_str(&asked.wrapped(&sentence));
    }
    out.push('\n');
    match sides.as_slice() {
        [x, y] => out.push_str(&map(asked, x, y, answer)),
        [x] => out.push_str(&steps(asked, x, answer)),
        _ => {}
    }
    out.push('\n');
    for note in notes(asked, answer) {
        out.push_str(&asked.wrapped(&note));
    }
    out.push('\n');
    out.push_str(&asked.wrapped(CAUTION));
    out
}

/// The baits worth showing one by one: who leads at the ends, who leads most, who does best over all.
fn shown(answer: &Answer) -> Vec<usize> {
    let known: Vec<usize> = (0..answer.readings.len()).filter(|&i| answer.readings[i].is_some()).collect();
    let leader = |i: Option<&usize>| answer.readings[*i?].as_ref().map(|r| r.leader);
    let mut shown = Vec::new();
    let pair = answer.pair.map(|(a, b)| [a, b]).into_iter().flatten().map(Some);
    let most = shares(&answer.readings).into_iter().map(|(leader, _)| leader);
    let best = overall(&answer.readings);
    let flips = answer.flips.iter().flat_map(|f| [Some(f.from), Some(f.to)]);
    let ends = [leader(known.last()), leader(known.first())];
    for bait in pair.chain(ends).chain(flips).chain(most).chain(best.into_iter().map(Some)) {
        let Some(bait) = bait else { continue };
        if shown.len() < SHOWN.min(answer.cube.baits.len()) && !shown.contains(&bait) {
            shown.push(bait);
        }
    }
    shown
}

/// The letter of each bait shown by letter.
fn letter(shown: &[usize], bait: usize) -> Option<char> {
    let i = shown.iter().position(|b| *b == bait)?;
    LETTERS.get(i).map(|l| char::from(*l))
}

fn legend(answer: &Answer, shown: &[usize]) -> String {
    let name = |b: usize| crate::present::escape::terminal_text(&answer.cube.baits[b]);
    let line = |b: &usize| Some(format!("  {}  {}\n", letter(shown, *b)?, name(*b)));
    shown.iter().filter_map(line).collect()
}

/// One axis: who leads at each step, and the odds of the baits shown.
fn steps(asked: &Asked, x: &Side, answer: &Answer) -> String {
    let shown = shown(answer);
    let mut columns = vec![Column::text(&x.name), Column::text("leads"), Column::number("in worlds")];
    columns.extend(
        shown
            .iter()
            .filter_map(|&b| letter(&shown, b))
            .map(|l| Column::text(&format!("{l}: strikes in 100"))),
    );
    let mut table = Table::new(columns);
    for (i, reading) in answer.readings.iter().enumerate() {
        let Some(r) = reading else { continue };
        let leader = match (r.told, r.level, letter(&shown, r.leader)) {
            (true, _, Some(letter)) => letter.to_string(),
            (true, _, None) => answer.cube.baits[r.leader].clone(),
            (_, true, _) => "no difference".to_owned(),
            _ => "cannot be told".to_owned(),
        };
        let mut row = vec![x.step(i), leader, format!("{:.0} %", 100.0 * r.leads[r.leader])];
        row.extend(shown.iter().map(|&b| {
            let s = &r.strikes[b];
            range(compact(s.point), compact(s.low), compact(s.high))
        }));
        table.push(row);
    }
    format!(
        "{}{}\n{}",
        table.terminal(asked.width),
        an_hour(asked, x, answer, &shown),
        legend(answer, &shown)
    )
}

/// The same in an hour, where the pace differs.
fn an_hour(asked: &Asked, x: &Side, answer: &Answer, shown: &[usize]) -> String {
    let Some(hour) = &answer.by_the_hour else { return String::new() };
    let mut columns = vec![Column::text(&x.name)];
    let letters = shown.iter().filter_map(|&b| letter(shown, b));
    columns.extend(letters.map(|l| Column::text(&format!("{l}: strikes an hour"))));
    let mut table = Table::new(columns);
    for (i, baits) in hour.strikes.iter().enumerate() {
        let Some(baits) = baits else { continue };
        let mut row = vec![x.step(i)];
        row.extend(shown.iter().map(|&b| words::per_hour(&baits[b])));
        table.push(row);
    }
    format!("\n{}", table.terminal(asked.width))
}

/// "7 (3 to 14)", "<1 (up to 2)", "<1".
fn range(middle: String, low: String, high: String) -> String {
    match (middle == low, low == high) {
        (true, true) => middle,
        (true, false) if low.starts_with('<') => format!("{middle} (up to {high})"),
        _ => format!("{middle} ({low} to {high})"),
    }
}

/// A number of strikes per 100 as short as it can be said: "<1", "1.5", "7".
fn compact(p: f64) -> String {
    words::number_per_100(p).replace("under ", "<").replace("over ", ">")
}

/// Two axes: a map of characters.
fn map(asked: &Asked, x: &Side, y: &Side, answer: &Answer) -> String {
    let leaders: Vec<usize> =
        shares(&answer.readings).into_iter().filter_map(|(l, _)| l).take(LETTERS.len()).collect();
    let labels: Vec<String> = (0..y.len()).map(|j| y.step(j)).collect();
    let margin = labels.iter().map(|l| words::columns(l)).max().unwrap_or(0) + 2;
    let room = asked.width.saturating_sub(margin + 2).max(10);
    // Every k-th column and row where there are too many; each cell two characters wide where there is room.
    let every = x.len().div_ceil(room);
    let wide = if x.len() * 2 <= room { 2 } else { 1 };
    let every_row = y.len().div_ceil(MOST_ROWS);
    let sign = |cell: usize| match answer.near(cell) {
        Some(r) if r.told => letter(&leaders, r.leader).unwrap_or('*'),
        Some(r) if r.level => LEVEL,
        _ => UNTOLD,
    };
    let mut rows: Vec<usize> = (0..y.len()).step_by(every_row).collect();
    if !y.downward && y.words.is_none() {
        rows.reverse();
    }
    let way = if y.downward || y.words.is_some() { "downwards" } else { "upwards" };
    let mut out = asked.wrapped(&format!("{} {way}, {} to the right:", capital(&y.name), x.name));
    for j in rows {
        let signs: String = (0..x.len())
            .step_by(every)
            .map(|i| sign(j * x.len() + i))
            .flat_map(|c| std::iter::once(c).chain(std::iter::repeat_n(' ', wide - 1)))
            .collect();
        let pad = " ".repeat(margin - words::columns(&labels[j]));
        out.push_str(&format!("{pad}{}  {}\n", labels[j], signs.trim_end()));
    }
    let (first, last) = (x.step(0), x.step(x.len().saturating_sub(1)));
    let drawn = x.len().div_ceil(every) * wide;
    let gap = drawn.saturating_sub(words::columns(&first) + words::columns(&last)).max(2);
    match &x.words {
        Some(words) => out.push_str(&asked.wrapped(&format!("Columns: {}.", words.join(", ")))),
        None => out.push_str(&format!("{}{first}{}{last}\n", " ".repeat(margin + 2), " ".repeat(gap))),
    }
    out.push('\n');
    out.push_str(&legend(answer, &leaders));
    let has =
        |f: &dyn Fn(&crate::study::sweep::reading::Reading) -> bool| answer.readings.iter().flatten().any(f);
    if has(&|r| !r.told && !r.level) {
        out.push_str(&format!("  {UNTOLD}  cannot be told\n"));
    }
    if has(&|r| r.level) {
        out.push_str(&format!("  {LEVEL}  no difference that matters\n"));
    }
    out
}

/// Rows of a map of characters.
const MOST_ROWS: usize = 40;

fn notes(asked: &Asked, answer: &Answer) -> Vec<String> {
    let mut notes = Vec::new();
    if let Some(partial) = partial(answer) {
        notes.push(partial);
    }
    if answer.cube.baits.len() > 1 && !asked.budget.fixed {
        notes.push(
            "A bait is said to lead where its middle odds are the greatest and it leads in at least six plausible \
             worlds in ten; else it cannot be told. There is no difference that matters where all baits are within 1 \
             in 100."
                .into(),
        );
    }
    let worst = answer
        .readings
        .iter()
        .flatten()
        .flat_map(|r| &r.strikes)
        .map(|s| s.simulation_se)
        .fold(0.0, f64::max);
    let luck = if asked.budget.fixed {
        String::new()
    } else {
        let by = if worst < 0.1 { "under 0.1".to_owned() } else { format!("{worst:.1}") };
        format!(
            "The ranges are what nobody knows about fish. The luck of this simulation adds {by} to a middle value at \
             most (one standard error); --draws and --points shrink it. "
        )
    };
    notes.push(format!("{luck}{} The same worlds and passes in every cell.", asked.run_line()));
    notes
}
