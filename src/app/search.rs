//! What the library's search finds: all text of all decks, as it goes into the store's index.

use sha2::{Digest, Sha256};

use crate::app::profile::shelf::{Shelf, Shelved};
use crate::app::views::kinds::blank;
use crate::domain::card::Card;
use crate::domain::deck::Deck;
use crate::present::words::plain;
use crate::store::{SearchCard, SearchDoc, Store, Ticket};

/// Makes the store's index hold the decks of the shelf; decks that have not changed are left as they are.
pub fn index(store: &Store, shelf: &Shelf) -> Ticket<usize> {
    store.index_decks(shelf.decks.iter().filter_map(|s| Some(document(s, s.deck()?))).collect())
}

fn document(shelved: &Shelved, deck: &Deck) -> SearchDoc {
    let mut hash = Sha256::new();
    for source in &shelved.reading.texts {
        for text in [&source.name, &source.text] {
            hash.update((text.len() as u64).to_le_bytes());
            hash.update(text.as_bytes());
        }
    }
    // The same text with fewer cards, while some of them are still being read.
    hash.update((deck.cards.len() as u64).to_le_bytes());
    SearchDoc {
        deck: deck.id.clone(),
        title: deck.title.clone(),
        digest: hash.finalize().iter().map(|b| format!("{b:02x}")).collect(),
        cards: deck
            .cards
            .iter()
            .map(|card| SearchCard { card: card.key.card.clone(), title: plain(&blank(card)), body: body(deck, card) })
            .collect(),
    }
}

/// All text of a card but its question, in sentences.
fn body(deck: &Deck, card: &Card) -> String {
    let mut texts = card.body.as_kind().texts();
    texts.extend(card.because.as_deref());
    texts.extend(card.caution.as_deref());
    texts.extend(card.heading.as_deref());
    for probe in &card.probes {
        texts.push(&probe.ask);
        texts.extend(probe.points.iter().map(|p| p.say.as_str()));
    }
    texts.extend(deck.source_titles(card));
    texts.push(&card.key.card);
    texts.into_iter().map(|t| plain(t).trim_end_matches('.').to_owned()).collect::<Vec<_>>().join(". ")
}
