//! Sealed decks: a deck as one file, bytes in and bytes out.
//!
//! [`seal`] makes the file of a deck's files, [`open`] reads one and refuses whatever is not exactly as [`seal`] would
//! have it. Neither looks into the cards: that is [`read_sealed_to_ask`](crate::deck::read_sealed_to_ask)'s part and
//! [`read_sealed_by`](crate::deck::read_sealed_by)'s. Nothing here touches a disk, asks for the time or trusts a key;
//! who is trusted is for the program to know.
//!
//! What carries decks inside (an assignment) puts the bytes of sealed decks into an [`archive`] of its own: strict zip
//! files with any names; [`check_path`] looks over a name that is to be written to a disk.

pub mod archive;
mod keys;
mod list;
mod opened;
mod paths;
mod refusal;
mod sealing;
mod signature;

pub use archive::Entry;
pub use keys::{KeyTrouble, NewPair, PublicKey, SecretKey, new_pair, wants_passphrase};
pub use list::{Listed, NAME as LIST, SealHead, contents_digest};
pub use opened::{MOST_SEALED_BYTES, SealedDeck, Signed, is_sealed, open};
pub use paths::check as check_path;
pub use refusal::Refusal;
pub use sealing::seal;
pub use signature::{NAME as SIGNATURE, sign, verify};
