//! An answer as it is read: a head, the finding, blocks. Terminal and page are renderers of it.

use super::report::html;
use super::scene::Scene;
use super::table::Table;
use super::view::CAUTION;
use super::words::wrap;

/// A picture and the name it is saved under.
pub type Picture = (String, Scene);

/// An answer to be read.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Document {
    /// Title and conditions, a line each; none for what is about no one scenario.
    pub head: Vec<String>,
    /// The finding, in a sentence or two.
    pub finding: String,
    /// What follows it.
    pub blocks: Vec<Block>,
    /// Whether it goes without the cautions that every answer for the water ends in.
    pub no_cautions: bool,
}

/// A part of a document and where it is shown.
#[derive(Debug, Clone, PartialEq)]
pub struct Block {
    /// The part.
    pub what: What,
    /// Where.
    pub on: On,
    /// Whether a paragraph stands apart from the one before it.
    pub apart: bool,
}

/// Where a block is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum On {
    /// Everywhere.
    #[default]
    Everywhere,
    /// On the terminal alone.
    Terminal,
    /// On a page alone.
    Page,
}

/// The five kinds of parts.
#[derive(Debug, Clone, PartialEq)]
pub enum What {
    /// A paragraph.
    Text(String),
    /// A table and what it is called, which a terminal leaves out where `said` is false.
    Table {
        /// What it is called.
        caption: String,
        /// Whether a terminal says so.
        said: bool,
        /// The table.
        table: Table,
    },
    /// A picture, by its name, and what a terminal shows in its place, line by line: nothing, or a drawing in
    /// characters with its legend.
    Figure(String, String),
    /// A list of short texts.
    List(Vec<String>),
    /// Something long under a heading: folded away on a page.
    Folded(String, Vec<Block>),
}

impl Document {
    /// A document with nothing below its finding.
    pub fn new(head: impl IntoIterator<Item = String>, finding: impl Into<String>) -> Self {
        Self {
            head: head.into_iter().collect(),
            finding: finding.into(),
            blocks: Vec::new(),
            no_cautions: false,
        }
    }

    /// The same without the cautions.
    pub fn without_cautions(mut self) -> Self {
        self.no_cautions = true;
        self
    }

    fn add(&mut self, what: What) -> &mut Self {
        self.blocks.push(Block { what, on: On::Everywhere, apart: false });
        self
    }

    /// A paragraph.
    pub fn text(&mut self, text: impl Into<String>) -> &mut Self {
        self.add(What::Text(text.into()))
    }

    /// Paragraphs, one after the other.
    pub fn texts(&mut self, texts: impl IntoIterator<Item = String>) -> &mut Self {
        texts.into_iter().for_each(|text| {
            self.add(What::Text(text));
        });
        self
    }

    /// Paragraphs that stand apart.
    pub fn paragraphs(&mut self, texts: impl IntoIterator<Item = String>) -> &mut Self {
        let apart = |text| Block { what: What::Text(text), on: On::Everywhere, apart: true };
        self.blocks.extend(texts.into_iter().map(apart));
        self
    }

    /// A table under what it is called.
    pub fn table(&mut self, caption: impl Into<String>, table: Table) -> &mut Self {
        self.add(What::Table { caption: caption.into(), said: true, table })
    }

    /// A table that speaks for itself on a terminal; a page says what it is called.
    pub fn plain_table(&mut self, caption: impl Into<String>, table: Table) -> &mut Self {
        self.add(What::Table { caption: caption.into(), said: false, table })
    }

    /// A picture, by its name.
    pub fn figure(&mut self, name: impl Into<String>) -> &mut Self {
        self.add(What::Figure(name.into(), String::new()))
    }

    /// A picture that a terminal shows as characters.
    pub fn drawn(&mut self, name: impl Into<String>, text: String) -> &mut Self {
        self.add(What::Figure(name.into(), text))
    }

    /// A list of short texts.
    pub fn list(&mut self, items: Vec<String>) -> &mut Self {
        self.add(What::List(items))
    }

    /// Something long under a heading, written into a document of its own.
    pub fn folded(&mut self, heading: impl Into<String>, inner: Document) -> &mut Self {
        self.add(What::Folded(heading.into(), inner.blocks))
    }

    /// Shows the block added last in one place alone.
    pub fn only(&mut self, on: On) -> &mut Self {
        if let Some(last) = self.blocks.last_mut() {
            last.on = on;
        }
        self
    }

    /// The document as text, `width` columns wide, cautions last. Blocks stand apart; paragraphs follow one another.
    pub fn terminal(&self, width: usize) -> String {
        let mut out = Terminal { out: String::new(), width };
        self.head.iter().for_each(|line| out.text(line));
        if !self.head.is_empty() {
            out.gap();
        }
        let finding = (!self.finding.is_empty()).then(|| What::Text(self.finding.clone()));
        let mut after_text = finding.is_some();
        if let Some(finding) = &finding {
            out.block(finding);
        }
        out.blocks(&self.blocks, &mut after_text);
        if !self.no_cautions {
            out.gap();
            out.text(CAUTION);
        }
        out.out
    }

