//! An invented learner with sixty days of study behind them, so that every page can be looked at: R. Halloran, cadet on
//! the *Marram Light*. Nothing in it is of a real person.

use std::path::PathBuf;

use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

use crate::app::profile::learner::Learner;
use crate::app::profile::opening::{self, Failure};
use crate::app::profile::shelf::Shelf;
use crate::app::program::setup::Setup;
use crate::app::sitting::{AskedNow, candidates};
use crate::domain::answer::Given;
use crate::domain::attempt::{Attempt, Evidence};
use crate::domain::card::Card;
use crate::domain::certificate::Certificate;
use crate::domain::day::{Instant, StudyDay};
use crate::domain::ids::CardKey;
use crate::domain::memory::CardMemory;
use crate::domain::memory::plan::Habits;
use crate::domain::oral::{Asked, Blueprint, Draw, Length, Manner, Next, Setup as OralSetup, Sitting, Turn, Way, next};
use crate::domain::outcome::{Notch, Outcome};
use crate::store::{KeptSitting, home, ids};

/// The profile's folder.
const FOLDER: &str = "demo-r-halloran";
/// The name, which says what it is.
pub const LEARNER: &str = "R. Halloran (demo)";
/// Days of study.
const DAYS: u32 = 60;
/// Days from now to the oral.
const TO_ORAL: u32 = 41;
/// Days on which no watch was stood.
const IDLE: [u32; 3] = [11, 25, 44];
/// Days with a sitting.
const SITTINGS: [u32; 5] = [18, 30, 41, 50, 57];
/// What of this table sinks in badly, in a sitting and in a watch.
const WEAK: &str = "A-III/1.2";
const SEED: u64 = 61;
const HOUR: i64 = 3_600_000;

/// Makes the demonstration's profile where it is not there; gives its folder.
///
/// # Errors
/// Where the home cannot be written.
pub fn make(setup: &Setup) -> Result<PathBuf, Failure> {
    let dir = home::profile_dir(&setup.home, FOLDER).unwrap_or_else(|| home::profiles_dir(&setup.home).join(FOLDER));
    if dir.exists() {
        return Ok(dir);
    }
    let now = (setup.clock)();
    let setup = Setup { dir: dir.clone(), learner: Some(LEARNER.to_owned()), ..setup.clone() };
    let ready = opening::open(&setup, now)?;
    let (shelf, mut profile) = (ready.shelf, ready.profile);
    let today = profile.learner.day(now);
    {
        let settings = &mut profile.learner.settings;
        (settings.certificate, settings.first_run_done, settings.minutes) = (Certificate::Watch, true, 30);
        settings.oral = Some(today.plus(TO_ORAL));
    }
    profile.store.save_settings(&profile.learner.settings, now).wait()?;
    let mut life = Life {
        shelf: &shelf,
        learner: &mut profile.learner,
        device: profile.device.clone(),
        rng: StdRng::seed_from_u64(SEED),
        habits: Habits::default(),
        attempts: Vec::new(),
        sittings: Vec::new(),
    };
    for day in 0..DAYS {
        let study_day = StudyDay(today.0 - (DAYS - day) as i32);
        let begins = Instant(study_day.begins(life.learner.settings.ship).0 + 15 * HOUR);
        if !IDLE.contains(&day) {
            life.watch(study_day, begins);
        }
        if SITTINGS.contains(&day) {
            life.sitting(day, Instant(begins.0 + 2 * HOUR));
        }
    }
    let Life { attempts, sittings, .. } = life;
    profile.store.unite(attempts).wait()?;
    for (kept, turns) in sittings {
        let ended = kept.at.0 + (kept.sitting.seconds() * 1_000.0) as i64 + 60_000;
        let begun = KeptSitting { sitting: Sitting::begin(kept.sitting.setup.clone()), ..kept.clone() };
        profile.store.begin_sitting(begun).wait()?;
        for (n, (turn, attempt)) in turns.into_iter().enumerate() {
            profile.store.keep_turn(kept.id.clone(), n, turn, attempt).wait()?;
        }
        profile.store.end_sitting(kept.id, Instant(ended)).wait()?;
    }
    Ok(dir)
}

type KeptTurn = (Turn, Option<(Attempt, CardMemory)>);

struct Life<'a> {
    shelf: &'a Shelf,
    learner: &'a mut Learner,
    device: String,
    rng: StdRng,
    habits: Habits,
    attempts: Vec<Attempt>,
    sittings: Vec<(KeptSitting, Vec<KeptTurn>)>,
}

