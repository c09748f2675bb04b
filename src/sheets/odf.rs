//! .ods, by `calamine`. It takes counts of repeated cells as they are promised, and tells neither shares nor merged cells
//! nor formulas without a result: so the file's text is looked over first.

use std::collections::BTreeSet;
use std::io::Cursor;

use calamine::{Data, Ods, OdsError, Reader};
use quick_xml::events::{BytesStart, Event};

use super::error::SheetError;
use super::sheet::{Cell, Gathered, MOST_COLUMNS, MOST_ROWS, Sheet, Unfit};
use super::{bounds, numbers};

/// From the first cell to the last that has something in it there may be so many, in rows and columns.
const MOST_CELLS: usize = 5_000_000;
/// So many cells may be marked.
const MOST_MARKS: usize = 500_000;
/// Spaces that are counted rather than written may come to so many in one cell.
const MOST_SPACES: usize = 10_000;

/// What `calamine` does not tell of a cell.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Mark {
    Covered,
    Share,
    NoResult,
}

/// Row and column, from 0.
type Marks = BTreeSet<(usize, usize, Mark)>;

/// Reads a sheet.
///
/// # Errors
/// Where it is damaged, locked, or holds more than is read.
pub(super) fn read(bytes: Vec<u8>) -> Result<Sheet, SheetError> {
    let content = bounds::measure(&bytes, Some("content.xml"))?;
    let content = content.ok_or_else(|| SheetError::Damaged("it has no content.xml".to_owned()))?;
    let marks = match Look::over(&content) {
        Ok(marks) => marks,
        // What is locked is no text at all.
        Err(fault) => {
            return Err(open(bytes).err().filter(|error| matches!(error, SheetError::Locked)).unwrap_or(fault));
        }
    };
    drop(content);
    let mut book = open(bytes)?;
    let names = book.sheet_names();
    let name = names.first().ok_or(SheetError::NoSheet)?.clone();
    let range = book.worksheet_range(&name).map_err(|error| damaged(&error))?;
    let (top, left) = range.start().map_or((0, 0), |(row, column)| (row as usize, column as usize));
    let mut gathered = Gathered::default();
    for (row, column, value) in range.used_cells() {
        let (row, column) = (row + top, column + left);
        let is_share = marks.contains(&(row, column, Mark::Share));
        gathered.take(row, column, content_of(value, is_share))?;
    }
    for (row, column, mark) in marks {
        match mark {
            Mark::Share => {}
            Mark::Covered => {
                if let Some(cells) = gathered.0.get_mut(&row) {
                    cells.insert(column, Cell::Unfit(Unfit::Merged));
                }
            }
            Mark::NoResult => gathered.take(row, column, Cell::Unfit(Unfit::NoResult))?,
        }
    }
    let others = names.len() - 1;
    Ok(Sheet { rows: gathered.rows(), name: (others > 0).then_some(name), others })
}

fn open(bytes: Vec<u8>) -> Result<Ods<Cursor<Vec<u8>>>, SheetError> {
    Ods::new(Cursor::new(bytes)).map_err(|error| damaged(&error))
}

fn content_of(value: &Data, is_share: bool) -> Cell {
    Cell::Text(match value {
        Data::Empty => String::new(),
        Data::String(text) => text.clone(),
        Data::Int(number) => number.to_string(),
        Data::Float(number) if is_share => numbers::percent(*number),
        Data::Float(number) => numbers::plain(*number),
        Data::Bool(_) => return Cell::Unfit(Unfit::Truth),
        Data::Error(_) => return Cell::Unfit(Unfit::Fault),
        Data::DateTime(_) | Data::DateTimeIso(_) | Data::DurationIso(_) => return Cell::Unfit(Unfit::Date),
    })
}

fn damaged(error: &OdsError) -> SheetError {
    match error {
        OdsError::Password => SheetError::Locked,
        other => SheetError::Damaged(other.to_string()),
    }
}

/// A look over the text of a file: how much it comes to, and the marks of its first sheet.
#[derive(Default)]
struct Look {
    marks: Marks,
    tables: usize,
    row: usize,
    row_repeats: usize,
    column: usize,
    last_row: usize,
    last_column: usize,
    spaces: usize,
}

