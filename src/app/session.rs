//! A watch being stood: the card on the sheet, from the question to the accepted outcome.
//!
//! Pure as an engine is: a session takes inputs with the time and gives back what to keep. It writes nothing.

use crate::app::working::AtWork;
use crate::domain::answer::{Answer, Given, LinedUp};
use crate::domain::attempt::Attempt;
use crate::domain::card::{Body, Card};
use crate::domain::day::Instant;
use crate::domain::ids::CardKey;
use crate::domain::marking::{AnswerError, Detail, Marking, mark};
use crate::domain::memory::watch::{Turn, Watch};
use crate::domain::outcome::{Notch, Outcome};
use crate::domain::plant::{Procedure, explain, run};
use crate::present::kinds::lineup::RightSetting;
use crate::present::kinds::sequence::RightOrder;

/// So many answers of a watch can be taken back, one after the other.
const MOST_TAKEN_BACK: usize = 50;
/// The longest time that counts for one answer, in seconds.
const LONGEST_SECONDS: f64 = 1_800.0;

/// A watch with the card on its sheet.
#[derive(Debug, Clone)]
pub struct Session {
    /// What is still to come.
    pub watch: Watch,
    /// The card on the sheet; none at the end.
    pub sheet: Option<Sheet>,
    /// What slipped in it, in order, with the reason.
    pub slips: Vec<(CardKey, String)>,
    /// Seconds answered so far.
    pub seconds: f64,
    /// A working that was left unanswered, with the seconds that it took so far.
    resting: Option<(CardKey, Box<AtWork>, f64)>,
    /// Answers accepted in it that can be taken back, the last one last.
    accepted: Vec<Accepted>,
}

/// An accepted answer that can be taken back.
#[derive(Debug, Clone)]
struct Accepted {
    attempt: Attempt,
    /// The watch as it stood before, the answer marked on its sheet.
    before: Box<Session>,
}

/// One card on the sheet.
#[derive(Debug, Clone)]
pub struct Sheet {
    /// Which card.
    pub key: CardKey,
    /// When it was laid on the sheet.
    pub shown_at: Instant,
    /// The order in which a why's links or a sequence's steps lie ashore, or a point's parts are told, by position
    /// from 1.
    pub ashore: Vec<usize>,
    /// How far it has come.
    pub stage: Stage,
    /// For a sequence: what follows its first run.
    pub sequence: AfterRun,
    /// For a line-up: what follows its first check.
    pub lineup: AfterCheck,
    /// A question about the run stands on the sheet before the card itself.
    pub explaining: Option<Explaining>,
    /// For a working: its figures, the learner's lines, its tries.
    pub work: Option<Box<AtWork>>,
}

/// What follows the first run of a sequence. None of it changes the outcome.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct AfterRun {
    /// Runs so far.
    pub runs: usize,
    /// The steps of the last run, where there was more than one.
    pub last: Option<Vec<String>>,
    /// A right order, once it was asked for.
    pub right: Option<RightOrder>,
    /// There is something in the last run to ask about.
    pub may_explain: bool,
}

/// What follows the first check of a line-up. None of it changes the outcome.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct AfterCheck {
    /// Checks so far.
    pub checks: usize,
    /// The setting of the last check, where there was more than one.
    pub last: Option<LinedUp>,
    /// A setting that works, once it was asked for.
    pub right: Option<RightSetting>,
}

/// A question about what happened in a run: a why of its own.
#[derive(Debug, Clone)]
pub struct Explaining {
    /// As a card, under a key of its own beside the sequence's.
    pub card: Card,
    /// The sheet that it is answered on.
    pub sheet: Box<Sheet>,
}

/// How far the card on the sheet has come.
#[derive(Debug, Clone)]
pub enum Stage {
    /// The question stands; the clock runs.
    Asked,
    /// The answer is marked and may be accepted.
    Marked(Box<Marked>),
    /// A stubborn card: its points one by one. Parts shown so far.
    Remedy(usize),
}

/// A marked answer on the sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Marked {
    /// As given first.
    pub given: Given,
    /// Time taken until then.
    pub seconds: f64,
    /// The marking as it stands, after ticks.
    pub marking: Marking,
    /// What a typed answer was marked as, before the learner's ticks.
    pub read: Option<Marking>,
    /// The learner's correction.
    pub notch: Notch,
}

impl Session {
    /// A session at its first card.
    pub fn begin(watch: Watch) -> Self {
        Self { watch, sheet: None, slips: Vec::new(), seconds: 0.0, resting: None, accepted: Vec::new() }
    }

