//! The few pieces of HTML that a report is made of. Every text is escaped here, and only here.

use crate::present::escape::escape_xml;
use crate::present::scene::Scene;
use crate::present::svg::to_svg;
use crate::present::table::{Align, Table};

/// A paragraph.
pub fn paragraph(text: &str) -> String {
    format!("<p>{}</p>\n", with_code(text, escape_xml))
}

/// Text with what stands between backticks as code, where they come in pairs; `plain` writes the pieces.
fn with_code(text: &str, plain: fn(&str) -> String) -> String {
    let pieces: Vec<&str> = text.split('`').collect();
    if pieces.len().is_multiple_of(2) {
        return plain(text);
    }
    let piece = |(i, piece): (usize, &&str)| match i % 2 {
        0 => plain(piece),
        _ => format!("<code>{}</code>", escape_xml(piece)),
    };
    pieces.iter().enumerate().map(piece).collect()
}

/// Paragraphs, one per line; lines that begin with a dash make a list.
pub fn prose(text: &str) -> String {
    let mut out = String::new();
    let mut items: Vec<&str> = Vec::new();
    for line in text.lines() {
        match line.strip_prefix("- ") {
            Some(item) => items.push(item),
            None => {
                if !items.is_empty() {
                    out.push_str(&list(items.drain(..)));
                }
                out.push_str(&paragraph(line));
            }
        }
    }
    if !items.is_empty() {
        out.push_str(&list(items));
    }
    out
}

/// Text with its DOIs as links, the only addresses in a report; nothing is fetched from them.
pub fn linked(text: &str) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some(at) = rest.find("10.") {
        let long = rest[at..].find(|c: char| c.is_whitespace() || ",;\"<>".contains(c));
        let doi = rest[at..at + long.unwrap_or(rest.len() - at)].trim_end_matches(['.', ')', ':']);
        let registrant = doi.split_once('/').map_or("", |(prefix, _)| &prefix[3..]);
        // A registrant has four to nine digits: a plain number such as 10.5 is none.
        if (4..=9).contains(&registrant.len()) && registrant.bytes().all(|b| b.is_ascii_digit()) {
            out.push_str(&escape_xml(&rest[..at]));
            let shown = escape_xml(doi);
            out.push_str(&format!("<a href=\"https://doi.org/{shown}\">{shown}</a>"));
            rest = &rest[at + doi.len()..];
        } else {
            out.push_str(&escape_xml(&rest[..at + 3]));
            rest = &rest[at + 3..];
        }
    }
    out.push_str(&escape_xml(rest));
    out
}

/// A list of short texts.
pub fn list<S: AsRef<str>>(items: impl IntoIterator<Item = S>) -> String {
    let items: String =
        items.into_iter().map(|item| format!("<li>{}</li>\n", with_code(item.as_ref(), linked))).collect();
    format!("<ul>\n{items}</ul>\n")
}

/// Text kept as it is, line by line.
pub fn verbatim(text: &str, label: &str) -> String {
    // Line breaks are what the escaping of names takes away: each line is escaped alone.
    let lines: Vec<String> = text.lines().map(escape_xml).collect();
    format!(
        "<pre tabindex=\"0\" role=\"group\" aria-label=\"{}\"><code>{}</code></pre>\n",
        escape_xml(label),
        lines.join("\n")
    )
}

/// A table with a caption; the first cell of each row names the row. On a narrow screen it scrolls within its own box.
pub fn table(table: &Table, caption: &str) -> String {
    let side = |align: Align| if align == Align::Right { " class=\"number\"" } else { "" };
    let head: String = table
        .columns
        .iter()
        .map(|c| format!("<th scope=\"col\"{}>{}</th>", side(c.align), escape_xml(&c.title())))
        .collect();
    let body: String = table
        .rows
        .iter()
        .map(|row| {
            let cells: String = (table.columns.iter().enumerate())
                .map(|(i, c)| {
                    let text = row.get(i).map_or(String::new(), |cell| linked(cell));
                    if i == 0 {
                        format!("<th scope=\"row\">{text}</th>")
                    } else {
                        format!("<td{}>{text}</td>", side(c.align))
                    }
                })
                .collect();
            format!("<tr>{cells}</tr>\n")
        })
        .collect();
    let caption = escape_xml(caption);
    format!(
        "<div class=\"scroll\" tabindex=\"0\" role=\"group\" aria-label=\"{caption}\"><table>\n<caption>{caption}</caption>\n\
         <thead><tr>{head}</tr></thead>\n<tbody>\n{body}</tbody>\n</table></div>\n"
    )
}

/// A picture: its finding is the title inside it and the caption for those who cannot see it. `file` is the name it
/// is saved under.
pub fn figure(scene: &Scene, file: &str) -> String {
    format!(
        "<figure>\n<div class=\"scroll picture\" tabindex=\"0\" role=\"group\" aria-label=\"Picture {file}\">\n{svg}</div>\n\
         <figcaption class=\"aside\">{title}</figcaption>\n\
         <button type=\"button\" class=\"save\" data-file=\"{file}.svg\" hidden>Save this picture as SVG</button>\n</figure>\n",
        title = escape_xml(&scene.title),
        svg = to_svg(scene),
        file = escape_xml(file),
    )
}

/// Something long, folded away on screen and open in print.
pub fn folded(summary: &str, inner: &str) -> String {
    format!("<details>\n<summary>{}</summary>\n{inner}</details>\n", escape_xml(summary))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dois_are_links_and_plain_numbers_are_none() {
        assert_eq!(
            linked("a <b> (doi 10.1093/cz/zoy019); 10.5 m, 10.33"),
            "a &lt;b&gt; (doi <a href=\"https://doi.org/10.1093/cz/zoy019\">10.1093/cz/zoy019</a>); 10.5 m, 10.33"
        );
        let hostile = linked("10.1234/\"onclick=x");
        assert!(!hostile.contains("\"onclick"), "{hostile}");
    }

    #[test]
    fn backticks_in_pairs_are_code() {
        assert_eq!(paragraph("say `callup <x>` & go"), "<p>say <code>callup &lt;x&gt;</code> &amp; go</p>\n");
        assert_eq!(paragraph("one ` alone"), "<p>one ` alone</p>\n");
    }

    #[test]
    fn lines_become_paragraphs_and_dashes_a_list() {
        assert_eq!(
            prose("first:\n- one\n- <two>\nlast"),
            "<p>first:</p>\n<ul>\n<li>one</li>\n<li>&lt;two&gt;</li>\n</ul>\n<p>last</p>\n"
        );
    }

    #[test]
    fn a_table_names_its_rows_and_columns() {
        let mut small = Table::new(vec![
            crate::present::table::Column::text("bait"),
            crate::present::table::Column::number("odds"),
        ]);
        small.push(["<b>", "7"]);
        let html = table(&small, "All & sundry");
        for part in [
            "<caption>All &amp; sundry</caption>",
            "<th scope=\"col\">bait</th>",
            "<th scope=\"row\">&lt;b&gt;</th><td class=\"number\">7</td>",
        ] {
            assert!(html.contains(part), "{part} in {html}");
        }
    }
}
