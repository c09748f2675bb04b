//! A report as a document: what stands in it, in what order. Written as Markdown here, and as PDF by the devices.

use std::fmt::Write;

use crate::present::labelled::Labelled;

/// A document.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Document {
    /// Title of the document.
    pub title: String,
    /// What stands small at the foot of every page.
    pub foot: String,
    /// What stands in it.
    pub blocks: Vec<Block>,
}

/// A part of a document.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// A heading, or one of less weight.
    Heading(Level, String),
    /// A paragraph.
    Text(String),
    /// The first words in bold, the rest after them.
    Lead {
        /// The first words.
        lead: String,
        /// The rest.
        words: String,
    },
    /// Label and value.
    Facts(Vec<Labelled>),
    /// Lines, each with a sign.
    List(Vec<ListLine>),
    /// A table.
    Table(Table),
    /// Marks against the pass mark.
    Bars(Vec<Bar>),
    /// A numbered question with what came of it.
    Entry(Entry),
}

/// A line of a list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ListLine {
    /// The sign before it.
    pub sign: Sign,
    /// The words.
    pub words: String,
}

/// A numbered question with what came of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// `3`, `3b`.
    pub number: String,
    /// Whether the entry belongs to the one before it: set in.
    pub is_part: bool,
    /// How it went.
    pub sign: Sign,
    /// The question.
    pub head: String,
    /// Labelled lines: `Answer` and the words.
    pub lines: Vec<Labelled>,
    /// Small words under it: marks, time, source; empty where there are none.
    pub small: String,
}

/// The weight of a heading.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Level {
    /// Of a part.
    Part,
    /// Of a paragraph or two.
    Small,
}

/// What stands before a line of a list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sign {
    /// A dot.
    Dot,
    /// Present.
    Tick,
    /// Present in part, or after a prompt.
    Half,
    /// Missing.
    Cross,
}

/// A table.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Table {
    /// Columns, from the left.
    pub columns: Vec<Column>,
    /// Rows, each with a cell for each column.
    pub rows: Vec<Vec<String>>,
}

/// A column of a table.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Head of the column.
    pub head: String,
    /// Share of the width, against those of the others.
    pub share: f32,
    /// Whether the column holds figures: set to the right.
    pub figure: bool,
}

/// A mark against the pass mark.
#[derive(Debug, Clone, PartialEq)]
pub struct Bar {
    /// Name of what is marked.
    pub name: String,
    /// 0 to 1.
    pub share: f64,
    /// The pass mark, 0 to 1.
    pub line: f64,
    /// At or above the pass mark.
    pub passes: bool,
}

impl Block {
    /// A table of these columns and rows.
    pub fn table(columns: Vec<Column>, rows: impl Iterator<Item = Vec<String>>) -> Self {
        Block::Table(Table { columns, rows: rows.collect() })
    }
}

impl Column {
    /// A column of words.
    pub fn words(head: &str, share: f32) -> Self {
        Self { head: head.to_owned(), share, figure: false }
    }

    /// A column of figures.
    pub fn figure(head: &str, share: f32) -> Self {
        Self { head: head.to_owned(), share, figure: true }
    }
}

impl Sign {
    fn word(self) -> &'static str {
        match self {
            Sign::Dot => "",
            Sign::Tick => "there: ",
            Sign::Half => "in part: ",
            Sign::Cross => "missing: ",
        }
    }
}

impl Bar {
    /// What stands before the pass mark: `pass mark` or `below`.
    pub fn word(&self) -> &'static str {
        if self.passes { "pass mark" } else { "below" }
    }
}

/// The document as Markdown.
pub fn markdown(document: &Document) -> String {
    let mut out = format!("# {}\n", document.title);
    for block in &document.blocks {
        out.push('\n');
        block_in(&mut out, block);
    }
    let _ = write!(out, "\n{}\n", document.foot);
    out
}

