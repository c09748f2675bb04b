//! The program without a face.

pub mod clock;
pub mod decks;
pub mod demo;
pub mod figures;
pub mod jobs;
pub mod laid_out;
pub mod notices;
pub mod pictures;
pub mod reading;
pub mod take_back;
pub mod trouble;
pub mod watch;
pub mod working;
