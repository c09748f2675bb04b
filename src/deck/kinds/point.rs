//! `[[point]]`: find the part on the drawing. Here are its keys alone; the drawing itself is read once for all cards
//! that point at it, by `drawings`.

use super::kind::DeckKind;
use crate::deck::fields::{Context, Table};
use crate::domain::drawing::Pointing;
use crate::domain::kinds::Body;

pub(crate) const KIND: DeckKind =
    DeckKind { word: "point", one: "a point card", chapter: 7, keys: &["drawing", "part"], read };

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
