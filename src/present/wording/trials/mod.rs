//! Measurements by others beside what the model says: the score, each trial in full, what could not be tested.

#[cfg(feature = "cli")]
mod pictures;

use super::{About, Readable};
use crate::present::columns::{Kind, column, raw, read, spreadsheet};
use crate::present::document::Document;
use crate::present::table::Table;
use crate::present::view::View;
use crate::present::words;
use crate::study::trials::answer::{Answer, Answered, Score};
use crate::study::trials::reading::{NEAR, PATTERN_WORLDS, PatternReading, RIGHT, RowReading, Word};
use crate::study::trials::{Claim, Known, NOT_FOUND, Output, Row, Trial, Used};
use crate::units::{UnitSystem, significant};

impl Readable for Answer {
    fn document(&self, view: &View) -> Document {
        let mut out = Document::new([], headline(&self.score));
        out.figure("trials");
        if self.trials.len() > 1 {
            let caption = "Each measurement by its short name: the word for it, model over measured, how the \
                numbers are known";
            out.plain_table(caption, overview(&self.trials, view));
        }
        for answered in &self.trials {
            let (before, after) = paragraphs(answered);
            let mut one = Document::default();
            one.texts(before);
            one.plain_table(answered.trial.title.as_str(), rows(answered, view.units));
            one.texts(after);
            out.folded(format!("{} [{}]", answered.trial.title, answered.trial.id), one);
        }
        out.paragraphs(notes(self, view).into_iter().take(1));
        out.texts(notes(self, view).into_iter().skip(1));
        out
    }

    /// One line for each row and each pattern.
    fn spreadsheet(&self, _view: &View) -> Table {
        let line = |t: &'_ Answered| -> Vec<Line> {
            let of_trial =
                [t.reading.word.label(), t.trial.known.label(), t.trial.used.label()].map(str::to_owned);
            let row = |(row, read): (&Row, &RowReading)| Line {
                id: t.trial.id.clone(),
                condition: row.at.clone(),
                output: row.output.label().to_owned(),
                unit: row.output.unit(),
                measured: row.measured.map_or([None; 3], |m| [Some(m.value), m.low, m.high]),
                model: [read.model.point, read.model.low, read.model.high],
                ratio: read.ratio,
                holds_share: None,
                word: read.word.map_or("", Word::label),
                scored: row.scored && row.measured.is_some(),
                of_trial: of_trial.clone(),
            };
            let pattern = |(pattern, read): (&crate::study::trials::Pattern, &PatternReading)| Line {
                id: t.trial.id.clone(),
                condition: pattern.says.clone(),
                output: pattern.claim.label().to_owned(),
                unit: "ratio",
                measured: [Some(pattern.factor), None, None],
                model: [read.ratio.point, read.ratio.low, read.ratio.high],
                ratio: None,
                holds_share: Some(read.holds_share),
                word: if read.holds { Word::PatternHolds } else { Word::PatternFails }.label(),
                scored: true,
                of_trial: of_trial.clone(),
            };
            let rows = t.trial.rows.iter().zip(&t.reading.rows).map(row);
            rows.chain(t.trial.patterns.iter().zip(&t.reading.patterns).map(pattern)).collect()
        };
        let lines: Vec<Line> = self.trials.iter().flat_map(line).collect();
        let columns = [
            raw("id", |l: &Line| l.id.clone()),
            raw("condition", |l: &Line| l.condition.clone()),
            raw("output", |l: &Line| l.output.clone()),
            raw("unit", |l: &Line| l.unit),
            raw("measured", |l: &Line| l.measured[0]),
            raw("measured_low", |l: &Line| l.measured[1]),
            raw("measured_high", |l: &Line| l.measured[2]),
            raw("model_median", |l: &Line| l.model[0]),
            raw("model_low", |l: &Line| l.model[1]),
            raw("model_high", |l: &Line| l.model[2]),
            raw("ratio", |l: &Line| l.ratio),
            raw("holds_share", |l: &Line| l.holds_share),
            raw("word", |l: &Line| l.word),
            raw("scored", |l: &Line| l.scored),
            raw("trial_word", |l: &Line| l.of_trial[0].clone()),
            raw("known", |l: &Line| l.of_trial[1].clone()),
            raw("used", |l: &Line| l.of_trial[2].clone()),
        ];
        spreadsheet(&columns, &lines)
    }

    #[cfg(feature = "cli")]
    fn pictures(&self, view: &View) -> Vec<crate::present::document::Picture> {
        pictures::pictures(self, view)
    }

    fn about(&self) -> About {
        About::Run
    }
}

