//! Which plan suits this learner: a coarse grid of plans is simulated, and the best is looked at again.

use super::simulate::{Forecast, Habits, simulate};
use super::{Plan, PlanCard, WindowOrder};
use crate::domain::day::StudyDay;
use crate::domain::memory::model::Model;

/// Shares of the days by which all cards are met.
const INTRODUCE: [f64; 3] = [0.25, 0.34, 0.5];
/// Windows, as multiples of the time that one answer to every card takes.
const WINDOWS: [f64; 3] = [1.0, 1.4, 2.0];
/// Lots of the first look at each plan.
const LOTS: u64 = 3;
/// So many of the best are simulated again, with so many other lots; the plain rule is always among them.
const FINALISTS: usize = 5;
const FINAL_LOTS: u64 = 6;
/// The plain rule gives way only to what is better by this much recall: the rest is luck of the lots.
const WORTH_IT: f64 = 0.001;

/// A plan with what comes of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Chosen {
    /// The plan.
    pub plan: Plan,
    /// One course of it.
    pub forecast: Forecast,
    /// Recall on the day over all its courses: the mean of the plain mean and of the one weighted by importance.
    pub recall: f64,
}

/// The plain rule, without simulation: all met by a third of the time, and a window of 1.4 times what
/// one answer to every card takes, four days at least.
pub fn simple_rule(cards: &[PlanCard], today: StudyDay, exam: StudyDay, budget: f64) -> Plan {
    planned(cards, today, exam, budget, 0.34, 1.4, WindowOrder::DurableFirst)
}

/// The best plan that is found for a learner with `budget` seconds a day (`left_today` of it today). `progress` is told
/// how far the search is, 0 to 1, and stops it by `false`: then there is none.
pub fn choose(
    cards: &[PlanCard],
    today: StudyDay,
    exam: StudyDay,
    (left_today, budget): (f64, f64),
    model: &Model,
    habits: &Habits,
    progress: &mut dyn FnMut(f64) -> bool,
) -> Option<Chosen> {
    let mut plans: Vec<Plan> = Vec::new();
    for share in INTRODUCE {
        for window in WINDOWS {
            for order in [WindowOrder::DurableFirst, WindowOrder::GainFirst] {
                let plan = planned(cards, today, exam, budget, share, window, order);
                if !plans.contains(&plan) {
                    plans.push(plan);
                }
            }
        }
    }
    let rule = simple_rule(cards, today, exam, budget);
    let steps = (plans.len() as u64 * LOTS + (FINALISTS as u64 + 1) * FINAL_LOTS) as f64;
    let mut done = 0.0;
    let mut run = |plan: &Plan, seed: u64| -> Option<Forecast> {
        done += 1.0;
        let go_on = progress((done / steps).min(1.0));
        go_on.then(|| simulate(plan, cards, today, (left_today, budget), model, model, habits, (seed, 0)))
    };
    let mut scored = Vec::with_capacity(plans.len());
    for plan in plans.into_iter().filter(|plan| *plan != rule) {
        let mut sum = 0.0;
        for seed in 1..=LOTS {
            sum += worth(&run(&plan, seed)?, cards);
        }
        scored.push((sum, plan));
    }
    scored.sort_by(|a, b| b.0.total_cmp(&a.0));
    let finalists = std::iter::once(rule).chain(scored.into_iter().take(FINALISTS).map(|(_, plan)| plan));
    let mut best: Option<Chosen> = None;
    for plan in finalists {
        let mut sum = 0.0;
        let mut last = None;
        for seed in LOTS + 1..=LOTS + FINAL_LOTS {
            let forecast = run(&plan, seed)?;
            sum += worth(&forecast, cards);
            last = Some(forecast);
        }
        let recall = sum / FINAL_LOTS as f64;
        let to_beat =
            best.as_ref().map_or(f64::NEG_INFINITY, |b| b.recall + if b.plan == rule { WORTH_IT } else { 0.0 });
        if recall > to_beat {
            best = last.map(|forecast| Chosen { plan, forecast, recall });
        }
    }
    progress(1.0);
    best
}

/// Half for every card alike, half by importance: a plan by importance alone leaves the rest to the last.
fn worth(forecast: &Forecast, cards: &[PlanCard]) -> f64 {
    (forecast.mean(cards, false) + forecast.mean(cards, true)) / 2.0
}

fn planned(
    cards: &[PlanCard],
    today: StudyDay,
    exam: StudyDay,
    budget: f64,
    share: f64,
    window: f64,
    order: WindowOrder,
) -> Plan {
    let days = exam.days_since(today);
    let all: f64 = cards.iter().map(|card| card.seconds).sum();
    let pass = (window * all / budget.max(60.0)).ceil().clamp(4.0, f64::from(days.max(4)));
    let introduce = (f64::from(days) * share).round() as u32;
    Plan {
        exam,
        introduce_by: today.plus(introduce.saturating_sub(1)),
        window_days: (pass as u32).min(days),
        window: order,
    }
}
