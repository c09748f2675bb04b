//! A learner as the program knows them while their profile is open: choices, memory, what is set aside. Plain data;
//! the store keeps it.

use std::collections::HashMap;

use crate::app::profile::editions::Editions;
use crate::app::profile::shelf::{Shelf, area_name};
use crate::domain::attempt::{Attempt, SetAside};
use crate::domain::card::Card;
use crate::domain::day::{Instant, StudyDay};
use crate::domain::ids::CardKey;
use crate::domain::kinds::Kind;
use crate::domain::memory::CardMemory;
use crate::domain::memory::model::{Model, Review};
use crate::domain::memory::order::{Candidate, Item, Order, Reason, order, order_changed, ranks};
use crate::domain::memory::pace::Pace;
use crate::domain::memory::plan::{PlanCard, Trace, simple_rule, todays};
use crate::domain::memory::standing::is_aside;
use crate::domain::outcome::Outcome;
use crate::domain::readiness::{CardState, Recall};
use crate::domain::settings::Settings;
use crate::store::{FaultReport, KeptSitting};

/// A learner.
#[derive(Debug, Clone)]
pub struct Learner {
    /// The learner's choices.
    pub settings: Settings,
    /// What is known of each card.
    pub memory: HashMap<CardKey, CardMemory>,
    /// The last set-aside event of each card.
    pub aside: HashMap<CardKey, SetAside>,
    /// Faults reported, oldest first.
    pub faults: Vec<FaultReport>,
    /// The memory model for the learner's recall target.
    pub model: Model,
    /// Sittings of mock orals, in order of time.
    pub sittings: Vec<KeptSitting>,
    /// What was done today.
    pub today: Today,
    /// Editions of decks that were taken in, and the cards that they changed.
    pub editions: Editions,
    /// Answers taken back since the profile was opened: what was worked out of the answers no longer holds when it
    /// goes up.
    pub taken_back: u64,
}

/// What was done on one study day.
#[derive(Debug, Clone, Default)]
pub struct Today {
    /// Which day.
    pub day: Option<StudyDay>,
    /// Attempts, first to last.
    pub attempts: Vec<DoneToday>,
}

/// An attempt of the study day.
#[derive(Debug, Clone, PartialEq)]
pub struct DoneToday {
    /// Which card.
    pub card: CardKey,
    /// What counted.
    pub outcome: Outcome,
    /// The time it took.
    pub seconds: f64,
}

impl DoneToday {
    /// What was done by an attempt.
    pub fn of(attempt: &Attempt) -> Self {
        Self { card: attempt.card.clone(), outcome: attempt.final_outcome(), seconds: attempt.seconds }
    }
}

impl Learner {
    /// The study day of an instant by this learner's ship's time.
    pub fn day(&self, now: Instant) -> StudyDay {
        now.study_day(self.settings.ship)
    }

    /// Measured seconds for each kind of card.
    pub fn pace(&self, shelf: &Shelf) -> Pace {
        let mut pace = Pace::default();
        // In the shelf's order, so that the sums are the same to the last digit every time.
        for (_, card) in shelf.cards() {
            if let Some(memory) = self.memory.get(&card.key) {
                pace.add(card.kind(), memory.seen, memory.seconds_total);
            }
        }
        pace
    }

    /// Seconds that an average card takes, over the kinds on the shelf.
    pub fn seconds_a_card(&self, shelf: &Shelf) -> f64 {
        let pace = self.pace(shelf);
        let mut sum = (0.0, 0.0);
        for (_, card) in shelf.cards() {
            sum = (sum.0 + pace.seconds(card.kind()), sum.1 + 1.0);
        }
        if sum.1 > 0.0 { sum.0 / sum.1 } else { pace.seconds(Kind::USUAL) }
    }

    /// Seconds answered on a study day.
    pub fn spent(&self, day: StudyDay) -> f64 {
        if self.today.day == Some(day) { self.today.attempts.iter().map(|done| done.seconds).sum() } else { 0.0 }
    }

    /// The watch that is left for a study day within `budget` seconds.
    pub fn order(&self, shelf: &Shelf, day: StudyDay, budget: f64) -> Order {
        let table = format!("{}.", self.settings.certificate.table());
        let pace = self.pace(shelf);
        let (changed, candidates): (Vec<Candidate<'_>>, Vec<Candidate<'_>>) =
            self.candidates(shelf, day, &table).partition(|candidate| self.is_changed(candidate.key));
        let first = order_changed(&changed, budget, &pace);
        let left = budget - first.seconds();
        let rest = match self.settings.oral.filter(|exam| *exam > day) {
            _ if left <= 0.0 && !first.items.is_empty() => Order::default(),
            Some(exam) => self.by_plan(exam, candidates.into_iter(), &pace, day, left),
            None => order(&candidates, day, left, &pace, &self.model),
        };
        first.then(rest)
    }

