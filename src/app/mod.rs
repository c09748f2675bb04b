//! The program without a face: state, routes, commands, and one function for each command.

pub mod bundled;
pub mod command;
pub mod program;
pub mod route;
pub mod session;
