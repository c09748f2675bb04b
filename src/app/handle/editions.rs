//! Editions that come in: taken in when decks are read, told on a sheet of their own, and looked up again.

use std::collections::BTreeMap;

use crate::app::profile::editions::News;
use crate::app::program::app::App;
use crate::app::program::route::Route;
use crate::app::views::editions as views;
use crate::domain::day::Instant;
use crate::domain::editions::{Asked, What};
use crate::domain::ids::CardKey;
use crate::present::editions::EditionView;
use crate::store::StoreError;

impl App {
    /// Takes in the editions of decks that have been read again.
    pub(in crate::app) fn take_in_editions(&mut self, now: Instant) {
        let Some(open) = self.open_mut() else { return };
        let come = open.profile.take_in(&open.shelf, now).and_then(|come| {
            let news = open.profile.learner.editions.unseen(&open.profile.store, &open.shelf)?;
            Ok((come, news))
        });
        match come {
            Ok((come, news)) => {
                if let Some(error) = come.not_kept {
                    self.fail(&error);
                }
                self.tell_news(news);
                let route = self.route.clone();
                self.look_up_edition(&route);
            }
            Err(error) => self.fail(&error),
        }
    }

    /// Editions have come in after others: the first sheet is shown, unless something is being done.
    pub(in crate::app) fn tell_news(&mut self, news: Vec<News>) {
        let Some(open) = self.open_mut() else { return };
        open.news = news.into();
        let at_rest = self.session.as_ref().is_none_or(|session| session.sheet.is_none());
        if at_rest && matches!(self.route, Route::Watch | Route::Library | Route::Deck(_)) {
            self.show_news();
        }
    }

    /// Shows the sheet of the next edition that has come in; false where there is none.
    fn show_news(&mut self) -> bool {
        let Some(news) = self.open().and_then(|open| open.news.front()).cloned() else { return false };
        let route = Route::Edition(news.deck, news.place);
        self.look_up_edition(&route);
        self.route = route;
        true
    }

    /// The sheet in front has been looked at: on to the next, or to the watch.
    pub(super) fn edition_seen(&mut self) {
        let now = self.now();
        let mut kept = None;
        if let Route::Edition(deck, place) = self.route.clone()
            && let Some(open) = self.open_mut()
        {
            open.news.retain(|news| (&news.deck, news.place) != (&deck, place));
            let taking = open.profile.learner.editions.ledger.takings(&deck).get(place).cloned();
            kept = taking.map(|taking| open.profile.store.edition_seen(taking, now));
        }
        self.keeping.changes.extend(kept);
        if !self.show_news() {
            self.go(Route::Watch);
        }
    }

    /// Looks up in the store what the page in front tells of editions.
    pub(super) fn look_up_edition(&mut self, route: &Route) {
        let Some(open) = self.open() else { return };
        let found = match route {
            Route::Edition(deck, place) => {
                let news = News { deck: deck.clone(), place: *place };
                self.edition_view(&news).map(|view| (view.map(|view| (news, view)), None))
            }
            Route::Deck(deck) => {
                let gone: Vec<CardKey> = match open.shelf.deck(deck) {
                    Some(shelved) => {
                        open.profile.learner.editions.withdrawn(&open.shelf, shelved).into_iter().cloned().collect()
                    }
                    None => Vec::new(),
                };
                self.asks(&gone).map(|asks| {
                    let learner = &open.profile.learner;
                    let ask = |key: &CardKey| asks.get(key).map(String::as_str);
                    let rows = gone.iter().map(|key| views::withdrawn(learner, key, ask(key)));
                    (None, Some((deck.clone(), rows.collect())))
                })
            }
            _ => return,
        };
        match found {
            Ok((update, withdrawn)) => {
                if let Some(open) = self.open_mut() {
                    (open.update, open.withdrawn) = (update, withdrawn);
                }
            }
            Err(error) => self.fail(&error),
        }
    }

    fn edition_view(&self, news: &News) -> Result<Option<EditionView>, StoreError> {
        let Some(open) = self.open() else { return Ok(None) };
        let (learner, shelf) = (&open.profile.learner, &open.shelf);
        let Some(update) = learner.editions.update(&open.profile.store, news)? else { return Ok(None) };
        let ids = update.withdrawn.iter().chain(&update.new).chain(update.changed.iter().map(|changed| &changed.id));
        let ids = ids.chain(update.renamed.iter().map(|renamed| &renamed.to));
        let keys = ids.map(|id| CardKey { deck: news.deck.clone(), card: id.clone() });
        let gone: Vec<CardKey> = keys.filter(|key| shelf.card(key).is_none()).collect();
        let asks = self.asks(&gone)?;
        let is_fresh = open.news.contains(news);
        let more = open.news.len() - usize::from(is_fresh);
        Ok(Some(views::edition(learner, shelf, (news, &update), &asks, (is_fresh, more))))
    }

    /// The questions of cards that are in no deck, as they were last taken in; those that are not known are left out.
    fn asks(&self, cards: &[CardKey]) -> Result<BTreeMap<CardKey, String>, StoreError> {
        let Some(open) = self.open() else { return Ok(BTreeMap::new()) };
        let ledger = &open.profile.learner.editions.ledger;
        let digests: Vec<(&CardKey, &str)> =
            cards.iter().filter_map(|key| Some((key, ledger.last_digest(key)?))).collect();
        let asked =
            open.profile.store.asked(digests.iter().map(|(_, digest)| (*digest).to_owned()).collect()).wait()?;
        let asks = digests.into_iter().filter_map(|(key, digest)| Some((key.clone(), question(asked.get(digest)?)?)));
        Ok(asks.collect())
    }
}

fn question(asked: &Asked) -> Option<String> {
    let part = asked.0.iter().find(|part| part.what == What::Question)?;
    Some(part.lines.first()?.text.clone())
}
