//! Why a text of a deck is not changed.

/// Why a text is not changed; in each case it is as it was.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Unwritable {
    /// The file is not TOML as it stands.
    #[error("the file cannot be read as it stands, from line {line} on; mend that in the editor first")]
    Broken {
        /// From 1.
        line: usize,
    },
    /// The card is not in the file any more.
    #[error("the card is no longer in this file")]
    Gone,
    /// The card, or a key of it, is written in a way that the form does not know.
    #[error("`{key}` is written in a way that a form cannot change; change it in the editor")]
    Otherwise {
        /// Which key.
        key: String,
    },
    /// No number.
    #[error("`{key}` wants a number, such as 40")]
    NoNumber {
        /// Which key.
        key: String,
    },
    /// The kind has no form.
    #[error("cards of this kind have no form; write them in the editor")]
    NoForm,
    /// An id that cannot be one.
    #[error("an id has lower-case letters, digits and hyphens only, such as `lub-oil-first`")]
    BadId,
    /// The changed text would not say what the form says.
    #[error("the change cannot be written into this file as it stands; make it in the editor")]
    Lost,
}