    /// The answer on the sheet was accepted and kept; what follows changes the watch.
    pub fn note_accepted(&mut self, attempt: Attempt) {
        let mut accepted = std::mem::take(&mut self.accepted);
        if accepted.len() == MOST_TAKEN_BACK {
            accepted.remove(0);
        }
        accepted.push(Accepted { attempt, before: Box::new(self.clone()) });
        self.accepted = accepted;
    }

    /// The answer accepted last, and the sheet that it stood on; none where there is none that can be taken back.
    pub fn last_accepted(&self) -> Option<(&Attempt, Option<&Sheet>)> {
        self.accepted.last().map(|last| (&last.attempt, last.before.sheet.as_ref()))
    }

    /// The watch as it was before its last answer was accepted, and that answer; a working that has been begun since
    /// keeps its figures. Cards that `is_aside` names have been set aside meanwhile and do not come again.
    pub fn take_back(mut self, now: Instant, is_aside: impl Fn(&CardKey) -> bool) -> (Self, Option<Attempt>) {
        let Some(Accepted { attempt, before }) = self.accepted.pop() else { return (self, None) };
        if self.sheet.is_some() {
            self.rest(now);
        }
        let mut watch = before.watch.clone();
        let aside: Vec<CardKey> = watch.coming().skip(1).filter(|key| is_aside(key)).cloned().collect();
        for key in aside {
            watch = watch.without(&key);
        }
        (Self { watch, resting: self.resting, accepted: self.accepted, ..*before }, Some(attempt))
    }

    /// Lays the current card on the sheet. `shuffle` gives an order of `n` things, as positions from 1; figures are
    /// drawn from `seed`.
    pub fn lay(&mut self, card: Option<&Card>, now: Instant, seed: u64, shuffle: impl FnOnce(usize) -> Vec<usize>) {
        let turn = self.watch.current().map(|c| c.turn);
        self.sheet = match (card, turn) {
            (Some(card), Some(turn)) => {
                let stage = if turn == Turn::Remedy { Stage::Remedy(0) } else { Stage::Asked };
                Some(Sheet::of(card, stage, now, seed, shuffle))
            }
            _ => None,
        };
        self.take_up_again(now);
    }

    /// Takes the card off the sheet, unanswered. A working keeps its figures, what was written and its clock: with
    /// other figures all of it would be for nothing.
    pub fn rest(&mut self, now: Instant) {
        let Some(sheet) = self.sheet.take() else { return };
        let seconds = sheet.seconds(now);
        let work = sheet.work.filter(|_| matches!(sheet.stage, Stage::Asked));
        self.resting = work.map(|work| (sheet.key, work, seconds));
    }

    fn take_up_again(&mut self, now: Instant) {
        let Some(sheet) = self.sheet.as_mut().filter(|s| s.work.is_some() && matches!(s.stage, Stage::Asked)) else {
            return;
        };
        if let Some((_, work, seconds)) = self.resting.take_if(|(key, ..)| *key == sheet.key) {
            sheet.work = Some(work);
            sheet.shown_at = Instant(now.0 - (seconds * 1_000.0) as i64);
        }
    }
}

impl Sheet {
    /// A card laid on the sheet. `shuffle` gives an order of `n` things, as positions from 1; figures are drawn from
    /// `seed`.
    pub fn of(card: &Card, stage: Stage, now: Instant, seed: u64, shuffle: impl FnOnce(usize) -> Vec<usize>) -> Self {
        Self {
            key: card.key.clone(),
            shown_at: now,
            ashore: match &card.body {
                Body::Why(why) => shuffle(why.links.len() + why.false_links.len()),
                Body::Sequence(procedure) => shuffle(procedure.steps.len()),
                Body::Point(pointing) => shuffle(pointing.drawing.parts.len()),
                _ => Vec::new(),
            },
            stage,
            sequence: AfterRun::default(),
            lineup: AfterCheck::default(),
            explaining: None,
            work: match &card.body {
                Body::Working(working) => Some(Box::new(AtWork::drawn(working, seed))),
                _ => None,
            },
        }
    }

    /// Seconds since it was laid on the sheet, while the clock runs; the time taken once it is marked.
    pub fn seconds(&self, now: Instant) -> f64 {
        match &self.stage {
            Stage::Marked(marked) => marked.seconds + self.again(now),
            _ => ((now.0 - self.shown_at.0) as f64 / 1_000.0).clamp(0.0, LONGEST_SECONDS),
        }
    }

