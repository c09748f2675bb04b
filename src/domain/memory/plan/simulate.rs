//! A learner who keeps to a plan, day by day to the oral, by the memory model and chance.

use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

use super::policy::todays;
use super::{Plan, PlanCard, Trace};
use crate::domain::day::StudyDay;
use crate::domain::memory::model::Model;
use crate::domain::outcome::Outcome;

/// How a learner answers, given whether they recall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Habits {
    /// Missed, prompted, answered, fluent at the first meeting.
    pub first: [f64; 4],
    /// Prompted, answered, fluent, of what is recalled.
    pub recalled: [f64; 3],
    /// Answered when asked again on the day that it was missed.
    pub again: f64,
    /// Time for each outcome, as a multiple of the card's seconds: at the first meeting, later, and when asked again on
    /// the day that it was missed.
    pub time: [[f64; 4]; 3],
}

/// How one learner answers one card, where that is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ability {
    /// The chance that it is answered well when it is first asked, 0 to 1.
    pub first: f64,
    /// By how much recall lies off the memory model's forecast, on the logit scale.
    pub shift: f64,
}

/// How often a missed card is asked again on its day.
const TRIES: usize = 3;

impl Default for Habits {
    /// The default values of the simulator of the `fsrs` crate, version 6.6.2: measured there over many learners. Times
    /// are its costs for each outcome in 14 s, about their mean.
    fn default() -> Self {
        Self {
            first: [0.24, 0.094, 0.495, 0.171],
            recalled: [0.224, 0.631, 0.145],
            again: 0.78,
            time: [[1.40, 1.34, 0.98, 0.77], [1.38, 1.26, 0.88, 0.64], [1.17, 1.09, 0.88, 0.57]],
        }
    }
}

/// What comes of a plan.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Forecast {
    /// Seconds of each day, from today to the day before the oral.
    pub seconds: Vec<f64>,
    /// For each card, recall on the day of the oral, 0 to 1; 0 for a card that was not met.
    pub recall: Vec<f64>,
    /// Cards that were not met.
    pub unmet: usize,
    /// Some of the days on the way.
    pub on_the_way: Vec<Look>,
}

/// What is found on one day of a plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Look {
    /// The day.
    pub day: StudyDay,
    /// For each card, recall if the oral were then, 0 to 1.
    pub recall: Vec<f64>,
}

impl Forecast {
    /// Mean recall on the day of the oral, each card weighted by its importance where `weighted`.
    pub fn mean(&self, cards: &[PlanCard], weighted: bool) -> f64 {
        let weight = |card: &PlanCard| if weighted { f64::from(card.weight.max(1)) } else { 1.0 };
        let all: f64 = cards.iter().map(weight).sum();
        let sum: f64 = self.recall.iter().zip(cards).map(|(recall, card)| recall * weight(card)).sum();
        if all > 0.0 { sum / all } else { 0.0 }
    }
}

/// Plays a plan from `today` to the day before the oral, `budget` seconds a day (`left_today` of it today). `truth` is
/// how the learner's memory really works, `model` what the program believes; `looks` days on the way are noted.
#[expect(clippy::too_many_arguments, reason = "an experiment has this many conditions")]
pub fn simulate(
    plan: &Plan,
    cards: &[PlanCard],
    today: StudyDay,
    (left_today, budget): (f64, f64),
    model: &Model,
    truth: &Model,
    habits: &Habits,
    (seed, looks): (u64, usize),
) -> Forecast {
    let policy = |cards: &[PlanCard], day: StudyDay, left: f64| -> Vec<usize> {
        todays(plan, cards, day, left, model).into_iter().map(|pick| pick.card).collect()
    };
    play(cards, today, plan.exam, (left_today, budget), truth, habits, (seed, looks), policy)
}

/// Plays a plan for a learner of whom it is known how they answer each card: `abilities` are in the order of the cards.
/// What comes of it is the memory model's forecast of recall, without their shift.
#[expect(clippy::too_many_arguments, reason = "an experiment has this many conditions")]
pub fn simulate_as(
    abilities: &[Ability],
    plan: &Plan,
    cards: &[PlanCard],
    today: StudyDay,
    (left_today, budget): (f64, f64),
    model: &Model,
    habits: &Habits,
    (seed, looks): (u64, usize),
) -> Forecast {
    let policy = |cards: &[PlanCard], day: StudyDay, left: f64| -> Vec<usize> {
        todays(plan, cards, day, left, model).into_iter().map(|pick| pick.card).collect()
    };
    let rng = StdRng::seed_from_u64(seed);
    let learner = Learner { cards: cards.to_vec(), truth: model, habits, abilities, rng };
    played(learner, today, plan.exam, (left_today, budget), looks, policy)
}

