//! `[[recall]]`: say it; key points.

use super::kind::DeckKind;
use super::points;
use crate::deck::fields::{Context, Table};
use crate::domain::kinds::Body;
use crate::domain::kinds::recall::Recall;

pub(crate) const KIND: DeckKind =
    DeckKind { word: "recall", one: "a recall card", chapter: 1, keys: &["points"], read };

fn read(context: &mut Context<'_>, card: Table<'_, '_>) -> Option<Body> {
    Some(Body::Recall(Recall { points: points::read(context, card)? }))
}
