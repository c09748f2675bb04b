//! A sitting of a mock oral being sat: the question that stands, the sheet it is answered on, and by whom it is marked.
//!
//! Pure as an engine is: it takes inputs with the time and gives back what to keep. It writes nothing.

use crate::app::profile::learner::Learner;
use crate::app::profile::shelf::Shelf;
use crate::app::sheet::{AnswerSheet, HandedIn, Marked, Session, Stage};
use crate::domain::answer::Given;
use crate::domain::card::Card;
use crate::domain::day::{Instant, StudyDay};
use crate::domain::ids::CardKey;
use crate::domain::kinds::Detail;
use crate::domain::marking::reader::Reading;
use crate::domain::marking::{AnswerError, Marking, PointMark};
use crate::domain::oral::{
    Blueprint, Candidate, Place, Question, Reply, Turn, Way, again, answered, card_for, nothing_said,
};
use crate::domain::outcome::{Notch, Outcome};
use crate::store::KeptSitting;

/// A sitting being sat. Its setup and its turns are the learner's, under its id.
#[derive(Debug, Clone)]
pub struct AtOral {
    /// Which of the learner's sittings it is.
    pub id: String,
    /// How the next question will be answered.
    pub way: Way,
    /// The question that stands, on its sheet; none while an answer is being kept or the sitting is over.
    pub asked: Option<AskedNow>,
    /// The instant since which the clock stands; none while it may run.
    pub paused: Option<Instant>,
    /// The instant since which the question is being read aloud; its clock begins after that.
    pub read_since: Option<Instant>,
    /// Nothing can be recorded here.
    pub unrecorded: bool,
}

/// The question that stands.
#[derive(Debug, Clone)]
pub struct AskedNow {
    /// What was asked.
    pub question: Question,
    /// How it is answered.
    pub way: Way,
    /// The card of its lead question.
    pub lead: Card,
    /// The card that it is answered as.
    pub card: Card,
    /// The sheet with the answer.
    pub sheet: AnswerSheet,
    /// Points (from 1) that a second person has ticked while the learner speaks.
    pub ticks: Vec<usize>,
    /// The second person's own outcome, where it differs from what the ticks come to.
    pub own: Option<Outcome>,
    /// The second person's note.
    pub note: String,
    /// The recording of the answer, as a file's name.
    pub recording: Option<String>,
    /// The examiner has asked for the typed answer once more, in other words.
    pub again: Option<Again>,
}

/// What was typed before the examiner asked for it once more.
#[derive(Debug, Clone)]
pub struct Again {
    /// What the examiner asked for.
    pub ask: String,
    /// The answer.
    first: String,
    /// Its reading.
    reading: Option<Reading>,
}

impl AtOral {
    /// A sitting at its beginning, or taken up.
    pub fn of(id: String, way: Way) -> Self {
        Self { id, way, asked: None, paused: None, read_since: None, unrecorded: false }
    }

    /// The place of the question that stands, by which it is decided what may be told; none while none stands.
    pub fn place(&self, learner: &Learner) -> Option<Place> {
        let asked = self.asked.as_ref()?;
        let (_, kept) = learner.sitting(&self.id)?;
        Some(Place::in_oral(&kept.sitting, asked.way, &asked.question, &asked.lead))
    }

    /// Lays a question on the sheet. `shuffle` gives an order of `n` things; figures are drawn from `seed`.
    pub fn lay(
        &mut self,
        question: Question,
        lead: &Card,
        (now, seed): (Instant, u64),
        shuffle: impl FnOnce(usize) -> Vec<usize>,
    ) {
        self.asked = Some(AskedNow::of(self.way, question, lead, (now, seed), shuffle));
        self.read_since = None;
    }

    /// Answers another way. A question that stands unanswered is laid out anew with its clock going on.
    pub fn set_way(&mut self, way: Way, seed: u64, shuffle: impl FnOnce(usize) -> Vec<usize>) {
        if self.way == way {
            return;
        }
        self.way = way;
        let Some(asked) = &mut self.asked else { return };
        if matches!(asked.sheet.stage, Stage::Asked) {
            let since = asked.sheet.shown_at;
            asked.way = way;
            asked.card = card_for(way, &asked.question, &asked.lead);
            asked.sheet = AnswerSheet::of(&asked.card, Stage::Asked, since, seed, shuffle);
        }
    }

