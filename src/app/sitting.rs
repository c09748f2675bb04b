//! A sitting of a mock oral being sat: the question that stands, the sheet it is answered on, and by whom it is marked.
//!
//! Pure as an engine is: it takes inputs with the time and gives back what to keep. It writes nothing.

use crate::app::session::{Marked, Sheet, Stage};
use crate::domain::answer::Given;
use crate::domain::card::{Body, Card, Recall};
use crate::domain::day::{Instant, StudyDay};
use crate::domain::ids::CardKey;
use crate::domain::marking::{AnswerError, Detail};
use crate::domain::oral::{
    Answered, Asked, MarkedBy, OralPoint, Question, Reply, Turn, Way, What, answered, card_of, expected, marks_of,
};
use crate::domain::outcome::{Notch, Outcome};
use crate::domain::working::ask;
use crate::store::KeptSitting;

// The path of before: it goes when faces and tests name the new one.
pub use crate::app::program::command::OralChoice;

/// A sitting being sat.
#[derive(Debug, Clone)]
pub struct AtOral {
    /// As it is kept so far; only the last turn may be without an answer.
    pub kept: KeptSitting,
    /// How answers are given, until changed.
    pub way: Way,
    /// The question that stands, on its sheet; none while an answer is being kept or the sitting is over.
    pub asked: Option<AskedNow>,
    /// The clock stands since then.
    pub paused: Option<Instant>,
    /// The question is being read aloud since then; its clock begins after that.
    pub read_since: Option<Instant>,
    /// Nothing can be recorded here.
    pub unrecorded: bool,
}

/// The question that stands.
#[derive(Debug, Clone)]
pub struct AskedNow {
    /// The question.
    pub question: Question,
    /// The card of its lead question.
    pub lead: Card,
    /// The card that it is answered as.
    pub card: Card,
    /// The sheet with the answer.
    pub sheet: Sheet,
    /// Points (from 1) that a second person has ticked while the learner speaks.
    pub ticks: Vec<usize>,
    /// The second person's own outcome, where it differs from what the ticks come to.
    pub own: Option<Outcome>,
    /// The second person's note.
    pub note: String,
    /// The recording of the answer, as a file's name.
    pub recording: Option<String>,
}

impl AtOral {
    /// A sitting at its beginning, or taken up.
    pub fn of(kept: KeptSitting, way: Way) -> Self {
        Self { kept, way, asked: None, paused: None, read_since: None, unrecorded: false }
    }

    /// Lays a question on the sheet. `shuffle` gives an order of `n` things; figures are drawn from `seed`.
    pub fn lay(
        &mut self,
        question: Question,
        lead: &Card,
        (now, seed): (Instant, u64),
        shuffle: impl FnOnce(usize) -> Vec<usize>,
    ) {
        let card = card_for(self.way, &question, lead);
        let sheet = Sheet::of(&card, Stage::Asked, now, seed, shuffle);
        self.asked = Some(AskedNow {
            question,
            lead: lead.clone(),
            card,
            sheet,
            ticks: Vec::new(),
            own: None,
            note: String::new(),
            recording: None,
        });
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
            asked.card = card_for(way, &asked.question, &asked.lead);
            asked.sheet = Sheet::of(&asked.card, Stage::Asked, since, seed, shuffle);
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

    /// It is read.
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

/// A sitting that was ended by hand can be taken up again on the study day on which it was ended.
pub fn may_be_taken_up(kept: &KeptSitting, today: StudyDay) -> bool {
    kept.early && kept.ended.is_some_and(|ended| ended.study_day(kept.ship) == today)
}

/// The card that a question is answered as: set or typed, or its points to be ticked. A calculation is worked on paper
/// and a part pointed at before any examiner: both stay on the sheet.
fn card_for(way: Way, question: &Question, lead: &Card) -> Card {
    let on_sheet = question.asked == Asked::Lead && matches!(lead.body, Body::Working(_) | Body::Point(_));
    match way {
        Way::Write => card_of(question, lead),
        _ if on_sheet => card_of(question, lead),
        Way::Speak | Way::Second => {
            let points = expected(question, lead).iter().map(OralPoint::key_point).collect();
            Card {
                ask: question.ask.clone(),
                picture: lead.picture.clone(),
                body: Body::Recall(Recall { points }),
                ..lead.clone()
            }
        }
    }
}

impl AskedNow {
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
        match (&self.sheet.stage, &self.card.body) {
            (Stage::Asked, Body::Recall(recall)) if (1..=recall.points.len()).contains(&point) => {
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

    /// The second person moves the outcome by a step.
    pub fn step_outcome(&mut self, notch: Notch) {
        if let Stage::Marked(marked) = &self.sheet.stage {
            let now = self.own.unwrap_or(marked.marking.outcome).notched(notch);
            self.own = (now != marked.marking.outcome).then_some(now);
        }
    }

    /// The outcome as it stands.
    pub fn outcome(&self) -> Option<Outcome> {
        match &self.sheet.stage {
            Stage::Marked(marked) => Some(self.own.unwrap_or_else(|| marked.outcome())),
            _ => None,
        }
    }

    /// The turn that the marked answer makes; none before it is marked.
    pub fn turn(&self, way: Way, recording: Option<String>) -> Option<Turn> {
        let Stage::Marked(marked) = &self.sheet.stage else { return None };
        let by = match way {
            _ if !matches!(self.card.body, Body::Recall(_)) => MarkedBy::Program,
            Way::Second => MarkedBy::Second,
            Way::Write if !corrected(marked) => MarkedBy::Program,
            _ => MarkedBy::Learner,
        };
        let answer = Answered {
            given: Some(marked.given.clone()),
            marks: marks_of(&self.card, &marked.marking),
            outcome: self.outcome()?,
            ran_dry: false,
            seconds: marked.seconds,
            by,
            note: self.note.trim().to_owned(),
            recording,
        };
        Some(Turn { question: self.as_asked(), answer: Some(answer) })
    }

    /// The question with the figures that it was asked with.
    fn as_asked(&self) -> Question {
        let mut question = self.question.clone();
        if let (Body::Working(working), Some(work)) = (&self.card.body, &self.sheet.work) {
            question.ask = ask(working, &self.card.ask, &work.front().figures());
        }
        question
    }

    /// The turn of a learner who has nothing (more) to say.
    ///
    /// # Errors
    /// Never for what the examiner asked; kept as the engine's own.
    pub fn ran_dry(&self, now: Instant, recording: Option<String>) -> Result<Turn, AnswerError> {
        let reply = Reply {
            what: What::RanDry,
            seconds: self.sheet.seconds(now),
            by: MarkedBy::Program,
            note: String::new(),
            recording,
        };
        let answer = answered(&self.question, &self.lead, reply)?;
        Ok(Turn { question: self.as_asked(), answer: Some(answer) })
    }
}

/// The learner has corrected what the program read.
fn corrected(marked: &Marked) -> bool {
    let said = |detail: &Detail| match detail {
        Detail::Recall { points } => Some(points.iter().map(|point| point.said).collect::<Vec<_>>()),
        _ => None,
    };
    marked.notch != Notch::None
        || marked.read.as_ref().is_some_and(|read| said(&read.detail) != said(&marked.marking.detail))
}
