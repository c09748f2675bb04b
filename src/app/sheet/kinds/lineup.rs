//! A line-up on its sheet: checked once, mended and checked again.

use super::kind::OnSheet;
use crate::app::sheet::answer_sheet::{AnswerSheet, Stage};
use crate::domain::answer::{Answer, Given, LinedUp};
use crate::domain::card::Card;
use crate::domain::marking::{AnswerError, mark};
use crate::domain::piping::Network;

impl OnSheet for Network {
    fn marked(&self, sheet: &mut AnswerSheet) {
        sheet.lineup.checks = 1;
    }
}

impl AnswerSheet {
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
}
