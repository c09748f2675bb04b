//! Learners whose truth is known, for tests of what the program says of a learner: their ability in each function, how
//! their memory works, how they answer under an examiner. They stand the watches that the program gives them, sit mock
//! orals, and are asked what their chance of passing really is.
//!
//! Two worlds. In the first, learners differ a little less than the program believes, and their memory is FSRS. In
//! the other, which the program knows nothing of, memory halves (exponential forgetting, each success lengthens the half
//! life), a general ability moves everything, orals are harder than watches and stay so, and cards differ more.

use std::collections::HashMap;

use bedplate::domain::answer::Given;
use bedplate::domain::attempt::{Attempt, Evidence as Answered};
use bedplate::domain::day::{DAY_BEGINS_HOUR, Instant, MS_PER_DAY, ShipOffset, StudyDay};
use bedplate::domain::ids::{AttemptId, CardKey};
use bedplate::domain::memory::CardMemory;
use bedplate::domain::memory::model::Model;
use bedplate::domain::memory::plan::{Ability, Habits, Plan, PlanCard, Trace, simple_rule, simulate_as, todays};
use bedplate::domain::outcome::{Notch, Outcome};
use bedplate::domain::readiness::{
    Belief, Chance, EvidenceReader, Exam, Item, LeadMark, Part, Range, Sitting, chance_in_form, chance_range, range_of,
};
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

/// Cards of each function, questions drawn, floor: the shape of the standard blueprint of ten questions.
const FUNCTIONS: [(usize, usize, usize); 4] = [(44, 4, 2), (22, 2, 1), (16, 2, 1), (28, 2, 1)];
const NEEDED: usize = 6;
/// The day of the oral; study begins on day 0.
pub const EXAM: i32 = 40;
const BEGIN: i32 = 20_000;
/// Days with a mock oral; the later two are sat by every second learner.
const MOCKS: [i32; 3] = [7, 20, 33];
/// Minutes a day, and seconds that a card takes.
const BUDGET: f64 = 640.0;
const SECONDS: f64 = 40.0;

/// Learners held possible that play the plan.
const LEARNERS: usize = 24;

/// How learners are made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum World {
    /// Nearly as the program believes that learners differ; memory is FSRS.
    Believed,
    /// As it does not.
    Other,
}

/// What the program said at some stage, and what was true.
pub struct Said {
    /// `10th card`, `after a mock`.
    pub stage: &'static str,
    /// The chance if the oral were today.
    pub today: Range,
    /// What it really is.
    pub true_today: f64,
    /// The chance on the day, if every watch is done; none where it was not worked out.
    pub promise: Option<Range>,
    /// The chance that there really was on the day, every watch done.
    pub true_on_day: f64,
    /// What the rule makes of today's range.
    pub chance: Chance,
}

struct TrueCard {
    key: CardKey,
    function: usize,
    critical: bool,
    /// Easier or harder than others, on the logit scale.
    noise: f64,
    /// The last day, and stability and difficulty, or the half life and nothing.
    state: Option<(i32, f32, f32)>,
    /// What the program knows.
    memory: Option<CardMemory>,
}

/// A learner.
pub struct Pupil {
    world: World,
    rng: StdRng,
    model: Model,
    cards: Vec<TrueCard>,
    /// For each function: forecasts of memory lie off by this; the level of cards never met.
    shift: [f64; 4],
    level: [f64; 4],
    /// For each function: how orals differ from watches, what functions share and a function's own.
    oral: (f64, [f64; 4]),
    spread: f64,
    fatal: f64,
    gain: f64,
    attempts: Vec<Attempt>,
    sittings: Vec<Sitting>,
    /// The plan that is kept from the first day on.
    plan: Plan,
}

fn normal(rng: &mut StdRng) -> f64 {
    // The sum of twelve uniform numbers, less six.
    (0..12).map(|_| rng.random_range(0.0..1.0_f64)).sum::<f64>() - 6.0
}

fn logit(p: f64) -> f64 {
    (p / (1.0 - p)).ln()
}

fn logistic(x: f64) -> f64 {
    1.0 / (1.0 + (-x).exp())
}

