//! The pictures of trials: all numbers beside each other, and one for each trial along its axis.

use super::{headline, ratio, unit};
use crate::present::figures::Words;
use crate::present::figures::panel::{At, Curves, Layer, One, Panels, Run, Side, curves, panels};
use crate::present::palette::{INK, PAPER, UNTOLD, series};
use crate::present::scene::{Scene, Stroke};
use crate::present::view::View;
use crate::present::words::two_digits;
use crate::study::trials::answer::{Answer, Answered};
use crate::study::trials::reading::{NEAR, RowReading};
use crate::study::trials::{Output, Row};
use crate::units::UnitSystem;

/// The pictures: name and scene.
pub fn pictures(answer: &Answer, view: &View) -> Vec<(String, Scene)> {
    let all = overview(answer, view).map(|scene| ("trials".to_owned(), scene));
    let each = answer.trials.iter().filter_map(|t| Some((format!("trial-{}", t.trial.id), alone(t, view)?)));
    all.into_iter().chain(each).collect()
}

/// Measured against modelled numbers of all trials, on equal ratios; none where nothing was measured.
fn overview(answer: &Answer, view: &View) -> Option<Scene> {
    let groups: Vec<(String, Vec<Mark>)> = answer
        .trials
        .iter()
        .map(|t| (format!("{}: {}", t.trial.id, t.reading.word.label()), marks(t)))
        .filter(|g| !g.1.is_empty())
        .collect();
    let all = || groups.iter().flat_map(|g| &g.1);
    let least = all().map(|m| m.1.x).filter(|v| *v > 0.0).fold(f64::INFINITY, f64::min);
    let ends = all().flat_map(|(_, m)| [m.x, m.middle, m.low, m.high]);
    let (low, high) = ends
        .filter(|v| v.is_finite() && *v > 0.0)
        .fold((f64::INFINITY, 0.0_f64), |(l, h), v| (l.min(v), h.max(v)));
    if groups.is_empty() || high <= 0.0 {
        return None;
    }
    // Ranges that reach far down would leave the measured numbers no room.
    let (from, to) = (low.max(least / 20.0) / 1.3, high * 1.3);
    // Nothing at all stands at the lower edge.
    let held = |v: f64| if v > 0.0 { v } else { from };
    let near =
        [(from, from), (from, from * NEAR), (to / NEAR, to), (to, to), (to, to / NEAR), (from * NEAR, from)];
    let mut layers = vec![
        Layer::Area { points: near.into(), fill: UNTOLD.into() },
        Layer::line(vec![(from, from), (to, to)], Stroke::solid(INK, 1.4)),
        Layer::Words { at: (from, to / 1.15), text: format!("grey: within {NEAR} times") },
    ];
    for (i, (name, marks)) in groups.iter().enumerate() {
        let (colour, dash) = series(i);
        for (row, m) in marks {
            let x = held(m.x);
            let range = Stroke::solid(colour.towards(PAPER, 0.45), 2.0);
            layers.push(Layer::line(vec![(x, held(m.low)), (x, held(m.high))], range));
            layers.push(Layer::Dot {
                at: (x, held(m.middle)),
                radius: 5.0,
                fill: if row.scored { colour } else { PAPER },
                rim: Stroke::solid(colour, 1.8),
                said: String::new(),
                bold: false,
            });
        }
        // The name stands at the point that lies farthest to the right.
        let last = marks.iter().max_by(|a, b| a.1.x.total_cmp(&b.1.x));
        let points = last.map(|(_, m)| (held(m.x), held(m.middle))).into_iter().collect();
        let stroke = Stroke::solid(colour, 3.2).dashed(dash);
        layers.push(Layer::Line { points, stroke, name: name.clone(), tied_low: false });
    }
    let note = format!(
        "Each number in its own unit: metres, 1 over metres, fish an hour, shares. Lines: nine in ten plausible worlds. Black: \
         model and measurement the same. Hollow: printed, not scored. Trials of a pattern alone are left out. {}",
        view.run_line()
    );
    let said = |(_, m): &Mark| format!("measured {}, model {}", two_digits(m.x), two_digits(m.middle));
    let tells =
        groups.iter().map(|(n, m)| format!("{n}: {}", m.iter().map(said).collect::<Vec<_>>().join(", ")));
    let side = |title| Side { ends: (Some(from), Some(to)), run: Run::Ratios, ..Side::new(title) };
    Some(panels(&Panels {
        words: Words { caption: headline(&answer.score), note },
        tells: tells.collect::<Vec<_>>().join("; "),
        x: side("measured"),
        panels: vec![One { y: side("model"), height: 560.0, head: 0.0, layers, aside: String::new() }],
        below: None,
    }))
}

