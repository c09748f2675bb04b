//! A class: figures held to values from outside, lessons held to simulated classes.

mod figures;
mod lessons;
