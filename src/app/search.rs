//! The library's search: over all text of all decks, as one types. The index lies in the store.

use sha2::{Digest, Sha256};

use crate::app::shelf::{Shelf, Shelved};
use crate::app::views::kinds::blank;
use crate::domain::card::{Body, Card, KeyPoint};
use crate::domain::deck::Deck;
use crate::present::library::{Hit as HitView, SearchView, SnippetPart};
use crate::present::words::plain;
use crate::store::{Hit, Marked, SearchCard, SearchDoc, Store, StoreError, Ticket};

/// So many hits are shown; one more is asked for, to know whether there are more.
const SHOWN: usize = 50;

/// The search as it stands.
#[derive(Default)]
pub struct Search {
    query: String,
    indexing: Option<Ticket<usize>>,
    waiting: Option<Ticket<Vec<Hit>>>,
    hits: Option<Vec<Hit>>,
    failed: Option<StoreError>,
    /// The index was of no use: the decks have to be read in again, and what was asked is asked once more.
    lost: bool,
    /// That has been done already since the index was last whole.
    mended: bool,
}

impl Search {
    /// No search yet, with the index being brought up to date. Requests are answered in order, so that a search asked
    /// for now finds what is being read in.
    pub fn indexing(ticket: Ticket<usize>) -> Self {
        Self { indexing: Some(ticket), ..Self::default() }
    }

    /// The decks have been read again.
    pub fn reindex(&mut self, ticket: Ticket<usize>) {
        self.indexing = Some(ticket);
        self.hits = None;
    }

    /// Looks for something else; an empty query ends the search. The hits of the last one stand until the new ones come.
    pub fn begin(&mut self, store: &Store, query: String) {
        self.waiting = None;
        if query.trim().is_empty() {
            self.hits = None;
        } else {
            self.waiting = Some(store.search(&query, SHOWN + 1));
        }
        self.query = query;
    }

    /// Blocks until the hits are there.
    pub fn settle(&mut self) {
        if let Some(Err(error)) = self.indexing.take().map(Ticket::wait) {
            self.failed = Some(error);
        }
        if let Some(ticket) = self.waiting.take() {
            let answer = ticket.wait();
            self.come(answer);
        }
    }

    /// Takes the hits in where they have come; says whether anything has changed.
    pub fn take_in(&mut self) -> bool {
        if let Some(answer) = self.indexing.as_ref().and_then(Ticket::try_take) {
            self.indexing = None;
            self.failed = answer.err();
        }
        let Some(answer) = self.waiting.as_ref().and_then(Ticket::try_take) else { return false };
        self.waiting = None;
        self.come(answer);
        true
    }

    /// What went wrong since this was last asked.
    pub fn take_failure(&mut self) -> Option<StoreError> {
        self.failed.take()
    }

    fn come(&mut self, answer: Result<Vec<Hit>, StoreError>) {
        match answer {
            Ok(hits) => (self.hits, self.mended) = (Some(hits), false),
            Err(StoreError::SearchLost) if !self.mended => self.lost = true,
            Err(error) => self.failed = Some(error),
        }
    }

    /// Where the index turned out to be of no use: reads the decks in again and asks once more. True where it did.
    pub fn mend(&mut self, store: &Store, shelf: &Shelf) -> bool {
        let lost = std::mem::take(&mut self.lost);
        if lost {
            self.mended = true;
            self.indexing = Some(index(store, shelf));
            let query = std::mem::take(&mut self.query);
            self.begin(store, query);
        }
        lost
    }

    /// What was found, for the library.
    pub fn view(&self, shelf: &Shelf) -> Option<SearchView> {
        let hits = self.hits.as_ref()?;
        let known: Vec<&Hit> = hits.iter().filter(|hit| shelf.card(&hit.key).is_some()).collect();
        Some(SearchView {
            query: self.query.clone(),
            hits: known
                .iter()
                .take(SHOWN)
                .map(|hit| HitView {
                    key: hit.key.clone(),
                    deck: hit.deck_title.clone(),
                    ask: hit.title.text.clone(),
                    snippet: if hit.extract.marks.is_empty() { parts(&hit.title) } else { parts(&hit.extract) },
                })
                .collect(),
            more: known.len().saturating_sub(SHOWN),
        })
    }
}

fn parts(marked: &Marked) -> Vec<SnippetPart> {
    let mut parts = Vec::new();
    let mut at = 0;
    let mut push = |text: Option<&str>, marked: bool| {
        if let Some(text) = text.filter(|t| !t.is_empty()) {
            parts.push(SnippetPart { text: text.to_owned(), marked });
        }
    };
    for mark in &marked.marks {
        push(marked.text.get(at..mark.start), false);
        push(marked.text.get(mark.clone()), true);
        at = mark.end;
    }
    push(marked.text.get(at..), false);
    parts
}

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
    let mut texts: Vec<&str> = Vec::new();
    match &card.body {
        Body::Recall(recall) => texts.extend(recall.points.iter().flat_map(point_texts)),
        Body::Figure(figure) => texts.push(&figure.value_text),
        Body::Sequence(procedure) => texts.extend(procedure.steps.iter().map(|step| step.say.as_str())),
        Body::Lineup(network) => {
            texts.extend(network.nodes.iter().map(|node| node.name.as_str()));
            texts.extend(network.demands.iter().map(|demand| demand.name.as_str()));
        }
        Body::Working(working) => texts.extend(working.givens.iter().map(|given| given.say.as_str())),
        Body::Point(pointing) => texts.extend(pointing.name()),
        Body::Why(why) => texts.extend(why.links.iter().chain(&why.false_links).map(String::as_str)),
    }
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

fn point_texts(point: &KeyPoint) -> impl Iterator<Item = &str> {
    std::iter::once(point.say.as_str()).chain(point.accept.iter().map(String::as_str))
}
