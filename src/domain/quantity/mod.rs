//! Units and numbers.
//!
//! `Quantity` is a number with its unit as a deck writes it, read strictly. What a learner types is read by
//! `typed`, which forgives more.

mod dimension;
mod error;
pub mod expression;
mod naming;
mod power;
mod readable;
mod second_opinion;
mod spelling;
mod steam;
mod table;
pub mod typed;
mod unit;
mod value;
mod within;
mod worth;

pub use dimension::Dimension;
pub use error::{QuantityError, known_units, nearest_unit};
pub use expression::{Expression, ExpressionError, Formula, Scope};
pub use readable::pretty_unit;
pub use readable::{plain, significant};
pub use spelling::superscript as plain_superscript;
pub use unit::Unit;
pub use value::{Kind, Value};
pub use within::Within;

/// The longest quantity that a deck may write, in characters.
const MAX_CHARS: usize = 200;

/// A number with its unit as written (empty for a pure number).
#[derive(Debug, Clone, PartialEq)]
pub struct Quantity {
    /// The number, in `unit`.
    pub number: f64,
    /// The unit as the deck or the learner wrote it, in its standard spelling.
    pub unit: String,
}

impl Quantity {
    /// Reads a quantity as a deck spells it: a plain number with a decimal point and a known unit, such as
    /// `30 bar`, `0.10 %`, `-18 degC`, `1.5e3 kJ/(kg K)` or `6`. A pH may stand the way people say it: `pH 6.5`.
    ///
    /// # Errors
    /// Where it does not begin with a number, uses a decimal comma or thousands marks, or has no known unit.
    pub fn parse(text: &str) -> Result<Self, QuantityError> {
        if text.chars().count() > MAX_CHARS {
            return Err(QuantityError::too_long(MAX_CHARS));
        }
        let cleaned = spelling::clean(text);
        let leading = cleaned.strip_prefix("pH").map(str::trim_start);
        let leading = leading.filter(|rest| rest.starts_with(|c: char| c.is_ascii_digit()));
        let (number, rest) = strict_number(leading.unwrap_or(&cleaned))?;
        let unit = Unit::parse(if leading.is_some() && rest.trim().is_empty() { "pH" } else { rest })?;
        Ok(Self { number, unit: unit.spelling })
    }

    /// The dimension of the quantity.
    ///
    /// # Errors
    /// Where its unit is not one that the program knows.
    pub fn dimension(&self) -> Result<Dimension, QuantityError> {
        Ok(Unit::parse(&self.unit)?.dimension)
    }

    /// Whether one can be converted into the other's unit. Ratios and pure numbers are of one dimension.
    pub fn same_dimension(&self, other: &Quantity) -> bool {
        matches!((self.dimension(), other.dimension()), (Ok(a), Ok(b)) if a == b)
    }

    /// The quantity as a number in another unit. Temperatures are readings: 0 degC is 273.15 K.
    ///
    /// # Errors
    /// Where a unit is unknown or of another dimension.
    pub fn convert(&self, unit: &str) -> Result<f64, QuantityError> {
        let (from, to) = (Unit::parse(&self.unit)?, Unit::parse(unit)?);
        from.convert(self.number, &to).ok_or_else(|| mismatch(&from, &to))
    }

    /// The quantity as a number in another unit, as a difference: 5 degC is 5 K.
    ///
    /// # Errors
    /// Where a unit is unknown or of another dimension.
    pub fn convert_difference(&self, unit: &str) -> Result<f64, QuantityError> {
        let (from, to) = (Unit::parse(&self.unit)?, Unit::parse(unit)?);
        from.convert_difference(self.number, &to).ok_or_else(|| mismatch(&from, &to))
    }

    /// "a pressure", "an energy or torque", "a pure number": for messages.
    pub fn described(&self) -> String {
        self.dimension().map_or_else(|_| "a quantity of another kind".to_owned(), |dimension| dimension.described())
    }
}

fn mismatch(from: &Unit, to: &Unit) -> QuantityError {
    QuantityError::new(
        format!("`{}` and `{}` measure different things", from.spelling, to.spelling),
        "use a unit of the same kind",
    )
}

/// A number in front of a cleaned text, with what follows it.
fn strict_number(text: &str) -> Result<(f64, &str), QuantityError> {
    let bytes = text.as_bytes();
    let digits = |mut at: usize| {
        while bytes.get(at).is_some_and(u8::is_ascii_digit) {
            at += 1;
        }
        at
    };
    let sign = usize::from(matches!(bytes.first(), Some(b'-' | b'+')));
    let mut end = digits(sign);
    if end == sign {
        return Err(QuantityError::not_a_number(text));
    }
    if bytes.get(end) == Some(&b'.') && digits(end + 1) > end + 1 {
        end = digits(end + 1);
    }
    if matches!(bytes.get(end), Some(b'e' | b'E')) {
        let start = end + 1 + usize::from(matches!(bytes.get(end + 1), Some(b'-' | b'+')));
        if digits(start) > start {
            end = digits(start);
        }
    }
    let rest = &text[end..];
    let tail = rest.trim_start();
    let per = tail.strip_prefix('1').is_some_and(|t| t.trim_start().starts_with('/'));
    if tail.starts_with([',', '.', '\'']) || (tail.starts_with(|c: char| c.is_ascii_digit()) && !per) {
        return Err(QuantityError::new(
            format!("`{}` is not a plain number", error::shorten(text)),
            "write the number without thousands marks and with a decimal point, such as `1500` or `0.125`",
        ));
    }
    match text[..end].parse::<f64>() {
        Ok(number) if number.is_finite() => Ok((number, rest)),
        _ => Err(QuantityError::new(format!("`{}` is too large", error::shorten(text)), "use a smaller number")),
    }
}
