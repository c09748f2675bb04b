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
use crate::domain::memory::plan::{Ability, Forecast, Habits, Plan, PlanCard, choose, simple_rule, simulate_as};
use crate::domain::readiness::{Chance, Possible, Range, area_costs, range_of};
use crate::store::{Store, StoreError, Ticket, Wake};

/// Days on the way at which the chance is looked at.
const LOOKS: usize = 8;
/// The plan is played by so many learners that are held possible.
const LEARNERS: usize = 24;
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
    /// The chance of passing on the day of the oral, if every watch is done.
    pub on_day: Chance,
    /// The chance if the oral were today.
    pub today: Chance,
    /// The chance on days up to the oral, if every watch is done; the first is today. Empty while none may be said.
    pub course: Vec<(StudyDay, Range)>,
    /// More minutes would be spent.
    pub can_use_more: bool,
    /// The chance on the day with more minutes, where they would be spent and one may be said.
    pub more: Option<Range>,
    /// What competences cost on the day in spite of the plan, the dearest first; empty while no chance may be said.
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
    orals: usize,
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
            orals: learner.sittings.iter().filter(|kept| kept.ended.is_some()).count(),
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
            let history = answer?;
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
                let _ = sender.send(work_out(&question, &history, &mut tell));
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
            self.done = work_out(&question, &ticket.wait()?, &mut |_| true);
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
    let pool = pool(&blueprint, shelf, exam, |card| {
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

    /// The oral on a day where each card is recalled so.
    fn pool(&self, day: StudyDay, recall: &[f64]) -> Pool {
        let mut pool = Pool { day, ..self.pool.clone() };
        for (part, places) in pool.exam.parts.iter_mut().zip(&self.places) {
            for (item, place) in part.pool.iter_mut().zip(places) {
                let recall = place.map_or(0.0, |at| recall[at]);
                // A card that has not been met by then counts as what is known of first answers.
                (item.recall, item.unseen) = (recall, recall <= 0.0);
            }
        }
        pool
    }

    /// What comes of a plan for a learner who answers as `learner` does.
    fn course(&self, plan: &Plan, budget: (f64, f64), learner: &Possible) -> Forecast {
        let mut functions = vec![0; self.cards.len()];
        for (part, places) in self.pool.exam.parts.iter().zip(&self.places) {
            places.iter().flatten().for_each(|at| functions[*at] = part.function);
        }
        let ability = |function: usize| {
            let (first, shift) = learner.in_watch(function);
            Ability { first, shift }
        };
        let abilities: Vec<Ability> = functions.into_iter().map(ability).collect();
        let habits = Habits::default();
        simulate_as(&abilities, plan, &self.cards, self.today, budget, &self.model, &habits, (SHOWN, LOOKS))
    }
}

/// Works it out; none where it was stopped.
fn work_out(question: &Question, history: &History, tell: &mut dyn FnMut(f64) -> bool) -> Option<Planned> {
    debug_assert_eq!(question.keys.len(), question.cards.len());
    let habits = Habits::default();
    let (left, budget) = question.budget();
    let mut search = |share: f64| tell(share * 0.7);
    let chosen =
        choose(&question.cards, question.today, question.exam, (left, budget), &question.model, &habits, &mut search)?;
    let belief = history.belief(question.exam);
    let forecast = question.course(&chosen.plan, (left, budget), &belief.middle());
    let last = question.pool(question.exam, &forecast.recall);
    // The plan is played by each learner that is held possible: how well it works depends on the learner.
    let promise =
        |plan: &Plan, budget: (f64, f64), told: &mut dyn FnMut(f64) -> bool| -> Option<Vec<(StudyDay, Range)>> {
            // What a mock oral says fades with time: on each day the same learners, as they are believed on that day.
            let mut days: Vec<(StudyDay, Vec<Possible>, Vec<f64>)> = Vec::new();
            for (n, learner) in belief.possible(LEARNERS).iter().enumerate() {
                let course = question.course(plan, budget, learner);
                let looks = course.on_the_way.into_iter().chain([(question.exam, course.recall)]);
                for (at, (day, recall)) in looks.enumerate() {
                    if days.len() <= at {
                        days.push((day, history.belief(day).possible(LEARNERS), Vec::new()));
                    }
                    let (_, on_day, chances) = &mut days[at];
                    chances.push(on_day.get(n).unwrap_or(learner).chance(&question.pool(day, &recall).exam));
                }
                if !told((n + 1) as f64 / LEARNERS as f64) {
                    return None;
                }
            }
            Some(days.into_iter().map(|(day, _, chances)| (day, range_of(&chances))).collect())
        };
    let coverage = history.coverage();
    let mut tell_course = |share: f64| tell(0.7 + 0.2 * share);
    let (mut course, on_day) = match coverage.needs(&last.exam) {
        Some(needs) => (Vec::new(), Chance::NotYet(needs)),
        None => {
            let course = promise(&chosen.plan, (left, budget), &mut tell_course)?;
            let on_day = course.last().map(|(_, range)| coverage.say(&last.exam, *range));
            (course, on_day?)
        }
    };
    if on_day.range().is_none() {
        // Nothing is drawn on the way to what may not be said.
        course.clear();
    }
    let today = match forecast.on_the_way.first() {
        Some((day, recall)) => history.chance(&question.pool(*day, recall)),
        None => on_day,
    };
    if let (Some((_, drawn)), Chance::Said(range)) = (course.first_mut(), today) {
        // Today's needs no course: it is the one that other pages show.
        *drawn = range;
    }
    let costs = match on_day {
        Chance::Said(_) => area_costs(&last.exam, &belief, question.pool.areas.len(), MENDED),
        Chance::NotYet(_) => Vec::new(),
    };
    let costs = costs.into_iter().map(|cost| (question.pool.areas[cost.area].clone(), cost.cost)).collect();
    let more = f64::from(MORE_MINUTES) * 60.0;
    let with_more = simple_rule(&question.cards, question.today, question.exam, budget + more);
    let with_more = [chosen.plan, Plan { exam: question.exam, ..with_more }]
        .iter()
        .map(|plan| (*plan, question.course(plan, (left + more, budget + more), &belief.middle())))
        .max_by(|a, b| a.1.mean(&question.cards, false).total_cmp(&b.1.mean(&question.cards, false)));
    let spent: f64 = forecast.seconds.iter().sum();
    let with_more = with_more.filter(|(_, course)| course.seconds.iter().sum::<f64>() > spent + 60.0);
    let mut tell_more = |share: f64| tell(0.9 + 0.1 * share);
    let more = match (&with_more, on_day) {
        (Some((plan, _)), Chance::Said(_)) => {
            promise(plan, (left + more, budget + more), &mut tell_more)?.last().map(|(_, range)| *range)
        }
        _ => None,
    };
    tell(1.0);
    Some(Planned {
        plan: chosen.plan,
        minutes: question.minutes,
        load: forecast.seconds.clone(),
        on_day,
        today,
        course,
        can_use_more: with_more.is_some(),
        more,
        costs,
        recall: forecast.mean(&question.cards, false),
        unmet: (forecast.unmet, question.cards.len()),
        enough: (forecast.unmet > 0).then(|| enough(question, &belief.middle())).flatten(),
    })
}

/// The least minutes a day, in steps of five up to four hours, with which every card is met.
fn enough(question: &Question, learner: &Possible) -> Option<u32> {
    (question.minutes / 5 + 1..=48).map(|fives| fives * 5).find(|minutes| {
        let budget = f64::from(*minutes) * 60.0;
        let plan = simple_rule(&question.cards, question.today, question.exam, budget);
        question.course(&plan, (budget, budget), learner).unmet == 0
    })
}
