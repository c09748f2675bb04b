//! Sitting a mock oral: begin, answer, keep, go on, end.

use crate::app::program::app::{App, Open};
use crate::app::program::keeping::KeepingTurn;
use crate::app::program::route::Route;
use crate::app::sitting::{AtOral, candidates, may_be_taken_up};
use crate::domain::answer::{Given, cut_text};
use crate::domain::attempt::{Attempt, Evidence};
use crate::domain::card::Card;
use crate::domain::deck::Deck;
use crate::domain::memory::CardMemory;
use crate::domain::oral::{Asked, Blueprint, Next, OralChoice, Setup, Sitting, Turn, Way, next};
use crate::domain::outcome::Notch;
use crate::domain::random::SplitMix64;
use crate::present::Notice;
use crate::store::{KeptSitting, StoreError, ids};

/// Lead questions of so many sittings before are avoided.
const RECENT_SITTINGS: usize = 3;

impl App {
    /// Begins a sitting with a seed of its own, or with `seed`.
    pub fn begin_oral(&mut self, choice: OralChoice, seed: Option<u64>) {
        let now = self.now();
        let seed = match seed {
            Some(seed) => seed,
            None => self.fresh_seed(),
        };
        let Some(open) = self.open() else { return };
        let learner = &open.profile.learner;
        let blueprint = Blueprint { length: choice.length, ..learner.settings.blueprint() };
        let blueprint = match blueprint.checked() {
            Ok(blueprint) => blueprint,
            Err(error) => return self.fail(&error),
        };
        let sittings = learner.sittings.iter().rev().take(RECENT_SITTINGS);
        let recent = sittings.flat_map(|kept| kept.sitting.leads().map(|turn| turn.question.card.clone())).collect();
        let setup = Setup { blueprint, draw: choice.draw, manner: choice.manner, seed, recent };
        let kept = KeptSitting {
            id: ids::new_attempt_id(now).0,
            at: now,
            ship: learner.settings.ship,
            device: open.profile.device.clone(),
            sitting: Sitting::begin(setup),
            ended: None,
            early: false,
        };
        let ticket = open.profile.store.begin_sitting(kept.clone());
        self.keeping.changes.push(ticket);
        self.oral = Some(AtOral::of(kept.id.clone(), choice.way));
        if let Some(open) = self.open_mut() {
            open.profile.learner.sittings.push(kept);
        }
        self.route = Route::Oral;
        self.ask_next();
    }

    /// Takes up the last sitting that is not over.
    pub fn go_on_with_oral(&mut self, way: Way) {
        let now = self.now();
        if let Some(oral) = &mut self.oral {
            oral.pause(now, false);
            self.route = Route::Oral;
            return;
        }
        let standing = self
            .open()
            .and_then(|open| open.profile.learner.sittings.iter().rev().find(|kept| kept.ended.is_none()))
            .map(|kept| kept.id.clone());
        if let Some(id) = standing {
            self.route = Route::Oral;
            self.oral = Some(AtOral::of(id, way));
            self.ask_next();
        }
    }

    /// Takes up again a sitting that was ended by hand, on the same study day: the same question stands again.
    pub(super) fn resume_oral(&mut self, id: &str, way: Way) {
        if self.keeping.turn.is_some() {
            return;
        }
        let now = self.now();
        let Some(open) = self.open_mut() else { return };
        let today = open.profile.learner.day(now);
        let sittings = &mut open.profile.learner.sittings;
        let Some(at) = sittings.iter().position(|kept| kept.id == id) else { return };
        let kept = &mut sittings[at];
        if !may_be_taken_up(kept, today) {
            let words = match kept.early {
                true => "was ended on another day, and stays as it is. Begin a new one.",
                false => "is not one that was ended early. Begin a new one.",
            };
            self.say(Notice::failed(format!("Sitting {} {words}", at + 1)));
            return;
        }
        (kept.ended, kept.early) = (None, false);
        let ticket = open.profile.store.take_up_sitting(id.to_owned(), now);
        self.keeping.changes.push(ticket);
        self.fall_silent();
        self.route = Route::Oral;
        self.oral = Some(AtOral::of(id.to_owned(), way));
        self.ask_next();
    }

