//! Tolerances as decks write them: `within = "1 bar"` or `within = "2 %"`.

use super::{Quantity, QuantityError};

/// A tolerance.
#[derive(Debug, Clone, PartialEq)]
pub enum Within {
    /// Equal after conversion, to one part in 10^6.
    Exact,
    /// A distance in a unit of the value's dimension (a difference, for temperatures).
    Absolute(Quantity),
    /// A share of the value: 0.02 for `2 %`.
    Relative(f64),
}

impl Within {
    /// Reads a tolerance for a value. `%` is always a share of the value, for a ratio such as `15 ppm` too;
    /// any other unit must be of the value's dimension, and is a difference where it is a temperature.
    ///
    /// # Errors
    /// Where the text is no quantity, is below zero, or is of another dimension than the value.
    pub fn parse(text: &str, value: &Quantity) -> Result<Self, QuantityError> {
        let tolerance = Quantity::parse(text)?;
        if tolerance.number < 0.0 {
            return Err(QuantityError::new("a tolerance cannot be below zero", "write it without its sign"));
        }
        if tolerance.unit == "%" {
            return Ok(Within::Relative(tolerance.number / 100.0));
        }
        let bare = tolerance.unit.is_empty() != value.unit.is_empty();
        if bare || !tolerance.same_dimension(value) {
            return Err(QuantityError::new(
                format!("the tolerance is {}, but the value is {}", tolerance.described(), value.described()),
                match value.unit.as_str() {
                    "" => "give the tolerance as a plain number or in `%`".to_owned(),
                    unit => format!("give the tolerance in `{unit}`, in another unit of that kind, or in `%`"),
                },
            ));
        }
        Ok(Within::Absolute(tolerance))
    }

    /// The tolerance as a deck writes it; `exact` where it leaves it out.
    pub fn written(&self) -> String {
        match self {
            Within::Exact => "exact".to_owned(),
            Within::Absolute(tolerance) => format!("{} {}", tolerance.number, tolerance.unit).trim_end().to_owned(),
            Within::Relative(share) => format!("{} %", (share * 1e11).round() / 1e9),
        }
    }

    /// The tolerance as a distance in the value's own unit; `None` where it must be equal.
    ///
    /// # Errors
    /// Where the tolerance's unit is not of the value's dimension, which reading a deck excludes.
    pub fn distance(&self, value: &Quantity) -> Result<Option<f64>, QuantityError> {
        Ok(match self {
            Within::Exact => None,
            Within::Relative(share) => Some(share * value.number.abs()),
            Within::Absolute(tolerance) => Some(tolerance.convert_difference(&value.unit)?),
        })
    }
}
