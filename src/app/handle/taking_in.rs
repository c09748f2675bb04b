//! Decks that are taken in, and editions that are brought back.

use std::path::PathBuf;

use crate::app::jobs::taking_in::TakingInEvent;
use crate::app::program::app::App;
use crate::app::program::route::Route;
use crate::domain::english;
use crate::domain::ids::DeckId;
use crate::present::Notice;

impl App {
    /// Looks into a file that was dropped or named, and goes to the page that tells of it.
    pub(super) fn look_into_file(&mut self, path: PathBuf) {
        if matches!(self.route, Route::Oral) {
            self.say(Notice::failed("A sitting is going on. Leave it, then take the deck in."));
            return;
        }
        self.go(Route::TakeIn);
        if self.route == Route::TakeIn {
            let (home, now) = (self.setup.home.clone(), self.now());
            self.jobs.taking_in.look(&home, path, now);
        }
    }

    /// Goes to the page on which a file is named.
    pub(super) fn ask_for_file(&mut self) {
        self.jobs.taking_in.put_away();
        self.go(Route::TakeIn);
    }

    /// The person says yes to what is in hand.
    pub(super) fn take_in_file(&mut self) {
        let (home, now) = (self.setup.home.clone(), self.now());
        self.jobs.taking_in.take_in(&home, now);
    }

    /// The person says no.
    pub(super) fn put_file_away(&mut self) {
        self.jobs.taking_in.put_away();
        self.go(Route::Library);
    }

    /// Brings back the edition of a deck that was in use before.
    pub(super) fn go_back_to_edition(&mut self, deck: DeckId) {
        let (home, now) = (self.setup.home.clone(), self.now());
        self.jobs.taking_in.go_back(&home, deck, now);
    }

    /// What has come of taking in.
    pub(in crate::app) fn taken_in(&mut self, event: TakingInEvent) {
        let news = match event {
            TakingInEvent::Changed(news) => news,
            TakingInEvent::NotBack(refusal) => return self.say(Notice::failed(english::sentence(&refusal.text))),
            TakingInEvent::Broken(fault) => {
                return self.say(Notice::failed(format!("The deck was not taken in: {fault}. Try again.")));
            }
        };
        let deck = DeckId(news.deck.clone().unwrap_or_default());
        if self.route == Route::TakeIn {
            self.go(Route::Deck(deck));
        }
        self.reread_decks();
        let title = news.title.as_deref().unwrap_or_default();
        let text = match (news.edition, news.was_edition) {
            (Some(edition), Some(was)) if was != edition => {
                format!(
                    "{title}: edition {edition} is in use now; edition {was} is kept, and the deck’s page brings it back."
                )
            }
            (Some(edition), _) => format!("{title}: edition {edition} is in use now."),
            (None, _) => format!("{title} is in use now."),
        };
        self.say(Notice::done(text));
    }
}
