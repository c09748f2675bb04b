//! A unit as read: what it is worth and what it measures.

use super::dimension::Dimension;
use super::error::QuantityError;
use super::spelling;
use super::table::UNITS;
use super::worth::worth;

/// A unit as read from a deck or an answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Unit {
    /// The standard spelling; empty for a pure number.
    pub spelling: String,
    /// What it measures.
    pub dimension: Dimension,
    /// `(number + offset) * factor` is the value in base units.
    pub(super) factor: f64,
    pub(super) offset: f64,
    /// An angular speed such as rad/s, whose worth here is in revolutions.
    pub(super) counted: bool,
}

impl Unit {
    /// Reads a unit as decks spell it: `bar`, `m3/h`, `kJ/(kg K)`, `1/min`, `°C`; nothing is a pure number.
    ///
    /// # Errors
    /// Where a name is unknown, or the text is no product of units or beyond the bounds.
    pub fn parse(text: &str) -> Result<Self, QuantityError> {
        let cleaned = spelling::clean(text);
        let product = spelling::product(&cleaned)?;
        let worth = worth(&product).ok_or_else(|| QuantityError::unreadable_unit(text))?;
        let spelling = standard(&cleaned);
        let offset = match spelling.as_str() {
            "degC" => 273.15,
            "degF" => 459.67,
            _ => 0.0,
        };
        Ok(Self { spelling, dimension: worth.dimension, factor: worth.factor, offset, counted: worth.counted })
    }

    /// A number in this unit as a number in another, as a reading (temperatures with their zero points); `None`
    /// where the two measure different things.
    pub fn convert(&self, number: f64, to: &Unit) -> Option<f64> {
        if self.dimension != to.dimension {
            return None;
        }
        if self.factor.to_bits() == to.factor.to_bits() {
            return Some(if self.offset.to_bits() == to.offset.to_bits() {
                number
            } else {
                number + (self.offset - to.offset)
            });
        }
        Some((number + self.offset) * (self.factor / to.factor) - to.offset)
    }

    /// A number in this unit as a number in another, as a difference; `None` where the two measure different
    /// things.
    pub fn convert_difference(&self, number: f64, to: &Unit) -> Option<f64> {
        (self.dimension == to.dimension).then(|| number * (self.factor / to.factor))
    }

    /// Whether it is a plain number: no unit at all.
    pub fn is_bare(&self) -> bool {
        self.spelling.is_empty()
    }
}

/// The standard spelling of a single unit; a compound stays as written.
fn standard(cleaned: &str) -> String {
    UNITS
        .iter()
        .find(|u| u.names.contains(&cleaned))
        .and_then(|u| u.names.first())
        .map_or_else(|| cleaned.to_owned(), |name| (*name).to_owned())
}
