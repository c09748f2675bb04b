//! A recall on its sheet: points ticked as said after the marking.

use super::kind::OnSheet;
use crate::app::sheet::answer_sheet::{AnswerSheet, Marked, Stage};
use crate::domain::answer::{Answer, Given};
use crate::domain::card::Card;
use crate::domain::kinds::recall::Recall;
use crate::domain::kinds::{Body, Detail};
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
        marked.correct(card, point, said)
    }

    /// Says of a point (from 1) that was not sure whether it is said. It counts as a tick does: the learner's own word, which
    /// corrects nothing that was read. It is not asked again.
    ///
    /// # Errors
    /// Where the answer's form does not fit the card.
    pub fn settle(&mut self, card: &Card, point: usize, is_said: bool) -> Result<(), AnswerError> {
        let Stage::Marked(marked) = &mut self.stage else { return Ok(()) };
        let Some(points) = marked.marking.detail.points() else { return Ok(()) };
        if !point.checked_sub(1).and_then(|at| points.get(at)).is_some_and(|mark| mark.unsure) {
            return Ok(());
        }
        let said = (1..=points.len()).filter(|n| if *n == point { is_said } else { points[n - 1].said }).collect();
        marked.correct(card, point, said)
    }
}

impl Marked {
    /// Marks it anew with these points said, after the learner's own word on one of them (from 1).
    fn correct(&mut self, card: &Card, point: usize, said: Vec<usize>) -> Result<(), AnswerError> {
        let answer = Answer { given: Given::Said(said.clone()), seconds: Some(self.seconds) };
        let mut marking = mark(card, &answer)?;
        match &self.read {
            Some(read) => {
                let of_point = point.checked_sub(1).zip(read.detail.points()).and_then(|(at, points)| points.get(at));
                let was_unsure = of_point.is_some_and(|point| point.unsure);
                if was_unsure && !self.settled.contains(&point) {
                    self.settled.push(point);
                }
                keep_what_was_read(card, &mut marking, read, &self.settled);
            }
            None => self.given = Given::Said(said),
        }
        self.marking = marking;
        self.notch = Notch::None;
        Ok(())
    }
}

/// Keeps what was read from the typed words: the words beside the points that count, what they speak against, and of what
/// they are not sure, but for the points (from 1) that the learner has settled.
fn keep_what_was_read(card: &Card, marking: &mut Marking, read: &Marking, settled: &[usize]) {
    let (Body::Recall(recall), Detail::Recall(told), Detail::Recall(found)) =
        (&card.body, &mut marking.detail, &read.detail)
    else {
        return;
    };
    for (number, (point, found)) in (1..).zip(told.points.iter_mut().zip(&found.points)) {
        point.scores = found.scores;
        point.contradicted = !point.said && found.contradicted;
        point.unsure = !point.said && found.unsure && !settled.contains(&number);
        if point.said || point.contradicted || point.unsure {
            point.evidence.clone_from(&found.evidence);
        }
    }
    marking.reason = recall.reason_of(&told.points);
}
