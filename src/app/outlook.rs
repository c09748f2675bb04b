//! The chance of passing: the oral as the blueprint draws it from the cards at hand, what is believed of the learner, and
//! both put together on a thread of their own.

use std::collections::HashMap;
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::thread;

use crate::app::learner::Learner;
use crate::app::shelf::Shelf;
use crate::domain::attempt::Attempt;
use crate::domain::card::Card;
use crate::domain::day::{Instant, StudyDay};
use crate::domain::ids::CardKey;
use crate::domain::memory::model::Model;
use crate::domain::oral::{Blueprint, allot, function_of, lead_results};
use crate::domain::readiness::{
    self, AreaCost, Belief, Calibration, Chance, Coverage, Exam, Item, LeadMark, Part, Sitting, area_costs,
    chance_range,
};
use crate::store::{KeptSitting, Store, StoreError, Ticket, Wake};

/// Weeks that a trend goes back.
pub const WEEKS: usize = 8;
/// An area is mended to this recall when it is asked what it costs.
pub const MENDED: f64 = 0.85;

/// What has been worked out.
#[derive(Debug, Clone, PartialEq)]
pub struct Outlook {
    /// The chance if the oral were today.
    pub today: Chance,
    /// The chance on its day, by what is known today; none without a date.
    pub on_day: Option<Chance>,
    /// What competences cost, the dearest first: key, and by how much the chance would rise, 0 to 1; empty while no chance
    /// may be said.
    pub costs: Vec<(String, f64)>,
    /// Cards never met, of all that may be asked.
    pub unseen: (usize, usize),
    /// How recall was predicted in watches, and in orals.
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
    /// The day that it is drawn for.
    pub day: StudyDay,
    /// The oral.
    pub exam: Exam,
    /// Competence keys by area number.
    pub areas: Vec<String>,
}

/// What the answers so far say of the learner.
#[derive(Debug, Clone, Default)]
pub struct History {
    learning: readiness::History,
    topics: HashMap<CardKey, (String, u8)>,
    /// Ends of weeks that are still to come, the nearest last.
    weeks: Vec<StudyDay>,
    trends: HashMap<String, Vec<Option<f64>>>,
    missed: HashMap<CardKey, HashMap<usize, u32>>,
    by_week: Vec<(usize, f64)>,
    whole: (usize, f64),
}

/// The keys of the functions that a blueprint knows; their places number them.
fn functions(blueprint: &Blueprint) -> Vec<&str> {
    blueprint.functions().into_iter().map(|(key, _)| key).collect()
}

