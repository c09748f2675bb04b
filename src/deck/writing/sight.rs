//! What stays in a writer's sight while a file is broken: the cards of the last good reading.

use crate::deck::Reading;
use crate::deck::written::{InSight, Written, looked_for};
use crate::domain::card::Card;

/// The cards of a reading; where a file is broken, with those that were read of it before.
pub fn in_sight(before: &[InSight], reading: &Reading) -> Vec<InSight> {
    let head_is_lost = reading.deck.is_none();
    let read = |id: &str| -> Option<&Card> {
        let sound = reading.deck.iter().flat_map(|deck| &deck.cards);
        sound.chain(&reading.unsound).find(|card| card.key.card == id)
    };
    let last = |id: &str| before.iter().find(|seen| seen.written.id.as_deref() == Some(id));
    let mut cards: Vec<InSight> = Vec::new();
    for written in &reading.written {
        let id = written.id.as_deref().unwrap_or_default();
        let now = read(id).cloned();
        let is_lost = now.is_none();
        let card = now.or_else(|| last(id)?.card.clone());
        let stale = is_lost && card.is_some();
        cards.push(InSight { written: written.clone(), card, stale, gone: false });
    }
    let is_lost = |file: &str| {
        let is_there = reading.texts.iter().any(|text| text.name == file);
        reading.broken.iter().any(|broken| broken == file) || (head_is_lost && !is_there && !reading.readable)
    };
    // What a broken file does not show any more stands where it stood: after the card that was before it.
    for (at, seen) in before.iter().enumerate() {
        let has = |cards: &[InSight], one: &InSight| {
            one.written.id.is_some() && cards.iter().any(|card| card.written.id == one.written.id)
        };
        if seen.card.is_none() || !is_lost(&seen.written.file) || has(&cards, seen) {
            continue;
        }
        let place = before[..at].iter().rev().find_map(|earlier| {
            cards.iter().position(|card| card.written.id == earlier.written.id && card.written.id.is_some())
        });
        let first = cards.iter().position(|card| card.written.file >= seen.written.file).unwrap_or(cards.len());
        cards.insert(place.map_or(first, |place| place + 1), lost(seen, reading));
    }
    cards
}

/// A card that cannot be read any more, where its text can still be made out in its file.
fn lost(seen: &InSight, reading: &Reading) -> InSight {
    let text = reading.texts.iter().find(|text| text.name == seen.written.file).map_or("", |text| text.text.as_str());
    let found = looked_for(text, seen.written.id.as_deref().unwrap_or_default());
    let written = found.map(|(start, end)| Written {
        start,
        end: Some(end),
        line: text[..start].matches('\n').count() + 1,
        sound: false,
        ..seen.written.clone()
    });
    InSight {
        gone: written.is_none(),
        written: written.unwrap_or_else(|| seen.written.clone()),
        card: seen.card.clone(),
        stale: true,
    }
}
