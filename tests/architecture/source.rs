//! Rust source with everything blanked that is not code of the program: comments, texts, tests.

/// A file of `src`.
pub struct Source {
    /// Path under `src`, with forward slashes.
    pub file: String,
    /// The code, of the same lines as the file.
    pub code: String,
}

impl Source {
    pub fn new(file: &str, text: &str) -> Self {
        Self { file: file.to_owned(), code: without_tests(&without_texts(text)) }
    }

    /// The folder or file at the top of `src`.
    pub fn top(&self) -> &str {
        let first = self.file.split('/').next().unwrap_or_default();
        first.strip_suffix(".rs").unwrap_or(first)
    }

    /// The module's path in the crate.
    pub fn module(&self) -> Vec<&str> {
        let path = self.file.strip_suffix(".rs").unwrap_or(&self.file);
        let mut parts: Vec<&str> = path.split('/').collect();
        if matches!(parts.last(), Some(&"mod" | &"lib" | &"main")) {
            parts.pop();
        }
        parts
    }

    /// Line of a place in the code, from 1.
    pub fn line(&self, at: usize) -> usize {
        self.code[..at].matches('\n').count() + 1
    }

    /// Places at which `word` stands and is not part of a longer word.
    pub fn words<'a>(&'a self, word: &'a str) -> impl Iterator<Item = usize> + 'a {
        let part = |c: Option<char>| c.is_some_and(|c| c.is_alphanumeric() || c == '_');
        self.code.match_indices(word).map(|(at, _)| at).filter(move |&at| {
            !part(self.code[..at].chars().next_back()) && !part(self.code[at + word.len()..].chars().next())
        })
    }

    /// The code before and after a place, blanks skipped.
    pub fn around(&self, at: usize, word: &str) -> (&str, &str) {
        (self.code[..at].trim_end(), self.code[at + word.len()..].trim_start())
    }
}

/// Blanks comments, strings and character literals; line ends stay.
fn without_texts(text: &str) -> String {
    let chars: Vec<char> = text.chars().collect();
    let mut out = String::with_capacity(text.len());
    let mut i = 0;
    while i < chars.len() {
        let end = match chars[i] {
            '/' if chars.get(i + 1) == Some(&'/') => line_end(&chars, i),
            '/' if chars.get(i + 1) == Some(&'*') => block_end(&chars, i),
            '"' => string_end(&chars, i),
            'r' if starts_raw(&chars, i) => raw_end(&chars, i),
            '\'' => char_end(&chars, i),
            _ => i,
        };
        if end == i {
            out.push(chars[i]);
            i += 1;
        } else {
            out.extend(chars[i..end].iter().map(|&c| if c == '\n' { '\n' } else { ' ' }));
            i = end;
        }
    }
    out
}

fn line_end(chars: &[char], from: usize) -> usize {
    (from..chars.len()).find(|&i| chars[i] == '\n').unwrap_or(chars.len())
}

fn block_end(chars: &[char], from: usize) -> usize {
    let (mut depth, mut i) = (0, from);
    while i < chars.len() {
        match (chars[i], chars.get(i + 1)) {
            ('/', Some('*')) => (depth, i) = (depth + 1, i + 2),
            ('*', Some('/')) => (depth, i) = (depth - 1, i + 2),
            _ => i += 1,
        }
        if depth == 0 {
            return i;
        }
    }
    i
}

fn string_end(chars: &[char], from: usize) -> usize {
    let mut i = from + 1;
    while i < chars.len() && chars[i] != '"' {
        i += if chars[i] == '\\' { 2 } else { 1 };
    }
    (i + 1).min(chars.len())
}

fn starts_raw(chars: &[char], from: usize) -> bool {
    let before = from.checked_sub(1).map(|i| chars[i]);
    let word = before.is_some_and(|c| (c.is_alphanumeric() && c != 'b') || c == '_');
    let after = chars[from + 1..].iter().find(|&&c| c != '#');
    !word && after == Some(&'"') && matches!(chars.get(from + 1), Some('"' | '#'))
}

fn raw_end(chars: &[char], from: usize) -> usize {
    let hashes = chars[from + 1..].iter().take_while(|&&c| c == '#').count();
    let closing: Vec<char> = std::iter::once('"').chain(std::iter::repeat_n('#', hashes)).collect();
    let start = from + hashes + 2;
    (start..chars.len())
        .find(|&i| chars[i..].starts_with(&closing))
        .map_or(chars.len(), |i| i + closing.len())
}

/// End of a character literal; a lifetime has none.
fn char_end(chars: &[char], from: usize) -> usize {
    match (chars.get(from + 1), chars.get(from + 2)) {
        (Some('\\'), _) => {
            let closing = (from + 3..chars.len()).find(|&i| chars[i] == '\'');
            closing.map_or(chars.len(), |i| i + 1)
        }
        (Some(_), Some('\'')) => from + 3,
        _ => from,
    }
}

/// Blanks every item behind `#[cfg(test)]`.
fn without_tests(code: &str) -> String {
    const MARK: &str = "#[cfg(test)]";
    let mut out = code.to_owned();
    while let Some(start) = out.find(MARK) {
        let end = item_end(&out, start + MARK.len());
        let blank: String = out[start..end].chars().map(|c| if c == '\n' { '\n' } else { ' ' }).collect();
        out.replace_range(start..end, &blank);
    }
    out
}

/// The end of the item that begins at `from`: its semicolon, or its closing brace.
fn item_end(code: &str, from: usize) -> usize {
    let mut depth = 0;
    for (i, c) in code[from..].char_indices() {
        match c {
            '{' => depth += 1,
            '}' => depth -= 1,
            ';' if depth == 0 => return from + i + 1,
            _ => continue,
        }
        if c == '}' && depth <= 0 {
            return from + i + 1;
        }
    }
    code.len()
}
