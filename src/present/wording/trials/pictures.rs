//! The pictures of trials: all numbers beside each other, and one for each trial along its axis.

use super::{headline, ratio, unit};
use crate::present::figures::Words;
use crate::present::figures::agreement::{Agreement, Group, Mark, agreement};
use crate::present::figures::lines::{At, Lines, Series, lines};
use crate::present::scene::Scene;
use crate::present::view::View;
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

/// Measured against modelled numbers of all trials; none where nothing was measured.
fn overview(answer: &Answer, view: &View) -> Option<Scene> {
    let groups: Vec<Group> = answer
        .trials
        .iter()
        .map(|t| Group { name: format!("{}: {}", t.trial.id, t.reading.word.label()), marks: marks(t) })
        .filter(|g| !g.marks.is_empty())
        .collect();
    if groups.is_empty() {
        return None;
    }
    let note = format!(
        "Each number in its own unit: metres, 1 over metres, fish an hour, shares. Lines: nine in ten plausible worlds. Black: \
         model and measurement the same. Hollow: printed, not scored. Trials of a pattern alone are left out. {}",
        view.run_line()
    );
    Some(agreement(&Agreement {
        words: Words { caption: headline(&answer.score), note },
        x_title: "measured".into(),
        y_title: "model".into(),
        groups,
        band: NEAR,
        band_label: format!("grey: within {NEAR} times"),
    }))
}

fn marks(answered: &Answered) -> Vec<Mark> {
    let mark = |(row, read): (&Row, &RowReading)| {
        let measured = row.measured?.value;
        let model = read.model;
        Some(Mark { measured, middle: model.point, low: model.low, high: model.high, hollow: !row.scored })
    };
    answered.trial.rows.iter().zip(&answered.reading.rows).filter_map(mark).collect()
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
    let mut series = Vec::new();
    for name in names {
        let mut own: Vec<&&(&Row, &RowReading)> = rows.iter().filter(|r| r.0.line == name).collect();
        own.sort_by(|a, b| a.0.x.unwrap_or(0.0).total_cmp(&b.0.x.unwrap_or(0.0)));
        let behind = if name.is_empty() { String::new() } else { format!(", {name}") };
        let measured: Vec<At> = own.iter().filter_map(|r| measured(r.0, view.units)).collect();
        series.push(Series {
            name: format!("model{behind}"),
            points: own.iter().map(|r| modelled(r.0, r.1, view.units)).collect(),
            muted: false,
        });
        // What was measured once and is run in several waters stands there once.
        match series
            .iter_mut()
            .find(|s: &&mut Series| s.name.starts_with("measured") && same(&s.points, &measured))
        {
            Some(same) => same.name = "measured".into(),
            None if measured.is_empty() => {}
            None => series.push(Series { name: format!("measured{behind}"), points: measured, muted: false }),
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
    Some(lines(&Lines {
        words: Words { caption: caption(answered), note },
        x_title: trial.axis.clone(),
        y_title: format!("{} ({})", trial.output.label(), unit(trial.output, view.units)),
        // As the axes of a sweep: equal ratios from a factor of eight on.
        x_logarithmic: least > 0.0 && most / least >= 8.0,
        series,
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