    /// Lays the next question on the sheet, or ends the sitting.
    fn ask_next(&mut self) {
        let now = self.now();
        let Some(mut oral) = self.oral.take() else { return };
        let Some(open) = self.open() else { return };
        let (learner, shelf) = (&open.profile.learner, &open.shelf);
        let Some((_, kept)) = learner.sitting(&oral.id) else { return };
        let sitting = &kept.sitting;
        // Whoever leaves a question and comes back finds it with the same figures, in the same order.
        let seed = sitting.setup.seed.wrapping_mul(0x9E37_79B9_7F4A_7C15).wrapping_add(sitting.turns.len() as u64 + 1);
        let next = next(sitting, &candidates(learner, shelf, &sitting.setup.blueprint, now));
        if let Next::Ask(question) = next
            && let Some((_, lead)) = shelf.card(&question.card)
        {
            oral.lay(*question, lead, (now, seed), shuffled(seed));
            self.oral = Some(oral);
            self.expect_typing();
            self.read_question(false);
        } else {
            self.end_oral(oral.id, false);
        }
    }

    /// Ends a sitting: after its last question or, where `early`, by hand.
    fn end_oral(&mut self, id: String, early: bool) {
        let now = self.now();
        self.fall_silent();
        let Some(open) = self.open_mut() else { return };
        let store = &open.profile.store;
        let ticket = if early { store.end_sitting_early(id.clone(), now) } else { store.end_sitting(id.clone(), now) };
        if let Some(kept) = open.profile.learner.sitting_mut(&id) {
            (kept.ended, kept.early) = (Some(now), early);
        }
        self.keeping.changes.push(ticket);
        if self.route == Route::Oral {
            self.read_debrief(&id);
            self.route = Route::Debrief(id);
        }
    }

    /// Ends the sitting where it stands, with what has been answered. On the same study day it can be taken up again.
    pub(super) fn break_off_oral(&mut self) {
        if self.keeping.turn.is_some() {
            return;
        }
        if let Some(oral) = self.oral.take() {
            self.end_oral(oral.id, true);
        }
    }

    /// Leaves the sitting for later: the clock stands, and nothing kept is lost.
    pub(super) fn leave_oral(&mut self) {
        self.pause_oral(true);
        self.route = Route::OralFront;
    }

    pub(super) fn pause_oral(&mut self, pause: bool) {
        let now = self.now();
        if pause && self.oral.is_some() {
            self.fall_silent();
        }
        if let Some(oral) = &mut self.oral {
            oral.pause(now, pause);
        }
    }

    pub(super) fn set_way(&mut self, way: Way) {
        let (seed, shuffle) = (self.fresh_seed(), self.shuffle());
        if let Some(oral) = &mut self.oral {
            oral.set_way(way, seed, shuffle);
        }
    }

    /// The answer is said: its points are shown.
    pub(super) fn finish_speaking(&mut self) {
        self.fall_silent();
        let now = self.now();
        let asked = self.oral.as_mut().and_then(|oral| oral.asked.as_mut());
        match asked.map(|asked| asked.finish_speaking(now)) {
            Some(Err(error)) => self.fail(&error),
            _ => self.read_question(false),
        }
    }

    pub(super) fn set_note(&mut self, mut note: String) {
        if cut_text(&mut note) {
            self.say_cut("note");
        }
        if let Some(asked) = self.oral.as_mut().and_then(|oral| oral.asked.as_mut()) {
            asked.note = note;
        }
    }

    /// The learner has nothing (more) to say.
    pub(super) fn run_dry(&mut self) {
        self.fall_silent();
        let (now, recording) = (self.now(), self.recorded());
        let asked = self.oral.as_mut().filter(|_| self.keeping.turn.is_none()).and_then(|oral| oral.asked.as_mut());
        match asked.map(|asked| asked.leave_it(now)) {
            Some(Ok(true)) => return,
            Some(Err(error)) => return self.fail(&error),
            _ => {}
        }
        let turn = self.oral.as_ref().and_then(|oral| Some(oral.asked.as_ref()?.ran_dry(oral.clock(now), recording)));
        if let Some(turn) = turn {
            self.keep_turn(turn);
        }
    }

