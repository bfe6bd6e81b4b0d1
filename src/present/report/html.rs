//! The few pieces of HTML that a report is made of. Every text is escaped here, and only here.

use crate::present::escape::escape_xml;
use crate::present::scene::Scene;
use crate::present::svg::to_svg;
use crate::present::table::{Align, Table};

/// A paragraph.
pub fn paragraph(text: &str) -> String {
    format!("<p>{}</p>\n", escape_xml(text))
}

/// A list of short texts.
pub fn list<S: AsRef<str>>(items: impl IntoIterator<Item = S>) -> String {
    let items: String =
        items.into_iter().map(|item| format!("<li>{}</li>\n", escape_xml(item.as_ref()))).collect();
    format!("<ul>\n{items}</ul>\n")
}

/// A heading within a section.
pub fn subheading(text: &str) -> String {
    format!("<h3>{}</h3>\n", escape_xml(text))
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
                    let text = row.get(i).map_or(String::new(), |cell| escape_xml(cell));
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
        "<figure>\n<div class=\"scroll picture\" tabindex=\"0\" role=\"group\" aria-label=\"Picture: {title}\">\n{svg}</div>\n\
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