/// The oral as `blueprint` draws it from the shelf on `day`; `recall` gives the chance of recall of a card that has been
/// asked before.
pub fn pool(blueprint: &Blueprint, shelf: &Shelf, day: StudyDay, recall: impl Fn(&Card) -> Option<f64>) -> Pool {
    let numbers = functions(blueprint);
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
            function: numbers.iter().position(|key| *key == function).unwrap_or(0),
            pool: cards
                .iter()
                .filter(|card| function_of(&card.topic) == function)
                .map(|card| {
                    let recall = recall(card);
                    Item {
                        recall: recall.unwrap_or(0.0),
                        critical: rules.critical_fails && card.is_critical(),
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
    Pool { day, exam: Exam { needed: at_least(rules.overall, asked), parts }, areas }
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
        to: kept.ended.unwrap_or(Instant(kept.at.0 + 4 * 3_600_000)),
        day: kept.at.study_day(kept.ship),
        ended: kept.ended.is_some(),
        leads: blueprint.length.leads(),
        marks: marks.collect(),
    }
}

impl History {
    /// Before any answer: evidence will be read for an oral by `blueprint` from the shelf's cards, and of these sittings.
    pub fn of(blueprint: &Blueprint, shelf: &Shelf, sittings: &[KeptSitting]) -> Self {
        let numbers = functions(blueprint);
        let of_oral = shelf.cards().map(|(_, card)| card).filter(|card| blueprint.weight_of(&card.topic) > 0.0);
        let functions = of_oral.filter_map(|card| {
            let number = numbers.iter().position(|key| *key == function_of(&card.topic))?;
            Some((card.key.clone(), number))
        });
        let sittings = sittings.iter().map(as_evidence).collect();
        Self { learning: readiness::History::of(functions.collect(), numbers.len(), sittings), ..Self::default() }
    }

    /// The same, with the trend of each competence over the eight weeks up to `today`.
    pub fn with_trends(mut self, shelf: &Shelf, today: StudyDay) -> Self {
        // Answers about a sequence's runs count for its topic, as in the table.
        let keys = shelf
            .cards()
            .flat_map(|(_, card)| card.answer_keys().map(move |key| (key, (card.topic.clone(), card.weight))));
        self.topics = keys.collect();
        self.weeks = (0..WEEKS as i32).map(|week| StudyDay(today.0 - 7 * week)).collect();
        self.by_week = vec![(0, 0.0); WEEKS];
        self
    }

    /// Notes what is recalled at the end of each week before `day`.
    fn pass_weeks(&mut self, day: StudyDay, model: &Model) {
        while self.weeks.last().is_some_and(|end| *end < day) {
            let Some(end) = self.weeks.pop() else { break };
            let mut sums: HashMap<&str, (f64, f64)> = HashMap::new();
            for (key, memory) in self.learning.memory() {
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
        self.learning.take_in(attempt, model);
    }

    /// How recall was predicted in watches, and in orals.
    fn fits(&self) -> [Option<Calibration>; 2] {
        self.learning.seen().map(Calibration::of)
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

    /// What is believed of the learner on a day.
    pub fn belief(&self, day: StudyDay) -> Belief {
        Belief::of(self.learning.evidence(), day)
    }

    /// How much of the oral has been answered.
    pub fn coverage(&self) -> Coverage {
        self.learning.coverage()
    }

    /// The chance in a pool on its day, as it may be said.
    pub fn chance(&self, pool: &Pool) -> Chance {
        match self.coverage().needs(&pool.exam) {
            Some(needs) => Chance::NotYet(needs),
            None => self.coverage().say(&pool.exam, chance_range(&pool.exam, &self.belief(pool.day))),
        }
    }
}

/// Works the chance out; on its day as well, where there is one.
pub fn work_out(today: &Pool, on_day: Option<&Pool>, mut history: History, model: &Model) -> Outlook {
    // What is left of the weeks up to today passes without an answer.
    history.pass_weeks(StudyDay(i32::MAX), model);
    let later = on_day.unwrap_or(today);
    let (now, then) = (history.chance(today), on_day.map(|pool| history.chance(pool)));
    let costs = match then.unwrap_or(now) {
        Chance::Said(_) => area_costs(&later.exam, &history.belief(later.day), later.areas.len(), MENDED),
        Chance::NotYet(_) => Vec::new(),
    };
    let items = today.exam.parts.iter().flat_map(|part| &part.pool);
    let (unseen, all) = items.fold((0, 0), |(unseen, all), item| (unseen + usize::from(item.unseen), all + 1));
    Outlook {
        today: now,
        on_day: then,
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
    let of = |day: StudyDay| pool(&blueprint, shelf, day, |card| learner.recall(&card.key, day));
    (of(today), on.filter(|day| *day > today).map(of))
}

/// Reads what the answers so far say, on the store's thread.
pub fn read(store: &Store, learner: &Learner, shelf: &Shelf, today: StudyDay) -> Ticket<History> {
    let model = learner.model.clone();
    let history = History::of(&learner.settings.blueprint(), shelf, &learner.sittings).with_trends(shelf, today);
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
    over: usize,
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
            over: learner.sittings.iter().filter(|kept| kept.ended.is_some()).count(),
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
