//! All figures of a class in one pass: who has met what, where the class is weak, what to teach next.

use std::collections::{BTreeMap, HashMap};

use super::areas::{Area, areas};
use super::firsts::Firsts;
use super::items::{ItemFigures, PointFigure, items, points};
use super::lesson::{Part, Wish, lesson};
use super::record::{AssignedCard, ClassRecord, LearnerRecord};
use super::reliability::{Reliability, reliability};
use super::suspect::{Suspect, notched, suspects};
use crate::domain::day::{Instant, ShipOffset};
use crate::domain::ids::{CardKey, DeckId};
use crate::domain::memory::model::Model;
use crate::domain::memory::replay::{Memories, replay};
use crate::domain::oral::Blueprint;

/// A learner's area is named weak only where so many first answers speak of it.
const LEAST_ANSWERS: usize = 2;
/// So many weak areas of a learner are named.
const MOST_WEAK: usize = 3;
/// The recall target that the standard model is made for; recall itself does not depend on it.
const TARGET: f64 = 0.9;

/// Which cards, and for which lesson.
#[derive(Debug, Clone, Default)]
pub struct Choice {
    /// Cards of this deck alone.
    pub deck: Option<DeckId>,
    /// Cards of competences that this blueprint asks, and its shares for the lesson.
    pub blueprint: Option<Blueprint>,
    /// Shares for the lesson where no blueprint chooses the cards.
    pub shares: Option<Blueprint>,
    /// The lesson's length.
    pub minutes: u32,
}

/// What a class comes to.
#[derive(Debug, Clone)]
pub struct ClassFigures {
    /// The cards that all of it is about.
    pub cards: Vec<AssignedCard>,
    /// In the order of the record.
    pub learners: Vec<LearnerFigures>,
    /// A row for each card.
    pub items: Vec<CardFigures>,
    /// How well the set measures.
    pub reliability: Reliability,
    /// By competence and heading.
    pub areas: Vec<Area>,
    /// The next lesson.
    pub lesson: Vec<Part>,
    /// The lesson goes by the shares of a blueprint.
    pub by_blueprint: bool,
}

/// One learner's figures.
#[derive(Debug, Clone, PartialEq)]
pub struct LearnerFigures {
    /// Cards of the set that they have met.
    pub met: usize,
    /// Share of first answers that were right; none where nothing was met.
    pub first_right: Option<f64>,
    /// Recall today of the cards met, by weight; none where nothing was met.
    pub recall: Option<f64>,
    /// Areas with the fewest right first answers, by competence and heading, the weakest first.
    pub weak: Vec<(String, Option<String>)>,
}

/// One card's figures.
#[derive(Debug, Clone, PartialEq)]
pub struct CardFigures {
    /// Facility and discrimination.
    pub item: ItemFigures,
    /// Point by point.
    pub points: Vec<PointFigure>,
    /// Why it had better be looked at.
    pub suspects: Vec<Suspect>,
    /// Learners who moved an outcome of it.
    pub notched: usize,
    /// Faults reported in it.
    pub reports: usize,
}

/// Works out a class's figures as they stand `now`.
pub fn figures(record: &ClassRecord, choice: &Choice, now: Instant) -> ClassFigures {
    let cards = cards_of(record, choice);
    let attempts: Vec<_> = record.learners.iter().map(|learner| learner.attempts.as_slice()).collect();
    let firsts = Firsts::of(&cards, &attempts);
    let answers = firsts.right();
    let all_items = items(&answers);
    let moved = notched(&cards, attempts.iter().copied());
    let mut reports: HashMap<&CardKey, usize> = HashMap::new();
    for fault in record.learners.iter().flat_map(|learner| &learner.faults) {
        *reports.entry(&fault.card).or_default() += 1;
    }
    let row = |at: usize| {
        let item = all_items.get(at).copied().unwrap_or_else(ItemFigures::of_nobody);
        let (notched, reports) = (moved[at], reports.get(&cards[at].card).copied().unwrap_or(0));
        let suspects = suspects(&item, (notched, item.n), reports);
        CardFigures { item, points: points(&firsts, at), suspects, notched, reports }
    };
    let blueprint = choice.blueprint.as_ref().or(choice.shares.as_ref());
    let wish = Wish { minutes: choice.minutes, blueprint };
    let learners =
        record.learners.iter().enumerate().map(|(at, learner)| of_learner(learner, at, &cards, &firsts, now));
    ClassFigures {
        learners: learners.collect(),
        items: (0..cards.len()).map(row).collect(),
        reliability: reliability(&answers, cards.len()),
        areas: areas(&cards, &firsts),
        lesson: lesson(&cards, &firsts, wish),
        by_blueprint: blueprint.is_some(),
        cards,
    }
}

