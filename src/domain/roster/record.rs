//! What a lecturer gives out and what a learner hands in, as plain data.

use serde::{Deserialize, Serialize};

use crate::domain::answer::Given;
use crate::domain::attempt::Attempt;
use crate::domain::day::{Instant, ShipOffset, StudyDay};
use crate::domain::ids::{AttemptId, CardKey, DeckId};
use crate::domain::oral::Blueprint;
use crate::domain::outcome::{Notch, Outcome};

/// Which class.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ClassName {
    /// Unlike that of any other class, whatever their names.
    pub id: String,
    /// For people.
    pub name: String,
}

/// What a lecturer gives out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Assignment {
    /// Unlike that of any other assignment.
    pub id: String,
    /// For whom.
    pub class: ClassName,
    /// When it was made.
    pub made: Instant,
    /// The day on which all its cards are to be held.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub by: Option<StudyDay>,
    /// Minutes a day, where the lecturer wishes some.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub minutes: Option<u32>,
    /// How the oral that it leads to is shared.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub blueprint: Option<Blueprint>,
    /// Where hand-ins go, in the lecturer's words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub send_to: Option<String>,
    /// The decks that are in it.
    pub decks: Vec<AssignedDeck>,
    /// The cards that are in it.
    pub cards: Vec<AssignedCard>,
}

/// A deck of an assignment.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct AssignedDeck {
    /// The deck's id.
    pub id: DeckId,
    /// For people.
    pub title: String,
    /// The edition that was given out.
    pub edition: u32,
}

/// A card of an assignment.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct AssignedCard {
    /// Which card.
    pub card: CardKey,
    /// The competence's key.
    pub topic: String,
    /// The deck's own section.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub heading: Option<String>,
    /// How much it matters, 1 to 3.
    pub weight: u8,
    /// The card's words, for the lecturer; a hand-in has none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub text: Option<CardText>,
}

/// A card's words.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct CardText {
    /// The question.
    pub ask: String,
    /// Its key points; empty where it has none.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub points: Vec<PointText>,
}

/// A key point's words.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PointText {
    /// The point in full.
    pub say: String,
    /// Missing it is unsafe.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub critical: bool,
}

/// What a learner hands in for an assignment. A later one contains the earlier ones.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct HandIn {
    /// What it is for, without the words of its cards.
    pub assignment: Assignment,
    /// Made for this class alone: no id of the computer or of the profile, nor one that another class sees.
    pub learner: String,
    /// The name or the code that the learner chose.
    pub name: String,
    /// When it was made.
    pub made: Instant,
    /// Whether what was typed is in it.
    pub with_answers: bool,
    /// In order of time.
    pub attempts: Vec<HandedAttempt>,
    /// What mock orals came to; none where the learner kept them back.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub orals: Option<Vec<HandedOral>>,
    /// Faults that the learner reported in its cards.
    pub faults: Vec<HandedFault>,
}

/// An attempt as it is handed in.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct HandedAttempt {
    /// As kept by the learner.
    pub id: AttemptId,
    /// Which card.
    pub card: CardKey,
    /// When it was accepted.
    pub at: Instant,
    /// Ship's time then.
    pub ship: ShipOffset,
    /// As worked out from the evidence.
    pub outcome: Outcome,
    /// The learner's own correction.
    #[serde(default, skip_serializing_if = "is_none")]
    pub notch: Notch,
    /// Time taken, in seconds.
    pub seconds: f64,
    /// The deck's edition then.
    pub edition: u32,
    /// Numbers of the key points said.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub said: Vec<usize>,
    /// Numbers of those not said.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub missed: Vec<usize>,
    /// Numbers of those not said of which the answer says the opposite.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub denied: Vec<usize>,
    /// The known mistake that explains the answer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub slip: Option<HandedSlip>,
    /// What was given, where the learner hands that in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub answer: Option<Given>,
    /// The learner took it back.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub voided: bool,
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde hands it over so")]
fn is_none(notch: &Notch) -> bool {
    *notch == Notch::None
}

