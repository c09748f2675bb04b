//! A working on its sheet: the first try, the second, practice with fresh figures.

use super::kind::OnSheet;
use crate::app::sheet::answer_sheet::{AnswerSheet, Marked, Stage};
use crate::app::sheet::desk::{AtWork, Desk, Practice, Practised, Tried};
use crate::app::sheet::edit::EditWorksheet;
use crate::domain::answer::{Answer, Given, Worked};
use crate::domain::card::Card;
use crate::domain::day::Instant;
use crate::domain::kinds::working::LineValue;
use crate::domain::kinds::{Body, Detail};
use crate::domain::marking::{AnswerError, mark};
use crate::domain::outcome::Outcome;
use crate::domain::settings::bounded_lines;
use crate::domain::working::{Working, ask};

/// A method worked through with the figures of a worksheet.
#[derive(Debug, Clone, PartialEq)]
pub struct ModelWorking {
    /// The method's lines with their values.
    pub lines: Vec<LineValue>,
    /// The right answer.
    pub answer: String,
}

impl OnSheet for Working {
    fn at_work(&self, seed: u64) -> Option<Box<AtWork>> {
        Some(Box::new(AtWork::drawn(self, seed)))
    }

    fn question(&self, card: &Card, sheet: &AnswerSheet) -> Option<String> {
        Some(ask(self, &card.ask, &sheet.work.as_ref()?.front().figures()))
    }

    fn submit(&self, sheet: &mut AnswerSheet, card: &Card, given: Given, now: Instant) -> Result<(), AnswerError> {
        match given {
            Given::Worked(worked) => sheet.hand_in_work(card, worked, now),
            given if matches!(sheet.stage, Stage::Asked) => {
                let seconds = sheet.seconds(now);
                sheet.mark_first(card, given, seconds, None)
            }
            _ => Ok(()),
        }
    }

    fn sample_parts(&self) -> usize {
        self.lines.len() + 1
    }

    fn sample(&self, card: &Card, sheet: &AnswerSheet, said: Vec<usize>) -> Given {
        let right = said.len() == self.sample_parts();
        let model = sheet.work.as_ref().filter(|_| right).and_then(|work| work.front().model(card));
        let text = model.map_or_else(|| "0".to_owned(), |model| model.answer);
        Given::Worked(Worked { text, ..Worked::default() })
    }
}

impl Desk {
    /// The method with these figures.
    pub fn model(&self, card: &Card) -> Option<ModelWorking> {
        let worked = self.worked(Worked { text: "0".to_owned(), ..Worked::default() });
        match mark(card, &Answer::of(Given::Worked(worked))).ok()?.detail {
            Detail::Working(told) => Some(ModelWorking { lines: told.lines, answer: told.expected }),
            _ => None,
        }
    }
}

impl AtWork {
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

impl AnswerSheet {
    /// The worksheet in front, if there is one that may be written on.
    pub fn desk(&self) -> Option<&Desk> {
        self.work.as_deref().filter(|work| work.is_open(&self.stage)).map(AtWork::front)
    }

    /// The worksheet now reads so.
    pub fn write(&mut self, work: EditWorksheet) {
        let Some(at_work) = self.work.as_deref_mut().filter(|w| w.is_open(&self.stage)) else { return };
        match &mut at_work.practice {
            Some(practice) => practice.desk.write(work),
            None => at_work.desk.write(work),
        }
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

    /// Marks a working: the first try, the second, or practice.
    ///
    /// # Errors
    /// Where the answer cannot be read.
    fn hand_in_work(&mut self, card: &Card, worked: Worked, now: Instant) -> Result<(), AnswerError> {
        let seconds = self.seconds(now);
        let Some(work) = self.work.as_deref_mut().filter(|w| w.is_open(&self.stage)) else { return Ok(()) };
        let text = bounded_lines(vec![worked.text]).concat();
        let worked = work.front().worked(Worked { text, lines: bounded_lines(worked.lines), ..worked });
        let marked = |worked: &Worked, seconds| mark(card, &Answer { given: Given::Worked(worked.clone()), seconds });
        if let Some(practice) = &mut work.practice {
            let marking = marked(&worked, None)?;
            practice.desk.lines.clone_from(&worked.lines);
            practice.marked = Some(Practised { worked, marking });
            return Ok(());
        }
        match &mut self.stage {
            Stage::Asked => {
                let marking = marked(&worked, Some(seconds))?;
                work.desk.lines.clone_from(&worked.lines);
                let given = Given::Worked(worked);
                self.stage = Stage::Marked(Box::new(Marked::of(given, seconds, marking, None)));
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
                let before = std::mem::replace(first.as_mut(), Marked::of(given, seconds, marking, None));
                work.first = Some(Tried { text, marking: before.marking });
            }
            Stage::Remedy(_) => {}
        }
        Ok(())
    }
}
