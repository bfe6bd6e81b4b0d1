//! A table as text: lines, cells, quotes, and where each stands.

use crate::scenario::reader::Reader;
use std::ops::Range;

/// A cell and its place.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Cell {
    pub text: String,
    pub at: Range<usize>,
}

/// Places of the lines, without their ends and without a byte order mark.
pub(super) fn lines(source: &str) -> impl Iterator<Item = Range<usize>> {
    let mut start = if source.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
    let mut over = false;
    std::iter::from_fn(move || {
        if over {
            return None;
        }
        let rest = &source[start..];
        let end = rest.find(['\n', '\r']).map_or(source.len(), |at| start + at);
        let line = start..end;
        over = end == source.len();
        start = if source[end..].starts_with("\r\n") { end + 2 } else { (end + 1).min(source.len()) };
        Some(line)
    })
}

/// Whichever of comma, semicolon and tab the heading has most of, outside quotes.
pub(super) fn delimiter(heading: &str) -> char {
    let count = |wanted: char| {
        let mut quoted = false;
        let one = |c: char| {
            quoted ^= c == '"';
            !quoted && c == wanted
        };
        heading.chars().map(one).filter(|hit| *hit).count()
    };
    let (tabs, semicolons, commas) = (count('\t'), count(';'), count(','));
    if tabs > 0 && tabs >= semicolons.max(commas) {
        '\t'
    } else if semicolons > commas {
        ';'
    } else {
        ','
    }
}

impl Reader<'_> {
    /// The cells of a line; quotes around a cell are taken off, doubled quotes within it are one.
    pub(super) fn cells(&mut self, source: &str, line: Range<usize>, parted: char) -> Vec<Cell> {
        let mut cells = Vec::new();
        let mut start = line.start;
        loop {
            let rest = &source[start..line.end];
            let lead = rest.len() - rest.trim_start_matches(|c: char| c.is_whitespace() && c != parted).len();
            let (text, end) = if rest[lead..].starts_with('"') {
                self.quoted(source, start + lead, line.end, parted)
            } else {
                let end = rest.find(parted).map_or(line.end, |at| start + at);
                (source[start..end].trim().to_owned(), end)
            };
            let shown = source[start..end].trim_end();
            cells.push(Cell { text, at: start + lead..(start + shown.len()).max(start + lead) });
            if end >= line.end {
                return cells;
            }
            start = end + parted.len_utf8();
        }
    }

    /// A cell that begins with a quote at `from`: its text, and where it ends.
    fn quoted(&mut self, source: &str, from: usize, line_end: usize, parted: char) -> (String, usize) {
        let mut text = String::new();
        let mut chars = source[from + 1..line_end].char_indices().peekable();
        while let Some((i, c)) = chars.next() {
            if c != '"' {
                text.push(c);
                continue;
            }
            if chars.next_if(|(_, next)| *next == '"').is_some() {
                text.push('"');
                continue;
            }
            let after = from + 1 + i + 1;
            let end = source[after..line_end].find(parted).map_or(line_end, |at| after + at);
            if !source[after..end].trim().is_empty() {
                let help = "double a quote inside a quoted cell: \"\", or take the quotes away";
                self.fault(after..end, "something follows the closing quote", "not in quotes", help);
            }
            return (text.trim().to_owned(), end);
        }
        self.fault(from..line_end, "a quote is not closed in its line", "opened here", "close it with \"");
        (text.trim().to_owned(), line_end)
    }
}
