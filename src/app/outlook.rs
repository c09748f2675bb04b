//! The chance of passing: the oral as the blueprint draws it from the cards at hand, what is believed of the learner, and
//! both put together on a thread of their own.

use std::collections::HashMap;
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::thread;

use crate::app::learner::Learner;
use crate::app::shelf::Shelf;
use crate::domain::attempt::Attempt;
use crate::domain::card::{Body, Card};
use crate::domain::day::{Instant, StudyDay};
use crate::domain::ids::CardKey;
use crate::domain::memory::CardMemory;
use crate::domain::memory::model::Model;
use crate::domain::oral::{Blueprint, allot, function_of};
use crate::domain::outcome::Outcome;
use crate::domain::readiness::{
    AreaCost, Belief, Calibration, Exam, Item, Part, Range, Seen, Sitting, UnseenBelief, area_costs, chance_range,
};
use crate::store::{KeptSitting, Store, StoreError, Ticket, Wake};

/// So many of the latest reviews say how far forecasts lie off.
const MOST_REVIEWS: usize = 1_000;
/// Weeks that a trend goes back.
pub const WEEKS: usize = 8;
/// An area is mended to this recall when it is asked what it costs.
pub const MENDED: f64 = 0.85;

/// What has been worked out.
#[derive(Debug, Clone, PartialEq)]
pub struct Outlook {
    /// The chance if the oral were today.
    pub today: Range,
    /// The chance on its day, by what is known today; none without a date.
    pub on_day: Option<Range>,
    /// What competences cost, the dearest first: key, and by how much the chance would rise, 0 to 1.
    pub costs: Vec<(String, f64)>,
    /// Cards never met, of all that may be asked.
    pub unseen: (usize, usize),
    /// How recall was foretold in watches, and in orals.
    pub fits: [Option<Calibration>; 2],
    /// By competence: recall at the end of each of the last eight weeks, the oldest first; none before anything was met.
    pub trends: HashMap<String, Vec<Option<f64>>>,
    /// By card, points (from 1) with how often they were missed, the most missed first.
    pub missed: HashMap<CardKey, Vec<(usize, u32)>>,
    /// Answers of each of the last eight weeks with their seconds, the oldest first, and of all time.
    pub hours: (Vec<(usize, f64)>, (usize, f64)),
}

/// The oral as the blueprint draws it.
#[derive(Debug, Clone, PartialEq)]
pub struct Pool {
    /// The oral.
    pub exam: Exam,
    /// Competence keys by area number.
    pub areas: Vec<String>,
}

/// What the answers so far say of the learner.
#[derive(Debug, Clone, Default)]
pub struct History {
    memory: HashMap<CardKey, CardMemory>,
    reviews: Vec<Seen>,
    unseen: UnseenBelief,
    sittings: Vec<(Instant, Instant, Sitting)>,
    topics: HashMap<CardKey, (String, u8)>,
    /// Ends of weeks that are still to come, the nearest last.
    weeks: Vec<StudyDay>,
    trends: HashMap<String, Vec<Option<f64>>>,
    missed: HashMap<CardKey, HashMap<usize, u32>>,
    by_week: Vec<(usize, f64)>,
    whole: (usize, f64),
}

/// The oral as `blueprint` draws it from the shelf; `recall` gives the chance of recall of a card that has been met.
pub fn pool(blueprint: &Blueprint, shelf: &Shelf, recall: impl Fn(&Card) -> Option<f64>) -> Pool {
    let areas: Vec<String> = blueprint.shares.iter().map(|share| share.competence.clone()).collect();
    let cards = shelf.cards().map(|(_, card)| card);
    let cards: Vec<&Card> = cards.filter(|card| blueprint.weight_of(&card.topic) > 0.0).collect();
    let leads = blueprint.length.leads();
    let rules = blueprint.rules;
    let at_least = |share: f64, of: usize| (share * of as f64 - 1e-9).ceil().max(0.0) as usize;
    let parts: Vec<Part> = allot(blueprint, leads, |key| cards.iter().any(|card| function_of(&card.topic) == key))
        .into_iter()
        .filter(|(_, drawn)| *drawn > 0)
        .map(|(function, drawn)| Part {
            pool: cards
                .iter()
                .filter(|card| function_of(&card.topic) == function)
                .map(|card| {
                    let recall = recall(card);
                    Item {
                        recall: recall.unwrap_or(0.0),
                        critical: rules.critical_fails && is_critical(card),
                        unseen: recall.is_none(),
                        area: areas.iter().position(|area| *area == card.topic).unwrap_or(0),
                    }
                })
                .collect(),
            drawn,
            floor: at_least(rules.each_function, drawn),
        })
        .collect();
    let asked: usize = parts.iter().map(Part::asked).sum();
    Pool { exam: Exam { needed: at_least(rules.overall, asked), parts }, areas }
}

