//! Quantities, expressions and reference values.

pub mod expressions;
pub mod reference;
pub mod written;