impl Life<'_> {
    /// The chance that this learner knows a card, which is not what the program believes of it.
    fn knows(&self, card: &Card, day: StudyDay) -> f64 {
        let believed = self.learner.recall(&card.key, day);
        let sinks_in = if card.topic.starts_with(WEAK) { 0.62 } else { 1.0 };
        believed.map_or(0.34, |recall| recall.powf(0.9)) * sinks_in
    }

    fn watch(&mut self, day: StudyDay, begins: Instant) {
        let minutes = f64::from(self.learner.settings.minutes) * 60.0;
        let order = self.learner.order(self.shelf, day, minutes);
        let mut at = begins;
        let mut asked: Vec<CardKey> = order.items.into_iter().map(|item| item.key).collect();
        let mut again: Vec<CardKey> = Vec::new();
        for tries in 0..2 {
            for key in std::mem::take(&mut asked) {
                let Some((_, card)) = self.shelf.card(&key) else { continue };
                let outcome = self.outcome(card, day, tries > 0);
                at = Instant(at.0 + 20_000 + (self.rng.random_range(0.6..1.4) * 40_000.0) as i64);
                let attempt = self.attempt(card, at, outcome);
                let memory = self.learner.after(&attempt);
                self.learner.take_in(&attempt, memory, at);
                self.attempts.push(attempt);
                if outcome == Outcome::Missed {
                    again.push(key);
                }
            }
            asked.append(&mut again);
        }
    }

    fn outcome(&mut self, card: &Card, day: StudyDay, again: bool) -> Outcome {
        let known = if again { self.habits.again } else { self.knows(card, day) };
        if !self.rng.random_bool(known.clamp(0.0, 1.0)) {
            return Outcome::Missed;
        }
        let lot: f64 = self.rng.random();
        let [prompted, said, _] = self.habits.recalled;
        match lot {
            lot if lot < prompted => Outcome::Prompted,
            lot if lot < prompted + said => Outcome::Answered,
            _ => Outcome::Fluent,
        }
    }

    /// Points (from 1) that an answer of this outcome says.
    fn said(&mut self, points: usize, outcome: Outcome) -> Vec<usize> {
        let share = match outcome {
            Outcome::Missed => 0.35,
            Outcome::Prompted => 0.75,
            _ => 1.0,
        };
        (1..=points).filter(|_| share >= 1.0 || self.rng.random_bool(share)).collect()
    }

    fn attempt(&mut self, card: &Card, at: Instant, outcome: Outcome) -> Attempt {
        let points = card.key_points().map_or(0, <[_]>::len);
        let points_said = self.said(points, outcome);
        let points_missed = (1..=points).filter(|point| !points_said.contains(point)).collect();
        Attempt {
            id: ids::new_attempt_id(at),
            card: card.key.clone(),
            at,
            ship: self.learner.settings.ship,
            device: self.device.clone(),
            evidence: Evidence { given: Given::Said(points_said.clone()), edition: 1, points_said, points_missed },
            outcome,
            notch: Notch::None,
            seconds: self.rng.random_range(14.0..70.0),
        }
    }

    /// What an answer of this outcome gives, right where all of it is known.
    fn given(&mut self, asked: &AskedNow, outcome: Outcome) -> Given {
        let said = self.said(asked.sheet.sample_parts(&asked.card), outcome);
        asked.sheet.sample(&asked.card, said)
    }

    fn sitting(&mut self, number: u32, begins: Instant) {
        let day = self.learner.day(begins);
        let blueprint = Blueprint { length: Length::Questions(10), ..self.learner.settings.blueprint() };
        let recent = self.sittings.iter().rev().take(3).flat_map(|(kept, _)| kept.sitting.leads());
        let recent = recent.map(|turn| turn.question.card.clone()).collect();
        let setup =
            OralSetup { blueprint, draw: Draw::Mock, manner: Manner::Steady, seed: SEED + u64::from(number), recent };
        let mut kept = KeptSitting {
            id: ids::new_attempt_id(begins).0,
            at: begins,
            ship: self.learner.settings.ship,
            device: self.device.clone(),
            sitting: Sitting::begin(setup),
            ended: None,
            early: false,
        };
        let mut turns = Vec::new();
        let mut at = begins;
        loop {
            let blueprint = &kept.sitting.setup.blueprint;
            let next = next(&kept.sitting, &candidates(self.learner, self.shelf, blueprint, at));
            let Next::Ask(question) = next else { break };
            let Some((_, lead)) = self.shelf.card(&question.card) else { break };
            // A prompt brings a little of what was missing.
            let knows = if question.asked == Asked::Lead { self.knows(lead, day) } else { 0.45 };
            let outcome = if self.rng.random_bool(knows.clamp(0.0, 1.0)) { Outcome::Answered } else { Outcome::Missed };
            let seed = kept.sitting.turns.len() as u64;
            let mut asked = AskedNow::of(Way::Second, *question, lead, (at, seed), |n| (1..=n).collect());
            let given = self.given(&asked, outcome);
            let seconds = asked.question.limit_seconds * self.rng.random_range(0.3..1.1);
            at = Instant(at.0 + (seconds * 1_000.0) as i64);
            let Some(turn) = answer(&mut asked, given, at) else { break };
            let attempt = turn.answer.as_ref().filter(|_| turn.question.asked == Asked::Lead).map(|answer| {
                let attempt = self.attempt(lead, at, answer.outcome);
                let memory = self.learner.after(&attempt);
                self.learner.take_in(&attempt, memory, at);
                (attempt, memory)
            });
            kept.sitting.turns.push(turn.clone());
            turns.push((turn, attempt));
        }
        self.sittings.push((kept, turns));
    }
}

/// Gives an answer as a learner does before a second person, and has it marked; none where it could not be.
fn answer(asked: &mut AskedNow, given: Given, now: Instant) -> Option<Turn> {
    match given {
        Given::Said(points) => {
            points.into_iter().try_for_each(|point| asked.tick(point)).ok()?;
            asked.finish_speaking(now).ok()?;
        }
        given => asked.sheet.submit(&asked.card, given, now).ok()?,
    }
    if asked.outcome() == Some(Outcome::Fluent) {
        // This examiner gives nothing for being quick.
        asked.set_notch(Notch::Down);
    }
    asked.turn(None)
}
