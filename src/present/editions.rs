//! Editions as data to draw: what one brought, which there were, and what was changed of a card.

use crate::domain::ids::{CardKey, DeckId};
use crate::present::block::TitleBlock;

/// What an edition of a deck brought.
#[derive(Debug, Clone, PartialEq)]
pub struct EditionView {
    /// The deck.
    pub deck: DeckId,
    /// The edition's place among those of the deck that were taken in.
    pub place: usize,
    /// `What is new in edition 2`.
    pub headline: String,
    /// Title of the deck.
    pub title: String,
    /// The whole in a sentence or two.
    pub sentence: String,
    /// What is new, changed, renamed, withdrawn; those of which there is something.
    pub groups: Vec<EditionGroup>,
    /// How many other decks have come in in a higher edition and were not looked at yet.
    pub more: usize,
    /// Whether it has just come in, and leads on to the watch.
    pub fresh: bool,
    /// The title block.
    pub block: TitleBlock,
}

/// Cards of an edition with which the same has happened.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EditionGroup {
    /// `One card is changed`.
    pub heading: String,
    /// What it does to memory, in a sentence.
    pub sentence: String,
    /// The cards, in the deck's order.
    pub cards: Vec<EditionRow>,
    /// `and 40 more`, where there are more than are listed.
    pub more: Option<String>,
}

/// A card of an edition.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EditionRow {
    /// The card's question, in plain text.
    pub ask: String,
    /// What happened to it: `The key points, the tolerance`, `It was air-full`; empty where the heading says it.
    pub what: String,
}

/// An edition that was taken in, on its deck's page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TakenRow {
    /// The edition's place among those of the deck that were taken in.
    pub place: usize,
    /// `Edition 2`.
    pub edition: String,
    /// `Thursday 3 December`: when it was taken in.
    pub day: String,
    /// `1 new, 2 changed`.
    pub brought: String,
}

/// A card that is no longer in its deck.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WithdrawnRow {
    /// The card.
    pub key: CardKey,
    /// The card's question, in plain text; its id where that is not known.
    pub ask: String,
    /// `Asked 3 times, last on Thursday 3 December`; `Never asked`.
    pub answered: String,
}

/// What was changed of a card, at its question.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChangedView {
    /// `Changed in edition 2`.
    pub heading: String,
    /// What is another, old beside new; none before the answer, which it would give away.
    pub parts: Option<Vec<ChangedPart>>,
}

/// A part that is another.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChangedPart {
    /// `The key points`.
    pub what: String,
    /// As it was.
    pub was: Vec<ChangedLine>,
    /// As it is.
    pub is: Vec<ChangedLine>,
}

/// A line of such a part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChangedLine {
    /// The words.
    pub text: String,
    /// Missing it is unsafe.
    pub critical: bool,
    /// It stands on this side alone.
    pub differs: bool,
}