fn block_in(out: &mut String, block: &Block) {
    // Writing into a string does not fail.
    let _ = match block {
        Block::Heading(Level::Part, words) => writeln!(out, "## {words}"),
        Block::Heading(Level::Small, words) => writeln!(out, "### {words}"),
        Block::Text(words) => writeln!(out, "{words}"),
        Block::Lead { lead, words } => writeln!(out, "**{lead}** {words}"),
        Block::Facts(facts) => {
            facts.iter().try_for_each(|Labelled { label, words }| writeln!(out, "- {label}: {words}"))
        }
        Block::List(lines) => {
            lines.iter().try_for_each(|ListLine { sign, words }| writeln!(out, "- {}{words}", sign.word()))
        }
        Block::Table(table) => table_in(out, table),
        Block::Bars(bars) => table_in(out, &bars_table(bars)),
        Block::Entry(entry) => entry_in(out, entry),
    };
}

fn entry_in(out: &mut String, entry: &Entry) -> std::fmt::Result {
    let level = if entry.is_part { "####" } else { "###" };
    writeln!(out, "{level} {}. {}\n", entry.number, entry.head)?;
    let flat = |words: &str| words.split_whitespace().collect::<Vec<_>>().join(" ");
    entry.lines.iter().try_for_each(|Labelled { label, words }| writeln!(out, "- {label}: {}", flat(words)))?;
    if entry.small.is_empty() { Ok(()) } else { writeln!(out, "- {}", entry.small) }
}

fn bars_table(bars: &[Bar]) -> Table {
    let percent = |share: f64| format!("{:.0} %", share * 100.0);
    Table {
        columns: vec![
            Column::words("function", 3.0),
            Column::figure("mark", 1.0),
            Column::figure("pass mark", 1.0),
            Column::words("", 1.0),
        ],
        rows: bars
            .iter()
            .map(|bar| {
                let word = if bar.passes { "passed" } else { "below the pass mark" };
                vec![bar.name.clone(), percent(bar.share), percent(bar.line), word.to_owned()]
            })
            .collect(),
    }
}

fn table_in(out: &mut String, table: &Table) -> std::fmt::Result {
    let line = |cells: &mut dyn Iterator<Item = String>| cells.collect::<Vec<_>>().join(" | ");
    writeln!(out, "| {} |", line(&mut table.columns.iter().map(|column| cell(&column.head))))?;
    let rule = |column: &Column| if column.figure { "--:".to_owned() } else { "---".to_owned() };
    writeln!(out, "| {} |", line(&mut table.columns.iter().map(rule)))?;
    table.rows.iter().try_for_each(|row| writeln!(out, "| {} |", line(&mut row.iter().map(|text| cell(text)))))
}

/// Text in a cell of a Markdown table.
fn cell(text: &str) -> String {
    text.replace('|', "\\|").replace('\n', " ")
}

/// Fields as one line of CSV (RFC 4180), ended.
pub fn csv_line(fields: &[String]) -> String {
    let quoted: Vec<String> = fields.iter().map(|field| quoted(field)).collect();
    format!("{}\r\n", quoted.join(","))
}

/// A field with quotes where it needs them. What a spreadsheet would take for a formula is made plain by a quote sign.
fn quoted(field: &str) -> String {
    // Spreadsheets pass over white space and signs that are not seen before they look for one.
    let is_passed_over =
        |c: char| c.is_whitespace() || c.is_control() || matches!(c, '\u{200b}'..='\u{200f}' | '\u{feff}');
    let is_formula = field.trim_start_matches(is_passed_over).starts_with(['=', '+', '-', '@', '＝', '＋', '－', '＠']);
    let field = if is_formula || field.starts_with(['\t', '\r']) { format!("'{field}") } else { field.to_owned() };
    if field.contains([',', '"', '\n', '\r']) { format!("\"{}\"", field.replace('"', "\"\"")) } else { field }
}
