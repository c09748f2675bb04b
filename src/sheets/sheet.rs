//! A sheet as it is read: rows of cells.

use std::collections::BTreeMap;

use super::error::SheetError;

/// So many rows of a sheet may have something in them, the headings included.
pub const MOST_ROWS: usize = 20_001;
/// A sheet may have so many columns.
pub const MOST_COLUMNS: usize = 100;
/// A sheet: the rows that have something in them, in their order.
#[derive(Debug, Default, PartialEq)]
pub struct Sheet {
    /// The rows.
    pub rows: Vec<Row>,
    /// The name of the sheet in its file, where a file has several.
    pub name: Option<String>,
    /// How many other sheets of the file are not read.
    pub others: usize,
}

/// A row.
#[derive(Debug, Default, PartialEq)]
pub struct Row {
    /// Its number in the sheet, from 1.
    pub number: usize,
    /// By column, from 0; empty cells are left out.
    pub cells: BTreeMap<usize, Cell>,
}

/// What stands in a cell.
#[derive(Debug, Clone, PartialEq)]
pub enum Cell {
    /// Text, without the space around it; a number as one would type it.
    Text(String),
    /// Something that is not what was typed, or not all of it.
    Unfit(Unfit),
}

/// Why the text of a cell cannot be trusted.
#[derive(Debug, Clone, PartialEq)]
pub enum Unfit {
    /// A date or a time, as spreadsheets make of `1-2` by themselves.
    Date,
    /// True or false.
    Truth,
    /// A formula that failed, such as `#REF!`.
    Fault,
    /// A formula whose result is not in the file.
    NoResult,
    /// A part of a merged cell that is not its first.
    Merged,
    /// A number whose unit is only shown, by the cell's format.
    ShownUnit,
    /// Bytes that are no UTF-8.
    NotUtf8,
}

impl Unfit {
    /// What is wrong, and how to mend it.
    pub fn words(&self) -> (&'static str, &'static str) {
        match self {
            Self::Date => (
                "the spreadsheet has made a date or a time of what was typed here",
                "format the cell as text and type it again",
            ),
            Self::Truth => {
                ("this is true or false, where a text is wanted", "format the cell as text and type it again")
            }
            Self::Fault => ("the formula in this cell has failed", "mend the formula, or type the text itself"),
            Self::NoResult => (
                "the file does not hold the result of this cell's formula",
                "open the sheet in a spreadsheet program and save it, or type the text itself",
            ),
            Self::Merged => (
                "this cell is merged with others, and what is written counts only for the first of them",
                "take the merged cell apart and fill in each row",
            ),
            Self::ShownUnit => (
                "this cell holds a number alone; the words beside it come from the cell's format",
                "format the cell as text and type the number with its unit",
            ),
            Self::NotUtf8 => ("this cell has signs that are not UTF-8", "save the sheet as “CSV UTF-8”, or as .xlsx"),
        }
    }
}

/// Gathers the cells of a sheet in any order.
#[derive(Default)]
pub(super) struct Gathered(pub(super) BTreeMap<usize, BTreeMap<usize, Cell>>);

impl Gathered {
    /// Takes a cell in; both numbers from 0. Empty text is passed over.
    ///
    /// # Errors
    /// Where there are more rows or columns than are read.
    pub(super) fn take(&mut self, row: usize, column: usize, cell: Cell) -> Result<(), SheetError> {
        let cell = match cell {
            Cell::Text(text) if text.trim().is_empty() => return Ok(()),
            Cell::Text(text) => Cell::Text(text.trim().to_owned()),
            unfit => unfit,
        };
        if column >= MOST_COLUMNS {
            return Err(SheetError::TooWide(MOST_COLUMNS));
        }
        self.0.entry(row).or_default().insert(column, cell);
        if self.0.len() > MOST_ROWS { Err(SheetError::TooLong(MOST_ROWS - 1)) } else { Ok(()) }
    }

    /// Notes that a cell is covered by a merged one, where its row has something in it.
    pub(super) fn cover(&mut self, rows: std::ops::RangeInclusive<usize>, columns: std::ops::RangeInclusive<usize>) {
        let (first, last) = (*columns.start(), (*columns.end()).min(MOST_COLUMNS - 1));
        let head = *rows.start();
        for (row, cells) in self.0.range_mut(rows) {
            for column in first..=last {
                if (*row, column) != (head, first) {
                    cells.insert(column, Cell::Unfit(Unfit::Merged));
                }
            }
        }
    }

    /// The rows in their order.
    pub(super) fn rows(self) -> Vec<Row> {
        self.0.into_iter().map(|(row, cells)| Row { number: row + 1, cells }).collect()
    }
}