    /// Seconds of a second try that is being worked.
    fn again(&self, now: Instant) -> f64 {
        let since = self.work.as_ref().filter(|w| w.practice.is_none()).and_then(|w| w.again);
        since.map_or(0.0, |since| ((now.0 - since.0) as f64 / 1_000.0).clamp(0.0, LONGEST_SECONDS))
    }

    /// Whether the clock runs: the question stands, or a second try is being worked.
    pub fn clock_runs(&self) -> bool {
        match (&self.stage, &self.work) {
            (Stage::Asked, _) => true,
            (Stage::Marked(_), Some(work)) => work.again.is_some() && work.practice.is_none(),
            _ => false,
        }
    }

    /// What stands in front: the question about a run while there is one, otherwise the card itself.
    pub fn front<'a>(&'a self, card: &'a Card) -> (&'a Card, &'a Sheet) {
        match &self.explaining {
            Some(about) => (&about.card, &about.sheet),
            None => (card, self),
        }
    }

    /// The same, to be changed.
    pub fn front_mut<'a>(&'a mut self, card: &'a Card) -> (&'a Card, &'a mut Sheet) {
        match self.explaining {
            Some(ref mut about) => (&about.card, &mut about.sheet),
            None => (card, self),
        }
    }

    /// Marks what was given.
    ///
    /// # Errors
    /// Where the answer's form does not fit the card.
    pub fn submit(&mut self, card: &Card, given: Given, now: Instant) -> Result<(), AnswerError> {
        if let (Body::Working(_), Given::Worked(worked)) = (&card.body, &given) {
            return self.hand_in(card, worked.clone(), now);
        }
        if !matches!(self.stage, Stage::Asked) {
            return Ok(());
        }
        let seconds = self.seconds(now);
        let marking = mark(card, &Answer { given: given.clone(), seconds: Some(seconds) })?;
        let typed = matches!(given, Given::Text(_)) && matches!(marking.detail, Detail::Recall { .. });
        let read = typed.then(|| marking.clone());
        self.stage = Stage::Marked(Box::new(Marked { given, seconds, marking, read, notch: Notch::None }));
        if let Body::Sequence(procedure) = &card.body {
            self.sequence.runs = 1;
            self.look_for_a_question(procedure);
        }
        self.lineup.checks = 1;
        Ok(())
    }

    /// Checks a line-up that was mended. The first check's outcome stands.
    ///
    /// # Errors
    /// Where the setting names what the network does not have.
    pub fn check_again(&mut self, card: &Card, set: LinedUp) -> Result<(), AnswerError> {
        if matches!(self.stage, Stage::Marked(_)) {
            mark(card, &Answer::of(Given::LinedUp(set.clone())))?;
            self.lineup.checks += 1;
            self.lineup.last = Some(set);
        }
        Ok(())
    }

    /// The setting that was checked last; none before the first check.
    pub fn lined_up(&self) -> Option<&LinedUp> {
        match (&self.lineup.last, &self.stage) {
            (Some(last), _) => Some(last),
            (None, Stage::Marked(marked)) => match &marked.given {
                Given::LinedUp(set) => Some(set),
                _ => None,
            },
            _ => None,
        }
    }

    /// Runs a mended list on the plant. The first run's outcome stands.
    pub fn run_again(&mut self, procedure: &Procedure, steps: Vec<String>) {
        if matches!(self.stage, Stage::Marked(_)) {
            self.sequence.runs += 1;
            self.sequence.last = Some(steps);
            self.look_for_a_question(procedure);
        }
    }

    /// The list that stands on the sheet, by position: the last one that was run.
    pub fn list(&self, procedure: &Procedure) -> Vec<usize> {
        let keys: &[String] = match (&self.sequence.last, &self.stage) {
            (Some(last), _) => last,
            (None, Stage::Marked(marked)) => match &marked.given {
                Given::Steps(first) => first,
                _ => &[],
            },
            _ => &[],
        };
        keys.iter().filter_map(|key| procedure.step_of(key)).collect()
    }

    fn look_for_a_question(&mut self, procedure: &Procedure) {
        self.sequence.may_explain = explain(procedure, &run(procedure, &self.list(procedure))).is_some();
    }

    /// Lays the question about the last run on the sheet, in front of the card.
    pub fn explain(&mut self, card: &Card, now: Instant, shuffle: impl FnOnce(usize) -> Vec<usize>) {
        let Body::Sequence(procedure) = &card.body else { return };
        let Some(question) = explain(procedure, &run(procedure, &self.list(procedure))) else { return };
        let about = Card {
            key: about_a_run(&card.key),
            ask: format!("{} Give the causes in order, from the first to that.", full_stop(&question.tell)),
            because: None,
            because_points: Vec::new(),
            caution: None,
            seconds: None,
            probes: Vec::new(),
            body: Body::Why(question.why),
            ..card.clone()
        };
        let sheet = Sheet::of(&about, Stage::Asked, now, 0, shuffle);
        self.explaining = Some(Explaining { card: about, sheet: Box::new(sheet) });
    }

    /// The question has been answered and kept: the run stands on the sheet again.
    pub fn explained(&mut self) {
        self.explaining = None;
        self.sequence.may_explain = false;
    }

    /// Ticks a recall card's point (from 1) as said, or takes the tick away.
    ///
    /// # Errors
    /// Where the card has no such point.
    pub fn tick(&mut self, card: &Card, point: usize) -> Result<(), AnswerError> {
        let Stage::Marked(marked) = &mut self.stage else { return Ok(()) };
        let Detail::Recall { points } = &marked.marking.detail else { return Ok(()) };
        let said: Vec<usize> = (1..=points.len()).filter(|n| points[n - 1].said != (*n == point)).collect();
        let answer = Answer { given: Given::Said(said.clone()), seconds: Some(marked.seconds) };
        let mut marking = mark(card, &answer)?;
        match &marked.read {
            // Back to what was read from the typed words: their marking stands, contradictions and all.
            Some(read) if said == said_in(read) => marking = read.clone(),
            Some(read) => keep_evidence(&mut marking, read),
            None => marked.given = Given::Said(said),
        }
        marked.marking = marking;
        marked.notch = Notch::None;
        Ok(())
    }

    /// Moves the outcome by a notch; asking for the same notch again takes it away.
    pub fn set_notch(&mut self, notch: Notch) {
        if let Stage::Marked(marked) = &mut self.stage {
            let moved = marked.marking.outcome.notched(notch) != marked.marking.outcome;
            marked.notch = if marked.notch == notch || !moved { Notch::None } else { notch };
        }
    }
}

