//! Standing a watch: from the first card to the last accepted answer.

use rand::SeedableRng;
use rand::rngs::StdRng;
use rand::seq::SliceRandom;

use crate::app::profile::only::Only;
use crate::app::program::app::App;
use crate::app::program::keeping::{Changed, Keeping};
use crate::app::remedy::why_missed;
use crate::app::sheet::{Session, Slipped, Stage};
use crate::domain::answer::{Given, LONGEST_TEXT};
use crate::domain::attempt::{Attempt, Evidence};
use crate::domain::english;
use crate::domain::ids::CardKey;
use crate::domain::memory::CardMemory;
use crate::domain::memory::order::Order;
use crate::domain::memory::replay::replay_card;
use crate::domain::memory::watch::Watch;
use crate::domain::outcome::Outcome;
use crate::present::{Notice, words};
use crate::store::{StoreError, ids};

/// So many cards of a search at most are gone through.
const MOST_FOUND: usize = 500;

impl App {
    /// Begins today's watch, or goes on with the one broken off.
    pub(super) fn stand_watch(&mut self, shorter: bool) {
        self.route = crate::app::program::route::Route::Watch;
        if self.is_keeping() {
            return;
        }
        let now = self.now();
        if self.session.as_ref().is_some_and(|s| s.watch.left() > 0) {
            self.lay_next();
            return;
        }
        let Some(open) = self.open() else { return };
        let (learner, shelf) = (&open.profile.learner, &open.shelf);
        let day = learner.day(now);
        let left = learner.budget(day);
        let mut order = learner.order(shelf, day, if shorter { left / 2.0 } else { left });
        if order.items.is_empty() {
            // Today's minutes are spent; whoever wants more gets half a watch more.
            order = learner.order(shelf, day, f64::from(learner.settings.minutes) * 30.0);
        }
        self.begin(order);
    }

    /// Begins a watch that is limited to some cards, for this once, with at most so many of them. Today's minutes hold for
    /// it too; where they are spent it is half a watch.
    pub fn stand_only(&mut self, only: &Only, cards: Option<usize>) {
        let now = self.now();
        let Some(open) = self.open() else { return };
        let learner = &open.profile.learner;
        let day = learner.day(now);
        let left = learner.budget(day);
        let budget = if left > 0.0 { left } else { f64::from(learner.settings.minutes) * 30.0 };
        let order = learner.order_of(only, &open.shelf, day, budget);
        if order.items.is_empty() {
            self.say(Notice::failed("None of these cards is in a deck, or all are set aside."));
            return;
        }
        self.route = crate::app::program::route::Route::Watch;
        self.begin_told(order, cards);
    }

    /// Whether any card at hand belongs to what a watch is to be limited to.
    pub fn has_any(&self, only: &Only) -> bool {
        let open = self.open();
        open.is_some_and(|open| open.shelf.cards().any(|(_, card)| only.has(card, &open.profile.learner)))
    }

    /// The cards that a search finds.
    ///
    /// # Errors
    /// Where the search cannot be asked, in a sentence.
    pub fn found(&self, query: &str) -> Result<Vec<CardKey>, String> {
        let Some(open) = self.open() else { return Ok(Vec::new()) };
        let hits = open.profile.store.search(query, MOST_FOUND).wait().map_err(|error| error.to_string())?;
        Ok(hits.into_iter().map(|hit| hit.key).collect())
    }

    /// Begins today's watch with at most so many cards, leaving out what cannot be told: for the terminal.
    pub fn stand_watch_of(&mut self, cards: Option<usize>) {
        let now = self.now();
        let Some(open) = self.open() else { return };
        let learner = &open.profile.learner;
        let day = learner.day(now);
        let order = learner.order(&open.shelf, day, learner.budget(day));
        self.begin_told(order, cards);
    }

