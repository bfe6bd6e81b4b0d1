//! Tables for the terminal, for Markdown and for spreadsheets.
use super::escape::terminal_text;
use super::words::{char_columns, columns};

/// How the cells of a column stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    /// Flush left, for text; such a column may be broken over several lines.
    Left,
    /// Flush right, for numbers; never broken.
    Right,
}

/// One column.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Column {
    /// What stands above it.
    pub heading: String,
    /// How its cells stand.
    pub align: Align,
    /// Unit of all its cells, shown with the heading.
    pub unit: Option<String>,
}

impl Column {
    /// A column of text.
    pub fn text(heading: &str) -> Self {
        Self { heading: heading.into(), align: Align::Left, unit: None }
    }

    /// A column of numbers.
    pub fn number(heading: &str) -> Self {
        Self { heading: heading.into(), align: Align::Right, unit: None }
    }

    /// The same column with a unit.
    pub fn unit(mut self, unit: &str) -> Self {
        self.unit = Some(unit.into());
        self
    }

    /// Heading and unit.
    pub fn title(&self) -> String {
        match &self.unit {
            Some(unit) => format!("{} ({unit})", self.heading),
            None => self.heading.clone(),
        }
    }
}

/// A table; a row with too few cells is filled up with empty ones, surplus cells are not shown.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Table {
    /// The columns.
    pub columns: Vec<Column>,
    /// The rows' cells.
    pub rows: Vec<Vec<String>>,
    /// On a terminal narrower than the first number of columns it is told in two parts, the first so many columns long.
    pub in_parts: Option<(usize, usize)>,
}

/// Space between columns.
const GUTTER: usize = 2;
/// No column of text is broken narrower than this.
const NARROWEST: usize = 8;

impl Table {
    /// A table without rows.
    pub fn new(columns: Vec<Column>) -> Self {
        Self { columns, ..Self::default() }
    }

    /// Adds a row.
    pub fn push<S: Into<String>>(&mut self, cells: impl IntoIterator<Item = S>) {
        self.rows.push(cells.into_iter().map(Into::into).collect());
    }

    /// Some of the columns.
    fn part(&self, keep: &[usize]) -> Self {
        let chosen = |row: &Vec<String>| keep.iter().filter_map(|&i| row.get(i).cloned()).collect();
        Self {
            columns: keep.iter().map(|&i| self.columns[i].clone()).collect(),
            rows: self.rows.iter().map(chosen).collect(),
            in_parts: None,
        }
    }

    /// The table with a mark that stands before the name put behind it: a row of a page is called by its first cell.
    pub fn named_first(&self) -> Self {
        if self.columns.first().is_none_or(|c| !c.heading.trim().is_empty()) {
            return self.clone();
        }
        let joined = |row: &Vec<String>| {
            let part = |i: usize| row.get(i).map_or("", String::as_str);
            let name = format!("{} {}", part(1), part(0)).trim_end().to_owned();
            std::iter::once(name).chain(row.iter().skip(2).cloned()).collect()
        };
        Self {
            columns: self.columns[1..].to_vec(),
            rows: self.rows.iter().map(joined).collect(),
            in_parts: None,
        }
    }

    /// Heading and rows, every row as long as the columns, cells made safe to print.
    fn grid(&self) -> Vec<Vec<String>> {
        let heading = self.columns.iter().map(|c| terminal_text(&c.title())).collect();
        let cell = |row: &Vec<String>, i: usize| row.get(i).map_or(String::new(), |c| terminal_text(c));
        let rows = self.rows.iter().map(|row| (0..self.columns.len()).map(|i| cell(row, i)).collect());
        std::iter::once(heading).chain(rows).collect()
    }

