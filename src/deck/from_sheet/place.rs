//! From a place in a deck's file back to the cell of the sheet that it came from.

use std::ops::Range;

use toml_edit::{Document, Item, TableLike, Value};

use super::header::Column;
use crate::deck::kinds;

/// A card's place in a text.
struct Place {
    /// Its first byte: of its header, or of its brace.
    start: usize,
    id: String,
    /// What came from which column.
    parts: Vec<(Range<usize>, Column)>,
}

/// The cards of a text, in their order.
pub(super) struct Places(Vec<Place>);

impl Places {
    /// Finds the cards of a text; none where it is no TOML.
    pub(super) fn find(text: &str) -> Self {
        let Ok(document) = Document::parse(text) else { return Self(Vec::new()) };
        let mut places = Vec::new();
        for kind in kinds::words() {
            let mut add = |span: Option<Range<usize>>, table: &dyn TableLike| {
                let id = table.get("id").and_then(Item::as_str).unwrap_or_default().to_owned();
                let start = span.map_or(usize::MAX, |span| span.start);
                places.push(Place { start, id, parts: parts(table) });
            };
            match document.as_table().get(kind) {
                Some(Item::ArrayOfTables(list)) => list.iter().for_each(|table| add(table.span(), table)),
                Some(Item::Value(Value::Array(list))) => {
                    list.iter().filter_map(Value::as_inline_table).for_each(|table| add(table.span(), table));
                }
                _ => {}
            }
        }
        places.sort_by_key(|place| place.start);
        Self(places)
    }

    /// The id of the card that a byte stands in, and the column that it came from.
    pub(super) fn of(&self, byte: usize) -> Option<(&str, Option<Column>)> {
        let after = self.0.partition_point(|place| place.start <= byte);
        let place = self.0.get(after.checked_sub(1)?)?;
        let column = place.parts.iter().find(|(part, _)| part.contains(&byte)).map(|(_, column)| *column);
        Some((&place.id, column))
    }
}

/// The parts of a card that come from columns.
fn parts(table: &dyn TableLike) -> Vec<(Range<usize>, Column)> {
    let mut parts = Vec::new();
    let of_key = [
        ("id", Column::Id),
        ("topic", Column::Topic),
        ("heading", Column::Heading),
        ("ask", Column::Question),
        ("value", Column::Value),
        ("within", Column::Within),
        ("because", Column::Reason),
        ("sources", Column::Source),
    ];
    let mut add = |item: Option<&Item>, column| parts.extend(item.and_then(Item::span).map(|span| (span, column)));
    of_key.into_iter().for_each(|(key, column)| add(table.get(key), column));
    for key in ["points", "links"] {
        let Some(list) = table.get(key).and_then(Item::as_array) else { continue };
        for (n, entry) in (1..).zip(list.iter()) {
            if let Some(point) = entry.as_inline_table() {
                let accepted = point.get("accept").and_then(Value::span);
                parts.extend(accepted.map(|span| (span, Column::Accepted(n))));
            }
            // Whatever is not the accepted words.
            parts.extend(entry.span().map(|span| (span, Column::Point(n))));
        }
        parts.extend(list.span().map(|span| (span, Column::Point(1))));
    }
    parts
}