    /// The finding and the blocks as HTML, with the pictures they name.
    pub fn html(&self, pictures: &[Picture]) -> String {
        let finding = if self.finding.is_empty() { String::new() } else { html::paragraph(&self.finding) };
        finding + &blocks_html(&self.blocks, pictures)
    }
}

fn blocks_html(blocks: &[Block], pictures: &[Picture]) -> String {
    let one = |block: &Block| match &block.what {
        _ if block.on == On::Terminal => String::new(),
        What::Text(text) => html::prose(text),
        What::Table { caption, table, .. } => {
            html::table(&table.named_first(), caption.trim_end_matches(':'))
        }
        What::Figure(name, text) => match pictures.iter().find(|(own, _)| own == name) {
            Some((name, scene)) => html::figure(scene, name),
            None if text.is_empty() => String::new(),
            None => html::verbatim(text, name),
        },
        What::List(items) => html::list(items),
        What::Folded(heading, inner) => html::folded(heading, &blocks_html(inner, pictures)),
    };
    blocks.iter().map(one).collect()
}

/// What is folded away on a page stands so far in on a terminal, close together.
const INDENT: &str = "  ";

/// A document on its way to a terminal.
struct Terminal {
    out: String,
    width: usize,
}

impl Terminal {
    fn gap(&mut self) {
        self.out.push('\n');
    }

    /// A paragraph broken to the width, made safe to print.
    fn text(&mut self, text: &str) {
        for line in text.split('\n') {
            let safe = super::escape::terminal_text(line);
            self.out.push_str(&wrap(&safe, self.width).join("\n"));
            self.out.push('\n');
        }
    }

    fn blocks(&mut self, blocks: &[Block], after_text: &mut bool) {
        for Block { what, apart, .. } in blocks.iter().filter(|b| b.on != On::Page) {
            if matches!(what, What::Figure(_, text) if text.is_empty()) {
                continue;
            }
            let text = matches!(what, What::Text(_));
            if (*apart || !(text && *after_text)) && !self.out.is_empty() {
                self.gap();
            }
            *after_text = text;
            match what {
                What::Folded(heading, inner) => {
                    self.text(heading);
                    let mut within =
                        Terminal { out: String::new(), width: self.width.saturating_sub(INDENT.len()) };
                    within.close_together(inner);
                    within.out.lines().for_each(|line| {
                        self.out.push_str(format!("{INDENT}{line}").trim_end());
                        self.out.push('\n');
                    });
                }
                _ => self.block(what),
            }
        }
    }

    fn close_together(&mut self, blocks: &[Block]) {
        blocks.iter().filter(|b| b.on != On::Page).for_each(|b| self.block(&b.what));
    }

    fn block(&mut self, what: &What) {
        match what {
            What::Text(text) => self.text(text),
            What::Table { caption, said, table } => {
                if *said {
                    self.text(caption);
                }
                self.out.push_str(&table.terminal(self.width));
            }
            What::List(items) => items.iter().for_each(|item| self.text(&format!("- {item}"))),
            What::Figure(_, text) => self.out.push_str(text),
            What::Folded(heading, inner) => {
                self.text(heading);
                self.close_together(inner);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::present::table::Column;

    fn small() -> Table {
        let mut table = Table::new(vec![Column::text(" "), Column::text("bait"), Column::number("odds")]);
        table.push(["●", "<A>", "7"]);
        table
    }

    #[test]
    fn blocks_stand_apart_and_paragraphs_follow_one_another() {
        let mut out = Document::new(["A lake".to_owned()], "It is so.").without_cautions();
        out.text("And so.").plain_table("Baits", small()).figure("never on a terminal");
        out.text("One.").text("Two.").paragraphs(["Apart.".to_owned()]);
        out.text("For the page.").only(On::Page);
        let mut inner = Document::default();
        inner.text("Within.").list(vec!["a".into()]);
        out.folded("More", inner);
        assert_eq!(
            out.terminal(60),
            "A lake\n\nIt is so.\nAnd so.\n\n   bait  odds\n─────────────\n●  <A>      7\n\nOne.\nTwo.\n\nApart.\n\nMore\n  \
             Within.\n  - a\n"
        );
    }

    #[test]
    fn every_answer_for_the_water_ends_in_the_cautions() {
        let said = Document::new([], "So.").terminal(2000);
        assert_eq!(said, format!("So.\n\n{CAUTION}\n"));
    }

    /// A mark stands behind the name on a page, whose rows are called by their first cell; all text is escaped.
    #[test]
    fn a_page_names_its_rows_and_escapes_its_text() {
        let mut out = Document::new([], "It is <so>.");
        out.plain_table("Baits & odds", small()).drawn("letters", "  A  <A>\n".into());
        out.text("For the terminal.").only(On::Terminal);
        let html = out.html(&[]);
        for part in [
            "<p>It is &lt;so&gt;.</p>",
            "<caption>Baits &amp; odds</caption>",
            "<th scope=\"row\">&lt;A&gt; ●</th>",
            "<code>  A  &lt;A&gt;</code>",
        ] {
            assert!(html.contains(part), "{part} in {html}");
        }
        assert!(!html.contains("For the terminal"));
    }
}
