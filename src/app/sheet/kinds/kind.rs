//! What a kind does on the sheet beyond being asked, answered once and marked. Most do nothing.

use crate::app::sheet::answer_sheet::{AnswerSheet, Marked, Stage};
use crate::app::sheet::desk::AtWork;
use crate::domain::answer::{Answer, Given};
use crate::domain::card::Card;
use crate::domain::day::Instant;
use crate::domain::marking::reader::Reading;
use crate::domain::marking::{AnswerError, mark_read};

/// A kind on its sheet, asked through one card's own content.
pub trait OnSheet {
    /// The worksheet that is laid beside the question, with figures drawn from a seed; none where it has no such sheet.
    fn at_work(&self, _seed: u64) -> Option<Box<AtWork>> {
        None
    }

    /// The question with the figures that are drawn on this sheet; none where it has none.
    fn question(&self, _card: &Card, _sheet: &AnswerSheet) -> Option<String> {
        None
    }

    /// Takes in what was given.
    ///
    /// # Errors
    /// Where it does not fit the card.
    fn submit(&self, sheet: &mut AnswerSheet, card: &Card, given: Given, now: Instant) -> Result<(), AnswerError> {
        if matches!(sheet.stage, Stage::Asked) {
            let seconds = sheet.seconds(now);
            sheet.mark_first(card, given, seconds, None)?;
            self.marked(sheet);
        }
        Ok(())
    }

    /// How many things an answer says, for a learner who is made up.
    fn sample_parts(&self) -> usize {
        1
    }

    /// What a made-up learner gives who has said these things, by number; right where all of them were.
    fn sample(&self, _card: &Card, _sheet: &AnswerSheet, said: Vec<usize>) -> Given {
        Given::Said(said)
    }

    /// The first answer has been marked.
    fn marked(&self, _sheet: &mut AnswerSheet) {}
}

/// A kind that is answered once, and that is all.
pub(super) struct Plain;

impl OnSheet for Plain {}

impl AnswerSheet {
    /// Marks the first answer, given after so many seconds, with what the trained reader has made of its words.
    ///
    /// # Errors
    /// Where it does not fit the card.
    pub(super) fn mark_first(
        &mut self,
        card: &Card,
        given: Given,
        seconds: f64,
        reading: Option<&Reading>,
    ) -> Result<(), AnswerError> {
        let marking = mark_read(card, &Answer { given: given.clone(), seconds: Some(seconds) }, reading)?;
        let typed = matches!(given, Given::Text(_)) && marking.detail.points().is_some();
        let read = typed.then(|| marking.clone());
        self.stage = Stage::Marked(Box::new(Marked::of(given, seconds, marking, read)));
        Ok(())
    }
}
