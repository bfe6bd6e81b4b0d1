//! Making text from files safe to show: on a terminal, in a picture, in a page.
//!
//! Names of baits and places come from files that somebody else may have written. A name must not
//! be able to move the cursor, recolour the terminal, turn the reading direction of what follows or
//! add markup to a page.

/// True for characters that change how their neighbours are read instead of being read themselves:
/// the Unicode bidirectional controls (Unicode Annex 9) and the invisible marks beside them.
fn is_hidden_control(c: char) -> bool {
    matches!(c,
        '\u{061c}' | '\u{200b}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}'
        | '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}' | '\u{fffe}' | '\u{ffff}'
        | '\u{2028}' | '\u{2029}' | '\u{e0000}'..='\u{e007f}')
}

/// Text fit for a terminal or a picture: escape sequences (ECMA-48) are dropped whole, line breaks and
/// tabs become a space, other control characters and bidirectional controls vanish.
///
/// ```
/// assert_eq!(callup::present::escape::terminal_text("\u{1b}[31mred\u{1b}[0m\u{202e}\nend"), "red end");
/// ```
pub fn terminal_text(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut chars = text.chars().peekable();
    while let Some(c) = chars.next() {
        match c {
            '\u{1b}' => match chars.next_if(|c| matches!(c, '[' | ']' | 'P' | 'X' | '^' | '_')) {
                Some('[') => skip_control_sequence(&mut chars),
                Some(_) => skip_string(&mut chars),
                // A two-character escape: its second character goes too.
                None => _ = chars.next_if(|c| matches!(c, ' '..='~')),
            },
            '\u{9b}' => skip_control_sequence(&mut chars),
            '\u{90}' | '\u{98}' | '\u{9d}'..='\u{9f}' => skip_string(&mut chars),
            '\n' | '\r' | '\t' | '\u{85}' | '\u{2028}' | '\u{2029}' => out.push(' '),
            c if c.is_control() || is_hidden_control(c) => {}
            c => out.push(c),
        }
    }
    out
}

type Chars<'a> = std::iter::Peekable<std::str::Chars<'a>>;

/// Parameters, then one final character `@` to `~`.
fn skip_control_sequence(chars: &mut Chars) {
    while chars.next_if(|c| matches!(c, ' '..='?')).is_some() {}
    _ = chars.next_if(|c| matches!(c, '@'..='~'));
}

/// A command string runs to the bell or the string terminator, or to the end of the text.
fn skip_string(chars: &mut Chars) {
    while let Some(c) = chars.next() {
        match c {
            '\u{7}' | '\u{9c}' => return,
            '\u{1b}' if chars.next_if_eq(&'\\').is_some() => return,
            _ => {}
        }
    }
}

/// Text fit for the content or a quoted attribute of XML or HTML: cleaned as for a terminal, then the
/// five special characters written as entities.
///
/// ```
/// assert_eq!(callup::present::escape::escape_xml("<b a='1'>&"), "&lt;b a=&#39;1&#39;&gt;&amp;");
/// ```
pub fn escape_xml(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in terminal_text(text).chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn terminal_text_leaves_nothing_that_acts() {
        assert_eq!(terminal_text("plain, with accents: Müller"), "plain, with accents: Müller");
        assert_eq!(terminal_text("a\u{1b}]0;title\u{7}b"), "ab");
        assert_eq!(terminal_text("a\u{1b}]8;;http://x\u{1b}\\b"), "ab");
        assert_eq!(terminal_text("a\u{9b}2Jb\u{90}q\u{9c}c"), "abc");
        assert_eq!(terminal_text("\u{1b}"), "");
        assert_eq!(terminal_text("a\u{1b}cb"), "ab");
        assert_eq!(terminal_text("\u{2066}x\u{2069}\u{200f}\0\u{7f}"), "x");
    }

    #[test]
    fn markup_becomes_text() {
        assert_eq!(
            escape_xml("<script>alert(\"x\")</script>"),
            "&lt;script&gt;alert(&quot;x&quot;)&lt;/script&gt;"
        );
    }
}