/// A known mistake.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct HandedSlip {
    /// The sort's word.
    pub kind: String,
    /// What the deck tells of it; none for sorts whose words would quote the answer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tell: Option<String>,
}

/// What a mock oral came to.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct HandedOral {
    /// Unlike that of any other sitting.
    pub id: String,
    /// When it began.
    pub at: Instant,
    /// Share of points, 0 to 1.
    pub share: f64,
    /// Whether it would have passed.
    pub passed: bool,
    /// Lead questions.
    pub questions: usize,
    /// The mark of each function asked.
    pub functions: Vec<HandedFunction>,
}

/// A function's mark.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct HandedFunction {
    /// The function's key.
    pub function: String,
    /// Share of its points, 0 to 1.
    pub share: f64,
}

/// A fault that a learner reports in a card.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct HandedFault {
    /// Which card.
    pub card: CardKey,
    /// When.
    pub at: Instant,
    /// What is wrong, in the learner's words.
    pub note: String,
}

/// All that a class holds.
#[derive(Debug, Clone, PartialEq)]
pub struct ClassRecord {
    /// Which.
    pub class: ClassName,
    /// What was given out, in order of time.
    pub assignments: Vec<Assignment>,
    /// Who has handed in, in order of name.
    pub learners: Vec<LearnerRecord>,
}

/// All that a learner has handed in to a class.
#[derive(Debug, Clone, PartialEq)]
pub struct LearnerRecord {
    /// Made for this class alone.
    pub id: String,
    /// The name or the code that the learner chose last.
    pub name: String,
    /// When the last hand-in was made.
    pub last: Instant,
    /// In order of time.
    pub attempts: Vec<HandedAttempt>,
    /// In order of time.
    pub orals: Vec<HandedOral>,
    /// In order of time.
    pub faults: Vec<HandedFault>,
}

impl HandedAttempt {
    /// What counts: the outcome with the learner's notch.
    pub fn final_outcome(&self) -> Outcome {
        self.outcome.notched(self.notch)
    }

    /// Whether it is right at first sight, where it is the first.
    pub fn is_right(&self) -> bool {
        self.final_outcome() >= Outcome::Answered
    }

    /// An attempt without what was given. `denied` and `slip` are what marking it told.
    pub fn of(attempt: &Attempt, voided: bool, denied: Vec<usize>, slip: Option<HandedSlip>) -> Self {
        Self {
            id: attempt.id.clone(),
            card: attempt.card.clone(),
            at: attempt.at,
            ship: attempt.ship,
            outcome: attempt.outcome,
            notch: attempt.notch,
            seconds: attempt.seconds,
            edition: attempt.evidence.edition,
            said: attempt.evidence.points_said.clone(),
            missed: attempt.evidence.points_missed.clone(),
            denied,
            slip,
            answer: None,
            voided,
        }
    }

    /// The attempt as the memory model takes it in.
    pub fn as_attempt(&self) -> Attempt {
        Attempt {
            id: self.id.clone(),
            card: self.card.clone(),
            at: self.at,
            ship: self.ship,
            device: String::new(),
            evidence: crate::domain::attempt::Evidence {
                given: Given::Said(self.said.clone()),
                edition: self.edition,
                points_said: self.said.clone(),
                points_missed: self.missed.clone(),
            },
            outcome: self.outcome,
            notch: self.notch,
            seconds: self.seconds,
        }
    }

    /// The same attempt from two hand-ins, of which `later` was made later: that one's marking holds; what was given stays
    /// though the later keeps it back, and what was taken back stays so.
    pub fn united(earlier: Self, later: Self) -> Self {
        Self { answer: later.answer.or(earlier.answer), voided: earlier.voided || later.voided, ..later }
    }
}

impl Assignment {
    /// The assignment without the words of its cards.
    pub fn without_words(&self) -> Self {
        let mut light = self.clone();
        light.cards.iter_mut().for_each(|card| card.text = None);
        light
    }

    /// Whether a card is in it.
    pub fn has(&self, key: &CardKey) -> bool {
        self.cards.iter().any(|card| card.card == *key)
    }
}
