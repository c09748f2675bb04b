//! A second opinion for tests: the units and expressions of the program held to those of numbat, a language for
//! calculations with units that is no part of the program.

#![cfg(test)]

mod engine;
mod expressions;
mod units;
