//! Editions: what changes from one to the next, and what it does to what a learner has answered.

mod compare;
mod learner;
pub mod ledger;
mod replay;
