//! The words of a class's cards: as they were given out, or as the decks at hand have them.

use std::path::Path;

use crate::app::profile::shelf::Shelf;
use crate::domain::card::Card;
use crate::domain::roster::{AssignedCard, CardText, ClassRecord, PointText};

/// A card as it is given out, with its words.
pub fn assigned(card: &Card) -> AssignedCard {
    AssignedCard {
        card: card.key.clone(),
        topic: card.topic.clone(),
        heading: card.heading.clone(),
        weight: card.weight.clamp(1, 3),
        text: Some(text_of(card)),
    }
}

fn text_of(card: &Card) -> CardText {
    let points = card.key_points().unwrap_or_default().iter();
    let points = points.map(|point| PointText { say: point.say.clone(), critical: point.critical }).collect();
    CardText { ask: card.ask.clone(), points }
}

/// Gives cards without words those of the decks at hand. Where there are none they stay without.
pub fn with_words(record: &mut ClassRecord, home: &Path) {
    let lacks = |card: &AssignedCard| card.text.is_none();
    if !record.assignments.iter().flat_map(|assignment| &assignment.cards).any(lacks) {
        return;
    }
    let Ok(shelf) = Shelf::read(home) else { return };
    for card in record.assignments.iter_mut().flat_map(|assignment| &mut assignment.cards).filter(|card| lacks(card)) {
        card.text = shelf.card(&card.card).map(|(_, card)| text_of(card));
    }
}
