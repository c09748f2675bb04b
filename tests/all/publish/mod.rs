//! Decks as files: sealing, signing, taking in, going back, and files that mean no good.

mod hostile;
mod keys;
mod parcel;
mod rules;
mod sealing;
mod signatures;
mod zip;
