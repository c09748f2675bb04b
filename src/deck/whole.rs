//! Checks over the whole deck, once all files have been read: ids, questions, sources and pictures against one
//! another.

use std::collections::{BTreeMap, HashMap, HashSet};
use std::path::Path;

use super::checks::{duplicate_id, empty_deck, like_ask, same_ask, unknown_source, unused_source};
use super::drawings;
use super::folding::folded;
use super::head::{Head, SourceDraft};
use super::kinds::Draft;
use super::likeness::alike;
use super::pictures;
use super::problem::Site;
use super::reading::{Draught, SourceText};
use crate::domain::card::Card;
use crate::domain::deck::Deck;
use crate::domain::ids::{CardKey, DeckId};

/// Runs every check that needs the whole deck.
pub(crate) fn check(draught: &mut Draught, folder: &Path) {
    ids(draught);
    asks(draught);
    sources(draught);
    pictures::check(draught, folder);
    drawings::check(draught, folder);
    let is_empty = draught.counts.is_empty() && !draught.cards_are_damaged && !draught.head_is_damaged;
    if let Some(file) = draught.texts.iter().position(|text| text.name == "deck.toml").filter(|_| is_empty) {
        draught.problems.report(empty_deck::found(Site::top(file)));
    }
}

fn ids(draught: &mut Draught) {
    let mut lines = Lines::default();
    let mut first: HashMap<&str, Site> = HashMap::new();
    let mut doubles = Vec::new();
    for (n, draft) in draught.drafts.iter().enumerate() {
        let Some(id) = &draft.id else { continue };
        if let Some(site) = first.get(id.text.as_str()) {
            let place = lines.place(&draught.texts, *site);
            draught.problems.report(duplicate_id::found(id.site, &id.text, &place));
            doubles.push(n);
        } else {
            first.insert(&id.text, id.site);
        }
    }
    for n in doubles {
        draught.drafts[n].card = None;
    }
}

fn asks(draught: &mut Draught) {
    let mut lines = Lines::default();
    let mut first: HashMap<String, Site> = HashMap::new();
    let mut different = Vec::new();
    for ask in draught.drafts.iter().filter_map(|draft| draft.ask.as_ref()) {
        let fold = folded(&ask.text);
        if fold.is_empty() {
            continue;
        }
        if let Some(site) = first.get(&fold) {
            let place = lines.place(&draught.texts, *site);
            draught.problems.report(same_ask::found(ask.site, &place));
        } else {
            first.insert(fold, ask.site);
            different.push(ask);
        }
    }
    for (later, earlier) in alike(different.iter().map(|ask| ask.text.as_str())) {
        let place = lines.place(&draught.texts, different[earlier].site);
        draught.problems.report(like_ask::found(different[later].site, &place));
    }
}

fn sources(draught: &mut Draught) {
    let mut cited: HashSet<&str> = HashSet::new();
    for draft in &mut draught.drafts {
        for source in &draft.sources {
            match draught.sources.get_key_value(source.text.as_str()) {
                Some((key, known)) => {
                    cited.insert(key);
                    if known.source.is_none() {
                        draft.card = None;
                    }
                }
                None => {
                    draft.card = None;
                    if !draught.head_is_damaged {
                        let keys = draught.sources.keys().map(String::as_str);
                        let found = || unknown_source::found(source.site, &source.text, keys);
                        draught.problems.report_with(&unknown_source::CHECK, source.site, found);
                    }
                }
            }
        }
    }
    if !draught.cards_are_damaged {
        for (key, source) in draught.sources.iter().filter(|(key, _)| !cited.contains(key.as_str())) {
            draught.problems.report(unused_source::found(source.site, key));
        }
    }
}

/// The deck of what is sound; none without a sound id.
pub(crate) fn deck(head: Head, sources: BTreeMap<String, SourceDraft>, drafts: Vec<Draft>) -> Option<Deck> {
    let id = DeckId(head.id?);
    let cards = drafts.into_iter().filter_map(|draft| draft.card);
    let cards = cards
        .map(|mut card| {
            card.key.deck = id.clone();
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
    let keyed = unsound.map(|card| Card { key: CardKey::new(id, &card.key.card), ..card });
    keyed.collect()
}

/// Line numbers, worked out once for each file that is asked for.
#[derive(Default)]
pub(crate) struct Lines {
    starts: HashMap<usize, Vec<usize>>,
}

impl Lines {
    /// `cards/air.toml, line 12`.
    pub(crate) fn place(&mut self, texts: &[SourceText], site: Site) -> String {
        let Some(file) = texts.get(site.file) else { return String::new() };
        let ends = self.starts.entry(site.file).or_insert_with(|| {
            file.text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n').map(|(at, _)| at).collect()
        });
        format!("{}, line {}", file.name, ends.partition_point(|end| *end < site.start) + 1)
    }
}
