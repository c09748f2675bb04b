//! Finds key points in a typed answer.
//!
//! Each point's `say` and `accept` phrases are looked for word by word in windows of a clause or two: stems, families
//! of words that mean the same, numbers in any unit, misspellings. Where most of a phrase stands, its denials,
//! opposites, order and numbers decide whether the words say the point or contradict it. When in doubt a point is
//! simply not said.

mod against;
mod claims;
mod cluster;
mod hits;
mod ignorance;
mod index;
mod lexicon;
mod marks;
mod order;
mod phrase;
mod point;
mod sense;
mod thresholds;
mod token;
mod tokens;
mod vocabulary;
mod words;
mod worked_example;

pub use point::{Finding, find};
