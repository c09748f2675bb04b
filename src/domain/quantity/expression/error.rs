//! What can be wrong with an expression, where, and how to mend it.

use std::ops::Range;

/// An expression that cannot be read or has no value.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
pub struct ExpressionError {
    /// What is wrong, in a sentence without a full stop.
    pub message: String,
    /// How to mend it, in a sentence without a full stop.
    pub mend: String,
    /// Where it stands in the text, in bytes.
    pub span: Range<usize>,
    /// What sort of fault it is.
    pub sort: Sort,
}

/// Sorts of fault.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Sort {
    /// The text is no expression, or too large a one.
    Unreadable,
    /// A name stands in it that nothing bears.
    UnknownName(String),
    /// A name stands in it that is known and has no value.
    NoValueYet(String),
    /// The units do not fit one another.
    Units,
    /// A division by zero.
    DividesByZero,
    /// There is no value for these figures, such as the square root of a number below zero.
    NoValue,
}

impl ExpressionError {
    pub(super) fn new(sort: Sort, span: Range<usize>, message: impl Into<String>, mend: impl Into<String>) -> Self {
        Self { message: message.into(), mend: mend.into(), span, sort }
    }

    pub(super) fn unreadable(span: Range<usize>, message: impl Into<String>, mend: impl Into<String>) -> Self {
        Self::new(Sort::Unreadable, span, message, mend)
    }

    pub(super) fn units(span: Range<usize>, message: impl Into<String>, mend: impl Into<String>) -> Self {
        Self::new(Sort::Units, span, message, mend)
    }

    /// Whether it only follows from an error in another line.
    pub fn is_consequence(&self) -> bool {
        matches!(self.sort, Sort::NoValueYet(_))
    }

    /// This error in a text of which the expression is a part that begins at `by` bytes.
    pub fn moved(mut self, by: usize) -> Self {
        self.span = self.span.start + by..self.span.end + by;
        self
    }
}
