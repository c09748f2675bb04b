//! What one day's watch is made of under a plan.

use super::{Plan, PlanCard, Trace, WindowOrder};
use crate::domain::day::StudyDay;
use crate::domain::memory::model::Model;
use crate::domain::memory::order::Reason;
use crate::domain::outcome::Outcome;

/// A card of the day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pick {
    /// Which card, by position.
    pub card: usize,
    /// Why.
    pub reason: Reason,
}

/// The cards of a day, in the order in which they are asked, within `budget` seconds (what is left of the day's). The
/// last may run over by itself where it is the first.
pub fn todays(plan: &Plan, cards: &[PlanCard], today: StudyDay, budget: f64, model: &Model) -> Vec<Pick> {
    let day = Day { plan, cards, today, model };
    let mut picks = Picks { cards, left: budget, taken: vec![false; cards.len()], picks: Vec::new() };
    day.slipped(&mut picks);
    day.unseen(&mut picks);
    if day.in_window() {
        if plan.window == WindowOrder::DurableFirst {
            day.pass(&mut picks);
        }
        day.gain(&mut picks);
    } else {
        day.due(&mut picks);
    }
    picks.picks
}

/// What has been picked so far.
struct Picks<'a> {
    cards: &'a [PlanCard],
    left: f64,
    taken: Vec<bool>,
    picks: Vec<Pick>,
}

impl Picks<'_> {
    /// Takes a card in; false where it does not fit any more.
    fn take(&mut self, card: usize, reason: Reason) -> bool {
        if self.taken[card] {
            return true;
        }
        let seconds = self.cards[card].seconds;
        if self.left <= 0.0 || (seconds > self.left && !self.picks.is_empty()) {
            return false;
        }
        self.taken[card] = true;
        self.left -= seconds;
        self.picks.push(Pick { card, reason });
        true
    }
}

struct Day<'a> {
    plan: &'a Plan,
    cards: &'a [PlanCard],
    today: StudyDay,
    model: &'a Model,
}

impl Day<'_> {
    /// Days left to study, today included.
    fn days_left(&self) -> u32 {
        self.plan.exam.days_since(self.today).max(1)
    }

    fn in_window(&self) -> bool {
        self.days_left() <= self.plan.window_days
    }

    /// The first day of the window.
    fn window_from(&self) -> StudyDay {
        StudyDay(self.plan.exam.0 - i32::try_from(self.plan.window_days).unwrap_or(i32::MAX))
    }

    /// Cards with what is known of them, without those that have had their turn today.
    fn open(&self) -> impl Iterator<Item = (usize, &PlanCard, Trace)> {
        self.cards
            .iter()
            .enumerate()
            .filter_map(|(at, card)| Some((at, card, card.trace?)))
            .filter(|(_, _, trace)| trace.last_day < self.today || trace.missed)
    }

    /// Missed today already, or missed last time: those come first.
    fn slipped(&self, picks: &mut Picks<'_>) {
        let mut slipped: Vec<(f64, usize)> = self
            .open()
            .filter(|(_, _, trace)| trace.missed)
            .map(|(at, _, trace)| (self.recall(&trace, self.today), at))
            .collect();
        slipped.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        for (_, at) in slipped {
            picks.take(at, Reason::Slipped);
        }
    }

    /// The day's share of the unseen cards, so that all are met by the plan's day; after it, all of them.
    fn unseen(&self, picks: &mut Picks<'_>) {
        let mut unseen: Vec<(u32, usize)> =
            self.cards.iter().enumerate().filter(|(_, c)| c.trace.is_none()).map(|(at, c)| (c.rank, at)).collect();
        unseen.sort_unstable();
        let met_today = self.cards.iter().filter_map(|c| c.trace).filter(|t| t.new && t.last_day == self.today).count();
        let days = self.plan.introduce_by.days_since(self.today) as usize + 1;
        let share = (unseen.len() + met_today).div_ceil(days).saturating_sub(met_today);
        for (_, at) in unseen.into_iter().take(share) {
            if !picks.take(at, Reason::Unseen) {
                break;
            }
        }
    }

    /// What has fallen to the target, the least recalled first, weighted by importance.
    fn due(&self, picks: &mut Picks<'_>) {
        let mut due: Vec<(f64, usize)> = self
            .open()
            .filter(|(_, _, t)| self.today.days_since(t.last_day) >= self.model.interval_days(t.stability))
            .map(|(at, card, trace)| ((1.0 - self.recall(&trace, self.today)) * f64::from(card.weight), at))
            .collect();
        due.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        for (_, at) in due {
            picks.take(at, Reason::Due);
        }
    }

    /// The window's pass: every card once, spread evenly by time; what will be recalled best on the day comes first, so
    /// that what is fragile falls nearest to it.
    fn pass(&self, picks: &mut Picks<'_>) {
        let from = self.window_from();
        let done: f64 = self
            .cards
            .iter()
            .filter(|c| c.trace.is_some_and(|t| t.last_day == self.today && t.last_day >= from))
            .map(|c| c.seconds)
            .sum();
        let mut waiting: Vec<(f64, usize)> = self
            .open()
            .filter(|(at, _, trace)| trace.last_day < from && !picks.taken[*at])
            .map(|(at, _, trace)| (self.if_answered(&trace), at))
            .collect();
        waiting.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        let all: f64 = waiting.iter().map(|(_, at)| self.cards[*at].seconds).sum();
        let mut share = (all + done) / f64::from(self.days_left()) - done;
        for (_, at) in waiting {
            if share <= 0.0 || !picks.take(at, Reason::Due) {
                break;
            }
            share -= self.cards[at].seconds;
        }
    }

    /// The rest of the time, where it gains most in a second.
    fn gain(&self, picks: &mut Picks<'_>) {
        let mut gains: Vec<(f64, usize)> = self
            .open()
            .filter(|(at, _, _)| !picks.taken[*at])
            .map(|(at, card, trace)| (self.gain_of(&trace) * f64::from(card.weight) / card.seconds.max(1.0), at))
            .filter(|(gain, _)| *gain > 0.0)
            .collect();
        gains.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        for (_, at) in gains {
            if !picks.take(at, Reason::Due) {
                break;
            }
        }
    }

    fn recall(&self, trace: &Trace, on: StudyDay) -> f64 {
        self.model.recall_after(trace.stability, on.days_since(trace.last_day))
    }

    /// Recall on the day of the oral, if it is answered today.
    fn if_answered(&self, trace: &Trace) -> f64 {
        let (stability, _) = self.after(trace, Outcome::Answered);
        self.model.recall_after(stability, self.plan.exam.days_since(self.today))
    }

    fn after(&self, trace: &Trace, outcome: Outcome) -> (f32, f32) {
        let elapsed = self.today.days_since(trace.last_day);
        self.model.stepped(Some((trace.stability, trace.difficulty)), outcome, elapsed)
    }

    /// By how much recall on the day of the oral is expected to rise, if it is asked today.
    fn gain_of(&self, trace: &Trace) -> f64 {
        let days = self.plan.exam.days_since(self.today);
        let now = self.recall(trace, self.today);
        let (missed, difficulty) = self.after(trace, Outcome::Missed);
        // A miss is learnt again on the same day.
        let (again, _) = self.model.stepped(Some((missed, difficulty)), Outcome::Answered, 0);
        let asked = now * self.if_answered(trace) + (1.0 - now) * self.model.recall_after(again, days);
        asked - self.recall(trace, self.plan.exam)
    }
}
