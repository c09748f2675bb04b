//! Finds key points in a typed answer.
//!
//! Each point's `say` and `accept` phrases are looked for word by word in windows of a clause or two: stems, families
//! of words that mean the same, numbers in any unit, misspellings. Where most of a phrase stands, its denials,
//! opposites, order and numbers decide whether the words say the point or contradict it. When in doubt a point is
//! simply not said.

mod against;
mod claims;
mod cluster;
mod hits;
mod ignorance;
mod index;
mod lexicon;
mod marks;
mod order;
mod phrase;
mod point;
mod sense;
mod tokens;
mod words;

use std::ops::Range;

use crate::domain::card::KeyPoint;

/// What was found of one point.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(in crate::domain) struct Verdict {
    /// The answer makes the point.
    pub said: bool,
    /// The answer denies it, turns it round or gives another value.
    pub contradicted: bool,
    /// Where the answer makes or contradicts it, in bytes.
    pub evidence: Option<Range<usize>>,
}

/// Looks for every point of a card in a typed answer. `ask` is the card's question, whose words an answer need not
/// repeat.
pub(in crate::domain) fn find(ask: &str, points: &[KeyPoint], answer: &str) -> Vec<Verdict> {
    point::find(ask, points, answer)
}