fn noon(day: i32, seconds: i64) -> Instant {
    Instant(i64::from(BEGIN + day) * MS_PER_DAY + (DAY_BEGINS_HOUR + 8) * 3_600_000 + seconds * 1_000)
}

impl Pupil {
    /// A learner of a world.
    pub fn new(world: World, seed: u64) -> Self {
        let mut rng = StdRng::seed_from_u64(seed);
        let mut own = |sd: f64| -> [f64; 4] { std::array::from_fn(|_| sd * normal(&mut rng)) };
        let (shift, level, oral) = match world {
            World::Believed => (own(0.3), own(0.7), own(0.4)),
            World::Other => (own(0.4), own(0.6), own(0.3)),
        };
        let general = if world == World::Other { 0.5 * normal(&mut rng) } else { 0.0 };
        let (shared, unseen, orals) = match world {
            World::Believed => (0.6 * normal(&mut rng), logit(0.3) + normal(&mut rng), 0.7 * normal(&mut rng)),
            World::Other => (0.3 * normal(&mut rng), -0.5 + 0.6 * normal(&mut rng), -0.4 + 0.5 * normal(&mut rng)),
        };
        let noise = if world == World::Believed { 0.3 } else { 0.5 };
        let mut cards = Vec::new();
        for (function, (count, ..)) in FUNCTIONS.iter().enumerate() {
            for n in 0..*count {
                cards.push(TrueCard {
                    key: CardKey::new("known", &format!("{function}-{n}")),
                    function,
                    critical: n % 4 == 0,
                    noise: noise * normal(&mut rng),
                    state: None,
                    memory: None,
                });
            }
        }
        let spread = match world {
            World::Believed => (0.5 * normal(&mut rng)).abs(),
            World::Other => rng.random_range(0.0..1.0),
        };
        let fatal = match world {
            // Beta-distributed, of 2 and 2: the middle of three uniform numbers.
            World::Believed => {
                let mut three: [f64; 3] = std::array::from_fn(|_| rng.random());
                three.sort_by(f64::total_cmp);
                three[1]
            }
            World::Other => rng.random_range(0.3..0.9),
        };
        let gain = 2.4 * (0.4 * normal(&mut rng)).exp();
        let mut pupil = Self {
            world,
            model: Model::standard(0.90),
            cards,
            shift: shift.map(|own| own + shared + general),
            level: level.map(|own| own + unseen + general),
            oral: (orals, oral),
            spread,
            fatal,
            gain,
            attempts: Vec::new(),
            sittings: Vec::new(),
            plan: simple_rule(&[], StudyDay(BEGIN), StudyDay(BEGIN + EXAM), BUDGET),
            rng,
        };
        pupil.plan = simple_rule(&pupil.plan_cards(), StudyDay(BEGIN), StudyDay(BEGIN + EXAM), BUDGET);
        pupil
    }

    /// The chance that a card is known in a watch.
    fn knows(&self, at: usize, day: i32) -> f64 {
        let card = &self.cards[at];
        let level = match card.state {
            None => self.level[card.function],
            Some((last, stability, _)) => {
                let days = (day - last).max(0);
                let recall = match self.world {
                    World::Believed => self.model.recall_after(stability, days as u32),
                    World::Other => 0.5f64.powf(f64::from(days) / f64::from(stability)),
                };
                logit(recall.clamp(0.02, 0.985)) + self.shift[card.function]
            }
        };
        logistic(level + card.noise)
    }

    /// The chance that it is answered well in an oral in which the form of the day is even.
    fn knows_in_oral(&self, at: usize, day: i32) -> f64 {
        logistic(
            logit(self.knows(at, day).clamp(1e-6, 1.0 - 1e-6)) + self.oral.0 + self.oral.1[self.cards[at].function],
        )
    }

    /// The oral with a chance for each card: none for one that counts as unseen.
    fn exam(&self, recall: impl Fn(usize) -> Option<f64>) -> Exam {
        let parts = FUNCTIONS.iter().enumerate().map(|(function, (_, drawn, floor))| {
            let of = (0..self.cards.len()).filter(|at| self.cards[*at].function == function);
            let item = |at: usize| {
                let recall = recall(at);
                let critical = self.cards[at].critical;
                Item { recall: recall.unwrap_or(0.0), critical, unseen: recall.is_none(), area: function }
            };
            Part { function, pool: of.map(item).collect(), drawn: *drawn, floor: *floor }
        });
        Exam { parts: parts.collect(), needed: NEEDED }
    }

