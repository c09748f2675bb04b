//! The plan to the oral.

use crate::app::jobs::plan::PlanJob;
use crate::app::profile::learner::Learner;
use crate::app::profile::shelf::Shelf;
use crate::deck::competences;
use crate::domain::day::{Instant, StudyDay};
use crate::domain::memory::plan::WindowOrder;
use crate::domain::readiness::{Chance, ChanceOnDay, MORE_MINUTES, Planned, Range};
use crate::present::competence::{CostRow, needs_words, range_words};
use crate::present::plan::{ChancePoint, PlanState, PlanView, ReadyPlan, Tick};
use crate::present::{TitleBlock, words};

/// So many of the dearest competences are named.
const COSTS: usize = 2;

/// The plan's page.
pub fn view(learner: &Learner, shelf: &Shelf, plan: &PlanJob, now: Instant) -> PlanView {
    let settings = &learner.settings;
    let today = learner.day(now);
    let planned = plan.done();
    let state = match (settings.oral, planned) {
        (Some(oral), _) if oral < today => PlanState::Over(words::full_date(oral)),
        (Some(oral), _) if oral == today => PlanState::Upkeep {
            sentence: "The oral is today. What is kept fresh now will not change it much: rest, eat, and be early."
                .to_owned(),
            results: Vec::new(),
        },
        (None, _) => PlanState::Upkeep { sentence: upkeep(learner), results: results(learner) },
        (Some(oral), Some(planned)) => PlanState::Ready(Box::new(ready(learner, planned, today, oral))),
        (Some(_), None) if plan.is_stopped() || plan.fault().is_some() => PlanState::Stopped,
        (Some(_), None) => PlanState::Working(plan.progress().unwrap_or(0.0)),
    };
    let kept = settings.plan.filter(|kept| settings.oral == Some(kept.plan.exam));
    let seen = learner.memory.keys().filter(|key| shelf.card(key).is_some()).count();
    let attempts: u32 = learner.memory.values().map(|memory| memory.seen).sum();
    PlanView {
        state,
        today,
        oral: settings.oral,
        minutes: plan.tried().unwrap_or(settings.minutes),
        recall_target: settings.recall_target,
        block: TitleBlock::of([
            [
                "For",
                words::named(&settings.learner),
                "Plan",
                &kept.map_or_else(|| "rule".to_owned(), |k| k.number.to_string()),
            ],
            [
                "Certificate",
                &format!("{}, {}", settings.certificate.title(), settings.certificate.regulation()),
                "Drawn",
                &kept.map_or_else(|| "–".to_owned(), |k| day_and_month(k.drawn)),
            ],
            [
                "Made from",
                &format!(
                    "{}, {}, {}",
                    words::count(learner.sittings.len(), "sitting"),
                    words::count(attempts as usize, "attempt"),
                    words::count(seen, "card")
                ),
                "Target",
                &format!("{:.0} %", settings.recall_target * 100.0),
            ],
        ]),
    }
}

fn upkeep(learner: &Learner) -> String {
    format!(
        "Without a date the plan is steady upkeep: a card comes back when its recall falls to {:.0} %, and cards not yet \
         asked fill the minutes that are left. Set the day of the oral, and the plan peaks on it.",
        learner.settings.recall_target * 100.0
    )
}

fn results(learner: &Learner) -> Vec<String> {
    let word = |passed: bool| if passed { "passed" } else { "not passed" };
    learner
        .settings
        .results
        .iter()
        .map(|result| format!("{}: {}", words::full_date(result.day), word(result.passed)))
        .collect()
}

/// `11 March`.
fn short_day(day: StudyDay) -> String {
    words::day(day).split_once(' ').map_or_else(String::new, |(_, date)| date.to_owned())
}

fn ready(learner: &Learner, planned: &Planned, today: StudyDay, oral: StudyDay) -> ReadyPlan {
    let days = oral.days_since(today);
    let range = |chance: Chance| chance.range().map(|range| range_words(range.low, range.high));
    let title = |key: &String| competences().get(key).map_or_else(|| key.clone(), |c| c.title.clone());
    let plan = &planned.plan;
    let kept =
        learner.settings.plan.is_some_and(|kept| kept.plan == *plan) && learner.settings.minutes == planned.minutes;
    let step = (days / 6).max(1);
    let target = format!("{:.0} %", learner.settings.recall_target * 100.0);
    let comes_back = if plan.window_days == 0 {
        format!("A card comes back when its recall falls to {target}.")
    } else {
        let order = match plan.window {
            WindowOrder::DurableFirst => "what lasts longest first",
            WindowOrder::GainFirst => "what gains most first",
        };
        let last = words::count(plan.window_days as usize, "day");
        format!(
            "Before the last {last} a card comes back when its recall falls to {target}; in the last {last} every card \
             comes once more, {order}."
        )
    };
    ReadyPlan {
        days,
        oral: format!("oral, {}", short_day(oral)),
        chance: planned
            .course
            .iter()
            .map(|on| {
                let ChanceOnDay { day, range: Range { low, middle, high } } = *on;
                ChancePoint { in_days: day.days_since(today), low, middle, high }
            })
            .collect(),
        range: range(planned.on_day),
        when: match planned.on_day {
            Chance::Said(_) => format!("on {}, if you do every watch", short_day(oral)),
            Chance::NotYet(needs) => needs_words(&needs),
        },
        today: range(planned.today).map(|range| format!("if you sat it today, {range}")),
        load: planned.load.iter().map(|seconds| seconds / 60.0).collect(),
        given: planned.minutes,
        ticks: {
            let tick = |in_days| Tick { in_days, name: day_and_month(today.plus(in_days)) };
            (0..days).step_by(step as usize).map(tick).collect()
        },
        costs: planned
            .costs
            .iter()
            .filter(|of| of.cost >= 0.005)
            .take(COSTS)
            .map(|of| CostRow { area: title(&of.competence), cost: format!("−{:.0}", of.cost * 100.0) })
            .collect(),
        more: match (&planned.more, planned.can_use_more) {
            (Some(more), _) => format!(
                "{} minutes would make it {}.",
                planned.minutes + MORE_MINUTES,
                range_words(more.low, more.high)
            ),
            (None, true) => format!("{} minutes would be used, too.", planned.minutes + MORE_MINUTES),
            (None, false) => format!("{MORE_MINUTES} minutes more would bring nothing: every card has its time."),
        },
        short: (planned.unmet > 0).then(|| short(planned)),
        made: {
            let fades = match planned.on_day {
                Chance::Said(_) => " A mock oral counts less as days pass: a new one narrows the band.",
                Chance::NotYet(_) => "",
            };
            match planned.unmet {
                0 => format!("You will have seen every card by {}. {comes_back}{fades}", short_day(plan.introduce_by)),
                _ => comes_back + fades,
            }
        },
        kept,
    }
}

/// `3 Apr`.
fn day_and_month(day: StudyDay) -> String {
    let whole = short_day(day);
    match whole.split_once(' ') {
        Some((number, month)) => format!("{number} {}", month.chars().take(3).collect::<String>()),
        None => whole,
    }
}

fn short(planned: &Planned) -> String {
    let (unmet, all) = (planned.unmet, planned.cards);
    let enough = match planned.enough {
        Some(minutes) => format!("About {minutes} minutes a day would be enough for all."),
        None => "No day has enough hours for all of them.".to_owned(),
    };
    format!("Time is short: {unmet} of {all} cards will not be asked before the oral, those that weigh least. {enough}")
}
