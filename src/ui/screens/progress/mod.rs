//! Where the learner stands and what is left to do: competence, the plan, how well the program knows the learner.

mod calibration;
mod competence;
mod plan;

pub use calibration::knowing_ui;
pub use competence::{CompetenceLocal, competence_ui};
pub use plan::{PlanLocal, plan_ui};
