//! Measurements by others beside what the model says: the score, each trial in full, what could not be tested.

pub mod machine;
pub mod pictures;

use super::{CAUTION, run_line, wrapped};
use crate::engine::Budget;
use crate::present::table::{Column, Table};
use crate::present::words;
use crate::study::trials::answer::{Answer, Answered, Score};
use crate::study::trials::reading::{NEAR, PATTERN_WORLDS, PatternReading, RIGHT, Word};
use crate::study::trials::{Claim, Known, NOT_FOUND, Output, Trial, Used};
use crate::units::{UnitSystem, significant};

/// How the answer is written.
#[derive(Debug, Clone, Copy)]
pub struct View {
    /// How much was computed.
    pub budget: Budget,
    /// Units to write in.
    pub units: UnitSystem,
    /// Columns of the terminal.
    pub width: usize,
}

/// The score in one line.
pub fn headline(score: &Score) -> String {
    let one = |n: usize, one: &str, more: &str| format!("{n} {}", if n == 1 { one } else { more });
    format!(
        "{}: {}, {} near, {}, {}, {}; {} scored; of the {} that set nothing in the model, {}.",
        words::count(score.trials, "trial", "trials"),
        one(score.agree, "agrees", "agree"),
        score.near,
        one(score.miss, "misses", "miss"),
        one(score.patterns_hold, "pattern holds", "patterns hold"),
        one(score.patterns_fail, "fails", "fail"),
        score.scored,
        score.independent,
        one(score.independent - score.independent_kept, "misses or fails", "miss or fail"),
    )
}

/// How the numbers are known, in words.
pub fn known(known: Known) -> &'static str {
    match known {
        Known::Data => "raw numbers in hand",
        Known::Abstract => "only the abstract was read",
        Known::SecondHand => "second-hand, as quoted or digitised by others",
        Known::Memory => "from memory",
    }
}

/// What was set by a trial, in words; none for nothing.
fn used(trial: &Trial) -> Option<String> {
    let what = match trial.used {
        Used::Nothing => return None,
        Used::OtherPart => "Another part of the study was used in the model",
        Used::Range => "Used in the model, so not independent",
        Used::Form => "The form of the model was chosen after this trial, so it is not independent",
    };
    Some(format!("{what}: {}.", trial.used_for.trim_end_matches('.')))
}

/// A number of an output in the reader's unit.
fn number(output: Output, value: f64, units: UnitSystem) -> String {
    let value = if output.unit() == "m" { units.length_value(value).0 } else { value };
    significant(value, 3)
}

/// The reader's unit of an output.
fn unit(output: Output, units: UnitSystem) -> &'static str {
    match output.unit() {
        "m" => units.length_value(0.0).1,
        other => other,
    }
}

fn ratio(r: f64) -> String {
    if r.is_finite() { significant(r, if r < 10.0 { 3 } else { 2 }) } else { "no bound".into() }
}

/// All trials, a line each.
pub fn overview(trials: &[Answered]) -> Table {
    let mut table = Table::new(vec![
        Column::text("trial"),
        Column::text("word"),
        Column::number("model / measured"),
        Column::number("worst"),
        Column::text("known by"),
        Column::text("used to set"),
    ]);
    for t in trials {
        let word = t.reading.word.label();
        let said = |r: Option<f64>| r.map_or(String::new(), ratio);
        table.push([
            t.trial.id.clone(),
            if t.scored { word.to_owned() } else { format!("({word}, not scored)") },
            said(t.reading.mean_ratio),
            said(t.reading.worst_ratio),
            t.trial.known.label().to_owned(),
            t.trial.used.label().to_owned(),
        ]);
    }
    table
}

/// The rows of a trial.
pub fn rows(answered: &Answered, units: UnitSystem) -> Table {
    let trial = &answered.trial;
    let any_measured = trial.rows.iter().any(|r| r.measured.is_some());
    let mut columns = vec![Column::text("condition"), Column::text("of")];
    columns.extend(any_measured.then(|| Column::number("measured")));
    columns.extend([Column::number("model"), Column::number("nine in ten worlds")]);
    if any_measured {
        columns.extend([Column::number("model / measured"), Column::text("word")]);
    }
    let mut table = Table::new(columns);
    for (row, read) in trial.rows.iter().zip(&answered.reading.rows) {
        let said = |v: f64| number(row.output, v, units);
        let measured = row.measured.map_or(String::new(), |m| match (m.low, m.high) {
            (Some(low), Some(high)) => format!("{} ({} to {})", said(m.value), said(low), said(high)),
            _ => said(m.value),
        });
        let mut cells = vec![row.at.clone(), format!("{} ({})", row.output.label(), unit(row.output, units))];
        cells.extend(any_measured.then_some(measured));
        cells.push(said(read.model.point));
        cells.push(format!("{} to {}", said(read.model.low), said(read.model.high)));
        if any_measured {
            let word = read.word.map_or("", Word::label);
            cells.push(read.ratio.map_or(String::new(), ratio));
            cells.push(if row.scored || word.is_empty() {
                word.into()
            } else {
                format!("({word}, not scored)")
            });
        }
        table.push(cells);
    }
    table
}

