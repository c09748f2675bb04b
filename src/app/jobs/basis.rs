//! What is worked out of a learner's answers rests on: when it changes, that is worked out anew.

use std::collections::HashSet;

use crate::app::profile::editions::Outdated;
use crate::app::profile::learner::Learner;
use crate::app::profile::shelf::Shelf;
use crate::domain::attempt::Attempt;
use crate::domain::card::Card;
use crate::domain::day::{Instant, StudyDay};
use crate::domain::ids::CardKey;
use crate::domain::memory::model::Model;
use crate::domain::oral::{Blueprint, lead_results};
use crate::domain::readiness::{History, LeadMark, Pool, Sitting};
use crate::store::KeptSitting;

/// A sitting that was never ended is taken to have lasted so long, in milliseconds.
const UNENDED_MS: i64 = 4 * 3_600_000;

/// The learner, the decks and the day, as far as the chance of passing goes by them.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Basis {
    pub(super) model: String,
    pub(super) today: StudyDay,
    pub(super) oral: Option<StudyDay>,
    blueprint: Blueprint,
    cards: usize,
    attempts: u64,
    taken_back: u64,
    editions: usize,
    changed: usize,
    turns: usize,
    over: usize,
}

impl Basis {
    pub(super) fn of(learner: &Learner, shelf: &Shelf, today: StudyDay) -> Self {
        Self {
            model: learner.model.stamp(),
            today,
            oral: learner.settings.oral,
            blueprint: learner.settings.blueprint(),
            cards: shelf.cards().count(),
            attempts: learner.memory.values().map(|memory| u64::from(memory.seen)).sum(),
            taken_back: learner.taken_back,
            editions: learner.editions.ledger.len(),
            changed: learner.editions.count(),
            turns: learner.sittings.iter().map(|kept| kept.sitting.turns.len()).sum(),
            over: learner.sittings.iter().filter(|kept| kept.ended.is_some()).count(),
        }
    }
}

/// Attempts become history with an eye to what their cards asked when they were answered.
pub(super) struct Answers {
    outdated: Outdated,
    /// Cards whose last answer so far was to something else than they ask now.
    stale: HashSet<CardKey>,
}

impl Answers {
    pub(super) fn of(learner: &Learner, shelf: &Shelf) -> Self {
        Self { outdated: learner.editions.outdated(shelf), stale: HashSet::new() }
    }

    /// Takes in an attempt, in the order of time.
    pub(super) fn take_in(&mut self, history: &mut History, mut attempt: Attempt, model: &Model) {
        if self.outdated.holds(&attempt) {
            // The points had other words then.
            attempt.evidence.points_missed.clear();
            self.stale.insert(attempt.card.clone());
            history.take_in(&attempt, model);
        } else if self.stale.remove(&attempt.card) {
            history.take_in_changed(&attempt, model);
        } else {
            history.take_in(&attempt, model);
        }
    }
}

fn cards(shelf: &Shelf) -> impl Iterator<Item = &Card> {
    shelf.cards().map(|(_, card)| card)
}

/// The oral of a learner as it is drawn on `day`; `recall` gives the chance of recall of a card asked before.
pub(super) fn pool(learner: &Learner, shelf: &Shelf, day: StudyDay, recall: impl Fn(&Card) -> Option<f64>) -> Pool {
    Pool::of(&learner.settings.blueprint(), cards(shelf), day, recall)
}

/// A learner's history before any answer, with their sittings.
pub(super) fn history(learner: &Learner, shelf: &Shelf) -> History {
    History::of(&learner.settings.blueprint(), cards(shelf), learner.sittings.iter().map(as_evidence))
}

/// Competence and weight of all that is asked: answers about a sequence's runs count for its topic, as in the table.
pub(super) fn topics(shelf: &Shelf) -> impl Iterator<Item = (CardKey, (String, u8))> {
    cards(shelf).flat_map(|card| card.answer_keys().map(move |key| (key, (card.topic.clone(), card.weight))))
}

/// A kept sitting, as evidence is read from it.
fn as_evidence(kept: &KeptSitting) -> Sitting {
    let blueprint = &kept.sitting.setup.blueprint;
    let marks = lead_results(&kept.sitting).into_iter().map(|lead| LeadMark {
        card: lead.card,
        passes: lead.share + 1e-9 >= blueprint.rules.overall,
        has_critical: lead.has_critical,
        fatal: lead.fatal,
    });
    Sitting {
        from: kept.at,
        to: kept.ended.unwrap_or(Instant(kept.at.0 + UNENDED_MS)),
        day: kept.at.study_day(kept.ship),
        ended: kept.ended.is_some(),
        leads: blueprint.length.leads(),
        marks: marks.collect(),
    }
}
