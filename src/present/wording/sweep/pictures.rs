//! The pictures of a sweep.

use super::{best_odds, by_the_hour, headline, lies, pair, partial, percent, reader_value, shown, sides};
use crate::present::document::Picture;
use crate::present::figures::panel::{At, Curves, curves as lines};
use crate::present::figures::rows::{Cell, Group, Mark, Row, Rows, Shape, Side as Axis, rows as in_rows};
use crate::present::figures::{Words, map};
use crate::present::palette::series;
use crate::present::side::Side;
use crate::present::view::View;
use crate::present::words::{self, two_digits};
use crate::statistics::estimate::Estimate;
use crate::study::sweep::reading::{Answer, Reading, shares};

/// Levels of strikes per 100 passes that are drawn as lines where they occur.
const LEVELS: &[f64] = &[1.0, 2.0, 3.0, 5.0, 7.0, 10.0, 15.0, 20.0, 30.0, 40.0, 60.0, 80.0];
const LINES_NOTE: &str = "Lines: strikes in 100 passes of the leader, middle value. ";
const GREY_NOTE: &str = "Grey: no bait leads in six plausible worlds in ten, or all are within 1 in 100. ";
/// Lines that have a band: more would cover each other.
const BANDS: usize = 2;
/// Height that one bait takes in a row.
const LANE_PX: f64 = 20.0;
/// No more lines than these.
const MOST_LEVELS: usize = 5;

/// The pictures: name and scene.
pub fn pictures(view: &View, answer: &Answer) -> Vec<Picture> {
    let named = |name: &str, scene| (name.to_owned(), scene);
    match sides(view, answer).as_slice() {
        [x] if x.words.is_some() => vec![named("sweep", in_rows(&rows(view, x, answer)))],
        [x] => {
            let hour = hourly(view, x, answer).map(|h| named("sweep-per-hour", lines(&h)));
            std::iter::once(named("sweep", lines(&curves(view, x, answer)))).chain(hour).collect()
        }
        [x, y] => {
            let names = [x.words.as_deref(), y.words.as_deref()];
            let leaders = map::leader_map_named(&leaders(view, x, y, answer), names);
            let difference = difference(view, x, y, answer)
                .map(|d| named("sweep-difference", map::difference_map_named(&d, names)));
            std::iter::once(named("sweep", leaders)).chain(difference).collect()
        }
        _ => Vec::new(),
    }
}

fn around(view: &View, answer: &Answer, caption: String, extra: &str) -> Words {
    // With every assumption at its default there is no spread to explain.
    let extra = if view.budget.fixed { "" } else { extra };
    let partial = partial(answer).map_or(String::new(), |p| format!("{p} "));
    Words { caption, note: format!("{partial}{extra}{}", view.note()) }
}

/// One axis of words: the baits shown, word by word.
fn rows(view: &View, x: &Side, answer: &Answer) -> Rows {
    let baits = shown(answer);
    let marks = |k: usize, [low, middle, high]: [f64; 3]| {
        let (colour, dash) = series(k);
        [Shape::Line { low, high, px: 3.0, dash }, Shape::Dot { at: middle, radius: 6.5 }]
            .map(|shape| Mark::new(shape, colour))
    };
    let row = |(i, reading): (usize, &Option<Reading>)| {
        let r = reading.as_ref()?;
        let lane = |(k, &b): (usize, &usize)| {
            let (s, dy) = (&r.strikes[b], LANE_PX * (k as f64 - 0.5 * (baits.len() as f64 - 1.0)));
            marks(k, [s.low, s.point, s.high]).map(|m| m.lower(dy))
        };
        let tells =
            baits.iter().map(|&b| format!("{} {}", answer.cube.baits[b], two_digits(r.strikes[b].point)));
        Some(Row {
            name: x.step(i),
            bold: true,
            tells: tells.collect::<Vec<_>>().join(", "),
            cells: vec![Cell { marks: baits.iter().enumerate().flat_map(lane).collect(), said: Vec::new() }],
            ..Row::default()
        })
    };
    let caption = headline(std::slice::from_ref(x), answer);
    let extra = "Lines hold nine in ten plausible worlds; the dots are their middle. ";
    let key = |(k, &b): (usize, &usize)| (marks(k, [0.0, 0.5, 1.0]).into(), answer.cube.baits[b].clone());
    Rows {
        words: around(view, answer, caption, extra),
        key: baits.iter().enumerate().map(key).collect(),
        sides: vec![Axis { title: "strikes in 100 passes".into(), ..Axis::default() }],
        groups: vec![Group::plain(answer.readings.iter().enumerate().filter_map(row))],
        row_px: LANE_PX * (baits.len() as f64 + 1.0),
        ..Rows::default()
    }
}