    /// Begins a watch with at most so many of these cards; in the terminal without those that cannot be told.
    fn begin_told(&mut self, mut order: Order, cards: Option<usize>) {
        let Some(open) = self.open() else { return };
        let all = order.items.len();
        if self.jobs.picture.are_unread() {
            order
                .items
                .retain(|item| open.shelf.card(&item.key).is_none_or(|(_, card)| card.body.as_kind().can_be_told()));
        }
        let drawn_only = all - order.items.len();
        if let Some(cards) = cards {
            order.items.truncate(cards);
        }
        self.begin(order);
        if drawn_only > 0 && self.notices.shown.is_none() {
            self.say(Notice { tone: Default::default(), text: passed_over(drawn_only) });
        }
    }

    fn begin(&mut self, order: Order) {
        let Some(open) = self.open() else { return };
        let memory = &open.profile.learner.memory;
        let watch = Watch::begin(&order, |key| memory.get(key).map_or(0, |m| m.misses_in_a_row));
        if watch.left() == 0 {
            self.say(Notice { tone: Default::default(), text: "No card is due and none is unseen.".into() });
            return;
        }
        self.session = Some(Session::begin(watch));
        self.expect_typing();
        self.lay_next();
    }

    /// Lays the next card on the sheet; cards that have gone from the shelf are passed over.
    pub(super) fn lay_next(&mut self) {
        let now = self.now();
        let (seed, shuffle) = (self.fresh_seed(), self.shuffle());
        let Some(mut session) = self.session.take() else { return };
        if let Some(open) = self.open() {
            while let Some(key) = session.watch.current().map(|c| c.key.clone()) {
                if open.shelf.card(&key).is_some() {
                    break;
                }
                session.watch = session.watch.without(&key);
            }
            let card = session.watch.current().and_then(|c| open.shelf.card(&c.key)).map(|(_, card)| card);
            session.lay(card, now, seed, shuffle);
        }
        self.session = Some(session);
    }

    /// A new random order of `n` things, as positions from 1; each from a seed of its own.
    pub(super) fn shuffle(&mut self) -> impl FnOnce(usize) -> Vec<usize> + use<> {
        let mut random = StdRng::seed_from_u64(self.fresh_seed());
        move |n| {
            let mut positions: Vec<usize> = (1..=n).collect();
            positions.shuffle(&mut random);
            positions
        }
    }

    /// Leaves the watch; what is accepted is kept, and the rest waits on the front page.
    pub(super) fn leave_watch(&mut self) {
        if self.is_keeping() {
            return;
        }
        let now = self.now();
        match &mut self.session {
            Some(session) if session.watch.left() > 0 => session.rest(now),
            _ => self.session = None,
        }
    }

    pub(super) fn submit(&mut self, mut given: Given) {
        let now = self.now();
        if let Given::Text(text) = &mut given
            && let Some(asked) = self.oral.as_ref().filter(|_| self.in_oral()).and_then(|oral| oral.asked.as_ref())
        {
            *text = asked.joined(std::mem::take(text));
        }
        let cut = given.cut();
        if let Given::Worked(worked) = &given {
            self.remember(worked.lines.iter().cloned());
        }
        if self.have_read(&given, now) {
            if cut {
                self.say_cut("answer");
            }
            return;
        }
        let answer = self.with_sheet(|card, sheet| {
            let (card, sheet) = sheet.front_mut(card);
            sheet.submit(card, given, now)
        });
        match answer {
            Some(Err(error)) => self.fail(&error),
            Some(Ok(())) if cut => self.say_cut("answer"),
            _ => {}
        }
    }

    /// Says that a typed text was longer than what is kept.
    pub(super) fn say_cut(&mut self, what: &str) {
        let longest = words::figure(LONGEST_TEXT);
        let text =
            format!("The {what} is too long: its first {longest} characters count and are kept, the rest is not.");
        self.say(Notice::failed(text));
    }

