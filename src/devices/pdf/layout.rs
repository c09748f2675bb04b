//! A document laid out on pages: what is drawn, and where, in points from the upper left corner.

use super::measure::{Face, Measure};
use crate::present::Labelled;
use crate::present::document::{Bar, Block, Document, Entry, Level, ListLine, Sign, Table};

/// A4.
pub(super) const WIDE: f32 = 595.28;
pub(super) const HIGH: f32 = 841.89;
const LEFT: f32 = 62.0;
const TOP: f32 = 60.0;
const BOTTOM: f32 = 74.0;
const BODY: f32 = 10.0;
const SMALL: f32 = 8.5;
/// Entries, which are many.
const DENSE: f32 = 9.0;
const FINE: f32 = 8.0;
/// The width of an entry's labels.
const LABEL: f32 = 38.0;
const PART: f32 = 13.0;
const TITLE: f32 = 20.0;
/// Line spacing for a size.
const LEADING: f32 = 1.36;
const GAP: f32 = 8.0;
const CELL: f32 = 4.0;
const BAR: f32 = 9.0;

/// How dark something is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Ink {
    Full,
    Second,
    Line,
    Pale,
    Good,
    Weak,
}

/// Something drawn.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Op {
    /// Words with their baseline's left end.
    Words { x: f32, y: f32, face: Face, size: f32, ink: Ink, words: String },
    /// A level line.
    Rule { x: f32, y: f32, width: f32, thick: f32, ink: Ink },
    /// A filled rectangle.
    Box { x: f32, y: f32, width: f32, height: f32, ink: Ink },
    /// The sign of a line, its middle.
    Sign { x: f32, y: f32, sign: Sign },
}

pub(super) type Page = Vec<Op>;

struct Layout<'a> {
    measure: &'a Measure,
    pages: Vec<Page>,
    y: f32,
}

/// The pages of a document, with their feet.
pub(super) fn pages(document: &Document, measure: &Measure) -> Vec<Page> {
    let mut layout = Layout { measure, pages: vec![Vec::new()], y: TOP };
    layout.words(&document.title, (Face::Semi, TITLE), LEFT, WIDE - 2.0 * LEFT, Ink::Full);
    layout.rule(1.0, Ink::Full);
    layout.y += GAP;
    for (at, block) in document.blocks.iter().enumerate() {
        layout.block(block, document.blocks.get(at + 1));
    }
    let Layout { mut pages, .. } = layout;
    let count = pages.len();
    for (at, page) in pages.iter_mut().enumerate() {
        foot(page, &document.foot, (at + 1, count), measure);
    }
    pages
}

fn foot(page: &mut Page, words: &str, (number, of): (usize, usize), measure: &Measure) {
    let y = HIGH - BOTTOM + 18.0;
    page.push(Op::Rule { x: LEFT, y, width: WIDE - 2.0 * LEFT, thick: 0.5, ink: Ink::Line });
    let count = format!("page {number} of {of}");
    let width = measure.width(&count, Face::Sans, SMALL);
    let y = y + 14.0;
    let op = |x: f32, y: f32, words: String| Op::Words { x, y, face: Face::Sans, size: SMALL, ink: Ink::Second, words };
    page.push(op(WIDE - LEFT - width, y, count));
    let lines = measure.lines(words, Face::Sans, SMALL, WIDE - 2.0 * LEFT - width - 24.0);
    for (at, line) in lines.into_iter().take(3).enumerate() {
        page.push(op(LEFT, y + at as f32 * SMALL * LEADING, line));
    }
}