    /// Whether a card asks something else than was answered last, so that nothing is known of its recall.
    pub fn is_changed(&self, card: &CardKey) -> bool {
        self.editions.changed(card).is_some()
    }

    /// Has what was said of a card under a key that it was called by before go on with it: set aside, faults, sittings.
    pub fn inherit(&mut self, mut set_aside: Vec<SetAside>) {
        let lineage = &self.editions.lineage;
        // Those of one instant stay as they came.
        set_aside.sort_by_key(|event| event.at);
        let heir = |event: SetAside| SetAside { card: lineage.heir(event.card), ..event };
        self.aside = set_aside.into_iter().map(heir).map(|event| (event.card.clone(), event)).collect();
        for fault in &mut self.faults {
            fault.card = lineage.heir(fault.card.clone());
        }
        for turn in self.sittings.iter_mut().flat_map(|kept| &mut kept.sitting.turns) {
            turn.question.card = lineage.heir(turn.question.card.clone());
        }
    }

    /// The certificate's cards as a plan sees them, with their keys.
    pub fn plan_cards(&self, shelf: &Shelf, day: StudyDay) -> (Vec<CardKey>, Vec<PlanCard>) {
        let table = format!("{}.", self.settings.certificate.table());
        let candidates: Vec<Candidate<'_>> = self.candidates(shelf, day, &table).filter(|c| c.wanted).collect();
        let mut cards = as_planned(&candidates, &self.pace(shelf));
        for (card, candidate) in cards.iter_mut().zip(&candidates) {
            // Nothing is known of it, and it comes before all others.
            if self.is_changed(candidate.key) {
                (card.trace, card.rank) = (None, 0);
            }
        }
        (candidates.into_iter().map(|c| c.key.clone()).collect(), cards)
    }