    /// Hands the attempt to the store. The sheet moves on when it is kept.
    pub(super) fn accept(&mut self) {
        let now = self.now();
        if self.is_keeping() || self.clock_is_doubted() {
            return;
        }
        let (Some(open), Some(sheet)) = (self.open(), self.session.as_ref().and_then(|s| s.sheet.as_ref())) else {
            return;
        };
        let Some((deck, card)) = open.shelf.card(&sheet.key) else { return };
        let (card, sheet) = sheet.front(card);
        let Stage::Marked(marked) = &sheet.stage else { return };
        let (points_said, points_missed) = marked.points();
        let attempt = Attempt {
            id: ids::new_attempt_id(now),
            card: sheet.key.clone(),
            at: now,
            ship: open.profile.learner.settings.ship,
            device: open.profile.device.clone(),
            evidence: Evidence { given: marked.given.clone(), edition: deck.edition, points_said, points_missed },
            outcome: marked.marking.outcome,
            notch: marked.notch,
            seconds: marked.seconds,
        };
        let why_missed = (marked.outcome() == Outcome::Missed).then(|| why_missed(card, &marked.marking));
        let memory = open.profile.learner.after(&attempt);
        let ticket = open.profile.store.record(attempt.clone(), memory);
        self.keeping.answer = Some(Keeping { attempt, memory, why_missed, ticket });
    }

    /// The store has answered.
    pub(crate) fn kept(
        &mut self,
        attempt: Attempt,
        memory: CardMemory,
        why_missed: Option<String>,
        answer: Result<(), StoreError>,
    ) {
        if let Err(error) = answer {
            // The answer stays on the sheet, so that it can be accepted again.
            self.fail_to_keep(&error);
            return;
        }
        self.notices.mended_by_keeping();
        let now = self.now();
        let misses = memory.misses_in_a_row;
        if let Some(open) = self.open_mut() {
            open.profile.learner.take_in(&attempt, memory, now);
        }
        if let Some(session) = &mut self.session {
            session.note_accepted(attempt.clone());
        }
        let about = self.session.as_mut().and_then(|s| s.sheet.as_mut()).filter(|s| s.explaining.is_some());
        if let Some(sheet) = about {
            // The question about the run is answered; the run itself is still to be accepted.
            sheet.explained();
            return;
        }
        if let Some(session) = &mut self.session {
            session.seconds += attempt.seconds;
            if let Some(why) = why_missed
                && session.slips.iter().all(|slipped| slipped.card != attempt.card)
            {
                session.slips.push(Slipped { card: attempt.card.clone(), why });
            }
            session.watch = std::mem::take(&mut session.watch).answered(attempt.final_outcome(), misses);
        }
        self.lay_next();
    }

    /// An answer of the watch is on its way into the store, or out of what counts.
    pub(in crate::app) fn is_keeping(&self) -> bool {
        self.keeping.answer.is_some() || self.keeping.back.is_some()
    }

    /// Whether the watch in front has an answer that can be taken back now.
    pub(in crate::app) fn can_take_back(&self) -> bool {
        let accepted = self.session.as_ref().is_some_and(|session| session.last_accepted().is_some());
        accepted && self.route == crate::app::program::route::Route::Watch && !self.is_keeping()
    }

    /// Has the answer accepted last taken back. Its card comes back to the sheet when the store has done so.
    pub(super) fn take_back(&mut self) {
        if self.is_keeping() || self.route != crate::app::program::route::Route::Watch {
            return;
        }
        let now = self.now();
        let last = self.session.as_ref().and_then(Session::last_accepted);
        let (Some(open), Some((attempt, sheet))) = (self.open(), last) else {
            self.say(Notice::failed("There is no accepted answer in this watch to take back."));
            return;
        };
        if sheet.is_none_or(|sheet| open.shelf.card(&sheet.key).is_none()) {
            let text = "The answer stays as it is: its card is in no deck any more.";
            self.say(Notice::failed(text));
            return;
        }
        let model = open.profile.learner.model.clone();
        let store = &open.profile.store;
        let ticket = store.void_attempts(vec![attempt.id.clone()], now, move |left| replay_card(&model, left));
        self.keeping.back = Some(ticket);
    }

