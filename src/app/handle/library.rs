//! Cards outside the watch: set aside, brought back, reported, searched for; decks read again.

use crate::app::profile::shelf::Shelf;
use crate::app::program::app::App;
use crate::app::sheet::Stage;
use crate::domain::answer::{Answer, cut_text};
use crate::domain::attempt::{SetAside, Until};
use crate::domain::card::card_of;
use crate::domain::day::Instant;
use crate::domain::english;
use crate::domain::ids::CardKey;
use crate::domain::report::{CardReport, ReportedMarking};
use crate::present::{Notice, Tone, words};
use crate::store::FaultReport;

impl App {
    /// Leaves a card out of the watch, or brings it back. The card on the sheet makes way for the next.
    pub(super) fn set_aside(&mut self, card: CardKey, until: Until) {
        if self.is_keeping() {
            return;
        }
        let card = card_of(card);
        let now = self.now();
        let event = SetAside { card: card.clone(), at: now, until };
        let Some(open) = self.open_mut() else { return };
        let ticket = open.profile.store.set_aside(event.clone());
        open.profile.learner.aside.insert(card.clone(), event);
        self.keeping.changes.push(ticket);
        let text = match until {
            Until::ForGood => "Set aside for good. It can be brought back in the library.".to_owned(),
            Until::Day(day) => format!("Set aside until {}.", words::day(day)),
            Until::Back => "Brought back into the watch.".to_owned(),
        };
        self.say(Notice::done(text));
        if until == Until::Back {
            return;
        }
        if let Some(session) = &mut self.session {
            let on_sheet = session.sheet.as_ref().is_some_and(|s| s.key == card);
            session.watch = std::mem::take(&mut session.watch).without(&card);
            if on_sheet {
                self.lay_next();
            }
        }
    }

    /// Keeps the learner's note on a fault in a card.
    pub(super) fn report_fault(&mut self, card: CardKey, note: String) {
        let mut note = note.trim().to_owned();
        let cut = cut_text(&mut note);
        if note.is_empty() {
            self.say(Notice::failed("Nothing was noted: say in a few words what is wrong with the card."));
            return;
        }
        let at = self.now();
        let full = self.report_of(card_of(card), at, note.clone());
        let Some(open) = self.open_mut() else { return };
        let report = FaultReport { card: full.card.clone(), at, note };
        let ticket = open.profile.store.report_fault(report.clone());
        let in_full = open.profile.store.keep_report(&full);
        open.profile.learner.faults.push(report);
        self.keeping.changes.push(ticket);
        match in_full {
            Ok(ticket) => self.keeping.changes.push(ticket),
            Err(error) => self.fail(&error),
        }
        self.say(Notice::done("Noted. It stands with the card in the library."));
        if cut {
            self.say_cut("note");
        }
    }

    /// A report with what stands on the sheet, where it is of the card that lies there.
    fn report_of(&self, card: CardKey, at: Instant, note: String) -> CardReport {
        let sheet = self.session.as_ref().and_then(|session| session.sheet.as_ref()).filter(|sheet| sheet.key == card);
        let marked = match sheet.map(|sheet| &sheet.stage) {
            Some(Stage::Marked(marked)) => Some(marked),
            _ => None,
        };
        let edition = self.open().and_then(|open| Some(open.shelf.card(&card)?.0.edition));
        CardReport {
            card,
            at,
            note,
            edition,
            answer: marked.map(|marked| Answer { given: marked.given.clone(), seconds: Some(marked.seconds) }),
            marked: marked.map(|marked| {
                let (said, missed) = marked.points();
                let marking = &marked.marking;
                ReportedMarking { outcome: marking.outcome, reason: marking.reason.clone(), said, missed }
            }),
        }
    }

    pub(super) fn look_for(&mut self, query: String) {
        let now = self.now();
        let Some(store) = self.open().map(|open| open.profile.store.clone()) else { return };
        self.jobs.search.request(&store, query, now);
    }

    /// Reads every deck again: the learner may have mended one.
    pub(super) fn reread_decks(&mut self) {
        let now = self.now();
        match Shelf::read_in_time(&self.setup.home) {
            Ok(shelf) => {
                let cards = shelf.cards().count();
                let decks = shelf.usable().count();
                self.jobs.decks.request(shelf.rest(), now);
                let (errors, trouble) = (shelf.errors(), shelf.trouble.clone());
                if let Some(open) = self.open_mut() {
                    let indexing = crate::app::search::index(&open.profile.store, &shelf);
                    open.shelf = shelf;
                    self.jobs.search.index(indexing, now);
                }
                self.take_in_editions(now);
                self.jobs.picture.forget();
                let mut text = format!(
                    "{} with {} read again.",
                    english::capital(&words::count_in_words(decks, "deck")),
                    words::count(cards, "card")
                );
                if errors > 0 {
                    let found = english::capital(&words::count_in_words(errors, "error"));
                    let (stand, each) = if errors == 1 { ("was", "its") } else { ("were", "each") };
                    text += &format!(" {found} {stand} found; the deck’s page names {each} line.");
                }
                text.extend(trouble.iter().map(|trouble| format!(" {trouble}")));
                let is_well = errors == 0 && trouble.is_none();
                self.say(Notice { tone: if is_well { Tone::Good } else { Tone::Weak }, text });
            }
            Err(error) => self.fail(&error),
        }
    }
}
