//! The mock oral: examiner, sittings, debrief, sound.

pub mod disclosure;
pub mod examiner;
pub mod plays;
pub mod prompts;
pub mod reading;
pub mod report;
pub mod seed;
pub mod sitting;
pub mod sound;
