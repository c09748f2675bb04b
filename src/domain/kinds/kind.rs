//! What the program asks of a kind of card: [`CardKind`] and [`Marks`], which every kind answers in its own file. Nothing
//! else in the domain asks which kind a card is of.

use crate::domain::answer::{Form, Given};
use crate::domain::drawing::Pointing;
use crate::domain::editions::Part;
use crate::domain::key_point::KeyPoint;
use crate::domain::marking::AnswerError;
use crate::domain::marking::reader::Reading;
use crate::domain::outcome::Outcome;

/// What holds for every card of a kind.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Facts {
    /// The kind's word in markings, and for people.
    pub word: &'static str,
    /// The forms of an answer that it takes, in the order in which a message names them.
    pub forms: &'static [Form],
    /// Seconds that a card takes, reading and marking included, before anything is measured.
    pub first_seconds: f64,
    /// Seconds that an examiner gives where the card does not say how long a good answer takes.
    pub oral_seconds: f64,
}

/// An answer as it is handed in to be marked.
#[derive(Debug, Clone, Copy)]
pub struct Handed<'a> {
    /// What was given.
    pub given: &'a Given,
    /// The card's question, whose words an answer need not repeat.
    pub ask: &'a str,
    /// Whether it was given within the card's seconds.
    pub in_time: bool,
    /// What the trained reader made of its words, where it has read them.
    pub reading: Option<&'a Reading>,
}

/// What marking returns.
#[derive(Debug, Clone, PartialEq)]
pub struct Marked<Told> {
    /// What the answer came to.
    pub outcome: Outcome,
    /// One sentence that says why.
    pub reason: String,
    /// What only this kind's marking tells.
    pub told: Told,
}

/// One thing that a full answer contains, with how much of it was there.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighed {
    /// What a full answer says.
    pub say: String,
    /// 0 to 1.
    pub earned: f64,
    /// Missing it is unsafe.
    pub critical: bool,
}

/// A question "And if ... now?" whose answer comes from a card's model, not from a list.
#[derive(Debug, Clone, PartialEq)]
pub struct WhatIf {
    /// Unlike the others of the same card.
    pub id: String,
    /// What the examiner says first.
    pub lead_in: &'static str,
    /// The words.
    pub ask: String,
    /// What a full answer says.
    pub points: Vec<KeyPoint>,
}

/// A kind of card, asked through one card's own content.
pub trait CardKind {
    /// What holds for every card of the kind.
    fn facts(&self) -> &'static Facts;

    /// What makes which outcome, in the words of a learner. `fluent` follows the outcome of a full answer.
    fn rule(&self, fluent: &str) -> String;

    /// What a full answer holds, to be ticked by whoever heard it.
    fn expected(&self) -> Vec<KeyPoint>;

    /// What is asked beside the question, and what counts as right: what another edition may change.
    fn asked(&self) -> Vec<Part>;

    /// Every "what if" that the card's model gives, in a fixed order.
    fn what_ifs(&self) -> Vec<WhatIf> {
        Vec::new()
    }

    /// Those "what ifs" that ask for what was missed: a point of [`Marks::weigh`], by its words.
    fn what_ifs_about(&self, _missed: &str) -> Vec<WhatIf> {
        Vec::new()
    }

    /// What can be searched for, beside the question and what all cards have.
    fn texts(&self) -> Vec<&str>;

    /// Key points of which the answer consists; none where it is no list of things to say.
    fn key_points(&self) -> Option<&[KeyPoint]> {
        None
    }

    /// Whether a full answer has something in it that is unsafe to miss.
    fn is_critical(&self) -> bool {
        self.key_points().is_some_and(|points| points.iter().any(|point| point.critical))
    }

    /// Whether the question alone says all that is asked. Of the other kinds many ask different things in like words:
    /// which part, which order, which result.
    fn is_plain_question(&self) -> bool {
        false
    }

    /// The whole answer in words, where two cards with the same one would be twins; empty where they would not.
    fn answer_in_words(&self) -> String {
        String::new()
    }

    /// Into how many parts the answer is cut, to be gone through one by one by a learner who missed it again and again.
    fn remedy_parts(&self) -> usize {
        self.expected().len()
    }

    /// How many things are shuffled when the card is laid out.
    fn shuffled(&self) -> usize {
        0
    }

    /// The drawing that is pointed at, with its part.
    fn pointing(&self) -> Option<&Pointing> {
        None
    }

    /// Whether it can be asked in words alone, without a drawing.
    fn can_be_told(&self) -> bool {
        true
    }

    /// Whether it is answered on the sheet even before an examiner, to whom other kinds are answered aloud.
    fn stays_on_the_sheet(&self) -> bool {
        false
    }

    /// Steps, by key, in an order that works and has the fewest of them; none where the kind has no steps or no order works.
    fn order_that_works(&self) -> Option<Vec<String>> {
        None
    }

    /// Whether an answer is run, so that there may be a question about what happened.
    fn has_runs(&self) -> bool {
        false
    }
}

/// How a kind marks the answers to its cards.
pub trait Marks {
    /// What only its marking tells.
    type Told;

    /// Marks an answer.
    ///
    /// # Errors
    /// Where it is of a form that the kind does not take, or names what the card does not have.
    fn mark(&self, answer: &Handed<'_>) -> Result<Marked<Self::Told>, AnswerError>;

    /// A marking as the points that it rests on.
    fn weigh(&self, told: &Self::Told, outcome: Outcome) -> Vec<Weighed>;
}

impl<Told> Marked<Told> {
    /// This marking with what it tells put so.
    pub(super) fn telling<Other>(self, put: impl FnOnce(Told) -> Other) -> Marked<Other> {
        Marked { outcome: self.outcome, reason: self.reason, told: put(self.told) }
    }
}

impl Facts {
    /// An answer of a form that the kind does not take.
    pub(super) fn wrong_form(&self) -> AnswerError {
        let forms: Vec<&str> = self.forms.iter().map(|form| form.name()).collect();
        AnswerError { message: format!("a {} card is answered with {}", self.word, forms.join(" or ")) }
    }
}

impl Weighed {
    /// A thing that was there or not.
    pub(super) fn there(say: &str, there: bool, critical: bool) -> Self {
        Self { say: say.to_owned(), earned: if there { 1.0 } else { 0.0 }, critical }
    }

    /// A thing of which as much was there as the outcome says.
    pub(super) fn by_outcome(say: &str, outcome: Outcome) -> Self {
        let earned = match outcome {
            Outcome::Missed => 0.0,
            Outcome::Prompted => 0.5,
            Outcome::Answered | Outcome::Fluent => 1.0,
        };
        Self { say: say.to_owned(), earned, critical: false }
    }
}
