//! What a working has on its sheet: the figures of a draw, the learner's lines and answer, the tries, and practice with
//! fresh figures. Pure, as the session is that it belongs to.

use crate::app::command::Work;
use crate::app::reckoner::Question;
use crate::app::session::{Marked, Sheet, Stage};
use crate::domain::answer::{Answer, Given, Worked};
use crate::domain::card::{Body, Card};
use crate::domain::day::Instant;
use crate::domain::marking::{AnswerError, Detail, LineValue, Marking, mark};
use crate::domain::outcome::{Notch, Outcome};
use crate::domain::quantity::{Quantity, Within};
use crate::domain::settings::bounded_lines;
use crate::domain::working::{Working, draw, text};

/// A worksheet with the figures that are worked with.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Desk {
    /// The seed that the figures were drawn from.
    pub seed: u64,
    /// The figures, in the deck's order.
    pub givens: Vec<(String, Quantity)>,
    /// The same as they are written down, in the same order.
    written: Vec<String>,
    /// The unit that the answer is asked in.
    pub unit: String,
    /// How near it must be, as a share; zero for exactly, or where the deck says it otherwise.
    within: f64,
    /// The learner's lines, as typed.
    pub lines: Vec<String>,
    /// The answer, as typed so far.
    pub answer: String,
}

/// What a working has on its sheet besides the marking.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct AtWork {
    /// The worksheet that counts.
    pub desk: Desk,
    /// The first try, once a second one is marked: what was answered, and its marking.
    pub first: Option<(String, Marking)>,
    /// What the second try alone came to.
    pub second: Option<Outcome>,
    /// A second try is being worked, since then.
    pub again: Option<Instant>,
    /// The method has been shown: there is no second try any more.
    pub shown: bool,
    /// Practice with fresh figures stands on the sheet.
    pub practice: Option<Practice>,
}

/// Practice: it counts for nothing.
#[derive(Debug, Clone, PartialEq)]
pub struct Practice {
    /// Its worksheet.
    pub desk: Desk,
    /// What was handed in, and its marking.
    pub marked: Option<(Worked, Marking)>,
}

impl Desk {
    /// An empty worksheet with figures drawn from a seed.
    pub fn drawn(working: &Working, seed: u64) -> Self {
        let figures = draw(working, seed);
        let written = working.givens.iter().zip(&figures).map(|(given, figure)| text(given, figure)).collect();
        let givens = working.givens.iter().map(|given| given.name.clone()).zip(figures).collect();
        let within = if let Within::Relative(share) = working.within { share } else { 0.0 };
        Self { seed, givens, written, unit: working.unit.clone(), within, ..Self::default() }
    }

    /// What is handed in, with the figures it was worked with.
    fn worked(&self, worked: Worked) -> Worked {
        let givens = self.givens.iter().map(|(name, _)| name.clone()).zip(self.written.iter().cloned());
        Worked { seed: Some(self.seed), givens: givens.collect(), ..worked }
    }

    /// The figures, in the deck's order.
    pub fn figures(&self) -> Vec<Quantity> {
        self.givens.iter().map(|(_, figure)| figure.clone()).collect()
    }

    /// What is to be worked out.
    pub fn question(&self) -> Question {
        Question {
            givens: self.givens.clone(),
            unit: Some(self.unit.clone()),
            within: self.within,
            lines: self.lines.clone(),
        }
    }

    fn write(&mut self, work: Work) {
        self.lines = bounded_lines(work.lines);
        self.answer = bounded_lines(vec![work.answer]).concat();
    }

    /// The method with these figures: its lines with their values, and the right answer.
    pub fn model(&self, card: &Card) -> Option<(Vec<LineValue>, String)> {
        let worked = self.worked(Worked { text: "0".to_owned(), ..Worked::default() });
        match mark(card, &Answer::of(Given::Worked(worked))).ok()?.detail {
            Detail::Working { lines, expected, .. } => Some((lines, expected)),
            _ => None,
        }
    }
}

impl AtWork {
    /// With figures drawn from a seed.
    pub fn drawn(working: &Working, seed: u64) -> Self {
        Self { desk: Desk::drawn(working, seed), ..Self::default() }
    }

    /// The worksheet in front: that of practice while there is one.
    pub fn front(&self) -> &Desk {
        self.practice.as_ref().map_or(&self.desk, |p| &p.desk)
    }