/// A miss of it fails the oral only where most of its points are safety-critical: otherwise the prompt is likely to mend it.
fn is_critical(card: &Card) -> bool {
    match &card.body {
        Body::Recall(recall) => {
            let critical = recall.points.iter().filter(|point| point.critical).count();
            critical * 2 > recall.points.len()
        }
        _ => false,
    }
}

impl History {
    /// Before any answer; sittings by when they began and ended.
    pub fn of(sittings: &[KeptSitting]) -> Self {
        let sittings = sittings.iter().map(|kept| {
            let end = kept.ended.unwrap_or(Instant(kept.at.0 + 4 * 3_600_000));
            (kept.at, end, Sitting::default())
        });
        Self { sittings: sittings.collect(), ..Self::default() }
    }

    /// The same, with the trend of each competence over the eight weeks up to `today`.
    pub fn with_trends(mut self, shelf: &Shelf, today: StudyDay) -> Self {
        self.topics = shelf.cards().map(|(_, card)| (card.key.clone(), (card.topic.clone(), card.weight))).collect();
        self.weeks = (0..WEEKS as i32).map(|week| StudyDay(today.0 - 7 * week)).collect();
        self.by_week = vec![(0, 0.0); WEEKS];
        self
    }

    /// Notes what is recalled at the end of each week before `day`.
    fn pass_weeks(&mut self, day: StudyDay, model: &Model) {
        while self.weeks.last().is_some_and(|end| *end < day) {
            let Some(end) = self.weeks.pop() else { break };
            let mut sums: HashMap<&str, (f64, f64)> = HashMap::new();
            for (key, memory) in &self.memory {
                let Some((topic, weight)) = self.topics.get(key) else { continue };
                let sum = sums.entry(topic).or_default();
                let weight = f64::from(*weight);
                *sum = (sum.0 + weight * model.known(memory, end), sum.1 + weight);
            }
            let passed = WEEKS - self.weeks.len();
            for (topic, (sum, of)) in sums {
                let trend = self.trends.entry(topic.to_owned()).or_default();
                trend.resize(passed - 1, None);
                trend.push(Some(sum / of));
            }
        }
    }

    /// Takes in an attempt, in the order of time.
    pub fn take_in(&mut self, attempt: &Attempt, model: &Model) {
        self.pass_weeks(attempt.day(), model);
        for point in &attempt.evidence.points_missed {
            *self.missed.entry(attempt.card.clone()).or_default().entry(*point).or_default() += 1;
        }
        self.whole = (self.whole.0 + 1, self.whole.1 + attempt.seconds);
        let week = WEEKS - self.weeks.len();
        if let Some(of_week) = self.by_week.get_mut(week)
            && self.weeks.last().is_some_and(|end| attempt.day().0 > end.0 - 7)
        {
            *of_week = (of_week.0 + 1, of_week.1 + attempt.seconds);
        }
        let before = self.memory.get(&attempt.card);
        let well = attempt.final_outcome() >= Outcome::Prompted;
        match before {
            None => {
                self.unseen.of += 1;
                self.unseen.well += usize::from(well);
            }
            // The second answer of one day says nothing of memory.
            Some(memory) if memory.last_day == attempt.day() => {}
            Some(memory) => {
                let seen = Seen { forecast: model.recall(memory, attempt.day()), well };
                let sitting = self.sittings.iter_mut().find(|(from, to, _)| (from.0..=to.0).contains(&attempt.at.0));
                match sitting {
                    Some((_, _, sitting)) => sitting.questions.push(seen),
                    None => self.reviews.push(seen),
                }
            }
        }
        let next = model.after(before, attempt);
        self.memory.insert(attempt.card.clone(), next);
    }

    /// How recall was foretold in watches, and in orals.
    fn fits(&self) -> [Option<Calibration>; 2] {
        let of_orals: Vec<Seen> = self.sittings.iter().flat_map(|(_, _, sitting)| sitting.questions.clone()).collect();
        [Calibration::of(&self.reviews), Calibration::of(&of_orals)]
    }

    /// By card, points with how often they were missed, the most missed first.
    fn missed_most(&self) -> HashMap<CardKey, Vec<(usize, u32)>> {
        let missed = self.missed.iter().map(|(key, points)| {
            let mut points: Vec<(usize, u32)> = points.iter().map(|(point, n)| (*point, *n)).collect();
            points.sort_by_key(|(point, n)| (std::cmp::Reverse(*n), *point));
            (key.clone(), points)
        });
        missed.collect()
    }

    /// What is believed of the learner.
    pub fn belief(&self) -> Belief {
        let reviews = &self.reviews[self.reviews.len().saturating_sub(MOST_REVIEWS)..];
        let sittings: Vec<Sitting> =
            self.sittings.iter().map(|(_, _, s)| s.clone()).filter(|s| !s.questions.is_empty()).collect();
        Belief::from(reviews, &sittings, self.unseen)
    }
}

