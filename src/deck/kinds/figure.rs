//! `[[figure]]`: know the number.

use toml::de::DeValue;

use super::in_row::{InRow, PointColumns, Wanted};
use super::kind::DeckKind;
use crate::deck::check::Found;
use crate::deck::checks;
use crate::deck::fields::{Context, Table, Text};
use crate::deck::shape::{Field, Shape, keys, needed, optional};
use crate::domain::form::Shape as FormShape;
use crate::domain::kinds::Body;
use crate::domain::kinds::figure::Figure;
use crate::domain::quantity::{Quantity, QuantityError, Unit, Within};

/// What only this kind holds.
const FIELDS: [Field; 2] = [
    needed("value", Shape::Text, "number and unit, such as 30 bar"),
    optional("within", Shape::Text, "how near is right: 1 bar, or 2 %"),
];

pub(crate) const KIND: DeckKind = DeckKind {
    word: "figure",
    one: "a figure card",
    chapter: 2,
    fields: &FIELDS,
    keys: &keys(&FIELDS),
    expects: &["slip"],
    // The form of its answer is that of typed words, which a recall has.
    forms: &[],
    in_row: Ok(IN_ROW),
    form: &[("value", FormShape::Line), ("within", FormShape::Line)],
    read,
};

/// A row has its value and its tolerance.
const IN_ROW: InRow = InRow {
    points: PointColumns::Empty,
    value: true,
    wanted: |cells| {
        let keys = [("value", &cells.value), ("within", &cells.within)];
        keys.into_iter().filter_map(|(key, text)| Some((key, Wanted::Text(text.clone()?)))).collect()
    },
    example: &[
        ("id", "example-full-air"),
        ("topic", "A-III/1.1.4"),
        ("heading", "Starting air"),
        ("question", "To what gauge pressure are starting-air receivers normally filled?"),
        ("value", "30 bar"),
        ("within", "1 bar"),
        ("reason", "Most engines and receivers are built for it."),
        ("source", "practice"),
    ],
};

fn read(context: &mut Context<'_>, card: Table<'_, '_>) -> Option<Body> {
    let value_text = card.required_text(context, "value", "value = \"30 bar\"");
    let within_text = within_text(context, card, value_text);
    let value_text = value_text?;
    let value = match Quantity::parse(value_text.value) {
        Ok(value) => value,
        Err(error) => {
            context.report(not_a_quantity(value_text, "value", &error));
            let within = within_text.and_then(|text| Some((text, Quantity::parse(text.value).err()?)));
            if let Some((text, error)) = within {
                context.report(not_a_quantity(text, "within", &error));
            }
            return None;
        }
    };
    let within = match within_text {
        None => Within::Exact,
        Some(text) => match Within::parse(text.value, &value) {
            Ok(within) => within,
            Err(error) => {
                context.report(match Quantity::parse(text.value) {
                    Ok(_) => checks::figure::bad_within(text.site, &error),
                    Err(error) => not_a_quantity(text, "within", &error),
                });
                return None;
            }
        },
    };
    Some(Body::Figure(Figure { value, value_text: value_text.value.trim().to_owned(), within }))
}

/// The tolerance as it is written; a bare number is told with the unit of the value.
fn within_text<'t>(context: &mut Context<'_>, card: Table<'t, '_>, value: Option<Text<'_>>) -> Option<Text<'t>> {
    let bare = card.get("within").filter(|within| matches!(within.get_ref(), DeValue::Integer(_) | DeValue::Float(_)));
    let unit = value.filter(|value| Quantity::parse(value.value).is_ok()).map(|value| unit_of(value.value));
    let (Some(bare), Some(unit)) = (bare, unit) else { return card.text(context, "within") };
    let number = context.raw(bare);
    let mend = match unit {
        "" => format!("put it in quotes: within = \"{number}\""),
        unit => format!("put it in quotes with its unit: within = \"{number} {unit}\", or a share such as \"2 %\""),
    };
    let site = context.site(bare.span());
    context.report(checks::key::wrong_type(site, "within", "a text in quotes", "a number", &mend));
    None
}

/// What stands behind the number of a quantity.
fn unit_of(quantity: &str) -> &str {
    let is_number = |c: char| c.is_ascii_digit() || matches!(c, '+' | '-' | '.' | '−');
    quantity.trim_start().trim_start_matches(is_number).trim()
}

/// A text that is no quantity: its unit is unknown where a number stands before it, else the whole is bad.
pub(super) fn not_a_quantity(text: Text<'_>, key: &str, error: &QuantityError) -> Found {
    let tail = unit_of(text.value);
    let has_number = text.value.trim_start().starts_with(|c: char| c.is_ascii_digit() || matches!(c, '+' | '-' | '−'));
    if has_number && tail.starts_with(char::is_alphabetic) && Unit::parse(tail).is_err() {
        checks::figure::unknown_unit(text.site, error)
    } else {
        checks::figure::bad_value(text.site, key, error)
    }
}
