//! `[[recall]]`: say it; key points.

use super::form::{self, ReadForm};
use super::kind::DeckKind;
use super::points;
use crate::deck::fields::{Context, Table};
use crate::domain::answer::{Form, Given};
use crate::domain::form::Shape;
use crate::domain::kinds::Body;
use crate::domain::kinds::recall::Recall;

pub(crate) const KIND: DeckKind = DeckKind {
    word: "recall",
    one: "a recall card",
    chapter: 1,
    keys: &["points"],
    expects: &["says", "denies"],
    forms: FORMS,
    form: &[("points", Shape::Points)],
    read,
};

/// The forms in which it is answered.
const FORMS: &[ReadForm] = &[
    ReadForm { form: Form::Text, keys: &["text"], read: |object| Ok(Given::Text(form::words(object)?)) },
    ReadForm { form: Form::Said, keys: &["said"], read: |object| Ok(Given::Said(form::positions(object, "said")?)) },
];

fn read(context: &mut Context<'_>, card: Table<'_, '_>) -> Option<Body> {
    Some(Body::Recall(Recall { points: points::read(context, card)? }))
}
