//! The program in a terminal.

pub mod ends;
pub mod naming;
pub mod words;
