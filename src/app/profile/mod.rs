//! What is open: the decks on the shelf, the profile and its learner; and how it is opened, or why it is not.

pub mod bundled;
pub mod demo;
pub mod editions;
pub mod learner;
pub mod opening;
pub mod shelf;
pub mod trouble;
