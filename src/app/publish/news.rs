//! What taking a deck in came to, or would: the same for the command line, for programs and for the window.

use crate::deck::sealed::Refusal;
use crate::domain::editions::Update;

/// What a deck's signature says, to whoever takes it in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Signature {
    /// It holds, and the deck is bound to no other key.
    Good,
    /// There is none.
    None,
    /// It does not hold.
    Bad,
    /// It holds, and the deck is bound to another key.
    OtherKey,
}

impl Signature {
    /// Its public name.
    pub fn word(self) -> &'static str {
        match self {
            Signature::Good => "good",
            Signature::None => "none",
            Signature::Bad => "bad",
            Signature::OtherKey => "other-key",
        }
    }
}

/// What was done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Done {
    /// The edition is in use now.
    TakenIn,
    /// The edition was in use already.
    AlreadyThere,
    /// Nothing: it may be taken in, and was not yet.
    Nothing,
}

/// What is known of a deck in a file, and what taking it in came to. What could not be read is not there.
#[derive(Debug, Clone, PartialEq)]
pub struct News {
    /// The deck's id.
    pub deck: Option<String>,
    /// For people.
    pub title: Option<String>,
    /// Publication number.
    pub edition: Option<u32>,
    /// Who publishes it.
    pub publisher: Option<String>,
    /// When it was made.
    pub made: Option<String>,
    /// The edition in use before.
    pub was_edition: Option<u32>,
    /// What the signature says.
    pub signature: Option<Signature>,
    /// The public key that it claims.
    pub key: Option<String>,
    /// That key's number.
    pub key_number: Option<String>,
    /// Card by card; none where the cards could not be compared.
    pub update: Option<Update>,
    /// Why it is not taken in.
    pub refused: Option<Refusal>,
    /// What was done.
    pub done: Done,
}

impl News {
    /// Nothing is known.
    pub fn unknown() -> Self {
        Self {
            deck: None,
            title: None,
            edition: None,
            publisher: None,
            made: None,
            was_edition: None,
            signature: None,
            key: None,
            key_number: None,
            update: None,
            refused: None,
            done: Done::Nothing,
        }
    }

    /// Nothing is known but that it is refused.
    pub fn refused(refusal: Refusal) -> Self {
        Self { refused: Some(refusal), ..Self::unknown() }
    }

    /// Whether all that keeps it out is that nobody has said yet that whoever made it is trusted.
    pub fn wants_trust(&self) -> bool {
        self.refused.as_ref().is_some_and(|refusal| refusal.code == "untrusted")
    }
}
