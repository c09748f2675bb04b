//! Sample answers are marked as learners' answers are, and those that come out otherwise than they expect are reported.

use std::time::{Duration, Instant};

use super::check::{Found, Site};
use super::checks;
use super::draft::DeckDraft;
use crate::domain::answer::Answer;
use crate::domain::card::Card;
use crate::domain::marking::{AnswerError, Marking, mark};
use crate::domain::sample::Sample;

/// All samples of a deck may take this long to mark together; a deck that needs more is a mistake or an attack.
const LONGEST: Duration = Duration::from_secs(120);

/// Marks every sample of a card that can be asked. The drawings must have been read.
pub(crate) fn check(deck: &mut DeckDraft) {
    let begun = Instant::now();
    for draft in &deck.drafts {
        // A card that points at a drawing has it only where both are sound.
        let unsound = draft.unsound.as_ref().filter(|_| draft.is_askable && draft.drawing.is_none());
        let Some(card) = draft.card.as_ref().or(unsound) else { continue };
        for (sample, site) in card.samples.iter().zip(&draft.samples) {
            if begun.elapsed() > LONGEST {
                deck.problems.report(checks::file::too_slow_samples(*site, LONGEST));
                return;
            }
            if let Some(found) = fault(card, sample, *site) {
                deck.problems.report(found);
            }
        }
    }
}

/// What is wrong with a sample; none where the marker makes of it what it expects.
fn fault(card: &Card, sample: &Sample, site: Site) -> Option<Found> {
    let Some(answer) = card.answer_of(sample) else { return Some(checks::sample::sample_answer_no_order(site)) };
    match marked(card, &answer) {
        Err(error) => Some(checks::sample::sample_answer(site, &error.message)),
        Ok(marking) => {
            let differences = sample.differences(&marking);
            (!differences.is_empty()).then(|| checks::sample::sample_differs(site, &differences))
        }
    }
}

/// The marking of a sample's answer by the marker that learners meet. Whatever reads answers for learners is called here
/// too, and nowhere else for samples.
fn marked(card: &Card, answer: &Answer) -> Result<Marking, AnswerError> {
    mark(card, answer)
}
