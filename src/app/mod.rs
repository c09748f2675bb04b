//! The program without a face: state, routes, commands, and one function for each command.

pub mod class;
pub(crate) mod handle;
pub mod jobs;
pub mod profile;
pub mod program;
pub mod publish;
pub mod reader;
pub mod remedy;
pub mod search;
pub mod sheet;
pub mod sitting;
pub mod views;
pub mod writing;