/// Plays any policy: given cards, day and seconds left, the cards of the day in order.
#[expect(clippy::too_many_arguments, reason = "an experiment has this many conditions")]
pub fn play(
    cards: &[PlanCard],
    today: StudyDay,
    exam: StudyDay,
    (left_today, budget): (f64, f64),
    truth: &Model,
    habits: &Habits,
    (seed, looks): (u64, usize),
    policy: impl Fn(&[PlanCard], StudyDay, f64) -> Vec<usize>,
) -> Forecast {
    let rng = StdRng::seed_from_u64(seed);
    let learner = Learner { cards: cards.to_vec(), truth, habits, abilities: &[], rng };
    played(learner, today, exam, (left_today, budget), looks, policy)
}

fn played(
    mut learner: Learner<'_>,
    today: StudyDay,
    exam: StudyDay,
    (left_today, budget): (f64, f64),
    looks: usize,
    policy: impl Fn(&[PlanCard], StudyDay, f64) -> Vec<usize>,
) -> Forecast {
    let days = exam.days_since(today);
    let mut forecast = Forecast::default();
    for n in 0..days {
        let day = today.plus(n);
        if (0..looks).any(|look| look as u32 * days / looks as u32 == n) {
            forecast.on_the_way.push(Look { day, recall: learner.recall(day) });
        }
        let whole = if n == 0 { left_today } else { budget };
        let mut spent = 0.0;
        for at in policy(&learner.cards, day, whole) {
            // A day may run over by its last card.
            if spent >= whole {
                break;
            }
            spent += learner.ask(at, day);
        }
        forecast.seconds.push(spent);
    }
    forecast.recall = learner.recall(exam);
    forecast.unmet = learner.cards.iter().filter(|card| card.trace.is_none()).count();
    forecast
}

/// A chance shifted on the logit scale, away from certainty.
fn shifted(chance: f64, by: f64) -> f64 {
    let chance = chance.clamp(0.001, 0.999);
    let odds = chance / (1.0 - chance) * by.exp();
    odds / (1.0 + odds)
}

struct Learner<'a> {
    cards: Vec<PlanCard>,
    truth: &'a Model,
    habits: &'a Habits,
    /// Of each card, or empty where nothing is known.
    abilities: &'a [Ability],
    rng: StdRng,
}

impl Learner<'_> {
    fn recall(&self, on: StudyDay) -> Vec<f64> {
        let of = |trace: &Trace| self.truth.recall_after(trace.stability, on.days_since(trace.last_day));
        self.cards.iter().map(|card| card.trace.as_ref().map_or(0.0, of)).collect()
    }

    /// Asks a card until it is answered, at most so often; gives the seconds.
    fn ask(&mut self, at: usize, day: StudyDay) -> f64 {
        let card = self.cards[at];
        let mut outcome = match card.trace {
            None => match self.abilities.get(at) {
                None => self.drawn(self.habits.first.as_slice(), 0),
                Some(ability) if self.rng.random_bool(ability.first.clamp(0.0, 1.0)) => {
                    self.drawn(&self.habits.first[1..], 1)
                }
                Some(_) => Outcome::Missed,
            },
            Some(trace) => {
                let recall = self.truth.recall_after(trace.stability, day.days_since(trace.last_day));
                let recall = self.abilities.get(at).map_or(recall, |ability| shifted(recall, ability.shift));
                if self.rng.random_bool(recall.clamp(0.0, 1.0)) {
                    self.drawn(self.habits.recalled.as_slice(), 1)
                } else {
                    Outcome::Missed
                }
            }
        };
        let mut state = card.trace.map(|t| (t.stability, t.difficulty));
        let mut elapsed = card.trace.map_or(0, |t| day.days_since(t.last_day));
        let mut seconds = 0.0;
        let mut time = self.habits.time[usize::from(card.trace.is_some())];
        for _ in 0..=TRIES {
            state = Some(self.truth.stepped(state, outcome, elapsed));
            seconds += card.seconds * time[outcome.number() as usize - 1];
            time = self.habits.time[2];
            elapsed = 0;
            if outcome != Outcome::Missed {
                break;
            }
            outcome = if self.rng.random_bool(self.habits.again) { Outcome::Answered } else { Outcome::Missed };
        }
        if let Some((stability, difficulty)) = state {
            let new = card.trace.is_none_or(|t| t.new && t.last_day == day);
            // What is still missed at the end of its tries rests until the next day.
            self.cards[at].trace = Some(Trace { stability, difficulty, last_day: day, missed: false, new });
        }
        seconds
    }

    /// An outcome by lot; `from` is the number of the first.
    fn drawn(&mut self, chances: &[f64], from: usize) -> Outcome {
        let mut at = self.rng.random_range(0.0..chances.iter().sum::<f64>().max(f64::MIN_POSITIVE));
        for (n, chance) in chances.iter().enumerate() {
            if at < *chance {
                return Outcome::ALL[from + n];
            }
            at -= chance;
        }
        Outcome::Answered
    }
}
