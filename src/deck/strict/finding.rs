//! What a publisher should look at, as data.

use crate::domain::ids::{CardKey, DeckId};

/// Something that a publisher should look at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    /// What sort of thing.
    pub sort: Sort,
    /// The deck that it is in; none where it is about all of them.
    pub deck: Option<DeckId>,
    /// The card, where it is one.
    pub card: Option<CardKey>,
    /// What is wrong.
    pub message: String,
    /// How to mend it.
    pub mend: &'static str,
}

/// What sort of thing a publisher should look at: the columns of the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sort {
    /// Two cards ask, or answer, nearly the same.
    Twins,
    /// A question, or another card, gives an answer away.
    GivenAway,
    /// A point is not found in its own words, or has no phrase of its own.
    NoPhrase,
    /// A card has no reason.
    NoReason,
    /// Weights or critical points tell nothing apart.
    Weights,
    /// An accepted phrase names a topic and claims nothing.
    BareAccept,
    /// A safety-critical point refuses too few phrases.
    CriticalWithoutReject,
    /// No sample denies a safety-critical point.
    CriticalWithoutSample,
    /// A competence has too few cards.
    Coverage,
}

impl Sort {
    /// All of them, in the order of the table.
    pub const ALL: [Sort; 9] = [
        Sort::Twins,
        Sort::GivenAway,
        Sort::NoPhrase,
        Sort::NoReason,
        Sort::Weights,
        Sort::BareAccept,
        Sort::CriticalWithoutReject,
        Sort::CriticalWithoutSample,
        Sort::Coverage,
    ];

    /// The sort's word in the table.
    pub fn word(self) -> &'static str {
        match self {
            Sort::Twins => "twins",
            Sort::GivenAway => "given away",
            Sort::NoPhrase => "no phrase",
            Sort::NoReason => "no reason",
            Sort::Weights => "weights",
            Sort::BareAccept => "bare-accept",
            Sort::CriticalWithoutReject => "critical-without-reject",
            Sort::CriticalWithoutSample => "critical-without-sample",
            Sort::Coverage => "coverage",
        }
    }
}

impl Finding {
    pub(super) fn of_card(sort: Sort, card: &CardKey, message: String, mend: &'static str) -> Self {
        Self { sort, deck: Some(card.deck.clone()), card: Some(card.clone()), message, mend }
    }
}
