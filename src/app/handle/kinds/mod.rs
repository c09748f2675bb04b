//! Commands of one kind of card alone, after its first marking: one file for each kind that has any.

mod lineup;
mod sequence;
mod working;