/// A row with what was measured and what the model says to it.
type Mark<'a> = (&'a Row, At);

fn marks(answered: &Answered) -> Vec<Mark<'_>> {
    let mark = |(row, read): (&'_ Row, &RowReading)| {
        let (x, model) = (row.measured?.value, read.model);
        Some(At { x, middle: model.point, low: model.low, high: model.high })
    };
    let rows = answered.trial.rows.iter().zip(&answered.reading.rows);
    rows.filter_map(|(row, read)| Some((row, mark((row, read))?))).collect()
}

/// One trial along its axis: what was measured and what the model says; none for fewer than two places.
fn alone(answered: &Answered, view: &View) -> Option<Scene> {
    let trial = &answered.trial;
    let of_output = |r: &&(&Row, &RowReading)| r.0.output == trial.output && r.0.x.is_some();
    let rows: Vec<(&Row, &RowReading)> = trial.rows.iter().zip(&answered.reading.rows).collect();
    let rows: Vec<&(&Row, &RowReading)> = rows.iter().filter(of_output).collect();
    if rows.len() < 2 || trial.axis.is_empty() {
        return None;
    }
    let mut names: Vec<&str> = Vec::new();
    for (row, _) in rows.iter().map(|r| (r.0, r.1)) {
        if !names.contains(&row.line.as_str()) {
            names.push(&row.line);
        }
    }
    let mut lines: Vec<(String, Vec<At>)> = Vec::new();
    for name in names {
        let mut own: Vec<&&(&Row, &RowReading)> = rows.iter().filter(|r| r.0.line == name).collect();
        own.sort_by(|a, b| a.0.x.unwrap_or(0.0).total_cmp(&b.0.x.unwrap_or(0.0)));
        let behind = if name.is_empty() { String::new() } else { format!(", {name}") };
        let measured: Vec<At> = own.iter().filter_map(|r| measured(r.0, view.units)).collect();
        let model = own.iter().map(|r| modelled(r.0, r.1, view.units)).collect();
        lines.push((format!("model{behind}"), model));
        // What was measured once and is run in several waters stands there once.
        match lines.iter_mut().find(|l| l.0.starts_with("measured") && same(&l.1, &measured)) {
            Some(same) => same.0 = "measured".into(),
            None if measured.is_empty() => {}
            None => lines.push((format!("measured{behind}"), measured)),
        }
    }
    let xs: Vec<f64> = rows.iter().filter_map(|r| r.0.x).collect();
    let (least, most) = xs.iter().fold((f64::INFINITY, 0.0_f64), |(l, m), x| (l.min(*x), m.max(*x)));
    let note = format!(
        "{}; {}. Pale: nine in ten plausible worlds, or the range of what was measured. {}",
        trial.by.trim_end_matches('.'),
        super::known(trial.known),
        view.run_line()
    );
    Some(curves(&Curves {
        words: Words { caption: caption(answered), note },
        x_title: trial.axis.clone(),
        y_title: format!("{} ({})", trial.output.label(), unit(trial.output, view.units)),
        // As the axes of a sweep: equal ratios from a factor of eight on.
        x_logarithmic: least > 0.0 && most / least >= 8.0,
        lines,
        markers: Vec::new(),
    }))
}

fn same(a: &[At], b: &[At]) -> bool {
    a.iter().map(|p| (p.x, p.middle)).eq(b.iter().map(|p| (p.x, p.middle)))
}

fn caption(answered: &Answered) -> String {
    let reading = &answered.reading;
    let numbers = match (reading.mean_ratio, reading.worst_ratio) {
        (Some(mean), Some(worst)) => {
            format!(", model {} times what was measured, {} at worst", ratio(mean), ratio(worst))
        }
        _ => String::new(),
    };
    format!("{}: {}{numbers}.", answered.trial.title, reading.word.label())
}

fn shown(output: Output, value: f64, units: UnitSystem) -> f64 {
    if output.unit() == "m" { units.length_value(value).0 } else { value }
}

fn modelled(row: &Row, read: &RowReading, units: UnitSystem) -> At {
    let to = |v: f64| shown(row.output, v, units);
    let x = row.x.unwrap_or(f64::NAN);
    At { x, middle: to(read.model.point), low: to(read.model.low), high: to(read.model.high) }
}

fn measured(row: &Row, units: UnitSystem) -> Option<At> {
    let m = row.measured?;
    let to = |v: Option<f64>| v.map_or(f64::NAN, |v| shown(row.output, v, units));
    Some(At { x: row.x?, middle: to(Some(m.value)), low: to(m.low), high: to(m.high) })
}