    /// The true chance of passing.
    fn truth(&self, day: i32) -> f64 {
        chance_in_form(&self.exam(|at| Some(self.knows_in_oral(at, day))), self.spread, self.fatal)
    }

    /// An answer: the true state moves on, the program's with it.
    fn answer(&mut self, at: usize, outcome: Outcome, (day, seconds): (i32, i64)) {
        let state = self.cards[at].state;
        let elapsed = state.map_or(0, |(last, ..)| (day - last).max(0)) as u32;
        self.cards[at].state = Some(match self.world {
            World::Believed => {
                let (s, d) = self.model.stepped(state.map(|(_, s, d)| (s, d)), outcome, elapsed);
                (day, s, d)
            }
            World::Other => {
                let first = [1.2, 3.0, 7.0, 16.0][outcome.number() as usize - 1];
                let life = match state {
                    None => first,
                    Some((_, life, _)) if outcome == Outcome::Missed => (life * 0.4).max(1.2),
                    Some((_, life, _)) if elapsed == 0 => (life * 1.05).max(1.5),
                    Some((_, life, _)) => {
                        let recall = 0.5f64.powf(f64::from(elapsed) / f64::from(life));
                        life * (1.0 + self.gain * (1.3 - recall)) as f32
                    }
                };
                (day, life, 0.0)
            }
        });
        let attempt = Attempt {
            id: AttemptId(format!("{:08}", self.attempts.len())),
            card: self.cards[at].key.clone(),
            at: noon(day, seconds),
            ship: ShipOffset::default(),
            device: String::new(),
            evidence: Answered { given: Given::Said(vec![]), edition: 1, points_said: vec![], points_missed: vec![] },
            outcome,
            notch: Notch::None,
            seconds: SECONDS,
        };
        self.cards[at].memory = Some(self.model.after(self.cards[at].memory.as_ref(), &attempt));
        self.attempts.push(attempt);
    }

    fn outcome(&mut self, well: bool) -> Outcome {
        match self.rng.random_range(0.0..1.0) {
            _ if !well => Outcome::Missed,
            lot if lot < 0.22 => Outcome::Prompted,
            lot if lot < 0.85 => Outcome::Answered,
            _ => Outcome::Fluent,
        }
    }

    fn plan_cards(&self) -> Vec<PlanCard> {
        let card = |(n, card): (usize, &TrueCard)| PlanCard {
            weight: 2,
            seconds: SECONDS,
            // Functions take turns.
            rank: (n % 16 * 16 + n / 16) as u32,
            trace: card.memory.as_ref().map(|memory| Trace::of(memory, None)),
        };
        self.cards.iter().enumerate().map(card).collect()
    }

    /// A day's watch, as the program makes it; `each` is told of each answer.
    fn watch(&mut self, day: i32, each: &mut dyn FnMut(&Self)) {
        let today = StudyDay(BEGIN + day);
        let cards = self.plan_cards();
        let mut seconds = 0;
        for pick in todays(&self.plan, &cards, today, BUDGET, &self.model) {
            let known = self.knows(pick.card, day);
            let mut well = self.rng.random_bool(known);
            for _ in 0..3 {
                seconds += SECONDS as i64;
                let outcome = self.outcome(well);
                self.answer(pick.card, outcome, (day, seconds));
                if well {
                    break;
                }
                well = self.rng.random_bool(0.78);
            }
            each(self);
        }
    }

    /// A mock oral in the evening.
    fn mock(&mut self, day: i32) {
        let form = self.spread * normal(&mut self.rng);
        let mut marks = Vec::new();
        let mut seconds = 6 * 3_600;
        let from = noon(day, seconds);
        for (function, (_, drawn, _)) in FUNCTIONS.iter().enumerate() {
            let mut of: Vec<usize> = (0..self.cards.len()).filter(|at| self.cards[*at].function == function).collect();
            for _ in 0..*drawn {
                let lot = self.rng.random_range(0..of.len());
                let at = of.swap_remove(lot);
                let known = logistic(logit(self.knows_in_oral(at, day).clamp(1e-6, 1.0 - 1e-6)) + form);
                let well = self.rng.random_bool(known);
                let critical = self.cards[at].critical;
                let fatal = !well && critical && self.rng.random_bool(self.fatal);
                marks.push(LeadMark { card: self.cards[at].key.clone(), passes: well, has_critical: critical, fatal });
                seconds += 120;
                let outcome = self.outcome(well);
                self.answer(at, outcome, (day, seconds));
            }
        }
        let to = noon(day, seconds + 60);
        let leads = marks.len();
        self.sittings.push(Sitting { from, to, day: StudyDay(BEGIN + day), ended: true, leads, marks });
    }

