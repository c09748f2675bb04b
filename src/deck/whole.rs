//! Checks over the whole deck, once all files have been read: ids, questions, sources and pictures against one
//! another.

use std::collections::{BTreeMap, HashMap, HashSet};

use super::check::Site;
use super::checks;
use super::draft::DeckDraft;
use super::drawings;
use super::files::Files;
use super::folding::folded;
use super::head::{Head, SourceDraft};
use super::kinds::Draft;
use super::likeness::alike;
use super::lines::Lines;
use super::pasts;
use super::pictures;
use super::samples;
use crate::domain::card::Card;
use crate::domain::deck::Deck;
use crate::domain::ids::DeckId;
use crate::domain::marking::Marker;

/// Runs every check that needs the whole deck; samples are marked by `marker`.
pub(crate) fn check(deck: &mut DeckDraft, files: Files<'_>, marker: Marker<'_>) {
    drawings::check(deck, files);
    if !deck.problems.only_to_ask {
        // Before cards are left out for what is wrong elsewhere in the deck.
        samples::check(deck, marker);
    }
    ids(deck);
    pasts::check(deck);
    asks(deck);
    sources(deck);
    pictures::check(deck, files);
    let is_empty = deck.counts.is_empty() && !deck.cards_are_damaged && !deck.head_is_damaged;
    if let Some(file) = deck.texts.iter().position(|text| text.name == "deck.toml").filter(|_| is_empty) {
        deck.problems.report(checks::deck::empty_deck(Site::top(file)));
    }
}

fn ids(deck: &mut DeckDraft) {
    let mut lines = Lines::default();
    let mut first: HashMap<&str, Site> = HashMap::new();
    let mut doubles = Vec::new();
    for (n, draft) in deck.drafts.iter().enumerate() {
        let Some(id) = &draft.id else { continue };
        if let Some(site) = first.get(id.text.as_str()) {
            let place = lines.place(&deck.texts, *site);
            deck.problems.report(checks::card::duplicate_id(id.site, &id.text, &place));
            doubles.push(n);
        } else {
            first.insert(&id.text, id.site);
        }
    }
    for n in doubles {
        deck.drafts[n].card = None;
    }
}

fn asks(deck: &mut DeckDraft) {
    let mut lines = Lines::default();
    let mut first: HashMap<String, Site> = HashMap::new();
    let mut different = Vec::new();
    for ask in deck.drafts.iter().filter_map(|draft| draft.ask.as_ref()) {
        let fold = folded(&ask.text);
        if fold.is_empty() {
            continue;
        }
        if let Some(site) = first.get(&fold) {
            let place = lines.place(&deck.texts, *site);
            deck.problems.report(checks::card::same_ask(ask.site, &place));
        } else {
            first.insert(fold, ask.site);
            different.push(ask);
        }
    }
    for (later, earlier) in alike(different.iter().map(|ask| ask.text.as_str())) {
        let place = lines.place(&deck.texts, different[earlier].site);
        deck.problems.report(checks::card::like_ask(different[later].site, &place));
    }
}

fn sources(deck: &mut DeckDraft) {
    let mut cited: HashSet<&str> = HashSet::new();
    for draft in &mut deck.drafts {
        for source in &draft.sources {
            match deck.sources.get_key_value(source.text.as_str()) {
                Some((key, known)) => {
                    cited.insert(key);
                    if known.source.is_none() {
                        draft.card = None;
                    }
                }
                None => {
                    draft.card = None;
                    if !deck.head_is_damaged {
                        let keys = deck.sources.keys().map(String::as_str);
                        let found = || checks::source::unknown_source(source.site, &source.text, keys);
                        deck.problems.report_with(&checks::source::UNKNOWN_SOURCE, source.site, found);
                    }
                }
            }
        }
    }
    if !deck.cards_are_damaged {
        for (key, source) in deck.sources.iter().filter(|(key, _)| !cited.contains(key.as_str())) {
            deck.problems.report(checks::source::unused_source(source.site, key));
        }
    }
}

/// The deck of what is sound; none without a sound id.
pub(crate) fn deck(head: Head, sources: BTreeMap<String, SourceDraft>, drafts: Vec<Draft>) -> Option<Deck> {
    let id = DeckId(head.id?);
    let cards = drafts.into_iter().filter_map(|draft| draft.card);
    let cards = cards
        .map(|mut card| {
            own(&mut card, &id);
            card
        })
        .collect();
    Some(Deck {
        title: head.title.unwrap_or_else(|| id.0.clone()),
        edition: head.edition.unwrap_or(1),
        language: head.language.unwrap_or_else(|| "en".to_owned()),
        publisher: head.publisher.unwrap_or_default(),
        licence: head.licence.unwrap_or_default(),
        about: head.about,
        caution: head.caution,
        sources: sources.into_iter().filter_map(|(key, draft)| Some((key, draft.source?))).collect(),
        cards,
        id,
    })
}

/// Cards that could be read and have errors in themselves, under the deck's id.
pub(crate) fn unsound(head: Option<&Head>, drafts: &mut [Draft]) -> Vec<Card> {
    let Some(id) = head.and_then(|head| head.id.as_ref()) else { return Vec::new() };
    let unsound = drafts.iter_mut().filter_map(|draft| draft.unsound.take());
    let id = DeckId(id.clone());
    let keyed = unsound.map(|mut card| {
        own(&mut card, &id);
        card
    });
    keyed.collect()
}

/// Gives a card, and what it was called before in the same deck, the deck's id.
fn own(card: &mut Card, id: &DeckId) {
    card.key.deck = id.clone();
    for past in card.was.iter_mut().filter(|past| past.deck.0.is_empty()) {
        past.deck = id.clone();
    }
}
