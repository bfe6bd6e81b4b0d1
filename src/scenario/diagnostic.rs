//! What is wrong with a scenario, where, and what to write instead.
//!
//! A diagnostic holds data only. [`Diagnostic::render_plain`] writes it as plain text; a terminal may
//! draw the same data with colours. Text that comes from a file is never shown raw: control characters
//! and the marks that reorder text on a screen are replaced by [`printable`].

use std::ops::Range;

/// Whether a scenario can be used all the same.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// The scenario cannot be used.
    Error,
    /// The scenario can be used, but probably says something other than what was meant.
    Warning,
}

/// One fault of a scenario, or one doubt about it.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Diagnostic {
    /// Error or warning.
    pub severity: Severity,
    /// What is wrong, in one line that can stand alone.
    pub title: String,
    /// What to say at the marked place; may be empty.
    pub label: String,
    /// The marked place in bytes of [`Diagnostic::source`]; none when the fault has no place.
    pub span: Option<Range<usize>>,
    /// The name of the file, or `--set` for a value given on the command line.
    pub file: String,
    /// For a value given on the command line: its text, which [`Diagnostic::span`] then refers to.
    pub set: Option<String>,
    /// What to write instead.
    pub help: String,
}

/// The most characters of one source line that are shown; a longer line is cut around the mark.
const SHOWN_WIDTH: usize = 110;

impl Diagnostic {
    /// An error at a place in a file.
    pub fn error(
        file: &str,
        at: Range<usize>,
        title: impl Into<String>,
        label: impl Into<String>,
        help: impl Into<String>,
    ) -> Self {
        Self {
            severity: Severity::Error,
            title: title.into(),
            label: label.into(),
            span: Some(at),
            file: file.to_owned(),
            set: None,
            help: help.into(),
        }
    }

    /// The text that the span refers to: the override if the fault lies in one, else the file's text.
    pub fn source<'a>(&'a self, file_source: &'a str) -> &'a str {
        self.set.as_deref().unwrap_or(file_source)
    }

    /// Line and column of the marked place, both counted from 1, the column in characters.
    pub fn line_column(&self, file_source: &str) -> Option<(usize, usize)> {
        let source = self.source(file_source);
        let start = floor_boundary(source, self.span.as_ref()?.start);
        let before = &source[..start];
        let line = before.matches('\n').count() + 1;
        let column = before.rsplit('\n').next().unwrap_or_default().chars().count() + 1;
        Some((line, column))
    }

    /// The diagnostic as plain text: title, `file:line:column`, the line with the place underlined, help.
    pub fn render_plain(&self, file_source: &str) -> String {
        let word = match self.severity {
            Severity::Error => "error",
            Severity::Warning => "warning",
        };
        let mut text = format!("{word}: {}\n", self.title);
        match self.line_column(file_source) {
            Some((line, column)) if self.set.is_none() => {
                text.push_str(&format!("  at {}:{line}:{column}\n", self.file));
                text.push_str(&self.excerpt(file_source, &line.to_string()));
            }
            Some(_) => text.push_str(&self.excerpt(file_source, &self.file)),
            None => text.push_str(&format!("  in {}\n", self.file)),
        }
        if !self.help.is_empty() {
            text.push_str(&format!("  help: {}\n", self.help));
        }
        text
    }

