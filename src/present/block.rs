//! The title block of a sheet.

/// The block at the bottom right of a sheet: two columns, three rows.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct TitleBlock {
    /// From top to bottom; three of them.
    pub rows: Vec<BlockRow>,
}

/// One row of a title block: a wide cell and a narrow one.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct BlockRow {
    /// Label of the wide cell.
    pub label: String,
    /// Value of the wide cell.
    pub value: String,
    /// Label of the narrow cell.
    pub side_label: String,
    /// Value of the narrow cell, in the figures' face; about 11 characters fit.
    pub side_value: String,
}

impl TitleBlock {
    /// A block from rows of label, value, narrow label, narrow value.
    pub fn of(rows: [[&str; 4]; 3]) -> Self {
        let row = |[label, value, side_label, side_value]: [&str; 4]| BlockRow {
            label: label.to_owned(),
            value: value.to_owned(),
            side_label: side_label.to_owned(),
            side_value: side_value.to_owned(),
        };
        Self { rows: rows.into_iter().map(row).collect() }
    }
}