    /// The store has taken it back: the card is on the sheet again, marked, as before it was accepted.
    pub(crate) fn taken_back(&mut self, answer: Result<Changed, StoreError>) {
        let changed = match answer {
            Ok(changed) => changed,
            Err(error) => return self.fail(&error),
        };
        let now = self.now();
        let Some(session) = self.session.take() else { return };
        let Some(open) = self.open_mut() else { return };
        let learner = &mut open.profile.learner;
        let day = learner.day(now);
        let (session, attempt) = session.take_back(now, |key| learner.is_aside(key, day));
        if let Some(attempt) = attempt {
            let memory = changed.into_iter().find(|(key, _)| *key == attempt.card).and_then(|(_, memory)| memory);
            learner.take_out(&attempt, memory);
        }
        self.session = Some(session);
        self.say(Notice::done("The answer is taken back. It counts again when you accept it."));
    }

    /// On to the next part of a remedy, or out of it.
    pub(super) fn remedy_on(&mut self) {
        let through = self.with_sheet(|card, sheet| match &mut sheet.stage {
            Stage::Remedy(shown) if *shown + 1 < card.remedy_parts() => {
                *shown += 1;
                false
            }
            Stage::Remedy(_) => true,
            _ => false,
        });
        if through == Some(true) {
            if let Some(session) = &mut self.session {
                session.watch = std::mem::take(&mut session.watch).remedied();
            }
            self.lay_next();
        }
    }
}

fn passed_over(cards: usize) -> String {
    let them = if cards == 1 { "it waits" } else { "they wait" };
    format!(
        "{} passed over, since one must point at a drawing and its parts are not described in words; {them} for the window.",
        english::capital(&format!(
            "{} {}",
            words::count_in_words(cards, "card"),
            if cards == 1 { "is" } else { "are" }
        ))
    )
}

#[cfg(test)]
mod tests {
    use std::path::PathBuf;

    use super::*;
    use crate::app::program::Program;
    use crate::app::program::command::{CardCommand, Command, ProfileCommand};
    use crate::app::program::setup::Setup;
    use crate::domain::certificate::Certificate;

    use crate::present::View;

    /// A full disk must leave the answer on the sheet, say so, and let it be accepted again.
    #[test]
    fn an_answer_that_could_not_be_kept_stays_on_the_sheet() {
        let home = tempfile::tempdir().expect("a temporary folder");
        let mut app = App::start(Setup::on(home.path()));
        app.settle();
        let first = Command::Profile(ProfileCommand::FinishFirstRun {
            certificate: Certificate::Watch,
            oral: None,
            minutes: 30,
            watch: true,
        });
        app.handle(first);
        app.handle(Command::Card(CardCommand::Submit(Given::Links(Vec::new()))));
        app.handle(Command::Card(CardCommand::ShowPoints));
        app.handle(Command::Card(CardCommand::Submit(Given::Text("no idea".into()))));
        app.accept();
        let Some(Keeping { attempt, memory, why_missed, ticket }) = app.keeping.answer.take() else {
            panic!("an attempt was on its way")
        };
        ticket.wait().expect("kept in truth");
        let full = StoreError::DiskFull { doing: "keep the answer".into(), place: PathBuf::from("/full") };
        app.kept(attempt.clone(), memory, why_missed, Err(full));
        let shell = app.view();
        assert!(shell.notice.as_ref().is_some_and(|n| n.text.contains("full")), "{:?}", shell.notice);
        let View::WatchCard(card) = &shell.view else { panic!("the card is gone") };
        assert_eq!(card.key, attempt.card);
        app.handle(Command::Card(CardCommand::Accept));
        app.settle();
        let shell = app.view();
        assert!(matches!(&shell.view, View::WatchCard(next) if next.key != attempt.card), "accepted on the second try");
        assert_eq!(shell.notice, None, "that it could not be kept is no longer so");
    }
}
