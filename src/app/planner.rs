//! The plan to the oral, worked out on a thread of its own, with progress and stop.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::thread;

use crate::app::learner::Learner;
use crate::app::outlook::{History, MENDED, Pool, pool, read};
use crate::app::shelf::Shelf;
use crate::domain::day::StudyDay;
use crate::domain::ids::CardKey;
use crate::domain::memory::model::Model;
use crate::domain::memory::plan::{Forecast, Habits, Plan, PlanCard, choose, simple_rule, simulate};
use crate::domain::readiness::{Belief, Range, area_costs, chance_range};
use crate::store::{Store, StoreError, Ticket, Wake};

/// Days on the way at which the chance is looked at.
const LOOKS: usize = 8;
/// What more minutes would bring is told for so many.
pub const MORE_MINUTES: u32 = 10;
/// The seed of the course that is shown.
const SHOWN: u64 = 2_026;

/// What has been worked out.
#[derive(Debug, Clone, PartialEq)]
pub struct Planned {
    /// The plan.
    pub plan: Plan,
    /// Minutes a day.
    pub minutes: u32,
    /// Seconds of each day, from today to the day before the oral.
    pub load: Vec<f64>,
    /// The chance of passing on days up to the oral, if every watch is stood; the first is today.
    pub chance: Vec<(StudyDay, Range)>,
    /// The chance on the day with more minutes, where they would be spent.
    pub more: Option<Range>,
    /// What competences cost on the day in spite of the plan, the dearest first.
    pub costs: Vec<(String, f64)>,
    /// Mean recall on the day, 0 to 1.
    pub recall: f64,
    /// Cards that stay unmet, of all.
    pub unmet: (usize, usize),
    /// So many minutes a day would meet every card, where these do not.
    pub enough: Option<u32>,
}

/// What it is worked out from.
struct Question {
    keys: Vec<CardKey>,
    cards: Vec<PlanCard>,
    /// The oral's questions; recall of each card is filled in from the forecast.
    pool: Pool,
    /// For each part of the pool, for each of its cards, the card's place in `cards`.
    places: Vec<Vec<Option<usize>>>,
    today: StudyDay,
    exam: StudyDay,
    left_today: f64,
    minutes: u32,
    model: Model,
}

/// When it changes, another plan is worked out.
#[derive(Clone, PartialEq)]
struct Basis {
    model: String,
    today: StudyDay,
    oral: StudyDay,
    minutes: u32,
    cards: usize,
    attempts: u64,
    taken_back: u64,
}

#[derive(Default)]
struct Progress {
    thousandths: AtomicU32,
    stop: AtomicBool,
}

/// The plan, as far as it has come.
#[derive(Default)]
pub struct Planner {
    basis: Option<Basis>,
    tried: Option<u32>,
    reading: Option<(Ticket<History>, Box<Question>)>,
    working: Option<Receiver<Option<Planned>>>,
    progress: Arc<Progress>,
    done: Option<Planned>,
    shown: u32,
    stopped: bool,
}

impl Planner {
    /// The plan; none while it is being worked out, and where it was stopped.
    pub fn done(&self) -> Option<&Planned> {
        self.done.as_ref()
    }

    /// How far it is, 0 to 1; none where nothing is being worked out.
    pub fn progress(&self) -> Option<f64> {
        let runs = self.reading.is_some() || self.working.is_some();
        runs.then(|| f64::from(self.progress.thousandths.load(Ordering::Relaxed)) / 1_000.0)
    }

    /// It was stopped before it was done.
    pub fn is_stopped(&self) -> bool {
        self.stopped
    }

    /// Minutes a day that are tried; none for those of the settings.
    pub fn tried(&self) -> Option<u32> {
        self.tried
    }

    /// Tries other minutes a day.
    pub fn try_minutes(&mut self, minutes: u32) {
        self.tried = Some(minutes);
        if std::mem::take(&mut self.stopped) {
            // What was stopped begins again, though nothing else has changed.
            self.basis = None;
        }
    }

