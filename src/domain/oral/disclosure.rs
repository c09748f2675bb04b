//! What may stand on screen while a card is answered: nothing that a question still asks for.
//!
//! The one place where that is decided; the views ask it, and leave out what it does not give free.

use super::probe::REASON;
use super::sitting::{Draw, Question, Sitting};
use crate::domain::card::Card;

/// Where a card is answered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// In a watch.
    Watch,
    /// In a sitting of a mock oral; with it, whether the reason of the card may still be asked for.
    Oral(Draw, bool),
}

/// What may be on screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Disclosure {
    /// Where the card is from: a title may print the very formula.
    pub source: bool,
    /// The card's reason.
    pub reason: bool,
    /// What would have been right: the figure, an order, a setting, the method, why something went wrong.
    pub answer: bool,
    /// The learner may move the outcome by a notch.
    pub notch: bool,
}

impl Disclosure {
    /// All of it.
    pub const ALL: Self = Self { source: true, reason: true, answer: true, notch: true };
    /// Nothing of it.
    pub const NOTHING: Self = Self { source: false, reason: false, answer: false, notch: false };
}

/// What may be on screen there, before the answer is marked and after.
///
/// Before it nothing. After it, in a watch all. A mock is as on the day: no examiner shows anything, and the debrief
/// tells it all. A sitting for coaching shows what was right after each question, but for the reason where that is still
/// to be asked for.
pub fn disclosure(place: Place, marked: bool) -> Disclosure {
    match place {
        _ if !marked => Disclosure::NOTHING,
        Place::Watch => Disclosure::ALL,
        Place::Oral(Draw::Mock, _) => Disclosure::NOTHING,
        Place::Oral(Draw::Coaching, asks_reason) => Disclosure { reason: !asks_reason, ..Disclosure::ALL },
    }
}

/// The question asks for the reason behind its card.
pub fn is_of_reason(question: &Question) -> bool {
    question.id.rsplit_once('#').is_some_and(|(_, part)| part == REASON)
}

/// The examiner may still ask for the reason of the card of this question, which stands in the sitting.
pub fn asks_reason(sitting: &Sitting, standing: &Question, card: &Card) -> bool {
    let id = format!("{}#{REASON}", card.key);
    let asked = sitting.turns.iter().map(|turn| &turn.question).chain([standing]).any(|question| question.id == id);
    !card.because_points.is_empty() && !asked
}
