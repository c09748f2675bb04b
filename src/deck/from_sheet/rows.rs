//! Rows to cards: what stands in the cells, sound as far as a row alone can tell.

use super::complaint::Complaint;
use super::header::{Column, Header, MOST_POINTS};
use crate::deck::kinds::{self, DeckKind, InRow, PointColumns, RowCells, RowPoint, Wanted};
use crate::deck::suggest;
use crate::sheets::{Cell, Row};

/// A card as a row gives it.
#[derive(Clone)]
pub(super) struct RowCard {
    /// The row, from 1.
    pub(super) row: usize,
    pub(super) kind: &'static DeckKind,
    pub(super) id: String,
    /// Its keys in the order of writing, `id` first.
    pub(super) wanted: Vec<(&'static str, Wanted)>,
}

impl RowCard {
    /// The text of a key.
    pub(super) fn text(&self, key: &str) -> Option<&str> {
        self.wanted.iter().find_map(|(name, wanted)| match wanted {
            Wanted::Text(text) if *name == key => Some(text.as_str()),
            _ => None,
        })
    }
}

/// The card of a row.
///
/// # Errors
/// With all that is wrong with it.
pub(super) fn card(header: &Header, row: &Row) -> Result<RowCard, Vec<Complaint>> {
    let mut reader = RowReader { header, row, faults: Vec::new() };
    reader.look_over();
    let kind = reader.kind();
    let id = reader.needed(Column::Id);
    let topic = reader.needed(Column::Topic);
    let ask = reader.needed(Column::Question);
    let sources = reader.needed(Column::Source).map(|text| parted(&text));
    let own = kind.map(|(_, in_row)| (in_row.wanted)(&reader.own(in_row)));
    let (heading, reason) = (reader.text(Column::Heading), reader.text(Column::Reason));
    match (kind, id, topic, ask, own, sources) {
        (Some((kind, _)), Some(id), Some(topic), Some(ask), Some(own), Some(sources)) if reader.faults.is_empty() => {
            let text = |key, text: Option<String>| text.map(|text| (key, Wanted::Text(text)));
            let head = [("id", Some(id.clone())), ("topic", Some(topic)), ("heading", heading), ("ask", Some(ask))];
            let mut wanted: Vec<(&'static str, Wanted)> =
                head.into_iter().filter_map(|(key, value)| text(key, value)).collect();
            wanted.extend(own);
            wanted.extend(text("because", reason));
            wanted.push(("sources", Wanted::Texts(sources)));
            Ok(RowCard { row: row.number, kind, id, wanted })
        }
        _ => Err(reader.faults),
    }
}

struct RowReader<'a> {
    header: &'a Header,
    row: &'a Row,
    faults: Vec<Complaint>,
}

impl RowReader<'_> {
    fn fault(&mut self, column: Column, message: impl Into<String>, mend: impl Into<String>) {
        let place = self.header.place(column).map(|at| (at, column.heading()));
        self.faults.push(Complaint::at(self.row.number, place, message.into(), mend));
    }

    /// Tells of cells that hold no text, and of cells under no heading.
    fn look_over(&mut self) {
        for (&at, cell) in &self.row.cells {
            let column = self.header.column(at);
            if self.header.is_remark(at) {
                continue;
            }
            let heading = column.map_or_else(|| "without a heading".to_owned(), Column::heading);
            let (message, mend) = match (cell, column) {
                (Cell::Unfit(unfit), _) => unfit.words(),
                (Cell::Text(_), None) => (
                    "something stands here, and the column has no heading that is known",
                    "give the column its heading, or one that begins with # for remarks of your own",
                ),
                (Cell::Text(_), Some(_)) => continue,
            };
            self.faults.push(Complaint::at(self.row.number, Some((at, heading)), message.to_owned(), mend));
        }
    }

    /// The text of a column; none where it is empty or holds something else, which has been told.
    fn text(&self, column: Column) -> Option<String> {
        match self.row.cells.get(&self.header.place(column)?)? {
            Cell::Text(text) => Some(text.replace("\r\n", "\n")),
            Cell::Unfit(_) => None,
        }
    }

    fn is_unfit(&self, column: Column) -> bool {
        let cell = self.header.place(column).and_then(|at| self.row.cells.get(&at));
        matches!(cell, Some(Cell::Unfit(_)))
    }

    fn needed(&mut self, column: Column) -> Option<String> {
        let text = self.text(column);
        if text.is_none() && !self.is_unfit(column) {
            self.fault(
                column,
                "nothing stands here, and every card needs it",
                format!("fill in “{}”", column.heading()),
            );
        }
        text
    }

    fn kind(&mut self) -> Option<(&'static DeckKind, &'static InRow)> {
        let text = self.needed(Column::Kind)?;
        let word = text.to_lowercase().replace([' ', '-'], "");
        let Some(kind) = kinds::of_word(&word) else {
            let shown: String = text.chars().take(60).collect();
            let mend = suggest::mend(&word, kinds::in_row().into_iter().map(|(word, _)| word).collect::<Vec<_>>())
                .replace(", or take it out", "");
            self.fault(Column::Kind, format!("there is no kind of card called “{shown}”"), mend);
            return None;
        };
        match &kind.in_row {
            Ok(in_row) => Some((kind, in_row)),
            Err(instead) => {
                self.fault(Column::Kind, format!("{} cannot stand in one row of a sheet", kind.one), *instead);
                None
            }
        }
    }

