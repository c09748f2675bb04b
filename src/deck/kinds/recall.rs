//! `[[recall]]`: say it; key points.

use super::{CardKind, Reader, points};
use crate::deck::fields::{Context, Table};
use crate::domain::card::{Body, Recall};

pub(crate) const KIND: CardKind =
    CardKind { word: "recall", one: "a recall card", reader: Some(Reader { keys: &["points"], read }) };

fn read(context: &mut Context<'_>, card: Table<'_, '_>) -> Option<Body> {
    Some(Body::Recall(Recall { points: points::read(context, card)? }))
}