impl Marked {
    /// The outcome that will count.
    pub fn outcome(&self) -> Outcome {
        self.marking.outcome.notched(self.notch)
    }

    /// Numbers of the key points said and not said, for recall cards.
    pub fn points(&self) -> (Vec<usize>, Vec<usize>) {
        match &self.marking.detail {
            Detail::Recall { points } => (1..=points.len()).partition(|n| points[n - 1].said),
            _ => (Vec::new(), Vec::new()),
        }
    }
}

const ABOUT_A_RUN: &str = "--why";

/// The key that answers about a sequence's runs are filed under, beside the sequence's own. They count for the
/// card's topic; the question itself is of one run and never comes back.
pub fn about_a_run(key: &CardKey) -> CardKey {
    CardKey { deck: key.deck.clone(), card: format!("{}{ABOUT_A_RUN}", key.card) }
}

/// The card that a key belongs to: itself, or the sequence whose run it is about.
pub fn card_of(key: CardKey) -> CardKey {
    match key.card.strip_suffix(ABOUT_A_RUN) {
        Some(card) => CardKey { deck: key.deck, card: card.to_owned() },
        None => key,
    }
}

/// Whether answers under this key are about runs of a sequence.
pub fn is_about_a_run(key: &CardKey) -> bool {
    key.card.ends_with(ABOUT_A_RUN)
}

fn full_stop(text: &str) -> String {
    let text = text.trim();
    if text.ends_with(['.', '?', '!']) { text.to_owned() } else { format!("{text}.") }
}

fn said_in(marking: &Marking) -> Vec<usize> {
    match &marking.detail {
        Detail::Recall { points } => (1..=points.len()).filter(|n| points[n - 1].said).collect(),
        _ => Vec::new(),
    }
}

/// Keeps the words that were found beside the points that still count.
fn keep_evidence(marking: &mut Marking, read: &Marking) {
    if let (Detail::Recall { points }, Detail::Recall { points: found }) = (&mut marking.detail, &read.detail) {
        for (point, found) in points.iter_mut().zip(found) {
            if point.said {
                point.evidence.clone_from(&found.evidence);
            }
        }
    }
}
