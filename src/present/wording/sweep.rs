//! A sweep: which bait leads where, where the lead changes, where it cannot be told.

#[cfg(feature = "cli")]
mod pictures;

use super::{Readable, capital};
use crate::present::columns::{Cell, Column, Kind, column, read, spreadsheet};
use crate::present::document::Document;
use crate::present::letters::Letters;
use crate::present::side::Side;
use crate::present::table::Table;
use crate::present::view::View;
use crate::present::words;
use crate::statistics::estimate::Estimate;
use crate::study::SMALLEST_DIFFERENCE;
use crate::study::sweep::reading::{Answer, Reading, Stretch, overall, shares, stretches};

/// Baits shown one by one; more could not be told apart in a picture.
const SHOWN: usize = 4;
/// Where it cannot be told, and where it makes no difference.
const UNTOLD: char = '·';
const LEVEL: char = '-';

impl Readable for Answer {
    fn document(&self, view: &View) -> Document {
        let sides = sides(view, self);
        let varied: Vec<String> = sides.iter().map(Side::described).collect();
        let mut out = Document::new(view.head(), headline(&sides, self));
        out.head.push(format!("Varied: {}.", varied.join("; ")));
        out.texts(more(&sides, self)).texts(by_the_hour(view, &sides, self));
        match sides.as_slice() {
            [x, y] => {
                out.drawn("sweep", map(view, x, y, self)).figure("sweep-difference");
            }
            [x] => steps(&mut out, view, x, self),
            _ => {}
        }
        out.texts(notes(view, self));
        out
    }

    /// One row for each cell worked out and bait.
    fn spreadsheet(&self, _view: &View) -> Table {
        let cells = self.readings.iter().enumerate().filter_map(|(c, r)| Some((c, r.as_ref()?)));
        let rows: Vec<Row> =
            cells.flat_map(|(c, r)| (0..self.cube.baits.len()).map(move |b| (c, b, r))).collect();
        let axis = |(k, axis): (usize, &crate::study::axis::Axis)| {
            let axis = axis.clone();
            column(axis.key(), "", Kind::Text, move |r: &Row| axis.value(self.cube.places(r.0)[k]))
        };
        let mut columns: Vec<Column<Row>> = self.cube.axes.iter().enumerate().map(axis).collect();
        columns.extend([
            column("bait", "", Kind::Text, |r: &Row| self.cube.baits[r.1].clone()),
            column("median", "", Kind::Text, |r: &Row| r.2.strikes[r.1].point),
            column("low", "", Kind::Text, |r: &Row| r.2.strikes[r.1].low),
            column("high", "", Kind::Text, |r: &Row| r.2.strikes[r.1].high),
            column("simulation_se", "", Kind::Text, |r: &Row| r.2.strikes[r.1].simulation_se),
            column("leads_share", "", Kind::Text, |r: &Row| r.2.leads[r.1]),
            column("greatest_median", "", Kind::Text, |r: &Row| r.1 == r.2.leader),
            column("leader_told", "", Kind::Text, |r: &Row| r.1 == r.2.leader && r.2.told),
        ]);
        if let Some(hour) = &self.by_the_hour {
            columns.push(column("strikes_per_hour", "", Kind::PerHour, |r: &Row| {
                hour.strikes[r.0].as_ref().and_then(|h| h.get(r.1).copied())
            }));
        }
        spreadsheet(&columns, &rows)
    }

    #[cfg(feature = "cli")]
    fn pictures(&self, view: &View) -> Vec<crate::present::document::Picture> {
        pictures::pictures(view, self)
    }
}

/// A cell, a bait in it, and what the cell says.
type Row<'a> = (usize, usize, &'a Reading);

/// The axes in the reader's words.
pub fn sides(view: &View, answer: &Answer) -> Vec<Side> {
    answer.cube.axes.iter().map(|a| Side::of(view, a)).collect()
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

/// A step of one axis and what it says.
type Step<'a> = (usize, &'a Reading);