    /// Keeps the marked answer; the examiner goes on when it is kept.
    pub(super) fn accept_turn(&mut self) {
        self.fall_silent();
        let recording = self.recorded();
        let turn = self.oral.as_ref().and_then(|oral| oral.asked.as_ref()?.turn(recording));
        if let Some(turn) = turn {
            self.keep_turn(turn);
        }
    }

    fn keep_turn(&mut self, turn: Turn) {
        if self.keeping.turn.is_some() || self.clock_is_doubted() {
            return;
        }
        let (Some(oral), Some(open)) = (&self.oral, self.open()) else { return };
        let Some((_, kept)) = open.profile.learner.sitting(&oral.id) else { return };
        let attempt = (turn.question.asked == Asked::Lead)
            .then(|| open.shelf.card(&turn.question.card))
            .flatten()
            .and_then(|(deck, card)| self.attempt_of(&turn, deck, card, open))
            .map(|attempt| {
                let memory = open.profile.learner.after(&attempt);
                (attempt, memory)
            });
        let n = kept.sitting.turns.len();
        let ticket = open.profile.store.keep_turn(oral.id.clone(), n, turn.clone(), attempt.clone());
        self.pause_oral(false);
        self.keeping.turn = Some(KeepingTurn { turn, attempt, ticket });
    }

    /// The attempt that a lead question's answer makes.
    fn attempt_of(&self, turn: &Turn, deck: &Deck, card: &Card, open: &Open) -> Option<Attempt> {
        let now = self.now();
        let answer = turn.answer.as_ref()?;
        let (mut points_said, mut points_missed) = (Vec::new(), Vec::new());
        if card.key_points().is_some() {
            let numbers = 1..=answer.marks.len();
            (points_said, points_missed) = numbers.partition(|n| answer.marks[n - 1].earned > 0.0);
        }
        let given = answer.given.clone().unwrap_or(Given::Said(Vec::new()));
        Some(Attempt {
            id: ids::new_attempt_id(now),
            card: card.key.clone(),
            at: now,
            ship: open.profile.learner.settings.ship,
            device: open.profile.device.clone(),
            evidence: Evidence { given, edition: deck.edition, points_said, points_missed },
            outcome: answer.outcome,
            notch: Notch::None,
            seconds: answer.seconds,
        })
    }

    /// Goes on when the store has answered: the turn belongs to the sitting only once it is kept.
    pub(in crate::app) fn turn_kept(
        &mut self,
        turn: Turn,
        attempt: Option<(Attempt, CardMemory)>,
        answer: Result<(), StoreError>,
    ) {
        if let Err(error) = answer {
            // The answer stays on the sheet, so that it can be kept again.
            self.fail_to_keep(&error);
            return;
        }
        self.notices.mended_by_keeping();
        let now = self.now();
        let Some(oral) = &mut self.oral else { return };
        oral.asked = None;
        let id = oral.id.clone();
        if let Some(open) = self.open_mut() {
            let learner = &mut open.profile.learner;
            if let Some((attempt, memory)) = attempt {
                learner.take_in(&attempt, memory, now);
            }
            if let Some(kept) = learner.sitting_mut(&id) {
                kept.sitting.turns.push(turn);
            }
        }
        self.ask_next();
    }

    /// Keeps another blueprint for the learner's certificate, or ours again.
    pub(super) fn set_blueprint(&mut self, blueprint: Blueprint) {
        match blueprint.checked() {
            Ok(blueprint) => {
                self.change_settings(|settings| settings.set_blueprint(blueprint));
                self.say(Notice::done("The blueprint is kept; the next sitting goes by it."));
            }
            Err(error) => self.fail(&error),
        }
    }
}

/// An order of `n` things from this seed, as positions from 1.
fn shuffled(seed: u64) -> impl FnOnce(usize) -> Vec<usize> {
    move |n| {
        let mut positions: Vec<usize> = (1..=n).collect();
        SplitMix64::new(seed).shuffle(&mut positions);
        positions
    }
}
