//! A class by files: what a lecturer gives out, what a learner hands in, what the lecturer takes in.

pub mod adding;
pub mod assignments;
pub mod envelope;
pub mod exporting;
pub mod giving_out;
pub mod handing_in;
pub mod receiving;
pub mod words;