impl Look {
    fn over(content: &[u8]) -> Result<Marks, SheetError> {
        let mut look = Self::default();
        let mut reader = quick_xml::Reader::from_reader(content);
        let mut depth = 0_usize;
        loop {
            let event = reader.read_event().map_err(|error| SheetError::Damaged(error.to_string()))?;
            match &event {
                Event::Start(tag) => {
                    depth += 1;
                    look.begins(tag)?;
                }
                Event::Empty(tag) => {
                    look.begins(tag)?;
                    look.ends(tag.name().0);
                }
                Event::End(tag) => {
                    depth = depth.saturating_sub(1);
                    look.ends(tag.name().0);
                }
                Event::Eof if depth > 0 => return Err(SheetError::Damaged("it is cut short".to_owned())),
                Event::Eof => return Ok(look.marks),
                _ => {}
            }
            if depth > 200 {
                return Err(SheetError::Damaged("its parts stand too deep inside one another".to_owned()));
            }
        }
    }

    fn begins(&mut self, tag: &BytesStart<'_>) -> Result<(), SheetError> {
        match tag.name().0 {
            "table:table" => {
                self.tables += 1;
                (self.row, self.last_row, self.last_column) = (0, 0, 0);
            }
            "table:table-row" => {
                self.row_repeats = count(tag, "table:number-rows-repeated")?;
                self.column = 0;
            }
            "table:table-cell" => self.cell(tag, false)?,
            "table:covered-table-cell" => self.cell(tag, true)?,
            "text:s" => {
                self.spaces += count(tag, "text:c")?;
                if self.spaces > MOST_SPACES {
                    return Err(SheetError::Damaged(format!("a cell has more than {MOST_SPACES} spaces")));
                }
            }
            _ => {}
        }
        Ok(())
    }

    fn cell(&mut self, tag: &BytesStart<'_>, is_covered: bool) -> Result<(), SheetError> {
        self.spaces = 0;
        let repeats = count(tag, "table:number-columns-repeated")?;
        let kind = attribute(tag, "office:value-type")?;
        let formula = attribute(tag, "table:formula")?.is_some();
        if kind.is_some() || formula {
            // What an empty cell is repeated for is not kept.
            self.last_row = self.last_row.max(self.row.saturating_add(self.row_repeats));
            self.last_column = self.last_column.max(self.column.saturating_add(repeats));
            if self.last_row.saturating_mul(self.last_column) > MOST_CELLS {
                return Err(SheetError::Damaged("its cells lie too far apart, or are repeated too often".to_owned()));
            }
        }
        let mark = match (is_covered, kind.as_deref(), formula) {
            (true, _, _) => Some(Mark::Covered),
            (_, Some("percentage"), _) => Some(Mark::Share),
            (_, None, true) => Some(Mark::NoResult),
            _ => None,
        };
        if let Some(mark) = mark.filter(|_| self.tables == 1) {
            let columns = self.column..self.column.saturating_add(repeats).min(MOST_COLUMNS);
            for row in self.row..self.row.saturating_add(self.row_repeats.min(MOST_ROWS)) {
                self.marks.extend(columns.clone().map(|column| (row, column, mark)));
                if self.marks.len() > MOST_MARKS {
                    return Err(SheetError::Damaged("too many of its cells are merged".to_owned()));
                }
            }
        }
        self.column = self.column.saturating_add(repeats);
        Ok(())
    }

    fn ends(&mut self, name: &str) {
        if name == "table:table-row" {
            self.row = self.row.saturating_add(self.row_repeats);
        }
    }
}

/// A count that an attribute gives; one where it is not there.
fn count(tag: &BytesStart<'_>, name: &str) -> Result<usize, SheetError> {
    match attribute(tag, name)? {
        None => Ok(1),
        Some(text) => text.parse().map_err(|_| SheetError::Damaged(format!("`{text}` is no count"))),
    }
}

fn attribute(tag: &BytesStart<'_>, name: &str) -> Result<Option<String>, SheetError> {
    let found = tag.try_get_attribute(name).map_err(|error| SheetError::Damaged(error.to_string()))?;
    Ok(found.map(|attribute| attribute.value.into_owned()))
}