    /// The cells that only some kinds fill.
    fn own(&mut self, in_row: &InRow) -> RowCells {
        let points = self.points(in_row.points);
        let mut quantity = |column: Column| {
            let text = self.text(column)?;
            if !in_row.value {
                self.fault(column, "a card of this kind has none", "leave the cell empty, or write another kind");
                return None;
            }
            match with_decimal_point(&text) {
                Some(text) => Some(text),
                None => {
                    let message = format!("“{}” can be read in two ways", text.chars().take(60).collect::<String>());
                    self.fault(column, message, "write a decimal point, and no thousands marks: 1500 or 1.5");
                    None
                }
            }
        };
        let (value, within) = (quantity(Column::Value), quantity(Column::Within));
        if in_row.value && value.is_none() && self.text(Column::Value).is_none() && !self.is_unfit(Column::Value) {
            self.fault(
                Column::Value,
                "nothing stands here, and a card of this kind needs it",
                "write number and unit: 30 bar",
            );
        }
        RowCells { points, value, within }
    }

    fn points(&mut self, columns: PointColumns) -> Vec<RowPoint> {
        let mut points = Vec::new();
        for n in 1..=MOST_POINTS {
            let (text, accept) = (self.text(Column::Point(n)), self.text(Column::Accepted(n)));
            if let (Some(_), PointColumns::Empty | PointColumns::Texts) = (&accept, columns) {
                let mend = "leave the cell empty, or write another kind";
                self.fault(Column::Accepted(n), "a card of this kind has no accepted words", mend);
            }
            let Some(text) = text else {
                if accept.is_some() && columns == PointColumns::KeyPoints && !self.is_unfit(Column::Point(n)) {
                    self.fault(
                        Column::Accepted(n),
                        format!("there are accepted words, and no point {n}"),
                        format!("write the point in “point {n}”"),
                    );
                }
                continue;
            };
            if columns == PointColumns::Empty {
                self.fault(
                    Column::Point(n),
                    "a card of this kind has no points",
                    "leave the cell empty, or write another kind",
                );
                continue;
            }
            if points.len() + 1 < n && !(points.len() + 1..n).any(|before| self.is_unfit(Column::Point(before))) {
                self.fault(
                    Column::Point(n),
                    format!("there is a point {n}, and no point {}", points.len() + 1),
                    "leave no gap between the points",
                );
            }
            let critical = text.starts_with('!');
            let say = text.trim_start_matches('!').trim().to_owned();
            if critical && columns == PointColumns::Texts {
                self.fault(
                    Column::Point(n),
                    "no link of a card of this kind can be safety-critical",
                    "write it without the !",
                );
            }
            if say.is_empty() {
                self.fault(Column::Point(n), "a ! stands here alone", "write the point behind it");
            }
            points.push(RowPoint { say, critical, accept: accept.as_deref().map(parted).unwrap_or_default() });
        }
        if points.is_empty() && columns != PointColumns::Empty && !self.is_unfit(Column::Point(1)) {
            self.fault(
                Column::Point(1),
                "nothing stands here, and a card of this kind needs it",
                "write the first point",
            );
        }
        points
    }
}

/// The parts between semicolons.
fn parted(text: &str) -> Vec<String> {
    text.split(';').map(str::trim).filter(|part| !part.is_empty()).map(str::to_owned).collect()
}

/// A quantity with a decimal point where it has a decimal comma; none where a comma may part thousands as well.
fn with_decimal_point(text: &str) -> Option<String> {
    let is_of_number = |c: char| c.is_ascii_digit() || matches!(c, '.' | ',');
    let Some(start) = text.find(|c: char| c.is_ascii_digit()) else { return Some(text.to_owned()) };
    let length = text[start..].find(|c: char| !is_of_number(c)).unwrap_or(text.len() - start);
    let number = &text[start..start + length];
    let Some((whole, decimals)) = number.split_once(',') else { return Some(text.to_owned()) };
    let is_sure = decimals.len() != 3 || whole.chars().all(|c| c == '0');
    if whole.contains('.') || decimals.is_empty() || !decimals.bytes().all(|b| b.is_ascii_digit()) || !is_sure {
        return None;
    }
    Some(format!("{}{whole}.{decimals}{}", &text[..start], &text[start + length..]))
}

#[cfg(test)]
mod tests {
    use super::with_decimal_point;

    #[test]
    fn a_decimal_comma_is_read_where_it_can_be_nothing_else() {
        for (text, read) in [
            ("30 bar", Some("30 bar")),
            ("7,5 bar", Some("7.5 bar")),
            ("pH 6,5", Some("pH 6.5")),
            ("-0,125 %", Some("-0.125 %")),
            ("0,5", Some("0.5")),
            ("1,500 kW", None),
            ("1.500,5 kW", None),
            ("1,000,000 Pa", None),
            ("5, bar", None),
            ("none", Some("none")),
        ] {
            assert_eq!(with_decimal_point(text).as_deref(), read, "{text}");
        }
    }
}
