//! `[[point]]`: find the part on the drawing. Here are its keys alone; the drawing itself is read once for all cards
//! that point at it, by `drawings`.

use serde_json::{Map, Value};

use super::form::ReadForm;
use super::kind::DeckKind;
use crate::deck::fields::{Context, Table};
use crate::deck::shape::{Field, Shape, keys, needed};
use crate::domain::answer::{Form, Given, Pointed};
use crate::domain::drawing::Pointing;
use crate::domain::kinds::Body;

/// What only this kind holds.
const FIELDS: [Field; 2] = [
    needed("drawing", Shape::Text, "an svg file of the deck"),
    needed("part", Shape::Text, "the id of the element to find"),
];

pub(crate) const KIND: DeckKind = DeckKind {
    word: "point",
    one: "a point card",
    chapter: 7,
    fields: &FIELDS,
    keys: &keys(&FIELDS),
    expects: &[],
    forms: FORMS,
    in_row: Err(
        "a point has a drawing, whose parts bear names, which no row can hold: write it in a file of the deck, as the manual (decks/FORMAT.md) shows it",
    ),
    form: &[],
    read,
};

/// The forms in which it is answered.
const FORMS: &[ReadForm] = &[
    ReadForm { form: Form::At, keys: &["at"], read: |object| Ok(Given::Pointed(Pointed::At(place(object)?))) },
    ReadForm { form: Form::Part, keys: &["part"], read: |object| Ok(Given::Pointed(Pointed::Part(part(object)?))) },
];

fn read(context: &mut Context<'_>, card: Table<'_, '_>) -> Option<Body> {
    let drawing = card.required_text(context, "drawing", "drawing = \"pictures/pump.svg\"");
    let part = card.required_text(context, "part", "part = \"the part's id in the drawing\"");
    let (drawing, part) = (drawing?, part?);
    Some(Body::Point(Pointing {
        path: drawing.value.to_owned(),
        part: part.value.to_owned(),
        drawing: Default::default(),
    }))
}

fn place(object: &Map<String, Value>) -> Result<[f64; 2], String> {
    let wrong = || "`at` must be two numbers in the drawing's own units, such as [120, 45.5]".to_owned();
    let Some(Value::Array(numbers)) = object.get("at") else { return Err(wrong()) };
    let numbers: Option<Vec<f64>> = numbers.iter().map(Value::as_f64).collect();
    numbers.and_then(|numbers| numbers.try_into().ok()).ok_or_else(wrong)
}

fn part(object: &Map<String, Value>) -> Result<String, String> {
    match object.get("part") {
        Some(Value::String(id)) => Ok(id.clone()),
        _ => Err("`part` must be the id of a part of the drawing, such as \"qcv\"".to_owned()),
    }
}
