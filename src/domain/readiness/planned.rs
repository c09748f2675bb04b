//! The plan to the oral with what it promises: the load of each day, and the chance of passing on the way and at its end.
//!
//! The plan is chosen by simulation; what it promises is worked out by having it played by each learner that is held
//! possible, since how well it works depends on the learner.

use std::collections::HashMap;

use super::belief::Belief;
use super::enough::{Chance, Range};
use super::exam::Exam;
use super::history::History;
use super::outlook::{CompetenceCost, competence_costs};
use super::pool::Pool;
use super::range::{Possible, range_of};
use crate::domain::day::StudyDay;
use crate::domain::ids::CardKey;
use crate::domain::memory::model::Model;
use crate::domain::memory::plan::{Ability, Forecast, Habits, Look, Plan, PlanCard, choose, simple_rule, simulate_as};

/// Days on the way at which the chance is looked at.
const LOOKS: usize = 8;
/// The plan is played by so many learners that are held possible.
const LEARNERS: usize = 24;
/// What more minutes would bring is told for so many.
pub const MORE_MINUTES: u32 = 10;
/// The seed of the course that is shown.
const SHOWN: u64 = 2_026;

/// The chance of passing on a day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ChanceOnDay {
    /// The day.
    pub day: StudyDay,
    /// The chance.
    pub range: Range,
}

/// A plan with what it promises.
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
    pub course: Vec<ChanceOnDay>,
    /// More minutes would be spent.
    pub can_use_more: bool,
    /// The chance on the day with more minutes, where they would be spent and one may be said.
    pub more: Option<Range>,
    /// What competences cost on the day in spite of the plan, the dearest first; empty while no chance may be said.
    pub costs: Vec<CompetenceCost>,
    /// Mean recall on the day, 0 to 1.
    pub recall: f64,
    /// Cards that stay unmet.
    pub unmet: usize,
    /// Cards that the plan is for.
    pub cards: usize,
    /// So many minutes a day would meet every card, where these do not.
    pub enough: Option<u32>,
}

/// Seconds of study: what is left of today, and each day after it.
#[derive(Debug, Clone, Copy)]
struct Budget {
    today: f64,
    a_day: f64,
}

impl Budget {
    fn plus(self, seconds: f64) -> Self {
        Self { today: self.today + seconds, a_day: self.a_day + seconds }
    }
}

/// What a plan is worked out from.
pub struct PlanQuestion {
    cards: Vec<PlanCard>,
    /// The oral's questions; recall of each card is filled in from a forecast.
    pool: Pool,
    /// For each part of the pool, for each of its cards, the card's place in `cards`.
    places: Vec<Vec<Option<usize>>>,
    today: StudyDay,
    minutes: u32,
    budget: Budget,
    model: Model,
}

impl PlanQuestion {
    /// A plan from `today` to the day of `pool` is asked for, over `cards` of these keys, with `minutes` a day of which
    /// `spent` seconds of today are gone.
    pub fn of(
        (keys, cards): (Vec<CardKey>, Vec<PlanCard>),
        pool: Pool,
        today: StudyDay,
        minutes: u32,
        spent: f64,
        model: Model,
    ) -> Self {
        debug_assert_eq!(keys.len(), cards.len());
        let at: HashMap<&CardKey, usize> = keys.iter().enumerate().map(|(at, key)| (key, at)).collect();
        let places = pool.keys.iter().map(|part| part.iter().map(|key| at.get(key).copied()).collect()).collect();
        let whole = f64::from(minutes) * 60.0;
        let budget = Budget { today: (whole - spent).max(0.0), a_day: whole };
        Self { cards, pool, places, today, minutes, budget, model }
    }