/// Works the chance out; on `day` as well, where there is one.
pub fn work_out(today: &Pool, on_day: Option<&Pool>, mut history: History, model: &Model) -> Outlook {
    let belief = history.belief();
    // What is left of the weeks up to today passes without an answer.
    history.pass_weeks(StudyDay(i32::MAX), model);
    let later = on_day.unwrap_or(today);
    let costs = area_costs(&later.exam, &belief, later.areas.len(), MENDED);
    let items = today.exam.parts.iter().flat_map(|part| &part.pool);
    let (unseen, all) = items.fold((0, 0), |(unseen, all), item| (unseen + usize::from(item.unseen), all + 1));
    Outlook {
        today: chance_range(&today.exam, &belief),
        on_day: on_day.map(|pool| chance_range(&pool.exam, &belief)),
        costs: costs.into_iter().map(|AreaCost { area, cost }| (later.areas[area].clone(), cost)).collect(),
        unseen: (unseen, all),
        fits: history.fits(),
        missed: history.missed_most(),
        trends: history.trends,
        hours: (history.by_week, history.whole),
    }
}

/// The pools of a learner today, and on the day of the oral where there is one ahead.
pub fn pools(learner: &Learner, shelf: &Shelf, today: StudyDay, on: Option<StudyDay>) -> (Pool, Option<Pool>) {
    let blueprint = learner.settings.blueprint();
    let of = |day: StudyDay| pool(&blueprint, shelf, |card| learner.recall(&card.key, day));
    (of(today), on.filter(|day| *day > today).map(of))
}

/// Reads what the answers so far say, on the store's thread.
pub fn read(store: &Store, learner: &Learner, shelf: &Shelf, today: StudyDay) -> Ticket<History> {
    let model = learner.model.clone();
    let history = History::of(&learner.sittings).with_trends(shelf, today);
    store.fold_attempts(history, move |history: &mut History, attempt: Attempt| {
        history.take_in(&attempt, &model);
    })
}

/// What an outlook was worked out from: when it changes, another is.
#[derive(PartialEq)]
struct Basis {
    model: String,
    today: StudyDay,
    oral: Option<StudyDay>,
    blueprint: Blueprint,
    cards: usize,
    attempts: u64,
    taken_back: u64,
    turns: usize,
}

/// The outlook, as far as it has come.
#[derive(Default)]
pub struct Outlooks {
    basis: Option<Basis>,
    reading: Option<(Ticket<History>, Pool, Option<Pool>, Model)>,
    working: Option<Receiver<Outlook>>,
    done: Option<Outlook>,
}

impl Outlooks {
    /// The outlook; none while it is being worked out.
    pub fn get(&self) -> Option<&Outlook> {
        self.done.as_ref()
    }

    /// Has the outlook worked out anew where what it rests on has changed.
    pub fn hold(&mut self, learner: &Learner, store: &Store, shelf: &Shelf, today: StudyDay) {
        let basis = Basis {
            model: learner.model.stamp(),
            today,
            oral: learner.settings.oral,
            blueprint: learner.settings.blueprint(),
            cards: shelf.cards().count(),
            attempts: learner.memory.values().map(|memory| u64::from(memory.seen)).sum(),
            taken_back: learner.taken_back,
            turns: learner.sittings.iter().map(|kept| kept.sitting.turns.len()).sum(),
        };
        if self.basis.as_ref() == Some(&basis) {
            return;
        }
        let (now, then) = pools(learner, shelf, today, learner.settings.oral);
        *self = Self {
            basis: Some(basis),
            reading: Some((read(store, learner, shelf, today), now, then, learner.model.clone())),
            ..Self::default()
        };
    }

    /// Takes in what has come; true where the screen changes.
    pub fn take_in(&mut self, wake: &Wake) -> Result<bool, StoreError> {
        if let Some(answer) = self.reading.as_ref().and_then(|(ticket, ..)| ticket.try_take())
            && let Some((_, now, then, model)) = self.reading.take()
        {
            let history = answer?;
            let (sender, receiver) = channel();
            let wake = wake.clone();
            thread::spawn(move || {
                // Nobody listening any more means that something has changed meanwhile.
                let _ = sender.send(work_out(&now, then.as_ref(), history, &model));
                wake();
            });
            self.working = Some(receiver);
        }
        match self.working.as_ref().map(Receiver::try_recv) {
            Some(Ok(outlook)) => {
                (self.working, self.done) = (None, Some(outlook));
                Ok(true)
            }
            Some(Err(TryRecvError::Disconnected)) => {
                self.working = None;
                Ok(false)
            }
            _ => Ok(false),
        }
    }

    /// Blocks until it is worked out: for faces without frames.
    pub fn settle(&mut self) -> Result<(), StoreError> {
        if let Some((ticket, now, then, model)) = self.reading.take() {
            self.done = Some(work_out(&now, then.as_ref(), ticket.wait()?, &model));
        }
        if let Some(working) = self.working.take() {
            self.done = working.recv().ok();
        }
        Ok(())
    }
}
