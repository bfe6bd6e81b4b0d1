//! Syntax errors of a file as diagnostics that say what to write.

use std::ops::Range;

use super::diagnostic::{Diagnostic, visible};
use super::document::SyntaxError;

const UNQUOTED: &str = "string values must be quoted";
const DUPLICATE: &str = "duplicate key";

/// Whether the parser could read on as if nothing were wrong.
pub(crate) fn loses_nothing(error: &SyntaxError) -> bool {
    error.message.starts_with(UNQUOTED) || error.message.starts_with(DUPLICATE)
}

/// A syntax error as a diagnostic.
pub(crate) fn diagnostic(error: &SyntaxError, source: &str, file: &str) -> Diagnostic {
    let marked = error.range.clone().and_then(|range| source.get(range)).unwrap_or_default().trim();
    let (title, help) = if error.message.starts_with(UNQUOTED) {
        let help = if marked.is_empty() {
            "write a value after the equals sign".to_string()
        } else {
            format!("write \"{}\"", visible(marked))
        };
        ("a text needs quotes around it".to_string(), help)
    } else if error.message.starts_with(DUPLICATE) {
        (format!("`{}` is there twice", visible(marked)), "keep one and take the other away".to_string())
    } else {
        let help = "a line is `name = value`; texts and quantities stand in double quotes, \
                    tables begin with [name], lists stand in [ ] with commas";
        (format!("this is not TOML: {}", visible(&error.message)), help.to_string())
    };
    Diagnostic::error(file, error.range.clone().unwrap_or(0..0), title, "", help)
}

/// Drops faults of meaning on lines that have a fault of form: the one is likely the other's consequence.
pub(crate) fn drop_consequences(faults: &mut Vec<Diagnostic>, errors: &[SyntaxError], source: &str) {
    let broken: Vec<Range<usize>> =
        errors.iter().filter_map(|error| error.range.clone()).map(|range| lines_of(source, &range)).collect();
    faults.retain(|fault| match (&fault.set, &fault.span) {
        (None, Some(span)) => !broken.iter().any(|lines| span.start <= lines.end && span.end >= lines.start),
        _ => true,
    });
}

/// The whole lines that a range touches.
fn lines_of(source: &str, range: &Range<usize>) -> Range<usize> {
    let bytes = source.as_bytes();
    let start = range.start.min(bytes.len());
    let end = range.end.clamp(start, bytes.len());
    let first = bytes[..start].iter().rposition(|byte| *byte == b'\n').map_or(0, |at| at + 1);
    let last = bytes[end..].iter().position(|byte| *byte == b'\n').map_or(bytes.len(), |at| end + at);
    first..last
}