/// A row or a pattern of a trial in a spreadsheet.
struct Line {
    id: String,
    condition: String,
    output: String,
    unit: &'static str,
    measured: [Option<f64>; 3],
    model: [f64; 3],
    ratio: Option<f64>,
    holds_share: Option<f64>,
    word: &'static str,
    scored: bool,
    of_trial: [String; 3],
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
fn known(known: Known) -> &'static str {
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
fn overview(trials: &[Answered], view: &View) -> Table {
    let said = |r: Option<f64>| r.map_or(String::new(), ratio);
    let columns = [
        column("", "trial", Kind::Text, |t: &Answered| t.trial.id.clone()),
        column("", "word", Kind::Text, |t: &Answered| scored(t.reading.word.label(), t.scored)),
        column("", "model / measured", Kind::Right, |t: &Answered| said(t.reading.mean_ratio)),
        column("", "worst", Kind::Right, |t: &Answered| said(t.reading.worst_ratio)),
        column("", "known by", Kind::Text, |t: &Answered| t.trial.known.label()),
        column("", "used to set", Kind::Text, |t: &Answered| t.trial.used.label()),
    ];
    read(&columns, trials, view.units)
}

fn scored(word: &str, scored: bool) -> String {
    if scored || word.is_empty() { word.to_owned() } else { format!("({word}, not scored)") }
}

/// The rows of a trial.
fn rows(answered: &Answered, units: UnitSystem) -> Table {
    type Both<'a> = (&'a Row, &'a RowReading);
    let trial = &answered.trial;
    let all: Vec<Both> = trial.rows.iter().zip(&answered.reading.rows).collect();
    let mut columns = vec![
        column("", "condition", Kind::Text, |r: &Both| r.0.at.clone()),
        column("", "of", Kind::Text, |r: &Both| {
            format!("{} ({})", r.0.output.label(), unit(r.0.output, units))
        }),
    ];
    let said = |r: &Row, v: f64| number(r.output, v, units);
    let any_measured = trial.rows.iter().any(|r| r.measured.is_some());
    if any_measured {
        columns.push(column("", "measured", Kind::Right, move |r: &Both| {
            let m = r.0.measured?;
            Some(match (m.low, m.high) {
                (Some(low), Some(high)) => {
                    format!("{} ({} to {})", said(r.0, m.value), said(r.0, low), said(r.0, high))
                }
                _ => said(r.0, m.value),
            })
        }));
    }
    columns.extend([
        column("", "model", Kind::Right, move |r: &Both| said(r.0, r.1.model.point)),
        column("", "nine in ten worlds", Kind::Right, move |r: &Both| {
            format!("{} to {}", said(r.0, r.1.model.low), said(r.0, r.1.model.high))
        }),
    ]);
    if any_measured {
        columns.extend([
            column("", "model / measured", Kind::Right, |r: &Both| r.1.ratio.map(ratio)),
            column("", "word", Kind::Text, |r: &Both| scored(r.1.word.map_or("", Word::label), r.0.scored)),
        ]);
    }
    read(&columns, &all, units)
}

/// What is said of a trial beside its numbers.
fn paragraphs(answered: &Answered) -> (Vec<String>, Vec<String>) {
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
fn notes(answer: &Answer, view: &View) -> Vec<String> {
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
        view.run_line(),
    ];
    if answer.trials.len() < answer.asked_for {
        notes.insert(
            0,
            format!("Stopped: {} of {} trials are answered.", answer.trials.len(), answer.asked_for),
        );
    }
    notes
}

/// The trials without an answer.
pub fn list(trials: &[Trial], units: UnitSystem) -> Table {
    let columns = [
        column("", "trial", Kind::Text, |t: &Trial| t.id.clone()),
        column("", "of", Kind::Text, |t: &Trial| t.title.clone()),
        column("", "known by", Kind::Text, |t: &Trial| t.known.label()),
    ];
    read(&columns, trials, units)
}
