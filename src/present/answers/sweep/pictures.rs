//! The pictures of a sweep.

use super::labels::Side;
use super::{headline, partial, sentences, shown};
use crate::present::answers::Asked;
use crate::present::figures::{Words, choices, lines, map};
use crate::present::scene::Scene;
use crate::statistics::estimate::Estimate;
use crate::study::sweep::reading::{Answer, Reading, shares};

/// Levels of strikes per 100 passes that are drawn as lines where they occur.
const LEVELS: &[f64] = &[1.0, 2.0, 3.0, 5.0, 7.0, 10.0, 15.0, 20.0, 30.0, 40.0, 60.0, 80.0];
const LINES_NOTE: &str = "Lines: strikes in 100 passes of the leader, middle value. ";
const GREY_NOTE: &str = "Grey: no bait leads in six plausible worlds in ten, or all are within 1 in 100. ";
/// Lines that have a band: more would cover each other.
const BANDS: usize = 2;
/// No more lines than these.
const MOST_LEVELS: usize = 5;

/// The pictures: name and scene.
pub fn pictures(asked: &Asked, answer: &Answer) -> Vec<(&'static str, Scene)> {
    let sides: Vec<Side> = answer.cube.axes.iter().map(|a| Side::of(asked, a)).collect();
    match sides.as_slice() {
        [x] if x.words.is_some() => vec![("sweep", choices::choices(&rows(asked, x, answer)))],
        [x] => {
            let hour = hourly(asked, x, answer).map(|h| ("sweep-per-hour", lines::lines(&h)));
            std::iter::once(("sweep", lines::lines(&curves(asked, x, answer)))).chain(hour).collect()
        }
        [x, y] => {
            let names = [x.words.as_deref(), y.words.as_deref()];
            let mut all = vec![("sweep", map::leader_map_named(&leaders(asked, x, y, answer), names))];
            if let Some(difference) = difference(asked, x, y, answer) {
                all.push(("sweep-difference", map::difference_map_named(&difference, names)));
            }
            all
        }
        _ => Vec::new(),
    }
}

fn words(asked: &Asked, answer: &Answer, caption: String, extra: &str) -> Words {
    // With every assumption at its default there is no spread to explain.
    let extra = if asked.budget.fixed { "" } else { extra };
    let partial = partial(answer).map_or(String::new(), |p| format!("{p} "));
    Words { caption, note: format!("{partial}{extra}{}", asked.note()) }
}

/// One axis of words: the baits shown, word by word.
fn rows(asked: &Asked, x: &Side, answer: &Answer) -> choices::Choices {
    let baits = shown(answer);
    let row = |(i, reading): (usize, &Option<Reading>)| {
        let r = reading.as_ref()?;
        let mark = |&b: &usize| {
            let s = &r.strikes[b];
            choices::Mark { middle: s.point, low: s.low, high: s.high }
        };
        Some(choices::Row { name: x.step(i), marks: baits.iter().map(mark).collect() })
    };
    let caption = headline(std::slice::from_ref(x), answer);
    let extra = "Lines hold nine in ten plausible worlds; the dots are their middle. ";
    choices::Choices {
        words: words(asked, answer, caption, extra),
        x_title: "strikes in 100 passes".into(),
        names: baits.iter().map(|&b| answer.cube.baits[b].clone()).collect(),
        rows: answer.readings.iter().enumerate().filter_map(row).collect(),
    }
}

/// The same in an hour, where the pace differs.
fn hourly(asked: &Asked, x: &Side, answer: &Answer) -> Option<lines::Lines> {
    let strikes = &answer.by_the_hour.as_ref()?.strikes;
    let per_pass = curves(asked, x, answer);
    let series = shown(answer).into_iter().zip(per_pass.series).enumerate().map(|(k, (b, series))| {
        let at = |(i, baits): (usize, &Option<Vec<Estimate>>)| {
            let s = baits.as_ref()?.get(b)?;
            let (low, high) = if k < BANDS { (s.low, s.high) } else { (f64::NAN, f64::NAN) };
            Some(lines::At { x: x.values[i], middle: s.point, low, high })
        };
        lines::Series { points: strikes.iter().enumerate().filter_map(at).collect(), ..series }
    });
    let caption = sentences::by_the_hour(asked, std::slice::from_ref(x), answer)?;
    Some(lines::Lines {
        words: Words { caption, ..per_pass.words },
        y_title: "strikes in an hour".into(),
        series: series.collect(),
        markers: x.here.map(|h| (h, "the scenario".to_owned())).into_iter().collect(),
        ..per_pass
    })
}

