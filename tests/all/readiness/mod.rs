//! The chance of passing.

pub mod chance;
pub mod honest_learner;
pub mod honesty;
pub mod outlook;
