//! The program without a face: state, routes, commands, and one function for each command.

pub(crate) mod handle;
pub mod jobs;
pub mod profile;
pub mod program;
pub mod remedy;
pub mod search;
pub mod sheet;
pub mod sitting;
pub mod views;

// The paths of before: they go when faces and tests name the new ones.
pub use profile::{bundled, demo, learner, opening, shelf, trouble};
pub use program::{command, route};

/// The path of before.
pub mod state {
    pub use super::profile::opening::Find;
    pub use super::program::app::App;
    pub use super::program::setup::{Clock, Setup};
}
