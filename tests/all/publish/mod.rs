//! Decks as files: sealing, signing, taking in, going back, and files that mean no good.

mod hostile;
mod keys;
pub mod parcel;
pub mod rules;
mod sealing;
mod signatures;
mod zip;
