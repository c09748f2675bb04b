//! From the program's state to view data: one file for each group of pages. Pure.

pub mod card;
pub mod end;
pub mod front;
pub mod library;
pub mod lineup;
pub mod pages;
pub mod point;
pub mod sequence;
pub mod shell;
pub mod working;