    /// The line of the mark behind its name or number, and below it the underline with the label.
    fn excerpt(&self, file_source: &str, margin: &str) -> String {
        let source = self.source(file_source);
        let Some(span) = &self.span else { return String::new() };
        let start = floor_boundary(source, span.start);
        let line_start = source[..start].rfind('\n').map_or(0, |at| at + 1);
        let line_end = source[start..].find('\n').map_or(source.len(), |at| start + at);
        let end = floor_boundary(source, span.end).clamp(start, line_end);
        let shown = |text: &str| printable(text).replace(['\t', '\r'], " ");
        let (before, marked, after) =
            (shown(&source[line_start..start]), shown(&source[start..end]), shown(&source[end..line_end]));

        let marked: String = marked.chars().take(SHOWN_WIDTH).collect();
        let room = SHOWN_WIDTH - marked.chars().count();
        let before = tail(&before, room.max(SHOWN_WIDTH / 3));
        let room = room.saturating_sub(before.chars().count());
        let after: String = after.chars().take(room).collect();

        let pad = " ".repeat(margin.chars().count());
        let indent = " ".repeat(before.chars().count());
        let underline = "^".repeat(marked.chars().count().max(1));
        let code = format!("{before}{marked}{after}");
        let note = format!("{indent}{underline} {}", self.label);
        format!("  {margin} | {}\n  {pad} | {}\n", code.trim_end(), note.trim_end())
    }
}

/// The last `count` characters of a text.
fn tail(text: &str, count: usize) -> String {
    let skip = text.chars().count().saturating_sub(count);
    text.chars().skip(skip).collect()
}

/// The nearest character boundary at or before `at`.
fn floor_boundary(text: &str, at: usize) -> usize {
    let mut at = at.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

/// The text with every character that could command a terminal or hide and reorder text on a screen
/// replaced by a harmless one *of the same length in bytes*, so that spans keep their meaning.
///
/// Line feeds, tabs, and the carriage return before a line feed stay.
pub fn printable(text: &str) -> String {
    let mut shown = String::with_capacity(text.len());
    let mut characters = text.chars().peekable();
    while let Some(character) = characters.next() {
        let line_end = character == '\r' && characters.peek() == Some(&'\n');
        if matches!(character, '\n' | '\t') || line_end || !is_hidden(character) {
            shown.push(character);
        } else {
            shown.push_str(match character.len_utf8() {
                1 => "?",
                2 => "\u{bf}",
                3 => "\u{fffd}",
                _ => "\u{bf}\u{bf}",
            });
        }
    }
    shown
}

/// As [`printable`], on one line and cut to a length fit for a message.
pub fn visible(text: &str) -> String {
    const LONGEST: usize = 80;
    let line = printable(text).replace(['\n', '\r', '\t'], " ");
    if line.chars().count() <= LONGEST {
        return line;
    }
    let head: String = line.chars().take(LONGEST - 3).collect();
    format!("{head}...")
}

/// Control characters, zero-width characters, and the directional marks, embeddings, overrides and
/// isolates of Unicode's bidirectional algorithm; line and paragraph separators; tag characters.
fn is_hidden(character: char) -> bool {
    character.is_control()
        || matches!(
            character,
            '\u{ad}' | '\u{61c}' | '\u{180e}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}'
                | '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}'
                | '\u{e0000}'..='\u{e007f}'
        )
}

/// The candidates that look like `word`, the best first; at most three.
pub(crate) fn near<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Vec<&'a str> {
    /// Below this Jaro-Winkler similarity a suggestion is more puzzling than helpful.
    const ALIKE: f64 = 0.8;
    // A slip of the finger, not an essay: comparing a very long word is only a waste of time.
    const LONGEST: usize = 80;
    if word.len() > LONGEST {
        return Vec::new();
    }
    let word = word.to_lowercase();
    let mut scored: Vec<(f64, &str)> = candidates
        .into_iter()
        .map(|candidate| (strsim::jaro_winkler(&word, &candidate.to_lowercase()), candidate))
        .filter(|(score, _)| *score >= ALIKE)
        .collect();
    scored.sort_by(|a, b| b.0.total_cmp(&a.0));
    scored.into_iter().take(3).map(|(_, candidate)| candidate).collect()
}

/// Words in back quotes with commas and a last "or".
pub(crate) fn one_of(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [only] => format!("`{only}`"),
        [most @ .., last] => {
            let most: Vec<_> = most.iter().map(|word| format!("`{word}`")).collect();
            format!("{} or `{last}`", most.join(", "))
        }
    }
}
