//! What is told of a row of a sheet.

use super::header::letters;
use crate::deck::check::Severity;

/// Something that is told of a sheet, by row and column as a spreadsheet shows them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Complaint {
    /// The row, from 1; none where it lies outside of the sheet.
    pub row: Option<usize>,
    /// The letters of the column and its heading, such as `F (point 1)`; none where the whole row is meant.
    pub column: Option<String>,
    /// Where it lies in the deck, where the sheet has no place for it.
    pub place: Option<String>,
    /// How much it matters. An error keeps the row from being written.
    pub severity: Severity,
    /// What is wrong.
    pub message: String,
    /// How to mend it.
    pub mend: String,
}

impl Complaint {
    /// An error in a row, or in a cell of it, whose column is counted from 0.
    pub(super) fn at(row: usize, column: Option<(usize, String)>, message: String, mend: impl Into<String>) -> Self {
        Self {
            row: Some(row),
            column: column.map(|(at, heading)| format!("{} ({heading})", letters(at))),
            place: None,
            severity: Severity::Error,
            message,
            mend: mend.into(),
        }
    }

    /// Where it is: `row 4, column F (point 1)`.
    pub fn whereabouts(&self) -> String {
        match (self.row, &self.column, &self.place) {
            (Some(row), Some(column), _) => format!("row {row}, column {column}"),
            (Some(row), None, Some(place)) => format!("row {row} ({place})"),
            (Some(row), None, None) => format!("row {row}"),
            (None, _, place) => place.clone().unwrap_or_default(),
        }
    }
}
