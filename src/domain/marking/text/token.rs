//! A token of a text, with what it is for matching and where it stands.

use std::ops::Range;

use crate::domain::quantity::Unit;

/// What a token is for matching.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Role {
    /// Carries meaning.
    Content,
    /// A small word that is passed over.
    Stop,
    /// Denies: not, no, never, without, nobody.
    Denial,
    /// Not counted: a denial inside "not more than", "not only", "do not forget".
    Quiet,
}

/// A bound on a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Bound {
    AtMost,
    AtLeast,
}

/// A number in a text.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Amount {
    pub low: f64,
    pub high: f64,
    pub unit: Option<Unit>,
    pub bound: Option<Bound>,
}

/// One token.
#[derive(Debug, Clone)]
pub(super) struct Token {
    pub word: String,
    pub stem: String,
    pub role: Role,
    pub value: Option<Amount>,
    /// In the text as given, in bytes.
    pub span: Range<usize>,
    /// Counts up at each comma, "and", "but", ...
    pub clause: usize,
    /// Counts up where a denial's reach ends.
    pub reach: usize,
    /// Counts up at each mark between words.
    pub part: usize,
    /// Counts up at each full stop.
    pub sentence: usize,
}
