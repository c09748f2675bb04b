//! The plant of a sequence card: facts, steps and reflexes; runs of a learner's list; and which orders work.
//!
//! [`Procedure`] is the immutable definition, [`State`] the small state, [`apply`] does one step and [`run`] a whole
//! list. [`prove`] counts the working orders and [`distance_of`] says how far a list is from them, both by walking
//! through the states that can be reached and never by listing orders. The exact meaning is that of the deck format.

mod distance;
mod eager;
mod explain;
mod facts;
mod model;
mod procedure;
mod proof;
mod run;
mod settle;
mod state;
mod survey;
mod walk;

pub use explain::{Explanation, explain};
pub use facts::{Bits, Facts};
pub use procedure::{
    Fact, Fault, MOST_FACTS, MOST_REFLEXES, MOST_STEPS, Need, Procedure, Reflex, Severity, Step, Trap,
};
pub use proof::{Distance, Findings, Proof, TooComplex, distance_of, examine, prove};
pub use run::{Run, run};
pub use state::{Became, Break, Feedback, Firing, State, Stir, apply, begin};