/// The cards of all assignments, each once, as the last assignment has it, that the choice leaves.
fn cards_of(record: &ClassRecord, choice: &Choice) -> Vec<AssignedCard> {
    let mut at: HashMap<&CardKey, usize> = HashMap::new();
    let mut cards: Vec<&AssignedCard> = Vec::new();
    for card in record.assignments.iter().flat_map(|assignment| &assignment.cards) {
        match at.get(&card.card) {
            // Words once known stay.
            Some(at) if card.text.is_some() || cards[*at].text.is_none() => cards[*at] = card,
            Some(_) => {}
            None => {
                at.insert(&card.card, cards.len());
                cards.push(card);
            }
        }
    }
    let is_wanted = |card: &&AssignedCard| {
        choice.deck.as_ref().is_none_or(|deck| card.card.deck == *deck)
            && choice.blueprint.as_ref().is_none_or(|blueprint| blueprint.weight_of(&card.topic) > 0.0)
    };
    cards.into_iter().filter(is_wanted).cloned().collect()
}

fn of_learner(
    learner: &LearnerRecord,
    at: usize,
    cards: &[AssignedCard],
    firsts: &Firsts<'_>,
    now: Instant,
) -> LearnerFigures {
    let (met, right) =
        firsts.of_learner(at).fold((0, 0), |(met, right), first| (met + 1, right + usize::from(first.is_right())));
    LearnerFigures {
        met,
        first_right: (met > 0).then(|| right as f64 / met as f64),
        recall: recall(learner, cards, now),
        weak: weak(at, cards, firsts),
    }
}

/// Recall today over the cards met, by weight, from a replay of what was handed in by the standard model.
fn recall(learner: &LearnerRecord, cards: &[AssignedCard], now: Instant) -> Option<f64> {
    let model = Model::standard(TARGET);
    let mut memories = Memories::new();
    let mut step = replay(&model);
    for attempt in learner.attempts.iter().filter(|attempt| !attempt.voided) {
        step(&mut memories, attempt.as_attempt());
    }
    let ship = learner.attempts.last().map_or(ShipOffset::default(), |attempt| attempt.ship);
    let today = now.study_day(ship);
    let (mut weights, mut sum) = (0.0, 0.0);
    for card in cards {
        if let Some(memory) = memories.get(&card.card) {
            let weight = f64::from(card.weight.max(1));
            weights += weight;
            sum += weight * model.known(memory, today);
        }
    }
    (weights > 0.0).then(|| sum / weights)
}

fn weak(learner: usize, cards: &[AssignedCard], firsts: &Firsts<'_>) -> Vec<(String, Option<String>)> {
    let mut areas: BTreeMap<(&str, Option<&str>), (usize, usize)> = BTreeMap::new();
    for (card, first) in cards.iter().zip(firsts.row(learner)) {
        if let Some(first) = first {
            let (n, right) = areas.entry((&card.topic, card.heading.as_deref())).or_default();
            (*n, *right) = (*n + 1, *right + usize::from(first.is_right()));
        }
    }
    let share = |(n, right): (usize, usize)| right as f64 / n as f64;
    let mut weak: Vec<_> = areas.into_iter().filter(|(_, (n, right))| *n >= LEAST_ANSWERS && right < n).collect();
    weak.sort_by(|a, b| share(a.1).total_cmp(&share(b.1)));
    let named = |((topic, heading), _): ((&str, Option<&str>), _)| (topic.to_owned(), heading.map(str::to_owned));
    weak.into_iter().take(MOST_WEAK).map(named).collect()
}
