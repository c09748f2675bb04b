//! The headings of a sheet: which column holds what.

use std::collections::BTreeMap;

use crate::deck::suggest;
use crate::sheets::{Cell, Row};

/// Points of a row, as the digits 1 to 9 tick them.
pub(super) const MOST_POINTS: usize = 9;

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Column {
    Kind,
    Id,
    Topic,
    Heading,
    Question,
    /// From 1.
    Point(usize),
    /// The accepted words of this point.
    Accepted(usize),
    Value,
    Within,
    Reason,
    Source,
}

/// The columns that every card fills.
pub(super) const NEEDED: [Column; 5] = [Column::Kind, Column::Id, Column::Topic, Column::Question, Column::Source];

impl Column {
    /// The columns of a template, in their order.
    pub(super) fn template() -> Vec<Self> {
        let points = (1..=MOST_POINTS).map(Self::Point);
        let accepted = (1..=MOST_POINTS).map(Self::Accepted);
        [Self::Kind, Self::Id, Self::Topic, Self::Heading, Self::Question]
            .into_iter()
            .chain(points)
            .chain(accepted)
            .chain([Self::Value, Self::Within, Self::Reason, Self::Source])
            .collect()
    }

    /// Its heading.
    pub(super) fn heading(self) -> String {
        match self {
            Self::Kind => "kind".to_owned(),
            Self::Id => "id".to_owned(),
            Self::Topic => "topic".to_owned(),
            Self::Heading => "heading".to_owned(),
            Self::Question => "question".to_owned(),
            Self::Point(n) => format!("point {n}"),
            Self::Accepted(1) => "accepted words".to_owned(),
            Self::Accepted(n) => format!("accepted words {n}"),
            Self::Value => "value".to_owned(),
            Self::Within => "within".to_owned(),
            Self::Reason => "reason".to_owned(),
            Self::Source => "source".to_owned(),
        }
    }

    /// The column of a heading; capital letters and the space around words make no difference.
    fn of(heading: &str) -> Option<Self> {
        let folded = heading.to_lowercase().replace(['_', '-'], " ");
        let folded = folded.split_whitespace().collect::<Vec<_>>().join(" ");
        let folded = match folded.as_str() {
            "accepted words 1" => "accepted words",
            other => other,
        };
        Self::template().into_iter().find(|column| column.heading() == folded)
    }
}

/// The headings, read.
#[derive(Debug, Default)]
pub(super) struct Header {
    /// By its place in the sheet, from 0.
    columns: BTreeMap<usize, Column>,
    /// Columns whose heading begins with `#`.
    remarks: Vec<usize>,
}

/// What is wrong with a heading: the column from 0, the fault, and how to mend it.
pub(super) type HeadingFault = (Option<usize>, String, String);

impl Header {
    /// Reads the first row of a sheet, with all that is wrong with it.
    pub(super) fn read(row: &Row) -> (Self, Vec<HeadingFault>) {
        let (mut header, mut faults) = (Self::default(), Vec::new());
        for (&at, cell) in &row.cells {
            let text = match cell {
                Cell::Text(text) => text,
                Cell::Unfit(unfit) => {
                    let (message, mend) = unfit.words();
                    faults.push((Some(at), message.to_owned(), mend.to_owned()));
                    continue;
                }
            };
            if text.starts_with('#') {
                header.remarks.push(at);
                continue;
            }
            let Some(column) = Column::of(text) else {
                let known: Vec<String> = Column::template().into_iter().map(Column::heading).collect();
                let mend = match suggest::nearest(text, known.iter().map(String::as_str)) {
                    Some(near) => {
                        format!("did you mean “{near}”? A column of your own has a heading that begins with #")
                    }
                    None => "a column of your own has a heading that begins with #".to_owned(),
                };
                let shown: String = text.chars().take(60).collect();
                faults.push((Some(at), format!("there is no column with the heading “{shown}”"), mend));
                continue;
            };
            if header.place(column).is_some() {
                let message = format!("the heading “{}” stands here a second time", column.heading());
                faults.push((Some(at), message, "keep one of the two columns".to_owned()));
                continue;
            }
            header.columns.insert(at, column);
        }
        for column in NEEDED.into_iter().filter(|column| header.place(*column).is_none()) {
            let message = format!("there is no column with the heading “{}”", column.heading());
            let mend =
                "the first row has the headings; `bedplate draft --template FILE` writes a sheet with all of them";
            faults.push((None, message, mend.to_owned()));
        }
        (header, faults)
    }

    /// What the column at a place holds.
    pub(super) fn column(&self, at: usize) -> Option<Column> {
        self.columns.get(&at).copied()
    }

    /// Whether the column at a place holds its writer's own remarks.
    pub(super) fn is_remark(&self, at: usize) -> bool {
        self.remarks.contains(&at)
    }

    /// Where a column stands, from 0.
    pub(super) fn place(&self, column: Column) -> Option<usize> {
        self.columns.iter().find_map(|(at, other)| (*other == column).then_some(*at))
    }
}

/// The letters of a column, as spreadsheets show them: `A`, `B`, ... `AA`.
pub(super) fn letters(mut at: usize) -> String {
    let mut letters = Vec::new();
    loop {
        letters.push(char::from(b'A' + u8::try_from(at % 26).unwrap_or(0)));
        match (at / 26).checked_sub(1) {
            Some(next) => at = next,
            None => return letters.iter().rev().collect(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_have_the_letters_that_spreadsheets_show() {
        for (at, shown) in [(0, "A"), (25, "Z"), (26, "AA"), (51, "AZ"), (52, "BA"), (701, "ZZ"), (702, "AAA")] {
            assert_eq!(letters(at), shown);
        }
    }

    #[test]
    fn headings_are_known_in_any_case_and_others_are_told() {
        for column in Column::template() {
            assert_eq!(Column::of(&column.heading().to_uppercase().replace(' ', "  ")), Some(column));
        }
        assert_eq!(Column::of("Accepted_Words 1"), Some(Column::Accepted(1)));
        assert_eq!(Column::of("point 10"), None);
        let cells = ["kind", "Id", "topc", "#mine", "id"].map(|text| Cell::Text(text.to_owned()));
        let row = Row { number: 1, cells: cells.into_iter().enumerate().collect() };
        let (header, faults) = Header::read(&row);
        let told: Vec<(Option<usize>, &str)> = faults.iter().map(|(at, text, _)| (*at, text.as_str())).collect();
        assert_eq!(told.len(), 5, "{told:?}");
        assert_eq!(told[0], (Some(2), "there is no column with the heading “topc”"));
        assert!(faults[0].2.contains("“topic”"));
        assert_eq!(told[1].0, Some(4), "a second time");
        assert!(told[2..].iter().all(|(at, _)| at.is_none()), "topic, question and source are missing");
        assert!(header.is_remark(3));
    }
}
