//! The text of a deck's file, as its problems are shown in it.

/// A file's text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SourceText {
    /// Relative to the deck's folder, with `/`.
    pub name: String,
    /// Empty where it was not read; U+FFFD stands for what was no UTF-8.
    pub text: String,
}
