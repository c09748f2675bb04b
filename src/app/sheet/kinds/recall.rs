//! A recall on its sheet: points ticked as said after the marking.

use super::kind::OnSheet;
use crate::app::sheet::answer_sheet::{AnswerSheet, Stage};
use crate::domain::answer::{Answer, Given};
use crate::domain::card::Card;
use crate::domain::kinds::Detail;
use crate::domain::kinds::recall::Recall;
use crate::domain::marking::{AnswerError, Marking, mark};
use crate::domain::outcome::Notch;

impl OnSheet for Recall {
    fn sample_parts(&self) -> usize {
        self.points.len()
    }
}

impl AnswerSheet {
    /// Ticks a recall card's point (from 1) as said, or takes the tick away.
    ///
    /// # Errors
    /// Where the card has no such point.
    pub fn tick(&mut self, card: &Card, point: usize) -> Result<(), AnswerError> {
        let Stage::Marked(marked) = &mut self.stage else { return Ok(()) };
        let Some(points) = marked.marking.detail.points() else { return Ok(()) };
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
}

fn said_in(marking: &Marking) -> Vec<usize> {
    let points = marking.detail.points().unwrap_or_default();
    (1..=points.len()).filter(|n| points[n - 1].said).collect()
}

/// Keeps the words that were found beside the points that still count.
fn keep_evidence(marking: &mut Marking, read: &Marking) {
    if let (Detail::Recall(told), Detail::Recall(found)) = (&mut marking.detail, &read.detail) {
        for (point, found) in told.points.iter_mut().zip(&found.points) {
            if point.said {
                point.evidence.clone_from(&found.evidence);
            }
        }
    }
}