/// One axis of numbers: lines with bands.
fn curves(asked: &Asked, x: &Side, answer: &Answer) -> lines::Lines {
    let baits = shown(answer);
    let banded = |b: usize| baits.iter().take(BANDS).any(|k| *k == b);
    let series = baits.iter().map(|&b| lines::Series {
        name: answer.cube.baits[b].clone(),
        points: answer
            .readings
            .iter()
            .enumerate()
            .filter_map(|(i, r)| {
                let s = r.as_ref()?.strikes[b];
                let (low, high) = if banded(b) { (s.low, s.high) } else { (f64::NAN, f64::NAN) };
                Some(lines::At { x: x.values[i], middle: s.point, low, high })
            })
            .collect(),
        muted: false,
    });
    let here = x.here.map(|h| (h, "the scenario".to_owned()));
    let flips = answer.flips.iter().map(|f| {
        let at = sentences::reader_value(x, answer, f.at);
        (at, format!("lead changes at {}", x.said(at)))
    });
    let with_band: Vec<&str> = baits.iter().take(BANDS).map(|&b| answer.cube.baits[b].as_str()).collect();
    let extra = format!(
        "Lines: middle of the plausible worlds. Bands: nine in ten of them, for {}. ",
        with_band.join(" and for ")
    );
    let caption = headline(std::slice::from_ref(x), answer);
    lines::Lines {
        words: words(asked, answer, caption, &extra),
        x_title: x.title(),
        y_title: "strikes in 100 passes".into(),
        x_logarithmic: x.logarithmic,
        series: series.collect(),
        markers: flips.chain(here).collect(),
    }
}

fn side(of: &Side, upright: bool) -> map::Side {
    map::Side {
        title: if of.words.is_some() { of.name.clone() } else { of.title() },
        values: of.values.clone(),
        logarithmic: of.logarithmic,
        downward: upright && (of.downward || of.words.is_some()),
    }
}

fn here(x: &Side, y: &Side) -> Option<((f64, f64), String)> {
    Some(((x.here?, y.here?), "the scenario".into()))
}

fn leaders(asked: &Asked, x: &Side, y: &Side, answer: &Answer) -> map::LeaderMap {
    let order: Vec<usize> = shares(&answer.readings).into_iter().filter_map(|(l, _)| l).collect();
    let count = answer.cube.cells.len();
    let cells = (0..count)
        .map(|c| answer.near(c).filter(|r| r.told).and_then(|r| order.iter().position(|b| *b == r.leader)))
        .collect();
    let values: Vec<f64> = (0..count).map(|c| answer.near(c).map_or(f64::NAN, |r| r.best().point)).collect();
    let numbers = x.words.is_none() && y.words.is_none();
    let levels = levels(&values, "in 100");
    let sides = [x.clone(), y.clone()];
    let extra = format!("{}{GREY_NOTE}", if numbers { LINES_NOTE } else { "" });
    map::LeaderMap {
        words: words(asked, answer, sentences::map_caption(&sides, answer), &extra),
        x: side(x, false),
        y: side(y, true),
        names: order.iter().map(|&b| answer.cube.baits[b].clone()).collect(),
        cells,
        contours: (numbers && !levels.is_empty()).then_some(map::Contours { values, levels }),
        here: here(x, y),
    }
}

/// The levels that occur, thinned from the middle of the list where there are too many.
fn levels(values: &[f64], unit: &str) -> Vec<(f64, String)> {
    let finite = || values.iter().copied().filter(|v| v.is_finite());
    let (least, most) = (finite().fold(f64::INFINITY, f64::min), finite().fold(f64::NEG_INFINITY, f64::max));
    let within: Vec<f64> = LEVELS.iter().copied().filter(|l| *l > least && *l < most).collect();
    let every = within.len().div_ceil(MOST_LEVELS).max(1);
    within.into_iter().rev().step_by(every).rev().map(|l| (l, format!("{l} {unit}"))).collect()
}

fn difference(asked: &Asked, x: &Side, y: &Side, answer: &Answer) -> Option<map::DifferenceMap> {
    let (first, second) = answer.pair?;
    let at = |c: usize| answer.differences.get(answer.nearest[c]?)?.as_ref();
    let count = answer.cube.cells.len();
    let values: Vec<f64> = (0..count).map(|c| at(c).map_or(f64::NAN, |d| d.more.point)).collect();
    let numbers = x.words.is_none() && y.words.is_none();
    let more = levels(&values, "more");
    let fewer: Vec<f64> = values.iter().map(|v| -v).collect();
    let fewer = levels(&fewer, "fewer").into_iter().map(|(l, text)| (-l, text));
    let caption = sentences::pair_caption(&[x.clone(), y.clone()], answer);
    let zero = if numbers { "; the thick line is no difference" } else { "" };
    let extra = format!("Grey where the sign cannot be told or the difference is under 1 in 100{zero}. ");
    Some(map::DifferenceMap {
        words: words(asked, answer, caption, &extra),
        x: side(x, false),
        y: side(y, true),
        untold: (0..count).map(|c| at(c).is_none_or(|d| !d.told)).collect(),
        above: format!("more with {}", answer.cube.baits[first]),
        below: format!("more with {}", answer.cube.baits[second]),
        levels: if numbers { fewer.chain(more).collect() } else { Vec::new() },
        here: here(x, y),
        values,
    })
}
