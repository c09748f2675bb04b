//! How a card stands in one row of a sheet: what a kind makes of the cells, and what the keys of the card are to be.

/// A key point as a row gives it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct RowPoint {
    /// The point in full.
    pub(crate) say: String,
    /// It stands behind a `!`.
    pub(crate) critical: bool,
    /// Its accepted words; none where the cell is empty.
    pub(crate) accept: Vec<String>,
}

/// What a key of a card is to be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Wanted {
    /// A text.
    Text(String),
    /// A list of texts.
    Texts(Vec<String>),
    /// A list of key points.
    Points(Vec<RowPoint>),
}

/// The cells of a row that only some kinds of card fill.
#[derive(Debug, Default)]
pub(crate) struct RowCells {
    /// The points in their order, without gaps.
    pub(crate) points: Vec<RowPoint>,
    /// The value.
    pub(crate) value: Option<String>,
    /// The tolerance.
    pub(crate) within: Option<String>,
}

/// What a kind makes of the columns of points.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum PointColumns {
    /// It leaves them empty.
    Empty,
    /// They are texts in their order.
    Texts,
    /// They are key points, with accepted words and `!` before those that are safety-critical.
    KeyPoints,
}

/// How a card of a kind stands in one row.
pub(crate) struct InRow {
    /// What the columns of points are.
    pub(crate) points: PointColumns,
    /// Whether the columns of value and tolerance are its own.
    pub(crate) value: bool,
    /// The keys that only this kind has, from its cells, in the order of writing.
    pub(crate) wanted: fn(&RowCells) -> Vec<(&'static str, Wanted)>,
    /// An example: headings with what stands under them.
    pub(crate) example: &'static [(&'static str, &'static str)],
}
