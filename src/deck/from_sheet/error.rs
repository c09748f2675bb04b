//! Why a deck cannot be drafted into at all.

/// Why a deck cannot be drafted into at all.
#[derive(Debug, thiserror::Error)]
pub enum DraftError {
    /// There is no deck; how to mend it.
    #[error("{0}; {1}")]
    NoDeck(String, &'static str),
    /// A file of the deck cannot be read, so that nobody knows which cards stand in it.
    #[error("the deck's file {0} cannot be read as it stands; `bedplate check` says why")]
    Unsound(String),
}