    /// Stops the clock, or lets it run again.
    pub fn pause(&mut self, now: Instant, pause: bool) {
        match (self.paused, pause) {
            (None, true) => self.paused = Some(now),
            (Some(since), false) => {
                if let Some(asked) = &mut self.asked {
                    asked.sheet.shown_at = Instant(asked.sheet.shown_at.0 + (now.0 - since.0).max(0));
                }
                self.paused = None;
            }
            _ => {}
        }
    }

    /// The question begins to be read aloud: no time runs for it.
    pub fn read_from(&mut self, now: Instant) {
        self.read_since.get_or_insert(now);
    }

    /// The question has been read aloud: its clock begins.
    pub fn read_until(&mut self, now: Instant) {
        let Some(since) = self.read_since.take() else { return };
        if let Some(asked) = &mut self.asked
            && matches!(asked.sheet.stage, Stage::Asked)
        {
            asked.sheet.shown_at = Instant(asked.sheet.shown_at.0 + (now.0 - since.0).max(0));
        }
    }

    /// The instant that clocks show: that of the pause while there is one.
    pub fn clock(&self, now: Instant) -> Instant {
        self.paused.or(self.read_since).unwrap_or(now)
    }

    /// Whether the clock runs.
    pub fn clock_runs(&self) -> bool {
        self.paused.is_none()
            && self.read_since.is_none()
            && self.asked.as_ref().is_some_and(|asked| asked.sheet.clock_runs())
    }

    /// The card of the lead question that stands.
    pub fn lead(&self) -> Option<&CardKey> {
        self.asked.as_ref().map(|asked| &asked.lead.key)
    }
}

/// What a watch and a sitting have in common: a card in play on its sheet.
pub trait AtSheet {
    /// The card in play with its sheet; none where no card lies there, or where it has gone from the shelf.
    fn in_play<'a>(&'a mut self, shelf: &'a Shelf) -> Option<(&'a Card, &'a mut AnswerSheet)>;

    /// Ticks a key point (from 1) as said, or takes the tick away.
    ///
    /// # Errors
    /// Where there is no such point.
    fn tick(&mut self, shelf: &Shelf, point: usize) -> Result<(), AnswerError>;

    /// The number of the typed answer that is being read on its sheet.
    fn awaits(&self) -> Option<u64>;

    /// Marks that answer, with its reading where it has come.
    ///
    /// # Errors
    /// Where the answer's form does not fit the card.
    fn mark_handed(&mut self, shelf: &Shelf, reading: Option<&Reading>) -> Result<(), AnswerError>;

    /// Moves the outcome of the marked answer by a notch.
    fn set_notch(&mut self, shelf: &Shelf, notch: Notch);
}

impl AtSheet for Session {
    fn in_play<'a>(&'a mut self, shelf: &'a Shelf) -> Option<(&'a Card, &'a mut AnswerSheet)> {
        let sheet = self.sheet.as_mut()?;
        let (_, card) = shelf.card(&sheet.key)?;
        Some((card, sheet))
    }

    fn tick(&mut self, shelf: &Shelf, point: usize) -> Result<(), AnswerError> {
        self.in_play(shelf).map_or(Ok(()), |(card, sheet)| sheet.tick(card, point))
    }

    fn awaits(&self) -> Option<u64> {
        Some(self.sheet.as_ref()?.handed.as_ref()?.number)
    }

    fn mark_handed(&mut self, shelf: &Shelf, reading: Option<&Reading>) -> Result<(), AnswerError> {
        self.in_play(shelf).map_or(Ok(()), |(card, sheet)| sheet.mark_handed(card, reading))
    }

    fn set_notch(&mut self, shelf: &Shelf, notch: Notch) {
        if let Some((card, sheet)) = self.in_play(shelf) {
            sheet.front_mut(card).1.set_notch(notch);
        }
    }
}

impl AtSheet for AtOral {
    fn in_play<'a>(&'a mut self, _: &'a Shelf) -> Option<(&'a Card, &'a mut AnswerSheet)> {
        let asked = self.asked.as_mut()?;
        Some((&asked.card, &mut asked.sheet))
    }

    fn tick(&mut self, _: &Shelf, point: usize) -> Result<(), AnswerError> {
        self.asked.as_mut().map_or(Ok(()), |asked| asked.tick(point))
    }

    fn awaits(&self) -> Option<u64> {
        Some(self.asked.as_ref()?.sheet.handed.as_ref()?.number)
    }

    fn mark_handed(&mut self, _: &Shelf, reading: Option<&Reading>) -> Result<(), AnswerError> {
        self.asked.as_mut().map_or(Ok(()), |asked| asked.mark_handed(reading))
    }

    fn set_notch(&mut self, _: &Shelf, notch: Notch) {
        if let Some(asked) = &mut self.asked {
            asked.set_notch(notch);
        }
    }
}