    /// Whether a second try may be begun, after this marking.
    pub fn may_try_again(&self, marked: &Marked) -> bool {
        let tried = self.first.is_some() || self.again.is_some();
        !tried && !self.shown && self.practice.is_none() && marked.marking.outcome < Outcome::Answered
    }

    /// Whether lines may be written and an answer handed in.
    pub fn is_open(&self, stage: &Stage) -> bool {
        match (&self.practice, stage) {
            (Some(practice), _) => practice.marked.is_none(),
            (None, Stage::Asked) => true,
            (None, Stage::Marked(_)) => self.again.is_some(),
            (None, Stage::Remedy(_)) => false,
        }
    }
}

impl Sheet {
    /// The worksheet in front, if there is one that may be written on.
    pub fn desk(&self) -> Option<&Desk> {
        self.work.as_deref().filter(|work| work.is_open(&self.stage)).map(AtWork::front)
    }

    /// The worksheet now reads so.
    pub fn write(&mut self, work: Work) {
        let Some(at_work) = self.work.as_deref_mut().filter(|w| w.is_open(&self.stage)) else { return };
        match &mut at_work.practice {
            Some(practice) => practice.desk.write(work),
            None => at_work.desk.write(work),
        }
    }

    /// Marks a working: the first try, the second, or practice.
    ///
    /// # Errors
    /// Where the answer cannot be read.
    pub(super) fn hand_in(&mut self, card: &Card, worked: Worked, now: Instant) -> Result<(), AnswerError> {
        let seconds = self.seconds(now);
        let Some(work) = self.work.as_deref_mut().filter(|w| w.is_open(&self.stage)) else { return Ok(()) };
        let text = bounded_lines(vec![worked.text]).concat();
        let worked = work.front().worked(Worked { text, lines: bounded_lines(worked.lines), ..worked });
        let marked = |worked: &Worked, seconds| mark(card, &Answer { given: Given::Worked(worked.clone()), seconds });
        if let Some(practice) = &mut work.practice {
            let marking = marked(&worked, None)?;
            practice.desk.lines.clone_from(&worked.lines);
            practice.marked = Some((worked, marking));
            return Ok(());
        }
        match &mut self.stage {
            Stage::Asked => {
                let marking = marked(&worked, Some(seconds))?;
                work.desk.lines.clone_from(&worked.lines);
                let given = Given::Worked(worked);
                let first = Marked { given, seconds, marking, read: None, notch: Notch::None };
                self.stage = Stage::Marked(Box::new(first));
            }
            Stage::Marked(first) => {
                let mut marking = marked(&worked, None)?;
                work.second = Some(marking.outcome);
                marking.outcome = first.marking.outcome.after_second_try(marking.outcome);
                work.desk.lines.clone_from(&worked.lines);
                work.again = None;
                let text = match &first.given {
                    Given::Worked(worked) => worked.text.clone(),
                    _ => String::new(),
                };
                let given = Given::Worked(Worked { first: Some(text.clone()), ..worked });
                let before = std::mem::replace(
                    first.as_mut(),
                    Marked { given, seconds, marking, read: None, notch: Notch::None },
                );
                work.first = Some((text, before.marking));
            }
            Stage::Remedy(_) => {}
        }
        Ok(())
    }

    /// Begins the second try, where there is one to be had.
    pub fn try_again(&mut self, now: Instant) {
        if let (Stage::Marked(marked), Some(work)) = (&self.stage, self.work.as_deref_mut())
            && work.may_try_again(marked)
        {
            work.again = Some(now);
            work.desk.answer.clear();
        }
    }

    /// The method is shown from now on.
    pub fn show_method(&mut self) {
        if let (Stage::Marked(_), Some(work)) = (&self.stage, self.work.as_deref_mut())
            && work.again.is_none()
        {
            work.shown = true;
        }
    }

    /// Lays fresh figures on the sheet, as practice.
    pub fn practise(&mut self, card: &Card, seed: u64) {
        if let (Stage::Marked(_), Some(work), Body::Working(working)) =
            (&self.stage, self.work.as_deref_mut(), &card.body)
        {
            work.again = None;
            work.practice = Some(Practice { desk: Desk::drawn(working, seed), marked: None });
        }
    }

    /// Back from practice, or from a second try that was not handed in.
    pub fn back_to_marking(&mut self) {
        if let Some(work) = self.work.as_deref_mut()
            && work.practice.take().is_none()
        {
            work.again = None;
        }
    }
}
