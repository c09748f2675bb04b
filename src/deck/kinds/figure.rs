//! `[[figure]]`: know the number.

use super::kind::DeckKind;
use crate::deck::check::Found;
use crate::deck::checks;
use crate::deck::fields::{Context, Table, Text};
use crate::domain::form::Shape;
use crate::domain::kinds::Body;
use crate::domain::kinds::figure::Figure;
use crate::domain::quantity::{Quantity, QuantityError, Unit, Within};

pub(crate) const KIND: DeckKind = DeckKind {
    word: "figure",
    one: "a figure card",
    chapter: 2,
    keys: &["value", "within"],
    expects: &["slip"],
    // The form of its answer is that of typed words, which a recall has.
    forms: &[],
    form: &[("value", Shape::Line), ("within", Shape::Line)],
    read,
};

fn read(context: &mut Context<'_>, card: Table<'_, '_>) -> Option<Body> {
    let value_text = card.required_text(context, "value", "value = \"30 bar\"");
    let within_text = card.text(context, "within");
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

/// A text that is no quantity: its unit is unknown where a number stands before it, else the whole is bad.
pub(super) fn not_a_quantity(text: Text<'_>, key: &str, error: &QuantityError) -> Found {
    let is_number = |c: char| c.is_ascii_digit() || matches!(c, '+' | '-' | '.' | '−');
    let tail = text.value.trim_start().trim_start_matches(is_number).trim();
    let has_number = text.value.trim_start().starts_with(|c: char| c.is_ascii_digit() || matches!(c, '+' | '-' | '−'));
    if has_number && tail.starts_with(char::is_alphabetic) && Unit::parse(tail).is_err() {
        checks::figure::unknown_unit(text.site, error)
    } else {
        checks::figure::bad_value(text.site, key, error)
    }
}
