//! The library's search: over all text of all decks, as one types. The index lies in the store.

use crate::app::jobs::crew::Crew;
use crate::app::jobs::job::{Job, JobFault, Polled, Prepared, Task};
use crate::app::profile::shelf::Shelf;
use crate::app::search::index;
use crate::domain::day::Instant;
use crate::present::library::{Hit as HitView, SearchView, SnippetPart};
use crate::store::{Hit, Marked, Store, StoreError, Ticket};

/// So many hits are shown; one more is asked for, to know whether there are more.
const SHOWN: usize = 50;

const INDEX: Task<usize, usize> = Task { thread: None, stack: None, limit: None, work: |decks, _| decks };
const SEARCH: Task<Vec<Hit>, Vec<Hit>> = Task { thread: None, stack: None, limit: None, work: |hits, _| hits };

/// What has come of the search.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum SearchEvent {
    /// The hits are there.
    Found,
    /// The index turned out to be of no use: the decks have to be read in again, and what was asked is asked once more.
    Lost,
    /// The search could not be made.
    Failed(JobFault),
}

/// The search as it stands.
pub struct SearchJob {
    query: String,
    indexing: Job<(), usize, usize>,
    searching: Job<String, Vec<Hit>, Vec<Hit>>,
    hits: Option<Vec<Hit>>,
    /// The index was found to be of no use and mended, and has not been found whole since.
    mended: bool,
}

impl SearchJob {
    pub(super) fn new(crew: &Crew) -> Self {
        Self {
            query: String::new(),
            indexing: Job::new(INDEX, crew.clone()),
            searching: Job::new(SEARCH, crew.clone()),
            hits: None,
            mended: false,
        }
    }

    /// The store has been asked to bring its index up to date. Requests are answered in order, so that a search asked for
    /// now finds what is being read in.
    pub(in crate::app) fn index(&mut self, ticket: Ticket<usize>, now: Instant) {
        self.hits = None;
        self.reindex(ticket, now);
    }

    fn reindex(&mut self, ticket: Ticket<usize>, now: Instant) {
        self.indexing.cancel();
        self.indexing.request((), now, |()| Prepared::Asked(ticket));
    }

    /// Looks for something; an empty query ends the search. The hits of the last one stand until the new ones come.
    pub(in crate::app) fn request(&mut self, store: &Store, query: String, now: Instant) {
        self.searching.cancel();
        if query.trim().is_empty() {
            self.hits = None;
        } else {
            self.searching.request(query.clone(), now, |query| Prepared::Asked(store.search(query, SHOWN + 1)));
        }
        self.query = query;
    }

    /// Takes in what has come.
    pub(super) fn poll(&mut self, now: Instant) -> Vec<SearchEvent> {
        let polled = (self.indexing.poll(now), self.searching.poll(now));
        self.come(polled)
    }

    /// Blocks until the hits are there.
    pub(super) fn wait(&mut self) -> Vec<SearchEvent> {
        let waited = (self.indexing.wait(), self.searching.wait());
        self.come(waited)
    }

    fn come(&mut self, (indexed, searched): (Polled, Polled)) -> Vec<SearchEvent> {
        let mut events = Vec::new();
        if indexed == Polled::Ended
            && let Some(Err(fault)) = self.indexing.take()
        {
            events.push(SearchEvent::Failed(fault));
        }
        if searched == Polled::Ended {
            events.push(match self.searching.take() {
                Some(Ok(hits)) => {
                    (self.hits, self.mended) = (Some(hits), false);
                    SearchEvent::Found
                }
                Some(Err(JobFault::Store(StoreError::SearchLost))) if !self.mended => SearchEvent::Lost,
                Some(Err(fault)) => SearchEvent::Failed(fault),
                None => return events,
            });
        }
        events
    }

    /// The index is of no use: has the decks read in again, and asks once more.
    pub(in crate::app) fn mend(&mut self, store: &Store, shelf: &Shelf, now: Instant) {
        self.mended = true;
        self.reindex(index(store, shelf), now);
        let query = std::mem::take(&mut self.query);
        self.request(store, query, now);
    }

    pub(super) fn cancel(&mut self) {
        self.indexing.cancel();
        self.searching.cancel();
    }

    /// What was found, for the library.
    pub(in crate::app) fn view(&self, shelf: &Shelf) -> Option<SearchView> {
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