/// A sitting that was ended by hand can be taken up again on the study day on which it was ended.
pub fn may_be_taken_up(kept: &KeptSitting, today: StudyDay) -> bool {
    kept.early && kept.ended.is_some_and(|ended| ended.study_day(kept.ship) == today)
}

/// The cards that may be asked: those of the blueprint's competences.
pub fn candidates<'a>(
    learner: &'a Learner,
    shelf: &'a Shelf,
    blueprint: &Blueprint,
    now: Instant,
) -> Vec<Candidate<'a>> {
    let day = learner.day(now);
    shelf
        .cards()
        .filter(|(_, card)| blueprint.weight_of(&card.topic) > 0.0 && !learner.is_aside(&card.key, day))
        .map(|(deck, card)| Candidate {
            card,
            sources: card.sources.iter().filter_map(|key| deck.sources.get(key)).collect(),
            recall: learner
                .memory
                .get(&card.key)
                .filter(|_| !learner.is_changed(&card.key))
                .map(|memory| learner.model.recall(memory, day)),
        })
        .collect()
}

impl AskedNow {
    /// A question laid on the sheet, to be answered in this way. `shuffle` gives an order of `n` things; figures are
    /// drawn from `seed`.
    pub fn of(
        way: Way,
        question: Question,
        lead: &Card,
        (now, seed): (Instant, u64),
        shuffle: impl FnOnce(usize) -> Vec<usize>,
    ) -> Self {
        let card = card_for(way, &question, lead);
        let sheet = AnswerSheet::of(&card, Stage::Asked, now, seed, shuffle);
        Self {
            question,
            way,
            lead: lead.clone(),
            card,
            sheet,
            ticks: Vec::new(),
            own: None,
            note: String::new(),
            recording: None,
            again: None,
        }
    }

    /// The question's id on the sheet: the answer that is asked for once more has a draft of its own.
    pub fn id_on_sheet(&self) -> String {
        let again = if self.again.is_some() { "#again" } else { "" };
        format!("{}{again}", self.question.id)
    }

    /// What the examiner has asked for since the question: the typed answer once more, while it stands unanswered.
    pub fn asks_again(&self) -> Option<&str> {
        let stands = self.way == Way::Write && matches!(self.sheet.stage, Stage::Asked);
        self.again.as_ref().filter(|_| stands).map(|again| again.ask.as_str())
    }

    /// What is typed together with what was typed before: both are one answer.
    pub fn joined(&self, text: String) -> String {
        match &self.again {
            Some(again) if self.way == Way::Write => format!("{}\n{text}", again.first),
            _ => text,
        }
    }

    /// Marks the typed answer that was being read. Where it is not sure of a point the examiner asks once before: the
    /// question then stands again, and what was typed is kept beside it.
    fn mark_handed(&mut self, reading: Option<&Reading>) -> Result<(), AnswerError> {
        let first = match &self.sheet.handed {
            Some(HandedIn { given: Given::Text(text), .. }) if self.again.is_none() && self.way == Way::Write => {
                text.clone()
            }
            _ => return self.sheet.mark_handed(&self.card, reading),
        };
        // What cannot be marked is told below.
        let would_be = self.sheet.would_be(&self.card, reading).ok().flatten();
        let Some(unsure) = would_be.as_ref().and_then(|marking| first_unsure(&self.card, marking)) else {
            return self.sheet.mark_handed(&self.card, reading);
        };
        self.again = Some(Again { ask: again(unsure.evidence.as_deref()), first, reading: reading.cloned() });
        self.sheet.withdraw();
        Ok(())
    }

