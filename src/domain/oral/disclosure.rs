//! What may stand on screen while a card is answered: nothing that a question still asks for.
//!
//! The one place where that is decided; the views ask it, and leave out what it does not give free.

use super::probe::REASON;
use super::setup::{Draw, Way};
use super::sitting::{Asked, Question, Sitting};
use crate::domain::card::Card;

/// Where a card is answered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// In a watch.
    Watch,
    /// In a sitting of a mock oral.
    Oral {
        /// How its questions are drawn: in a mock nothing is told.
        draw: Draw,
        /// How answers are given.
        way: Way,
        /// The reason of the card is over with: told by this question, or asked for before.
        reason_due: bool,
    },
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
    /// The key points that are missing from the answer, in words.
    pub missing: bool,
    /// The outcome may be moved by a notch.
    pub notch: bool,
}

impl Disclosure {
    /// All of it.
    pub const ALL: Self = Self { source: true, reason: true, answer: true, missing: true, notch: true };
    /// Nothing of it.
    pub const NOTHING: Self = Self { source: false, reason: false, answer: false, missing: false, notch: false };
}

impl Place {
    /// The place of a question that stands in a sitting, with the card of its lead question.
    pub fn in_oral(sitting: &Sitting, way: Way, standing: &Question, lead: &Card) -> Self {
        // A lead question tells the reason of its card; a follow-up only where the examiner has asked for it since.
        let tells_it = standing.asked == Asked::Lead || !lead.because_points.is_empty();
        let reason_due = tells_it && !asks_reason(sitting, standing, lead);
        Place::Oral { draw: sitting.setup.draw, way, reason_due }
    }
}

/// What may be on screen there, before the answer is marked and after.
///
/// Before it nothing, but that a second person has the key points on their sheet. After it, in a watch all. A mock is as
/// on the day: no examiner shows anything, and the debrief tells it all. A sitting for coaching shows what was right
/// after each question, but for the reason where that is still to be asked for. In both a typed answer is marked without
/// a word of what is missing, which is asked for next; one that was said aloud is marked from its key points. A second
/// person gives the outcome.
pub fn disclosure(place: Place, marked: bool) -> Disclosure {
    let (draw, way, reason_due) = match place {
        Place::Watch if marked => return Disclosure::ALL,
        Place::Watch => return Disclosure::NOTHING,
        Place::Oral { draw, way, reason_due } => (draw, way, reason_due),
    };
    if !marked {
        return Disclosure { missing: way == Way::Second, ..Disclosure::NOTHING };
    }
    let of_answer = match draw {
        Draw::Mock => Disclosure::NOTHING,
        Draw::Coaching => Disclosure { reason: reason_due, ..Disclosure::ALL },
    };
    Disclosure { missing: way != Way::Write, notch: of_answer.notch || way == Way::Second, ..of_answer }
}

/// The question asks for the reason behind its card.
pub fn is_of_reason(question: &Question) -> bool {
    question.id.rsplit_once('#').is_some_and(|(_, part)| part == REASON)
}

/// The examiner may still ask for the reason of the card of this question, which stands in the sitting.
fn asks_reason(sitting: &Sitting, standing: &Question, card: &Card) -> bool {
    let id = format!("{}#{REASON}", card.key);
    let asked = sitting.turns.iter().map(|turn| &turn.question).chain([standing]).any(|question| question.id == id);
    !card.because_points.is_empty() && !asked
}
