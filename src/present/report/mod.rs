//! The report: one HTML file with everything in it, for a writer to publish and a coach to hand out.
//!
//! A [`Report`] is a title, a finding and [`Section`]s in reading order; [`Report::html`] puts them into one page
//! that fetches nothing. `sections` turns documents into sections, [`html`] holds the few pieces of markup.

pub mod html;
#[cfg(feature = "cli")]
mod sections;

#[cfg(feature = "cli")]
pub use sections::{
    Recipe, assumptions, cautions, driving_guesses, left_out, repeat, section, sources, study,
};

use super::escape::escape_xml;
use html::paragraph;

const STYLE: &str = include_str!("style.css");
const SCRIPT: &str = include_str!("script.js");

/// By which a later run knows a file as one of its own, which it may write over.
pub const MARK: &str = "<meta name=\"generator\" content=\"callup report\">";

/// Nothing may be fetched, whatever a text that slipped through might ask for.
const POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'";

/// Said over a scenario that comes with the program.
const INVENTED: &str =
    "<p class=\"invented\">An example: this water, its fish and its anglers are invented.</p>\n";

/// One part of a report.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// Its anchor in the page.
    pub id: &'static str,
    /// Its heading.
    pub title: String,
    /// Its body, as HTML of [`html`].
    pub body: String,
}

/// A report, ready to be written.
#[derive(Debug, Clone, PartialEq)]
pub struct Report {
    /// What it is about.
    pub title: String,
    /// The answer in a sentence or two.
    pub finding: String,
    /// Whether place, water and people are invented.
    pub invented: bool,
    /// Place, hour, water, fish and tackle, a line each.
    pub conditions: Vec<String>,
    /// The parts in reading order.
    pub sections: Vec<Section>,
    /// The line at the foot: program, version and run.
    pub run: String,
}

impl Report {
    /// The page: self-contained, without network, with a style for screen (light and dark) and for print.
    pub fn html(&self) -> String {
        let title = escape_xml(&self.title);
        let contents: String = self
            .sections
            .iter()
            .map(|s| format!("<li><a href=\"#{}\">{}</a></li>\n", s.id, escape_xml(&s.title)))
            .collect();
        let sections: String = self
            .sections
            .iter()
            .map(|s| {
                format!(
                    "<section id=\"{id}\" aria-labelledby=\"{id}-title\">\n<h2 id=\"{id}-title\">{}</h2>\n{}</section>\n",
                    escape_xml(&s.title),
                    s.body,
                    id = s.id
                )
            })
            .collect();
        let conditions: String =
            self.conditions.iter().map(|line| format!("<li>{}</li>\n", escape_xml(line))).collect();
        format!(
            "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
             <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n{MARK}\n\
             <meta http-equiv=\"Content-Security-Policy\" content=\"{POLICY}\">\n\
             <title>{title}: strikes in 100 passes</title>\n<style>\n{STYLE}</style>\n</head>\n<body>\n\
             <a class=\"skip\" href=\"#content\">To the answer</a>\n\
             <header>\n<h1>{title}</h1>\n{invented}<ul class=\"conditions aside\">\n{conditions}</ul>\n</header>\n\
             <main id=\"content\">\n<p class=\"lead\">{finding}</p>\n\
             <nav aria-label=\"Contents\">\n<ul>\n{contents}</ul>\n</nav>\n{sections}</main>\n\
             <footer>\n{foot}</footer>\n<script>\n{SCRIPT}</script>\n</body>\n</html>\n",
            finding = escape_xml(&self.finding),
            invented = if self.invented { INVENTED } else { "" },
            foot = paragraph(&self.run),
        )
    }
}