    /// Stops working it out.
    pub fn stop(&mut self) {
        self.progress.stop.store(true, Ordering::Relaxed);
        (self.reading, self.working) = (None, None);
        self.stopped = true;
    }

    /// Has the plan worked out anew where what it rests on has changed.
    pub fn hold(&mut self, learner: &Learner, store: &Store, shelf: &Shelf, today: StudyDay) {
        let Some(oral) = learner.settings.oral.filter(|oral| *oral > today) else {
            if self.basis.is_some() {
                self.stop();
                *self = Self::default();
            }
            return;
        };
        let basis = Basis {
            model: learner.model.stamp(),
            today,
            oral,
            minutes: self.tried.unwrap_or(learner.settings.minutes),
            cards: shelf.cards().count(),
            attempts: learner.memory.values().map(|memory| u64::from(memory.seen)).sum(),
            taken_back: learner.taken_back,
        };
        if self.basis.as_ref() == Some(&basis) {
            return;
        }
        self.progress.stop.store(true, Ordering::Relaxed);
        let question = question(learner, shelf, today, oral, basis.minutes);
        *self = Self {
            basis: Some(basis),
            tried: self.tried,
            reading: Some((read(store, learner, shelf, today), Box::new(question))),
            ..Self::default()
        };
    }

    /// Takes in what has come; true where the screen changes.
    pub fn take_in(&mut self, wake: &Wake) -> Result<bool, StoreError> {
        if let Some(answer) = self.reading.as_ref().and_then(|(ticket, _)| ticket.try_take())
            && let Some((_, question)) = self.reading.take()
        {
            let belief = answer?.belief();
            let (sender, receiver) = channel();
            let (wake, progress) = (wake.clone(), Arc::clone(&self.progress));
            thread::spawn(move || {
                let mut told = 0;
                let mut tell = |share: f64| {
                    let now = (share * 1_000.0) as u32;
                    progress.thousandths.store(now, Ordering::Relaxed);
                    if now >= told + 10 {
                        told = now;
                        wake();
                    }
                    !progress.stop.load(Ordering::Relaxed)
                };
                // Nobody listening any more means that something has changed meanwhile.
                let _ = sender.send(work_out(&question, &belief, &mut tell));
                wake();
            });
            self.working = Some(receiver);
        }
        let come = match self.working.as_ref().map(Receiver::try_recv) {
            Some(Ok(planned)) => {
                (self.working, self.done) = (None, planned);
                true
            }
            Some(Err(TryRecvError::Disconnected)) => {
                self.working = None;
                true
            }
            _ => false,
        };
        let now = self.progress.thousandths.load(Ordering::Relaxed);
        let moved = self.working.is_some() && now / 10 != self.shown / 10;
        self.shown = now;
        Ok(come || moved)
    }

    /// Blocks until it is worked out: for faces without frames.
    pub fn settle(&mut self) -> Result<(), StoreError> {
        if let Some((ticket, question)) = self.reading.take() {
            self.done = work_out(&question, &ticket.wait()?.belief(), &mut |_| true);
        }
        if let Some(working) = self.working.take() {
            self.done = working.recv().ok().flatten();
        }
        Ok(())
    }
}

fn question(learner: &Learner, shelf: &Shelf, today: StudyDay, exam: StudyDay, minutes: u32) -> Question {
    let (keys, cards) = learner.plan_cards(shelf, today);
    let at: std::collections::HashMap<&CardKey, usize> = keys.iter().enumerate().map(|(at, key)| (key, at)).collect();
    let blueprint = learner.settings.blueprint();
    // The pool lists the cards of each function in the shelf's order; it is asked for once to learn their places.
    let order = std::cell::RefCell::new(Vec::new());
    let pool = pool(&blueprint, shelf, |card| {
        order.borrow_mut().push(at.get(&card.key).copied());
        None
    });
    let mut order = order.into_inner().into_iter();
    let places = pool.exam.parts.iter().map(|part| order.by_ref().take(part.pool.len()).collect()).collect();
    let whole = f64::from(minutes) * 60.0;
    let left_today = (whole - learner.spent(today)).max(0.0);
    Question { keys, cards, pool, places, today, exam, left_today, minutes, model: learner.model.clone() }
}

