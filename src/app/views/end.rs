//! The end of a watch.

use crate::app::profile::learner::Learner;
use crate::app::profile::shelf::Shelf;
use crate::app::sheet::{Session, Slipped};
use crate::app::views::{front, kinds};
use crate::domain::day::Instant;
use crate::domain::english;
use crate::domain::outcome::Outcome;
use crate::present::watch::{OutcomeCount, SlippedRow, WatchEndView};
use crate::present::{TitleBlock, words};

/// The end of a watch; `can_take_back` where its last answer can be.
pub fn end(learner: &Learner, shelf: &Shelf, session: &Session, can_take_back: bool, now: Instant) -> WatchEndView {
    let day = learner.day(now);
    let done = session.watch.done();
    let cards = done.len();
    let at_once = done.iter().filter(|d| d.outcomes.first().is_some_and(|o| *o != Outcome::Missed)).count();
    let count = |outcome| done.iter().filter(|d| d.outcomes.first() == Some(&outcome)).count();
    let counts = Outcome::ALL.map(|outcome| OutcomeCount { outcome, count: count(outcome) });
    let slipped = session
        .slips
        .iter()
        .filter_map(|Slipped { card: key, why }| {
            let (_, card) = shelf.card(key)?;
            let due = learner.memory.get(key)?.due;
            Some(SlippedRow {
                key: key.clone(),
                ask: words::plain(&kinds::blank(card)),
                why: why.clone(),
                next: words::in_days(due.days_since(day)),
            })
        })
        .collect::<Vec<_>>();
    let attempts: usize = done.iter().map(|d| d.outcomes.len()).sum();
    let sentence = match (cards, slipped.len()) {
        (0, _) => "No card was answered.".to_owned(),
        (_, 0) => "None was missed.".to_owned(),
        (n, _) => format!(
            "{} of {} known at the first time of asking; {} came back in the watch.",
            english::capital(&words::number(at_once)),
            words::number(n),
            words::number(slipped.len())
        ),
    };
    WatchEndView {
        headline: format!("{} in {}", words::count(cards, "card"), words::duration(session.seconds)),
        sentence,
        counts: counts.to_vec(),
        slipped,
        tomorrow: front::tomorrow(learner, shelf, day),
        can_take_back,
        block: TitleBlock::of([
            ["For", words::named(&learner.settings.learner), "Answers", &attempts.to_string()],
            ["Stood", &words::day(day), "Minutes", &format!("{:.0}", (session.seconds / 60.0).ceil())],
            [
                "Kept",
                "Every accepted answer, on this computer",
                "Target",
                &format!("{} %", (learner.model.target() * 100.0).round()),
            ],
        ]),
    }
}