    /// The day's watch by the plan to the oral: the one that is kept for its day, or the plain rule. Cards of other
    /// certificates that are due come after it, while there is time.
    fn by_plan<'a>(
        &self,
        exam: StudyDay,
        candidates: impl Iterator<Item = Candidate<'a>>,
        pace: &Pace,
        day: StudyDay,
        budget: f64,
    ) -> Order {
        let (wanted, others): (Vec<Candidate<'_>>, Vec<Candidate<'_>>) =
            candidates.partition(|candidate| candidate.wanted);
        let cards = as_planned(&wanted, pace);
        let kept = self.settings.plan.filter(|kept| kept.plan.exam == exam).map(|kept| kept.plan);
        let plan = kept.unwrap_or_else(|| simple_rule(&cards, day, exam, f64::from(self.settings.minutes) * 60.0));
        let picks = todays(&plan, &cards, day, budget, &self.model);
        let items: Vec<Item> = picks
            .iter()
            .map(|pick| Item {
                key: wanted[pick.card].key.clone(),
                reason: pick.reason,
                seconds: cards[pick.card].seconds,
            })
            .collect();
        let slipped = wanted.iter().filter(|c| c.memory.is_some_and(|m| m.last == Outcome::Missed && m.due <= day));
        let picked = picks.iter().filter(|pick| pick.reason == Reason::Slipped).count();
        let mut order_of_day = Order { left_over: slipped.count().saturating_sub(picked), items };
        let met: Vec<Candidate<'_>> = others.into_iter().filter(|c| c.memory.is_some()).collect();
        let left = budget - order_of_day.seconds();
        if left > 0.0 {
            let rest = order(&met, day, left, pace, &self.model);
            order_of_day.items.extend(rest.items);
        }
        order_of_day
    }

    fn candidates<'a>(
        &'a self,
        shelf: &'a Shelf,
        day: StudyDay,
        table: &'a str,
    ) -> impl Iterator<Item = Candidate<'a>> {
        shelf.cards().filter(move |(_, card)| !self.is_aside(&card.key, day)).map(move |(_, card)| Candidate {
            key: &card.key,
            kind: card.kind(),
            topic: &card.topic,
            weight: card.weight,
            memory: self.memory.get(&card.key),
            wanted: card.topic.starts_with(table),
        })
    }

    /// What is left of today's minutes, in seconds. A last tenth counts as nothing, so that a watch stood a little
    /// faster than expected is not followed by another of one card.
    pub fn budget(&self, day: StudyDay) -> f64 {
        let whole = f64::from(self.settings.minutes) * 60.0;
        let left = whole - self.spent(day);
        if left < whole / 10.0 { 0.0 } else { left }
    }

    /// Whether a card is out of the watch on a day.
    pub fn is_aside(&self, key: &CardKey, day: StudyDay) -> bool {
        is_aside(self.aside.get(key), day)
    }

    /// Every card of the shelf as the figures of recall see it, today and on another day. What the front page, the
    /// competence table and reports say of recall is worked out from these.
    pub fn states<'a>(&self, shelf: &'a Shelf, today: StudyDay, then: StudyDay) -> Vec<CardState<'a>> {
        let state = |card: &'a Card, key: &CardKey, is_card: bool| CardState {
            competence: &card.topic,
            heading: area_name(card),
            weight: card.weight,
            recall: self.recall(key, today).zip(self.recall(key, then)).map(|(today, on_day)| Recall { today, on_day }),
            missed: !self.is_changed(key) && self.memory.get(key).is_some_and(|memory| memory.last == Outcome::Missed),
            is_card,
        };
        let mut states = Vec::new();
        for (_, card) in shelf.cards() {
            states.push(state(card, &card.key, true));
            // Answers about its runs count for its topic, too.
            if let Some(about) = card.key_about_runs().filter(|about| self.memory.contains_key(about)) {
                states.push(state(card, &about, false));
            }
        }
        states
    }

    /// The chance that a card is recalled on a day, 0 to 1; none for a card never asked. The one figure of a card's
    /// recall that is shown anywhere: a card whose last answer was missed is not recalled until it has been answered, and of one
    /// that is changed nothing is known until then.
    pub fn recall(&self, card: &CardKey, on: StudyDay) -> Option<f64> {
        let memory = self.memory.get(card).filter(|_| !self.is_changed(card));
        memory.map(|memory| self.model.known(memory, on))
    }

    /// The memory that an attempt would leave.
    pub fn after(&self, attempt: &Attempt) -> CardMemory {
        self.model.after(self.memory.get(&attempt.card), attempt)
    }

    /// The study day on which a card would come back, were it answered with this outcome now.
    pub fn due_after(&self, card: &CardKey, outcome: Outcome, seconds: f64, now: Instant) -> StudyDay {
        let review = Review { at: now, day: self.day(now), outcome, seconds };
        self.model.after_review(self.memory.get(card), &review).due
    }

    /// Takes in an attempt that has been kept.
    pub fn take_in(&mut self, attempt: &Attempt, memory: CardMemory, now: Instant) {
        self.memory.insert(attempt.card.clone(), memory);
        self.editions.answered(attempt);
        let day = self.day(now);
        if self.today.day != Some(day) {
            self.today = Today { day: Some(day), attempts: Vec::new() };
        }
        self.today.attempts.push(DoneToday::of(attempt));
    }

    /// Takes an attempt out again that has been taken back: the reverse of [`Learner::take_in`]. `memory` is what the
    /// attempts at its card that are left give.
    pub fn take_out(&mut self, attempt: &Attempt, memory: Option<CardMemory>) {
        match memory {
            Some(memory) => self.memory.insert(attempt.card.clone(), memory),
            None => self.memory.remove(&attempt.card),
        };
        self.editions.taken_back(attempt);
        let taken = DoneToday::of(attempt);
        if let Some(at) = self.today.attempts.iter().rposition(|done| *done == taken) {
            self.today.attempts.remove(at);
        }
        self.taken_back += 1;
    }

    /// A sitting by its id, with its number, from 1.
    pub fn sitting(&self, id: &str) -> Option<(usize, &KeptSitting)> {
        let at = self.sittings.iter().position(|kept| kept.id == id)?;
        Some((at + 1, &self.sittings[at]))
    }

    /// A sitting by its id, to be changed.
    pub fn sitting_mut(&mut self, id: &str) -> Option<&mut KeptSitting> {
        self.sittings.iter_mut().find(|kept| kept.id == id)
    }

    /// When the last answer was given, by the clock of then.
    pub fn last_answer(&self) -> Option<Instant> {
        self.memory.values().map(|memory| memory.last_at).max()
    }

    /// Sets the recall target and works out every due day anew.
    pub fn set_target(&mut self, target: f64) {
        self.settings.recall_target = target;
        self.settings = self.settings.clone().clamped();
        self.model = self.model.for_target(self.settings.recall_target);
        for memory in self.memory.values_mut() {
            memory.due = self.model.due(memory);
        }
    }

    /// Topic and heading of a card in words.
    pub fn place(card: &Card) -> String {
        let competence = crate::deck::competences().get(&card.topic).map_or(card.topic.as_str(), |c| c.title.as_str());
        match &card.heading {
            Some(heading) => format!("{heading} · {competence}"),
            None => competence.to_owned(),
        }
    }
}

fn as_planned(candidates: &[Candidate<'_>], pace: &Pace) -> Vec<PlanCard> {
    ranks(candidates)
        .into_iter()
        .zip(candidates)
        .map(|(rank, candidate)| PlanCard {
            weight: candidate.weight,
            seconds: pace.seconds(candidate.kind),
            rank,
            trace: candidate.memory.map(|memory| Trace::of(memory, None)),
        })
        .collect()
}