    /// What the program says now.
    fn said(&self, stage: &'static str, day: i32, all: bool) -> Said {
        let (today, exam) = (StudyDay(BEGIN + day), StudyDay(BEGIN + EXAM));
        let functions: HashMap<CardKey, usize> =
            self.cards.iter().map(|card| (card.key.clone(), card.function)).collect();
        let mut history = EvidenceReader::of(functions, FUNCTIONS.len(), self.sittings.clone());
        self.attempts.iter().for_each(|attempt| history.take_in(attempt, &self.model, true));
        let known = |at: usize| self.cards[at].memory.as_ref().map(|memory| self.model.known(memory, today));
        let now = self.exam(known);
        let range = chance_range(&now, &Belief::of(history.evidence(), today));
        let cards = self.plan_cards();
        let budget = (BUDGET / 2.0, BUDGET);
        // As the plan's page does: every learner that is held possible plays the plan.
        let learners = Belief::of(history.evidence(), exam).possible(LEARNERS);
        let chances = learners.iter().map(|learner| {
            let abilities: Vec<Ability> = self.cards.iter().map(|card| learner.in_watch(card.function)).collect();
            let habits = Habits::default();
            let course = simulate_as(&abilities, &self.plan, &cards, today, budget, &self.model, &habits, (2_026, 0));
            learner.chance(&self.exam(|at| Some(course.recall[at]).filter(|recall| *recall > 0.0)))
        });
        let coverage = history.coverage();
        let promise = (all || coverage.needs(&now).is_none()).then(|| range_of(&chances.collect::<Vec<f64>>()));
        Said {
            stage,
            today: range,
            true_today: self.truth(day),
            promise,
            true_on_day: 0.0,
            chance: coverage.say(&now, range),
        }
    }

    fn next_day(&mut self) {
        if self.world == World::Believed {
            // What differs under an examiner drifts, and is worth half after thirty days.
            let kept = 0.5f64.powf(1.0 / 30.0);
            let fresh = (1.0 - kept * kept).sqrt();
            self.oral.0 = kept * self.oral.0 + fresh * 0.7 * normal(&mut self.rng);
            for own in &mut self.oral.1 {
                *own = kept * *own + fresh * 0.4 * normal(&mut self.rng);
            }
        }
    }

    /// Lives up to the oral; what the program said at each of its stages. What is promised for the day is worked out at
    /// `all_promises` of them, or only where the program would say it.
    pub fn live(mut self, with_more_mocks: bool, all_promises: bool) -> Vec<Said> {
        let mut all = Vec::new();
        for day in 0..EXAM {
            let mut looked: Vec<Said> = Vec::new();
            self.watch(day, &mut |pupil| {
                let met = pupil.cards.iter().filter(|card| card.state.is_some()).count();
                let stages = [(10, "10th card"), (30, "30th card"), (100, "100th card")];
                for (_, stage) in stages.into_iter().filter(|(count, _)| *count <= met) {
                    if looked.iter().chain(&all).all(|said: &Said| said.stage != stage) {
                        looked.push(pupil.said(stage, day, all_promises));
                    }
                }
            });
            all.append(&mut looked);
            if MOCKS.contains(&day) && (day == MOCKS[0] || with_more_mocks) {
                self.mock(day);
                if day == MOCKS[0] {
                    all.push(self.said("after a mock", day, all_promises));
                }
            }
            if day == EXAM - 2 {
                all.push(self.said("near the oral", day, all_promises));
            }
            self.next_day();
        }
        let truth = self.truth(EXAM);
        all.iter_mut().for_each(|said| said.true_on_day = truth);
        all
    }
}
