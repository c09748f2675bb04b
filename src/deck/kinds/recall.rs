//! `[[recall]]`: say it; key points.

use super::form::{self, ReadForm};
use super::in_row::{InRow, PointColumns, Wanted};
use super::kind::DeckKind;
use super::points;
use crate::deck::fields::{Context, Table};
use crate::deck::shape::{Field, Shape, keys, needed};
use crate::domain::answer::{Form, Given};
use crate::domain::form::Shape as FormShape;
use crate::domain::kinds::Body;
use crate::domain::kinds::recall::Recall;

/// What only this kind holds.
const FIELDS: [Field; 1] = [needed("points", Shape::Tables(&points::FIELDS), "one to nine key points")];

pub(crate) const KIND: DeckKind = DeckKind {
    word: "recall",
    one: "a recall card",
    chapter: 1,
    fields: &FIELDS,
    keys: &keys(&FIELDS),
    expects: &["says", "denies"],
    forms: FORMS,
    in_row: Ok(IN_ROW),
    form: &[("points", FormShape::Points)],
    read,
};

/// A row has its points, each with its accepted words.
const IN_ROW: InRow = InRow {
    points: PointColumns::KeyPoints,
    value: false,
    wanted: |cells| vec![("points", Wanted::Points(cells.points.clone()))],
    example: &[
        ("id", "example-relief-valve"),
        ("topic", "A-III/1.1.4"),
        ("heading", "Starting air"),
        ("question", "Why does a starting-air receiver have a fusible plug besides its relief valve?"),
        ("point 1", "!In a fire the steel weakens below the pressure at which the relief valve lifts"),
        ("accepted words", "steel weakens; shell loses strength; relief valve lifts too late"),
        ("point 2", "The plug melts and lets the air out"),
        ("accepted words 2", "plug melts; air is let out"),
        ("reason", "A relief valve answers to pressure alone, and a fire takes the strength of the shell away."),
        ("source", "practice"),
    ],
};

/// The forms in which it is answered.
const FORMS: &[ReadForm] = &[
    ReadForm { form: Form::Text, keys: &["text"], read: |object| Ok(Given::Text(form::words(object)?)) },
    ReadForm { form: Form::Said, keys: &["said"], read: |object| Ok(Given::Said(form::positions(object, "said")?)) },
];

fn read(context: &mut Context<'_>, card: Table<'_, '_>) -> Option<Body> {
    Some(Body::Recall(Recall { points: points::read(context, card)? }))
}