/// What is said of a trial beside its numbers.
pub fn paragraphs(answered: &Answered) -> (Vec<String>, Vec<String>) {
    let (trial, reading) = (&answered.trial, &answered.reading);
    let source = format!("{}; {}.", trial.by, known(trial.known));
    let before = vec![source, trial.measured.clone()];
    let mut after: Vec<String> = trial
        .patterns
        .iter()
        .zip(&reading.patterns)
        .map(|(p, r)| pattern(&p.says, p.claim, p.factor, r))
        .collect();
    after.push(verdict(answered));
    after.extend(used(trial));
    after.extend((!trial.notes.is_empty()).then(|| trial.notes.join(" ")));
    (before, after)
}

fn pattern(says: &str, claim: Claim, factor: f64, read: &PatternReading) -> String {
    let what = match claim {
        Claim::Rises => "last over first",
        Claim::Falls => "first over last",
        Claim::Same => "largest over smallest",
    };
    let bound = if claim == Claim::Same { "at most" } else { "at least" };
    format!(
        "Pattern: {says}. Model: {what} {} ({} to {}), {bound} {} in {:.0} % of plausible worlds: {}.",
        ratio(read.ratio.point),
        ratio(read.ratio.low),
        ratio(read.ratio.high),
        significant(factor, 3),
        100.0 * read.holds_share,
        if read.holds { "holds" } else { "fails" },
    )
}

/// The word of a trial, and what it means for an angler's answer.
fn verdict(answered: &Answered) -> String {
    let reading = &answered.reading;
    let numbers = match (reading.mean_ratio, reading.worst_ratio) {
        (Some(mean), Some(worst))
            if answered.reading.rows.iter().filter(|r| r.word.is_some()).count() > 1 =>
        {
            format!(", {} times what was measured (geometric mean), {} at worst", ratio(mean), ratio(worst))
        }
        (Some(mean), _) => format!(", {} times what was measured", ratio(mean)),
        (None, Some(_)) => ", in a place with nothing at all".to_owned(),
        (None, None) => String::new(),
    };
    let scored = if answered.scored { "" } else { " (not scored)" };
    let word = reading.word;
    let means = match word {
        Word::Misses | Word::PatternFails => "What it spoils",
        Word::Near | Word::Agrees | Word::PatternHolds => "What rests on it",
    };
    format!("Word: {}{scored}{numbers}. {means}: {}", word.label(), answered.trial.miss)
}

/// How the words are made and what could not be tried at all.
pub fn notes(answer: &Answer, view: &View) -> Vec<String> {
    let not_full = answer.trials.iter().filter(|t| t.trial.known != Known::Data).count();
    let mut notes = vec![
        format!(
            "Words: agrees, if the measured number lies within nine plausible worlds in ten and within {RIGHT} times of \
             their middle; near, if within nine in ten or within {NEAR} times; else it misses. A trial of several numbers \
             gets the best word that more than half of its scored numbers reach, and is near at best where one misses. A pattern holds if it does in at least \
             {:.0} plausible worlds in 10.",
            10.0 * PATTERN_WORLDS
        ),
        format!(
            "Of {} {not_full} are known from abstracts, second-hand or from memory; no full paper was at hand. Nothing was \
             tuned to a trial; where one led to another form or gave a range, it says so and is not independent.",
            words::count(answer.trials.len(), "trial", "trials"),
        ),
        format!(
            "Not to be tested against print today, because no measurement was found: {}. Whether a fish comes up, and \
             whether it refuses, rest on assumptions alone.",
            words::list(&NOT_FOUND)
        ),
        run_line(view.budget),
    ];
    if answer.trials.len() < answer.asked_for {
        notes.insert(
            0,
            format!("Stopped: {} of {} trials are answered.", answer.trials.len(), answer.asked_for),
        );
    }
    notes
}

/// The whole answer as text.
pub fn text(answer: &Answer, view: &View) -> String {
    let mut out = wrapped(&headline(&answer.score), view.width);
    if answer.trials.len() > 1 {
        out.push('\n');
        out.push_str(&overview(&answer.trials).terminal(view.width));
    }
    for answered in &answer.trials {
        let (before, after) = paragraphs(answered);
        out.push('\n');
        out.push_str(&wrapped(&format!("{} [{}]", answered.trial.title, answered.trial.id), view.width));
        for line in before {
            indented(&mut out, view, &line);
        }
        for line in rows(answered, view.units).terminal(view.width - 2).lines() {
            out.push_str(&format!("  {line}\n"));
        }
        for line in after {
            indented(&mut out, view, &line);
        }
    }
    out.push('\n');
    for note in notes(answer, view) {
        out.push_str(&wrapped(&note, view.width));
    }
    out.push('\n');
    out.push_str(&wrapped(CAUTION, view.width));
    out
}

fn indented(out: &mut String, view: &View, text: &str) {
    for line in wrapped(text, view.width.saturating_sub(2)).lines() {
        out.push_str(&format!("  {line}\n"));
    }
}

/// The trials without an answer.
pub fn list(trials: &[Trial], width: usize) -> String {
    let mut table = Table::new(vec![Column::text("trial"), Column::text("of"), Column::text("known by")]);
    for t in trials {
        table.push([t.id.clone(), t.title.clone(), t.known.label().to_owned()]);
    }
    table.terminal(width)
}