/// One axis: who leads at each step, and the odds of the baits shown.
fn steps(out: &mut Document, view: &View, x: &Side, answer: &Answer) {
    let shown = Letters::of(shown(answer));
    let rows = known(answer);
    let leads = |(_, r): &Step| match (r.told, r.level) {
        (true, _) if shown.baits().contains(&r.leader) => shown.letter(r.leader).to_string(),
        (true, _) => answer.cube.baits[r.leader].clone(),
        (_, true) => "no difference".to_owned(),
        _ => "cannot be told".to_owned(),
    };
    let mut columns = vec![
        column("", x.name.clone(), Kind::Text, |(i, _): &Step| x.step(*i)),
        column("", "leads", Kind::Text, leads),
        column("", "in worlds", Kind::Percent, |(_, r): &Step| r.leads[r.leader]),
    ];
    let mut hourly = vec![column("", x.name.clone(), Kind::Text, |(i, _): &Step| x.step(*i))];
    for (b, letter) in shown.baits().iter().map(|&b| (b, shown.letter(b))) {
        columns.push(column("", format!("{letter}: strikes in 100"), Kind::Text, move |(_, r): &Step| {
            let s = &r.strikes[b];
            range(compact(s.point), compact(s.low), compact(s.high))
        }));
        let at = move |i: usize| answer.by_the_hour.as_ref()?.strikes[i].as_ref().map(|h| Cell::from(h[b]));
        hourly.push(column("", format!("{letter}: strikes an hour"), Kind::PerHour, move |(i, _): &Step| {
            at(*i)
        }));
    }
    out.plain_table("Step by step, baits by their letter", read(&columns, &rows, view.units));
    if answer.by_the_hour.is_some() {
        out.plain_table("The same in an hour", read(&hourly, &rows, view.units));
    }
    out.drawn("sweep", shown.legend(|b| answer.cube.baits[b].clone())).figure("sweep-per-hour");
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
fn map(view: &View, x: &Side, y: &Side, answer: &Answer) -> String {
    let leaders = Letters::of(shares(&answer.readings).into_iter().filter_map(|(leader, _)| leader));
    let labels: Vec<String> = (0..y.len()).map(|j| y.step(j)).collect();
    let margin = labels.iter().map(|l| words::columns(l)).max().unwrap_or(0) + 2;
    let room = view.width.saturating_sub(margin + 2).max(10);
    // Every k-th column and row where there are too many; each cell two characters wide where there is room.
    let every = x.len().div_ceil(room);
    let wide = if x.len() * 2 <= room { 2 } else { 1 };
    let every_row = y.len().div_ceil(MOST_ROWS);
    let sign = |cell: usize| match answer.near(cell) {
        Some(r) if r.told => leaders.letter(r.leader),
        Some(r) if r.level => LEVEL,
        _ => UNTOLD,
    };
    let mut rows: Vec<usize> = (0..y.len()).step_by(every_row).collect();
    if !y.downward && y.words.is_none() {
        rows.reverse();
    }
    let way = if y.downward || y.words.is_some() { "downwards" } else { "upwards" };
    let mut out = format!("{} {way}, {} to the right:\n", capital(&y.name), x.name);
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
        Some(words) => out.push_str(&format!("Columns: {}.\n", words.join(", "))),
        None => out.push_str(&format!("{}{first}{}{last}\n", " ".repeat(margin + 2), " ".repeat(gap))),
    }
    out.push('\n');
    out.push_str(&leaders.legend(|b| answer.cube.baits[b].clone()));
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

fn notes(view: &View, answer: &Answer) -> Vec<String> {
    let mut notes = Vec::new();
    if let Some(partial) = partial(answer) {
        notes.push(partial);
    }
    if answer.cube.baits.len() > 1 && !view.budget.fixed {
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
    let luck = if view.budget.fixed {
        String::new()
    } else {
        let by = words::luck(worst);
        format!(
            "The ranges are what nobody knows about fish. The luck of this simulation adds {by} to a middle value at \
             most (one standard error); --worlds and --passes shrink it. "
        )
    };
    notes.push(format!("{luck}{} The same worlds and passes in every cell.", view.run_line()));
    notes
}

/// Leaders named one by one.
const NAMED: usize = 3;
/// An area is said to lie on one side of a map where nearly all of it does.
const NEARLY_ALL: f64 = 0.9;

/// The finding, in a sentence or two.
pub fn headline(sides: &[Side], answer: &Answer) -> String {
    match sides {
        _ if answer.cube.baits.len() == 1 => one_bait(sides, answer),
        [x] if x.words.is_none() => along(x, answer),
        [x] => by_word(x, answer),
        [x, y] => over(x, y, answer),
        _ => String::new(),
    }
}

/// Said of a sweep that was stopped.
pub fn partial(answer: &Answer) -> Option<String> {
    let cube = &answer.cube;
    (!cube.is_complete()).then(|| {
        let rest =
            if cube.axes.len() > 1 { " The others are shown as the nearest one that was." } else { "" };
        format!(
            "Stopped early: {} of {} cells were worked out, spread evenly.{rest}",
            cube.done(),
            cube.cells.len()
        )
    })
}

/// What else there is to say: where the order flips, how the best odds change, what is grey and why.
pub fn more(sides: &[Side], answer: &Answer) -> Vec<String> {
    let mut all = Vec::new();
    if answer.cube.baits.len() > 1 {
        if let [x] = sides {
            all.extend(answer.flips.iter().map(|f| {
                format!(
                    "From {} {} on, {} draws more strikes than {}; between the ends their order flips in {}.",
                    x.said(reader_value(x, answer, f.at)),
                    x.name,
                    answer.cube.baits[f.to],
                    answer.cube.baits[f.from],
                    words::worlds(f.flips_in)
                )
            }));
        }
        all.extend(best_odds(sides, answer));
        all.extend(grey(answer));
    }
    all.extend(pair(sides, answer));
    all
}

/// What slowness and longer casts make of it in an hour, with the bait that draws most over all.
pub fn by_the_hour(view: &View, sides: &[Side], answer: &Answer) -> Option<String> {
    let hour = answer.by_the_hour.as_ref()?;
    let all: Vec<(usize, usize, &Estimate)> = hour
        .strikes
        .iter()
        .enumerate()
        .filter_map(|(c, baits)| Some((c, baits.as_ref()?)))
        .flat_map(|(c, baits)| baits.iter().enumerate().map(move |(b, e)| (c, b, e)))
        .collect();
    let &(cell, bait, most) = all.iter().max_by(|a, b| a.2.point.total_cmp(&b.2.point))?;
    let own = all.iter().filter(|(_, b, _)| *b == bait);
    let &(least_cell, _, least) = own.min_by(|a, b| a.2.point.total_cmp(&b.2.point))?;
    let counted = match hour.one_pass_in_m {
        Some(cast_m) => {
            format!("if every cast of {} passes one such fish, a longer one more", view.units.length(cast_m))
        }
        None => "with the density of fish given".to_owned(),
    };
    Some(format!(
        "Slowness costs casts. In an hour {} draws most strikes at {}: {}, fewest at {}: {} ({counted}).",
        answer.cube.baits[bait],
        place(sides, answer, cell),
        words::per_hour(most),
        place(sides, answer, least_cell),
        words::per_hour(least),
    ))
}

/// A place on the axis in the reader's unit, from the unit kept: units differ by a factor and a shift, so the steps
/// around it say how.
fn reader_value(x: &Side, answer: &Answer, kept: f64) -> f64 {
    let Some(axis) = answer.cube.axes.first() else { return kept };
    let numbers = axis.numbers();
    let (Some(&a), Some(&b)) = (numbers.first(), numbers.last()) else { return kept };
    let (Some(&c), Some(&d)) = (x.values.first(), x.values.last()) else { return kept };
    c + (kept - a) / (b - a) * (d - c)
}

fn range_of(r: &Reading, bait: usize) -> String {
    let s = &r.strikes[bait];
    words::range_per_100(s.point, s.low, s.high)
}

fn known(answer: &Answer) -> Vec<(usize, &Reading)> {
    answer.readings.iter().enumerate().filter_map(|(i, r)| Some((i, r.as_ref()?))).collect()
}

fn one_bait(sides: &[Side], answer: &Answer) -> String {
    let name = &answer.cube.baits[0];
    let all = known(answer);
    let by = |a: &&(usize, &Reading), b: &&(usize, &Reading)| a.1.best().point.total_cmp(&b.1.best().point);
    let (Some(least), Some(most)) = (all.iter().min_by(by), all.iter().max_by(by)) else {
        return String::new();
    };
    format!(
        "{name} draws most strikes at {}: {}; fewest at {}: {}.",
        place(sides, answer, most.0),
        range_of(most.1, 0),
        place(sides, answer, least.0),
        range_of(least.1, 0),
    )
}

/// "Secchi depth 3.4 m and depth of the fish 4 m".
fn place(sides: &[Side], answer: &Answer, cell: usize) -> String {
    let places = answer.cube.places(cell);
    let one = |(side, i): (&Side, usize)| format!("{} {}", side.name, side.said_step(i));
    words::list(&sides.iter().zip(places).map(one).collect::<Vec<_>>())
}

/// One axis of numbers.
fn along(x: &Side, answer: &Answer) -> String {
    let name = |b: usize| answer.cube.baits[b].as_str();
    let all = stretches(&answer.readings);
    let whole = |s: &Stretch| format!("from {} to {}", x.said_step(s.steps.0), x.said_step(s.steps.1));
    let told: Vec<&Stretch> = all.iter().filter(|s| s.leader.is_some()).collect();
    match (all.as_slice(), told.as_slice()) {
        ([], _) => "Nothing was worked out.".into(),
        ([only], [_]) => format!(
            "{} leads all the way {}, whatever the {}.",
            only.leader.map_or("", name),
            whole(only),
            x.name
        ),
        (_, []) => format!("No bait can be told to lead anywhere {}.", ends(x)),
        _ => {
            let mut leaders: Vec<usize> = told.iter().filter_map(|s| s.leader).collect();
            leaders.dedup();
            let mut parts: Vec<String> = Vec::new();
            if let [one] = leaders.as_slice() {
                let spans: Vec<String> = told.iter().map(|s| span(x, s)).collect();
                parts.push(format!("{} leads {}", name(*one), words::list(&spans)));
            } else {
                for s in told.iter().take(2 * NAMED) {
                    parts.push(format!("{} leads {}", s.leader.map_or("", name), span(x, s)));
                }
            }
            let rest = if told.len() < all.len() { "; elsewhere it cannot be told" } else { "" };
            format!("By {}: {}{rest}.", x.name, parts.join("; "))
        }
    }
}

fn ends(x: &Side) -> String {
    format!("from {} to {} {}", x.said_step(0), x.said_step(x.len().saturating_sub(1)), x.name)
}

/// "up to 2 m", "from 3 m on", "from 2 m to 3 m", "at 2 m".
fn span(x: &Side, s: &Stretch) -> String {
    let last = x.len().saturating_sub(1);
    match s.steps {
        (a, b) if a == b => format!("at {}", x.said_step(a)),
        (0, b) if b == last => "all the way".to_owned(),
        (0, b) => format!("up to {}", x.said_step(b)),
        (a, b) if b == last => format!("from {} on", x.said_step(a)),
        (a, b) => format!("from {} to {}", x.said_step(a), x.said_step(b)),
    }
}

/// One axis of words.
fn by_word(x: &Side, answer: &Answer) -> String {
    let groups = shares(&answer.readings);
    let steps = |leader: Option<usize>| -> Vec<String> {
        let same = |r: &Reading| r.told.then_some(r.leader) == leader;
        known(answer).iter().filter(|(_, r)| same(r)).map(|(i, _)| x.said_step(*i)).collect()
    };
    let count = answer.readings.iter().flatten().count();
    let mut parts = Vec::new();
    for (leader, _) in &groups {
        let steps = steps(*leader);
        let which = if steps.len() == count {
            format!("whatever the {}", x.name)
        } else {
            format!("with {} {}", x.name, words::list(&steps))
        };
        parts.push(match leader {
            Some(b) => format!("{} leads {which}", answer.cube.baits[*b]),
            None => format!("it cannot be told who leads {which}"),
        });
    }
    capital(&format!("{}.", parts.join("; ")))
}

/// Two axes.
fn over(x: &Side, y: &Side, answer: &Answer) -> String {
    let groups = shares(&answer.readings);
    let mut parts = Vec::new();
    for (leader, share) in groups.iter().filter(|(l, _)| l.is_some()).take(NAMED) {
        let Some(b) = leader else { continue };
        let lies = [lies(x, answer, *b, 0), lies(y, answer, *b, 1)].into_iter().flatten().collect::<Vec<_>>();
        let lies =
            if lies.is_empty() { String::new() } else { format!(" (mostly with {})", words::list(&lies)) };
        parts.push(format!("{} leads in {} of the map{lies}", answer.cube.baits[*b], percent(*share)));
    }
    let told = groups.iter().filter(|(l, _)| l.is_some()).count();
    if told > NAMED {
        parts.push(format!("{} in small parts", words::count(told - NAMED, "more leads", "more lead")));
    }
    let grey = groups.iter().find(|(l, _)| l.is_none()).map_or(0.0, |g| g.1);
    if parts.is_empty() {
        return format!("No bait can be told to lead anywhere over {} and {}.", x.name, y.name);
    }
    if grey > 0.0 {
        parts.push(format!("in {} it cannot be told", percent(grey)));
    }
    format!("{}.", parts.join("; "))
}

fn percent(share: f64) -> String {
    match (100.0 * share).round_ties_even() as u32 {
        0 => "under 1 %".into(),
        n => format!("{n} %"),
    }
}

/// On which part of an axis a leader's cells lie, where that is not all of it: "Secchi depth above 2 m".
fn lies(side: &Side, answer: &Answer, bait: usize, axis: usize) -> Option<String> {
    let last = side.len().checked_sub(1)?;
    let mut steps: Vec<usize> = known(answer)
        .iter()
        .filter(|(_, r)| r.told && r.leader == bait)
        .map(|(c, _)| answer.cube.places(*c)[axis])
        .collect();
    steps.sort_unstable();
    if steps.is_empty() {
        return None;
    }
    if side.words.is_some() {
        steps.dedup();
        let named: Vec<String> = steps.iter().map(|i| side.said_step(*i)).collect();
        return (named.len() <= side.len() / 2).then(|| words::list(&named));
    }
    // The ends that hold nearly all of its cells.
    let cut = (((1.0 - NEARLY_ALL) * steps.len() as f64) / 2.0) as usize;
    let (low, high) = (steps[cut], steps[steps.len() - 1 - cut]);
    // A part is worth saying where it leaves out a fifth of the axis or more.
    let worth = (last as f64 / 5.0).ceil() as usize;
    match (low >= worth, last - high >= worth) {
        (true, true) => Some(format!("{} {} to {}", side.name, side.said_step(low), side.said_step(high))),
        (true, false) => Some(format!("{} over {}", side.name, side.said_step(low))),
        (false, true) => Some(format!("{} under {}", side.name, side.said_step(high))),
        (false, false) => None,
    }
}

/// How the best odds change over the sweep.
fn best_odds(sides: &[Side], answer: &Answer) -> Option<String> {
    let all = known(answer);
    let by = |a: &&(usize, &Reading), b: &&(usize, &Reading)| a.1.best().point.total_cmp(&b.1.best().point);
    let (least, most) = (all.iter().min_by(by)?, all.iter().max_by(by)?);
    if most.1.best().point - least.1.best().point < SMALLEST_DIFFERENCE {
        return Some(format!(
            "The leader's odds hardly change: at most {}, at {}.",
            range_of(most.1, most.1.leader),
            place(sides, answer, most.0),
        ));
    }
    Some(format!(
        "The leader's odds go from {} at {} to {} at {}.",
        range_of(least.1, least.1.leader),
        place(sides, answer, least.0),
        range_of(most.1, most.1.leader),
        place(sides, answer, most.0),
    ))
}

/// What is grey, and why.
fn grey(answer: &Answer) -> Option<String> {
    let all = known(answer);
    let share = |f: &dyn Fn(&Reading) -> bool| {
        all.iter().filter(|(_, r)| f(r)).count() as f64 / all.len().max(1) as f64
    };
    let (level, tied) = (share(&|r| r.level), share(&|r| !r.told && !r.level));
    let of = if answer.cube.axes.len() > 1 { "of the map" } else { "of the steps" };
    match (level > 0.0, tied > 0.0) {
        (true, true) => Some(format!(
            "Where it cannot be told, no difference matters in {} {of} (all baits within 1 in 100), and several baits \
             share the lead in {}.",
            percent(level),
            percent(tied)
        )),
        (true, false) => {
            Some("Where it cannot be told, no difference matters: all baits are within 1 in 100.".into())
        }
        (false, true) => {
            Some("Where it cannot be told, several baits share the lead: take the one you like.".into())
        }
        (false, false) => None,
    }
}

/// How the two baits compared differ.
fn pair(sides: &[Side], answer: &Answer) -> Option<String> {
    let (first, second) = answer.pair?;
    let all: Vec<_> =
        answer.differences.iter().enumerate().filter_map(|(c, d)| Some((c, d.as_ref()?))).collect();
    let of = all.len().max(1) as f64;
    let share =
        |f: &dyn Fn(f64) -> bool| all.iter().filter(|(_, d)| d.told && f(d.more.point)).count() as f64 / of;
    let (more, fewer) = (share(&|d| d > 0.0), share(&|d| d < 0.0));
    let most = all.iter().max_by(|a, b| a.1.more.point.abs().total_cmp(&b.1.more.point.abs()))?;
    let (a, b) = (&answer.cube.baits[first], &answer.cube.baits[second]);
    let e = &most.1.more;
    let whole = if sides.len() > 1 { "of the map" } else { "of the steps" };
    let told = match (more > 0.0, fewer > 0.0) {
        (true, true) => format!("draws more in {} {whole}, fewer in {}", percent(more), percent(fewer)),
        (true, false) => format!("draws more in {} {whole}, and nowhere fewer", percent(more)),
        (false, true) => format!("draws fewer in {} {whole}, and nowhere more", percent(fewer)),
        (false, false) => "cannot be told from it anywhere".into(),
    };
    Some(format!(
        "{a} against {b}: {told}; the greatest difference is {} at {}.",
        words::difference_per_100(e.point, e.low, e.high),
        place(sides, answer, most.0),
    ))
}