/// The same in an hour, where the pace differs.
fn hourly(view: &View, x: &Side, answer: &Answer) -> Option<Curves> {
    let strikes = &answer.by_the_hour.as_ref()?.strikes;
    let per_pass = curves(view, x, answer);
    let series = shown(answer).into_iter().zip(per_pass.lines).enumerate().map(|(k, (b, (name, _)))| {
        let at = |(i, baits): (usize, &Option<Vec<Estimate>>)| {
            let s = baits.as_ref()?.get(b)?;
            let (low, high) = if k < BANDS { (s.low, s.high) } else { (f64::NAN, f64::NAN) };
            Some(At { x: x.values[i], middle: s.point, low, high })
        };
        (name, strikes.iter().enumerate().filter_map(at).collect())
    });
    let caption = by_the_hour(view, std::slice::from_ref(x), answer)?;
    Some(Curves {
        words: Words { caption, ..per_pass.words },
        y_title: "strikes in an hour".into(),
        lines: series.collect(),
        markers: x.here.map(|h| (h, "the scenario".to_owned())).into_iter().collect(),
        ..per_pass
    })
}

/// One axis of numbers: lines with bands.
fn curves(view: &View, x: &Side, answer: &Answer) -> Curves {
    let baits = shown(answer);
    let banded = |b: usize| baits.iter().take(BANDS).any(|k| *k == b);
    let lines = baits.iter().map(|&b| {
        let at = |(i, r): (usize, &Option<Reading>)| {
            let s = r.as_ref()?.strikes[b];
            let (low, high) = if banded(b) { (s.low, s.high) } else { (f64::NAN, f64::NAN) };
            Some(At { x: x.values[i], middle: s.point, low, high })
        };
        (answer.cube.baits[b].clone(), answer.readings.iter().enumerate().filter_map(at).collect())
    });
    let here = x.here.map(|h| (h, "the scenario".to_owned()));
    let flips = answer.flips.iter().map(|f| {
        let at = reader_value(x, answer, f.at);
        (at, format!("lead changes at {}", x.said(at)))
    });
    let with_band: Vec<&str> = baits.iter().take(BANDS).map(|&b| answer.cube.baits[b].as_str()).collect();
    let extra = format!(
        "Lines: middle of the plausible worlds. Bands: nine in ten of them, for {}. ",
        with_band.join(" and for ")
    );
    let caption = headline(std::slice::from_ref(x), answer);
    Curves {
        words: around(view, answer, caption, &extra),
        x_title: x.title(),
        y_title: "strikes in 100 passes".into(),
        x_logarithmic: x.logarithmic,
        lines: lines.collect(),
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

fn leaders(view: &View, x: &Side, y: &Side, answer: &Answer) -> map::LeaderMap {
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
        words: around(view, answer, map_caption(&sides, answer), &extra),
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

fn difference(view: &View, x: &Side, y: &Side, answer: &Answer) -> Option<map::DifferenceMap> {
    let (first, second) = answer.pair?;
    let at = |c: usize| answer.differences.get(answer.nearest[c]?)?.as_ref();
    let count = answer.cube.cells.len();
    let values: Vec<f64> = (0..count).map(|c| at(c).map_or(f64::NAN, |d| d.more.point)).collect();
    let numbers = x.words.is_none() && y.words.is_none();
    let more = levels(&values, "more");
    let fewer: Vec<f64> = values.iter().map(|v| -v).collect();
    let fewer = levels(&fewer, "fewer").into_iter().map(|(l, text)| (-l, text));
    let caption = pair(&[x.clone(), y.clone()], answer).unwrap_or_default();
    let zero = if numbers { "; the thick line is no difference" } else { "" };
    let extra = format!("Grey where the sign cannot be told or the difference is under 1 in 100{zero}. ");
    Some(map::DifferenceMap {
        words: around(view, answer, caption, &extra),
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

/// The finding of a map in the space of a caption.
fn map_caption(sides: &[Side], answer: &Answer) -> String {
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