impl Question {
    fn budget(&self) -> (f64, f64) {
        (self.left_today, f64::from(self.minutes) * 60.0)
    }

    /// The chance where each card is recalled so.
    fn exam(&self, recall: &[f64]) -> crate::domain::readiness::Exam {
        let mut exam = self.pool.exam.clone();
        for (part, places) in exam.parts.iter_mut().zip(&self.places) {
            for (item, place) in part.pool.iter_mut().zip(places) {
                let recall = place.map_or(0.0, |at| recall[at]);
                // A card that has not been met by then counts as what is known of first answers.
                (item.recall, item.unseen) = (recall, recall <= 0.0);
            }
        }
        exam
    }

    fn course(&self, plan: &Plan, budget: (f64, f64)) -> Forecast {
        let habits = Habits::default();
        simulate(plan, &self.cards, self.today, budget, &self.model, &self.model, &habits, (SHOWN, LOOKS))
    }
}

/// Works it out; none where it was stopped.
fn work_out(question: &Question, belief: &Belief, tell: &mut dyn FnMut(f64) -> bool) -> Option<Planned> {
    debug_assert_eq!(question.keys.len(), question.cards.len());
    let habits = Habits::default();
    let (left, budget) = question.budget();
    let mut search = |share: f64| tell(share * 0.85);
    let chosen =
        choose(&question.cards, question.today, question.exam, (left, budget), &question.model, &habits, &mut search)?;
    let forecast = question.course(&chosen.plan, (left, budget));
    let mut chance = Vec::new();
    let steps = forecast.on_the_way.len() as f64 + 3.0;
    for (n, (day, recall)) in forecast.on_the_way.iter().enumerate() {
        chance.push((*day, chance_range(&question.exam(recall), belief)));
        if !tell(0.85 + 0.15 * (n as f64 + 1.0) / steps) {
            return None;
        }
    }
    let exam = question.exam(&forecast.recall);
    chance.push((question.exam, chance_range(&exam, belief)));
    let costs = area_costs(&exam, belief, question.pool.areas.len(), MENDED)
        .into_iter()
        .map(|cost| (question.pool.areas[cost.area].clone(), cost.cost))
        .collect();
    let more = f64::from(MORE_MINUTES) * 60.0;
    let with_more = simple_rule(&question.cards, question.today, question.exam, budget + more);
    let with_more = [chosen.plan, Plan { exam: question.exam, ..with_more }]
        .iter()
        .map(|plan| question.course(plan, (left + more, budget + more)))
        .max_by(|a, b| a.mean(&question.cards, false).total_cmp(&b.mean(&question.cards, false)));
    let spent: f64 = forecast.seconds.iter().sum();
    let more = with_more
        .filter(|with_more| with_more.seconds.iter().sum::<f64>() > spent + 60.0)
        .map(|with_more| chance_range(&question.exam(&with_more.recall), belief));
    tell(1.0);
    Some(Planned {
        plan: chosen.plan,
        minutes: question.minutes,
        load: forecast.seconds.clone(),
        chance,
        more,
        costs,
        recall: forecast.mean(&question.cards, false),
        unmet: (forecast.unmet, question.cards.len()),
        enough: (forecast.unmet > 0).then(|| enough(question)).flatten(),
    })
}

/// The least minutes a day, in steps of five up to four hours, with which every card is met.
fn enough(question: &Question) -> Option<u32> {
    (question.minutes / 5 + 1..=48).map(|fives| fives * 5).find(|minutes| {
        let budget = f64::from(*minutes) * 60.0;
        let plan = simple_rule(&question.cards, question.today, question.exam, budget);
        question.course(&plan, (budget, budget)).unmet == 0
    })
}