    /// The oral where each card is recalled so.
    fn exam(&self, recall: &[f64]) -> Exam {
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

    /// What comes of a plan for a learner who answers as `learner` does.
    fn course(&self, plan: &Plan, budget: Budget, learner: &Possible) -> Forecast {
        let mut functions = vec![0; self.cards.len()];
        for (part, places) in self.pool.exam.parts.iter().zip(&self.places) {
            places.iter().flatten().for_each(|at| functions[*at] = part.function);
        }
        let abilities: Vec<Ability> = functions.into_iter().map(|function| learner.in_watch(function)).collect();
        let seconds = (budget.today, budget.a_day);
        let habits = Habits::default();
        simulate_as(&abilities, plan, &self.cards, self.today, seconds, &self.model, &habits, (SHOWN, LOOKS))
    }

    /// The chance on days of a plan, its last on the day of the oral; none where it was stopped.
    fn promise(
        &self,
        plan: &Plan,
        budget: Budget,
        history: &History,
        told: &mut dyn FnMut(f64) -> bool,
    ) -> Option<Vec<ChanceOnDay>> {
        let exam = self.pool.day;
        // What a mock oral says fades with time: on each day the same learners, as they are believed on that day.
        let mut days: Vec<(StudyDay, Vec<Possible>, Vec<f64>)> = Vec::new();
        for (n, learner) in history.belief(exam).possible(LEARNERS).iter().enumerate() {
            let course = self.course(plan, budget, learner);
            let looks = course.on_the_way.into_iter().chain([Look { day: exam, recall: course.recall }]);
            for (at, Look { day, recall }) in looks.enumerate() {
                if days.len() <= at {
                    days.push((day, history.belief(day).possible(LEARNERS), Vec::new()));
                }
                let (_, on_day, chances) = &mut days[at];
                chances.push(on_day.get(n).unwrap_or(learner).chance(&self.exam(&recall)));
            }
            if !told((n + 1) as f64 / LEARNERS as f64) {
                return None;
            }
        }
        Some(days.into_iter().map(|(day, _, chances)| ChanceOnDay { day, range: range_of(&chances) }).collect())
    }

    /// The least minutes a day, in steps of five up to four hours, with which every card is met.
    fn enough(&self, learner: &Possible) -> Option<u32> {
        (self.minutes / 5 + 1..=48).map(|fives| fives * 5).find(|minutes| {
            let a_day = f64::from(*minutes) * 60.0;
            let plan = simple_rule(&self.cards, self.today, self.pool.day, a_day);
            self.course(&plan, Budget { today: a_day, a_day }, learner).unmet == 0
        })
    }

    /// The plan that makes most of [`MORE_MINUTES`], where they would be spent.
    fn with_more(&self, chosen: &Plan, budget: Budget, belief: &Belief, spent: f64) -> Option<Plan> {
        let simple = simple_rule(&self.cards, self.today, self.pool.day, budget.a_day);
        let (plan, course) = [*chosen, Plan { exam: self.pool.day, ..simple }]
            .into_iter()
            .map(|plan| (plan, self.course(&plan, budget, &belief.middle())))
            .max_by(|a, b| a.1.mean(&self.cards, false).total_cmp(&b.1.mean(&self.cards, false)))?;
        (course.seconds.iter().sum::<f64>() > spent + 60.0).then_some(plan)
    }

    /// Works the plan out; `tell` is told how far it is, 0 to 1, and says whether it goes on. None where it was stopped.
    pub fn work_out(&self, history: &History, tell: &mut dyn FnMut(f64) -> bool) -> Option<Planned> {
        let (exam, budget) = (self.pool.day, self.budget);
        let mut search = |share: f64| tell(share * 0.7);
        let seconds = (budget.today, budget.a_day);
        let habits = Habits::default();
        let plan = choose(&self.cards, self.today, exam, seconds, &self.model, &habits, &mut search)?.plan;
        let belief = history.belief(exam);
        let forecast = self.course(&plan, budget, &belief.middle());
        let last = self.exam(&forecast.recall);
        let (course, on_day) = self.on_the_way(&plan, &last, history, &mut |share| tell(0.7 + 0.2 * share))?;
        let today = match forecast.on_the_way.first() {
            Some(look) => history.chance(&self.exam(&look.recall), look.day),
            None => on_day,
        };
        let course = from_today(course, today);
        let more = budget.plus(f64::from(MORE_MINUTES) * 60.0);
        let with_more = self.with_more(&plan, more, &belief, forecast.seconds.iter().sum());
        let promised = match (&with_more, on_day) {
            (Some(plan), Chance::Said(_)) => {
                self.promise(plan, more, history, &mut |share| tell(0.9 + 0.1 * share))?.last().map(|on| on.range)
            }
            _ => None,
        };
        let costs = match on_day {
            Chance::Said(_) => competence_costs(&last, &belief, &self.pool.areas),
            Chance::NotYet(_) => Vec::new(),
        };
        tell(1.0);
        Some(Planned {
            plan,
            minutes: self.minutes,
            on_day,
            today,
            course,
            can_use_more: with_more.is_some(),
            more: promised,
            costs,
            recall: forecast.mean(&self.cards, false),
            unmet: forecast.unmet,
            cards: self.cards.len(),
            enough: (forecast.unmet > 0).then(|| self.enough(&belief.middle())).flatten(),
            load: forecast.seconds,
        })
    }

    /// The chance on days of a plan, with that on its last as it may be said; the days are empty where none may be.
    fn on_the_way(
        &self,
        plan: &Plan,
        last: &Exam,
        history: &History,
        told: &mut dyn FnMut(f64) -> bool,
    ) -> Option<(Vec<ChanceOnDay>, Chance)> {
        let coverage = history.coverage();
        if let Some(needs) = coverage.needs(last) {
            return Some((Vec::new(), Chance::NotYet(needs)));
        }
        let course = self.promise(plan, self.budget, history, told)?;
        let on_day = course.last().map(|on| coverage.say(last, on.range))?;
        // Nothing is drawn on the way to what may not be said.
        Some(if on_day.range().is_none() { (Vec::new(), on_day) } else { (course, on_day) })
    }
}

/// Today's chance needs no course: it is the one that other pages show.
fn from_today(mut course: Vec<ChanceOnDay>, today: Chance) -> Vec<ChanceOnDay> {
    if let (Some(first), Chance::Said(range)) = (course.first_mut(), today) {
        first.range = range;
    }
    course
}