    /// Aligned text with a rule under the heading. Where it would be wider than `width` columns, text
    /// columns (the widest first) are broken over several lines; numbers never are.
    pub fn terminal(&self, width: usize) -> String {
        if let Some((_, first)) = self.in_parts.filter(|(wide, _)| width < *wide) {
            let name = self.columns.iter().position(|c| !c.heading.trim().is_empty()).unwrap_or(0);
            let rest = std::iter::once(name).chain(first..self.columns.len()).collect::<Vec<_>>();
            let parts = [(0..first).collect(), rest];
            return parts.map(|keep: Vec<usize>| self.part(&keep).terminal(width)).join("\n");
        }
        let grid = self.grid();
        let widths = self.widths(&grid, width);
        let mut out = String::new();
        for (i, row) in grid.iter().enumerate() {
            self.write_row(&mut out, row, &widths);
            if i == 0 {
                let total = widths.iter().sum::<usize>() + GUTTER * widths.len().saturating_sub(1);
                out.push_str(&"─".repeat(total));
                out.push('\n');
            }
        }
        out
    }

    /// Column widths: the natural ones, text columns shrunk one by one until all fit or none can.
    fn widths(&self, grid: &[Vec<String>], width: usize) -> Vec<usize> {
        let gutters = GUTTER * self.columns.len().saturating_sub(1);
        let cells = |i: usize| grid.iter().skip(1).map(|row| columns(&row[i])).max().unwrap_or(0);
        let mut widths: Vec<usize> =
            (0..self.columns.len()).map(|i| cells(i).max(columns(&grid[0][i]))).collect();
        if widths.iter().sum::<usize>() + gutters > width {
            // A heading over numbers may be broken at its spaces; its longest word is what it needs.
            for i in (0..self.columns.len()).filter(|&i| self.columns[i].align == Align::Right) {
                widths[i] = cells(i).max(grid[0][i].split(' ').map(columns).max().unwrap_or(0));
            }
        }
        while widths.iter().sum::<usize>() + gutters > width {
            let text = |i: &usize| self.columns[*i].align == Align::Left && widths[*i] > NARROWEST;
            match (0..widths.len()).filter(text).max_by_key(|&i| widths[i]) {
                Some(widest) => widths[widest] -= 1,
                None => break,
            }
        }
        widths
    }

    fn write_row(&self, out: &mut String, row: &[String], widths: &[usize]) {
        let cells: Vec<Vec<String>> = row.iter().zip(widths).map(|(cell, &w)| broken(cell, w)).collect();
        let height = cells.iter().map(Vec::len).max().unwrap_or(0);
        for k in 0..height {
            let mut line = String::new();
            for ((cell, column), &w) in cells.iter().zip(&self.columns).zip(widths) {
                let text = cell.get(k).map_or("", String::as_str);
                let pad = " ".repeat(w.saturating_sub(columns(text)));
                match column.align {
                    Align::Left => line.extend([text, pad.as_str()]),
                    Align::Right => line.extend([pad.as_str(), text]),
                }
                line.push_str(&" ".repeat(GUTTER));
            }
            out.push_str(line.trim_end());
            out.push('\n');
        }
    }

    /// Comma-separated values (RFC 4180), heading first, cells as they are.
    pub fn csv(&self) -> Result<String, csv::Error> {
        let mut writer = csv::WriterBuilder::new().flexible(true).from_writer(Vec::new());
        writer.write_record(self.columns.iter().map(Column::title))?;
        for row in &self.rows {
            let cell = |i: usize| row.get(i).map_or("", String::as_str);
            writer.write_record((0..self.columns.len()).map(cell))?;
        }
        let bytes = writer.into_inner().map_err(|e| csv::Error::from(e.into_error()))?;
        Ok(String::from_utf8_lossy(&bytes).into_owned())
    }
}

/// A cell as lines of at most `width` columns, broken at spaces, a long word in its middle.
fn broken(cell: &str, width: usize) -> Vec<String> {
    let mut lines = Vec::new();
    for line in super::words::wrap(cell, width) {
        let mut part = String::new();
        let mut used = 0;
        for c in line.chars() {
            let w = char_columns(c);
            if used + w > width && used > 0 {
                lines.push(std::mem::take(&mut part));
                used = 0;
            }
            part.push(c);
            used += w;
        }
        lines.push(part);
    }
    lines
}
