//! The program without a face: state, routes, commands, and one function for each command.

pub mod bundled;
pub mod command;
pub mod demo;
pub(crate) mod handle;
pub mod learner;
mod notices;
pub mod opening;
pub mod outlook;
mod picture;
pub mod planner;
pub mod program;
pub mod reckoner;
mod remaining;
pub mod remedy;
pub mod route;
mod running;
pub mod search;
pub mod session;
pub mod shelf;
pub mod sitting;
pub mod state;
mod timekeeper;
pub mod trainer;
pub mod trouble;
pub mod views;
pub mod working;
