//! Marking of answers.

pub mod against;
pub mod decks;
pub mod families;
pub mod kinds;
pub mod known;
pub mod measure;
pub mod reader;
mod rules;
pub mod said_figures;
pub mod text;
pub mod trying;
