//! Working cards: a calculation with figures drawn afresh. Pure; a draw is made from a seed.

mod card;

pub use card::{Given, Line, MOST_GIVENS, MOST_LINES, MOST_SLIPS, Slip, Working};
