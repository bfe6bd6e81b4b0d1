//! What a sweep found, in sentences.

use super::labels::Side;
use crate::present::answers::Asked;
use crate::present::words;
use crate::statistics::estimate::Estimate;
use crate::study::SMALLEST_DIFFERENCE;
use crate::study::sweep::reading::{Answer, Reading, Stretch, shares, stretches};

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
pub fn by_the_hour(asked: &Asked, sides: &[Side], answer: &Answer) -> Option<String> {
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
            format!("if every cast of {} passes one such fish, a longer one more", asked.units.length(cast_m))
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
pub(super) fn reader_value(x: &Side, answer: &Answer, kept: f64) -> f64 {
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

/// The finding of a map in the space of a caption.
pub(super) fn map_caption(sides: &[Side], answer: &Answer) -> String {
    let [x, y] = sides else { return String::new() };
    if answer.cube.baits.len() == 1 {
        return headline(sides, answer);
    }
    let groups = shares(&answer.readings);
    let grey = groups.iter().find(|(l, _)| l.is_none()).map_or(0.0, |g| g.1);
    let Some((b, share)) = groups.iter().find_map(|(l, share)| Some(((*l)?, *share))) else {
        return format!("{} {}", headline(sides, answer), best_odds(sides, answer).unwrap_or_default());
    };
    let lies: Vec<String> = [lies(x, answer, b, 0), lies(y, answer, b, 1)].into_iter().flatten().collect();
    let mostly = match lies.as_slice() {
        [] => String::new(),
        some => format!(", mostly with {}", words::list(some)),
    };
    let others = groups.iter().filter(|(l, _)| l.is_some()).count() - 1;
    let others = match others {
        0 => String::new(),
        n => format!("{} in other parts; ", words::count(n, "other leads", "others lead")),
    };
    let rest = if grey > 0.0 {
        format!("; {others}in {} it cannot be told", percent(grey))
    } else {
        format!("; {}", others.trim_end_matches("; ")).trim_end_matches("; ").to_owned()
    };
    format!("{} leads in {} of the map{mostly}{rest}.", answer.cube.baits[b], percent(share))
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

/// The same, for the caption of the difference map.
pub(super) fn pair_caption(sides: &[Side], answer: &Answer) -> String {
    pair(sides, answer).unwrap_or_default()
}

pub(super) fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or(String::new(), |c| c.to_uppercase().chain(chars).collect())
}
