//! The program in a terminal.

pub mod ends;
pub mod naming;
pub mod record;
pub mod trying;
pub mod words;
