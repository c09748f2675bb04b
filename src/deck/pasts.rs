//! What cards were called before, against the rest of the deck: one past, one card.

use std::collections::HashMap;

use super::check::{Found, Site};
use super::checks::past;
use super::draft::DeckDraft;
use super::lines::Lines;
use crate::domain::ids::CardKey;

/// Looks every card's `was` over; a card with a past that is not its own is not sound.
pub(crate) fn check(deck: &mut DeckDraft) {
    let own_deck = deck.head.as_ref().and_then(|head| head.id.clone()).unwrap_or_default();
    let mut standing: HashMap<&str, Site> = HashMap::new();
    for id in deck.drafts.iter().filter_map(|draft| draft.id.as_ref()) {
        standing.entry(&id.text).or_insert(id.site);
    }
    let mut lines = Lines::default();
    let mut claimed: HashMap<CardKey, Site> = HashMap::new();
    let mut found: Vec<(usize, Found)> = Vec::new();
    for (n, draft) in deck.drafts.iter().enumerate() {
        for was in &draft.was {
            let key = past_key(&was.text, &own_deck);
            let (site, is_of_this) = (was.site, key.deck.0 == own_deck);
            if is_of_this && draft.id.as_ref().is_some_and(|id| id.text == key.card) {
                found.push((n, past::own_was(site, &was.text)));
            } else if let Some(there) = standing.get(key.card.as_str()).filter(|_| is_of_this) {
                found.push((n, past::standing_was(site, &was.text, &lines.place(&deck.texts, *there))));
            } else if let Some(first) = claimed.get(&key) {
                found.push((n, past::shared_was(site, &was.text, &lines.place(&deck.texts, *first))));
            } else {
                claimed.insert(key, site);
            }
        }
    }
    for (n, found) in found {
        deck.problems.report(found);
        deck.drafts[n].card = None;
    }
}

/// A past as a key, in full or of this deck.
fn past_key(text: &str, own_deck: &str) -> CardKey {
    CardKey::parse(text).unwrap_or_else(|| CardKey::new(own_deck, text))
}