impl Layout<'_> {
    fn width(&self) -> f32 {
        WIDE - 2.0 * LEFT
    }

    fn put(&mut self, op: Op) {
        // There is always a last page.
        if let Some(page) = self.pages.last_mut() {
            page.push(op);
        }
    }

    /// Makes room for `height`: on this page, or on a new one.
    fn room(&mut self, height: f32) {
        if self.y + height > HIGH - BOTTOM && self.y > TOP {
            self.pages.push(Vec::new());
            self.y = TOP;
        }
    }

    fn rule(&mut self, thick: f32, ink: Ink) {
        let (y, width) = (self.y, self.width());
        self.put(Op::Rule { x: LEFT, y, width, thick, ink });
        self.y += thick;
    }

    fn height(&self, words: &str, (face, size): (Face, f32), width: f32) -> f32 {
        self.measure.lines(words, face, size, width).len() as f32 * size * LEADING
    }

    fn words(&mut self, words: &str, (face, size): (Face, f32), x: f32, width: f32, ink: Ink) {
        for line in self.measure.lines(words, face, size, width) {
            self.room(size * LEADING);
            let y = self.y + size * 1.02;
            self.put(Op::Words { x, y, face, size, ink, words: line });
            self.y += size * LEADING;
        }
    }

    /// A heading is kept with what follows.
    fn block(&mut self, block: &Block, next: Option<&Block>) {
        let width = self.width();
        match block {
            Block::Heading(level, words) => {
                let size = if *level == Level::Part { PART } else { BODY + 0.5 };
                let above = if *level == Level::Part { 12.0 } else { GAP };
                let follows = match next {
                    Some(Block::Bars(bars)) => bars.len().min(4) as f32 * 24.0,
                    Some(_) => 42.0,
                    None => 0.0,
                };
                self.room(above + size * LEADING + follows);
                self.y += above;
                self.words(words, (Face::Semi, size), LEFT, width, Ink::Full);
                self.y += 2.0;
                return;
            }
            Block::Text(words) => self.words(words, (Face::Sans, BODY), LEFT, width, Ink::Full),
            Block::Lead { lead, words } => {
                self.words(lead, (Face::Semi, BODY + 1.0), LEFT, width, Ink::Full);
                self.words(words, (Face::Sans, BODY), LEFT, width, Ink::Full);
            }
            Block::Facts(facts) => self.facts(facts),
            Block::List(lines) => self.list(lines),
            Block::Table(table) => self.table(table),
            Block::Bars(bars) => self.bars(bars),
            Block::Entry(entry) => return self.entry(entry),
        }
        self.y += GAP - 2.0;
    }

    /// A question: sign and number at its left, under it the labelled lines, and small what it came to.
    fn entry(&mut self, entry: &Entry) {
        let number = if entry.is_part { 30.0 } else { 14.0 };
        let x = LEFT + number + 22.0;
        let width = WIDE - LEFT - x;
        let (head, line) = if entry.is_part { (Face::Sans, Ink::Pale) } else { (Face::Semi, Ink::Line) };
        let lines: f32 =
            entry.lines.iter().map(|line| self.height(&line.words, (Face::Sans, DENSE), width - LABEL)).sum();
        let small = if entry.small.is_empty() { 0.0 } else { self.height(&entry.small, (Face::Sans, FINE), width) };
        // A short entry stays on its page; of a long one, the beginning stands together.
        self.room((self.height(&entry.head, (head, DENSE), width) + lines + small + 5.0).min(90.0));
        if !entry.is_part {
            self.rule(0.5, line);
        }
        self.y += 2.0;
        let y = self.y + DENSE * 0.68;
        self.put(Op::Sign { x: LEFT + number - 8.0, y, sign: entry.sign });
        let (page, top) = (self.pages.len(), self.y);
        self.words(&entry.number, (head, DENSE), LEFT + number, 20.0, Ink::Full);
        if page == self.pages.len() {
            self.y = top;
        }
        self.words(&entry.head, (head, DENSE), x, width, Ink::Full);
        for Labelled { label, words } in &entry.lines {
            self.room(DENSE * LEADING);
            let (page, top) = (self.pages.len(), self.y);
            self.words(label, (Face::Sans, DENSE), x, LABEL, Ink::Second);
            if page == self.pages.len() {
                self.y = top;
            }
            let face = if label == "Answer" { Face::Italic } else { Face::Sans };
            self.words(words, (face, DENSE), x + LABEL, width - LABEL, Ink::Full);
        }
        if !entry.small.is_empty() {
            self.words(&entry.small, (Face::Sans, FINE), x, width, Ink::Second);
        }
        self.y += 3.0;
    }

    fn facts(&mut self, facts: &[Labelled]) {
        let width = self.width();
        let label =
            facts.iter().map(|fact| self.measure.width(&fact.label, Face::Sans, BODY)).fold(0.0, f32::max).min(160.0);
        let x = LEFT + label + 14.0;
        for Labelled { label: name, words } in facts {
            self.room(self.height(words, (Face::Sans, BODY), width - label - 14.0));
            let (top, page) = (self.y, self.pages.len());
            self.words(name, (Face::Sans, BODY), LEFT, label, Ink::Second);
            let after = self.y;
            if page == self.pages.len() {
                self.y = top;
            }
            self.words(words, (Face::Sans, BODY), x, width - label - 14.0, Ink::Full);
            self.y = self.y.max(after);
        }
    }

    fn list(&mut self, lines: &[ListLine]) {
        let width = self.width() - 14.0;
        for ListLine { sign, words } in lines {
            self.room(self.height(words, (Face::Sans, BODY), width).min(60.0));
            let y = self.y + BODY * 0.68;
            self.put(Op::Sign { x: LEFT + 4.0, y, sign: *sign });
            self.words(words, (Face::Sans, BODY), LEFT + 14.0, width, Ink::Full);
            self.y += 1.0;
        }
    }

    fn table(&mut self, table: &Table) {
        let all: f32 = table.columns.iter().map(|column| column.share).sum();
        let gaps = CELL * 2.0 * table.columns.len().saturating_sub(1) as f32;
        let each = (self.width() - gaps) / all.max(0.01);
        let heads: Vec<String> = table.columns.iter().map(|column| column.head.clone()).collect();
        self.row(table, &heads, each, (Face::Semi, SMALL, Ink::Second));
        self.rule(0.8, Ink::Full);
        for row in &table.rows {
            let height = self.row_height(table, row, each);
            if self.y + height > HIGH - BOTTOM {
                self.room(HIGH);
                self.row(table, &heads, each, (Face::Semi, SMALL, Ink::Second));
                self.rule(0.8, Ink::Full);
            }
            self.row(table, row, each, (Face::Sans, SMALL + 0.5, Ink::Full));
            self.rule(0.4, Ink::Pale);
        }
    }

    fn row_height(&self, table: &Table, row: &[String], each: f32) -> f32 {
        let cells = table.columns.iter().zip(row);
        let size = SMALL + 0.5;
        cells.map(|(column, text)| self.height(text, (Face::Sans, size), column.share * each)).fold(0.0, f32::max)
            + CELL
    }

    fn row(&mut self, table: &Table, row: &[String], each: f32, (face, size, ink): (Face, f32, Ink)) {
        self.y += CELL / 2.0;
        let (top, mut bottom) = (self.y, self.y);
        let mut x = LEFT;
        for (column, text) in table.columns.iter().zip(row) {
            let width = column.share * each;
            let mut y = top;
            for line in self.measure.lines(text, face, size, width) {
                let shift = if column.figure { width - self.measure.width(&line, face, size) } else { 0.0 };
                self.put(Op::Words { x: x + shift, y: y + size * 1.02, face, size, ink, words: line });
                y += size * LEADING;
            }
            bottom = bottom.max(y);
            x += width + CELL * 2.0;
        }
        self.y = bottom + CELL / 2.0;
    }

    /// Marks as bars with the pass mark.
    fn bars(&mut self, bars: &[Bar]) {
        let width = self.width();
        let (name, word) = (width * 0.42, 92.0);
        let bar = width - name - word - 20.0;
        for mark in bars {
            let lines = self.measure.lines(&mark.name, Face::Sans, BODY, name).len() as f32;
            let height = (lines * BODY * LEADING).max(BAR) + 6.0;
            self.room(height);
            let top = self.y;
            self.words(&mark.name, (Face::Sans, BODY), LEFT, name, Ink::Full);
            let y = top + 2.5;
            let x = LEFT + name + 10.0;
            let share = mark.share.clamp(0.0, 1.0) as f32;
            self.put(Op::Box { x, y, width: bar, height: BAR, ink: Ink::Pale });
            let ink = if mark.passes { Ink::Good } else { Ink::Weak };
            self.put(Op::Box { x, y, width: bar * share, height: BAR, ink });
            let line = x + bar * mark.line.clamp(0.0, 1.0) as f32;
            self.put(Op::Box { x: line - 0.6, y: y - 3.0, width: 1.2, height: BAR + 6.0, ink: Ink::Full });
            let said = format!("{:.0} %, {} {:.0} %", mark.share * 100.0, mark.word(), mark.line * 100.0);
            self.y = top;
            self.words(&said, (Face::Sans, BODY), x + bar + 10.0, word, Ink::Full);
            self.y = top + height;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::present::document::Column;

    fn words_of(pages: &[Page]) -> String {
        let words = pages.iter().flatten().filter_map(|op| match op {
            Op::Words { words, .. } => Some(words.as_str()),
            _ => None,
        });
        words.collect::<Vec<_>>().join(" ")
    }

    fn long() -> Document {
        let sentence =
            "The governor holds the speed while the load is taken over, step by step, without haste. ".repeat(9);
        let row = |n: usize| vec![format!("row-{n}"), sentence.clone(), format!("{n}.5")];
        let columns = vec![Column::words("asked", 1.0), Column::words("said", 3.0), Column::figure("mark", 0.5)];
        Document {
            title: "A debrief of some length".to_owned(),
            foot: "This mark is of a trainer.".to_owned(),
            blocks: vec![
                Block::Lead { lead: "No function passes.".to_owned(), words: sentence.clone() },
                Block::Heading(Level::Part, "Missed".to_owned()),
                Block::Table(Table { columns, rows: (0..30).map(row).collect() }),
                Block::Entry(Entry {
                    number: "12b".to_owned(),
                    is_part: true,
                    sign: Sign::Half,
                    head: format!("asked {sentence}"),
                    lines: vec![Labelled::of("Answer", sentence.repeat(20))],
                    small: format!("source {sentence}"),
                }),
                Block::List(
                    (0..40).map(|n| ListLine { sign: Sign::Half, words: format!("line-{n} {sentence}") }).collect(),
                ),
                Block::Facts(vec![Labelled::of("Candidate", "R. Halloran")]),
                Block::Text("x".repeat(400)),
            ],
        }
    }

    #[test]
    fn nothing_of_a_long_document_is_lost_or_stands_outside_its_page() {
        let measure = Measure::new().expect("the faces are read");
        let pages = pages(&long(), &measure);
        assert!(pages.len() > 8, "{} pages", pages.len());
        let all = words_of(&pages);
        for n in 0..30 {
            assert!(all.contains(&format!("row-{n} ")), "row {n}");
        }
        for n in 0..40 {
            assert!(all.contains(&format!("line-{n} ")), "line {n}");
        }
        assert!(all.contains(&format!("page {0} of {0}", pages.len())));
        assert_eq!(all.matches('x').count(), 400, "a word that is wider than the page is broken, not cut");
        for op in pages.iter().flatten() {
            let (left, right, bottom) = match op {
                Op::Words { x, y, face, size, words, .. } => (*x, x + measure.width(words, *face, *size), *y),
                Op::Rule { x, y, width, .. } => (*x, x + width, *y),
                Op::Box { x, y, width, height, .. } => (*x, x + width, y + height),
                Op::Sign { x, y, .. } => (*x, *x, *y),
            };
            assert!(left >= LEFT - 0.1 && right <= WIDE - LEFT + 0.1, "{op:?} lies between the margins");
            assert!(bottom < HIGH - 18.0, "{op:?} lies on the page");
        }
    }

    #[test]
    fn a_heading_stands_with_what_follows_it() {
        let measure = Measure::new().expect("the faces are read");
        for lines in 30..60 {
            let mut blocks = vec![Block::Text("line\n".repeat(lines))];
            blocks.push(Block::Heading(Level::Part, "Marks".to_owned()));
            blocks.push(Block::Text("what follows".to_owned()));
            let document = Document { title: "T".to_owned(), foot: String::new(), blocks };
            let pages = pages(&document, &measure);
            let with = |words: &str| pages.iter().position(|page| words_of(std::slice::from_ref(page)).contains(words));
            assert_eq!(with("Marks"), with("what follows"), "after {lines} lines");
        }
    }

    #[test]
    fn a_character_that_the_face_lacks_is_made_plain() {
        let measure = Measure::new().expect("the faces are read");
        assert_eq!(measure.spelled("30 °C ≤ ΔT – 5 m³", Face::Sans), "30 °C ≤ ΔT – 5 m³");
        assert_eq!(measure.spelled("a\u{4E2D}b", Face::Sans), "a?b");
    }
}
