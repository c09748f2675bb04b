//! The mock oral: its front page, a sitting, the blueprint, the debrief.

mod blueprint;
mod clocks;
mod debrief;
mod front;
mod kinds;
mod middle;
mod note;
mod replay;
mod sitting;
mod thread;
mod ways;

pub use blueprint::{BlueprintLocal, blueprint_ui};
pub use debrief::{DebriefLocal, debrief_ui};
pub use front::{OralFrontLocal, oral_front_ui};
pub use sitting::{OralLocal, key_lines, oral_ui};
