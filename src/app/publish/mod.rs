//! Decks as files that go from hand to hand: sealing one's own, and taking in others'.

pub mod at_hand;
pub mod considering;
pub mod file;
pub mod folder;
pub mod going_back;
pub mod keys;
pub mod news;
pub mod offer;
pub mod sealing;
pub mod taking_in;