    /// The learner has nothing to add to what was typed: it is marked as it stands. Whether there was such an answer.
    ///
    /// # Errors
    /// Where the answer's form does not fit the card.
    pub fn leave_it(&mut self, now: Instant) -> Result<bool, AnswerError> {
        if self.asks_again().is_none() {
            return Ok(false);
        }
        let Some(Again { first, reading, .. }) = self.again.clone() else { return Ok(false) };
        self.sheet.withdraw();
        // Marked at once: no reading of a number is awaited.
        self.sheet.hand_in(0, Given::Text(first), now);
        self.sheet.mark_handed(&self.card, reading.as_ref())?;
        Ok(true)
    }

    /// The answer is said: its points are shown, with those that a second person has ticked.
    ///
    /// # Errors
    /// Where the answer's form does not fit the card.
    pub fn finish_speaking(&mut self, now: Instant) -> Result<(), AnswerError> {
        let ticks = std::mem::take(&mut self.ticks);
        self.sheet.submit(&self.card, Given::Said(ticks), now)
    }

    /// Ticks a point (from 1), or takes the tick away: on the second person's sheet while the answer is being given,
    /// otherwise on the marked answer.
    ///
    /// # Errors
    /// Where there is no such point.
    pub fn tick(&mut self, point: usize) -> Result<(), AnswerError> {
        // What was typed is marked by the program alone: its missing points are not shown before the examiner asks.
        if self.way == Way::Write {
            return Ok(());
        }
        match (&self.sheet.stage, self.card.key_points()) {
            (Stage::Asked, Some(points)) if (1..=points.len()).contains(&point) => {
                match self.ticks.iter().position(|tick| *tick == point) {
                    Some(at) => drop(self.ticks.remove(at)),
                    None => self.ticks.push(point),
                }
                self.ticks.sort_unstable();
                Ok(())
            }
            _ => {
                self.own = None;
                self.sheet.tick(&self.card, point)
            }
        }
    }

    /// A second person moves the outcome by a step, as often as they like; a learner by one notch.
    pub fn set_notch(&mut self, notch: Notch) {
        match &self.sheet.stage {
            Stage::Marked(marked) if self.way == Way::Second => {
                let now = self.own.unwrap_or(marked.marking.outcome).notched(notch);
                self.own = (now != marked.marking.outcome).then_some(now);
            }
            _ => self.sheet.front_mut(&self.card).1.set_notch(notch),
        }
    }

    /// The outcome that counts as it stands; none before the answer is marked.
    pub fn outcome(&self) -> Option<Outcome> {
        match &self.sheet.stage {
            Stage::Marked(marked) => Some(self.own.unwrap_or_else(|| marked.outcome())),
            _ => None,
        }
    }

    /// The turn that the marked answer makes; none before it is marked.
    pub fn turn(&self, recording: Option<String>) -> Option<Turn> {
        let Stage::Marked(marked) = &self.sheet.stage else { return None };
        let reply = Reply {
            given: marked.given.clone(),
            marking: marked.marking.clone(),
            outcome: self.outcome()?,
            corrected: corrected(marked),
            seconds: marked.seconds,
            note: self.note.clone(),
            recording,
        };
        Some(Turn { question: self.as_asked(), answer: Some(answered(self.way, &self.card, reply)) })
    }

    /// The question with the figures that it was asked with.
    fn as_asked(&self) -> Question {
        let mut question = self.question.clone();
        if let Some(ask) = self.sheet.question(&self.card) {
            question.ask = ask;
        }
        question
    }

    /// The turn of a learner who has nothing, or no more, to say.
    pub fn ran_dry(&self, now: Instant, recording: Option<String>) -> Turn {
        let answer = nothing_said(&self.question, &self.lead, self.sheet.seconds(now), recording);
        Turn { question: self.as_asked(), answer: Some(answer) }
    }
}

/// The first point that is not sure, a safety-critical one before the others.
fn first_unsure<'a>(card: &Card, marking: &'a Marking) -> Option<&'a PointMark> {
    let marks = marking.detail.points()?;
    let asked = card.key_points()?;
    let unsure = || marks.iter().zip(asked).filter(|(mark, _)| mark.unsure);
    unsure().find(|(_, point)| point.critical).or_else(|| unsure().next()).map(|(mark, _)| mark)
}

/// The learner has corrected what the program read.
fn corrected(marked: &Marked) -> bool {
    let said =
        |detail: &Detail| detail.points().map(|points| points.iter().map(|point| point.said).collect::<Vec<_>>());
    marked.notch != Notch::None
        || marked.read.as_ref().is_some_and(|read| said(&read.detail) != said(&marked.marking.detail))
}
