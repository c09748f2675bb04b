//! What an expression comes to: a number in base units, and what it is of.
//!
//! Besides its dimension a value has a *nature*, because two quantities of one dimension may still be different
//! things: a temperature that was read is no difference of temperatures, and an apparent power is no active power.

use super::{Dimension, Quantity, QuantityError, Unit};

/// What a value is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Kind {
    /// Volt-amperes and vars stand as watts here; `nature` tells them apart.
    pub(super) dimension: Dimension,
    pub(super) nature: Nature,
}

/// What a dimension alone does not say.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Nature {
    /// Nothing more: most quantities; a temperature in kelvins; a power that came of volts and amperes.
    Plain,
    /// A temperature read from a scale with a zero point of its own (degC, degF).
    Reading,
    /// A difference of temperatures.
    Span,
    /// A sum of temperatures that were read, on the way to their mean; nothing else can be done with it.
    Total,
    /// A power in watts.
    Active,
    /// A power in volt-amperes.
    Apparent,
    /// A power in vars.
    Reactive,
}

/// A number with what it is of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Value {
    /// In base units; a temperature in kelvins from absolute zero, or a difference in kelvins.
    pub(super) number: f64,
    pub(super) kind: Kind,
}

impl Kind {
    /// A pure number.
    pub const NUMBER: Kind = Kind { dimension: Dimension::NONE, nature: Nature::Plain };

    pub(super) fn plain(dimension: Dimension) -> Self {
        Self { dimension, nature: Nature::Plain }
    }

    /// What a quantity in this unit is of.
    pub fn of_unit(unit: &Unit) -> Self {
        if unit.counted {
            return Self::plain(Dimension::angular_speed());
        }
        let nature = match unit.spelling.as_str() {
            "degC" | "degF" => Nature::Reading,
            _ if unit.dimension.is_apparent() => Nature::Apparent,
            _ if unit.dimension.is_reactive() => Nature::Reactive,
            _ if unit.dimension.is_power() => Nature::Active,
            _ => Nature::Plain,
        };
        // A unit's powers are far below what could fail to fold.
        Self { dimension: unit.dimension.electric_folded().unwrap_or(unit.dimension), nature }
    }

    /// A number without any unit, or an angle, which is one.
    pub(super) fn is_number(&self) -> bool {
        self.dimension.without_angle().is_none()
    }

    /// Whether it can be given in this unit.
    ///
    /// # Errors
    /// Where it cannot, with what it is and what the unit wants.
    pub fn fits(&self, unit: &Unit) -> Result<(), QuantityError> {
        let wanted = Kind::of_unit(unit);
        let same = self.dimension == wanted.dimension;
        // Radians are metres by metres, but revolutions are not radians.
        let alike = self.dimension.without_angle() == wanted.dimension.without_angle();
        let turning = self.dimension.counted().is_some();
        if !(same || turning && wanted.dimension == self.dimension.without_angle() || alike && !unit.counted) {
            if alike {
                return Err(QuantityError::new(
                    format!("the formula gives revolutions by time, and `{}` counts radians", unit.spelling),
                    "multiply a speed of rotation by `2 * pi * 1 rad` for radians",
                ));
            }
            return Err(QuantityError::new(
                format!("the formula gives {}, but `{}` is {}", self.described(), spelled(unit), wanted.described()),
                "see which figure the formula lacks or has too many, or ask for the answer in another unit",
            ));
        }
        let electric = |nature| matches!(nature, Nature::Active | Nature::Apparent | Nature::Reactive);
        if electric(self.nature) && electric(wanted.nature) && self.nature != wanted.nature {
            return Err(QuantityError::new(
                format!("the formula gives {}, but `{}` is {}", self.described(), spelled(unit), wanted.described()),
                "multiply or divide by the power factor",
            ));
        }
        Ok(())
    }

    /// Whether people would give it in this unit: one of its kind, but no zero point for what was not read from a
    /// scale with one.
    pub fn is_shown_in(&self, unit: &Unit) -> bool {
        let own_zero = Kind::of_unit(unit).nature == Nature::Reading;
        !unit.is_bare() && self.fits(unit).is_ok() && own_zero == (self.nature == Nature::Reading)
    }

    /// Whether the two can be compared: of one dimension, angles and natures aside.
    pub fn is_like(&self, other: &Kind) -> bool {
        self.dimension.without_angle() == other.dimension.without_angle()
    }

    /// A temperature or a difference of temperatures.
    pub fn is_temperature(&self) -> bool {
        self.dimension.is_temperature()
    }

    /// A temperature that was read from a scale with a zero point of its own.
    pub fn is_reading(&self) -> bool {
        self.nature == Nature::Reading
    }

    /// What sort of power it is, in words.
    pub(super) fn power_word(nature: Nature) -> &'static str {
        match nature {
            Nature::Apparent => "an apparent power",
            Nature::Reactive => "a reactive power",
            _ => "an active power",
        }
    }

    /// "a pressure", "an apparent power", "a difference of temperatures": for messages.
    pub fn described(&self) -> String {
        match self.nature {
            Nature::Reading => "a temperature".to_owned(),
            Nature::Span => "a difference of temperatures".to_owned(),
            Nature::Total => "a sum of temperatures".to_owned(),
            Nature::Apparent => "an apparent power".to_owned(),
            Nature::Reactive => "a reactive power".to_owned(),
            Nature::Plain | Nature::Active => self.dimension.described(),
        }
    }
}

fn spelled(unit: &Unit) -> &str {
    if unit.is_bare() { "1" } else { &unit.spelling }
}

impl Value {
    /// Whether people would give it in this unit: as [`Kind::is_shown_in`], and no ratio above one as a share of one: 4,
    /// not 400 %.
    pub fn is_shown_in(&self, unit: &Unit) -> bool {
        let is_share = unit.dimension.is_none() && unit.factor < 1.0;
        self.kind.is_shown_in(unit) && !(is_share && self.number.abs() > 1.0)
    }

    /// A pure number.
    pub fn number(number: f64) -> Self {
        Self { number, kind: Kind::NUMBER }
    }

    /// A number in base units of this kind.
    pub fn new(number: f64, kind: Kind) -> Self {
        Self { number, kind }
    }

    /// A number in a unit. A temperature in degC or degF is a reading.
    pub fn in_unit(number: f64, unit: &Unit) -> Self {
        let turn = if unit.counted { 2.0 * std::f64::consts::PI } else { 1.0 };
        Self { number: (number + unit.offset) * (unit.factor * turn), kind: Kind::of_unit(unit) }
    }

    /// A quantity of a deck.
    ///
    /// # Errors
    /// Where its unit is unknown.
    pub fn of(quantity: &Quantity) -> Result<Self, QuantityError> {
        Ok(Self::in_unit(quantity.number, &Unit::parse(&quantity.unit)?))
    }

    /// What it is of.
    pub fn kind(&self) -> Kind {
        self.kind
    }

    /// In base units: metres, kilograms, seconds, amperes, kelvins, moles, candelas, radians. A temperature that was
    /// read in degC is in kelvins from absolute zero.
    pub fn base_number(&self) -> f64 {
        self.number
    }

    /// The value as a number in a unit. Of temperatures, a difference is given as a difference and anything else as a reading:
    /// 20 K above 283.15 K is `30 degC`, and `85 degC - 65 degC` is `20 degC`.
    ///
    /// # Errors
    /// Where the unit is of another kind, see [`Kind::fits`].
    pub fn to(&self, unit: &Unit) -> Result<f64, QuantityError> {
        self.kind.fits(unit)?;
        let turn = 2.0 * std::f64::consts::PI;
        let number = match (self.kind.dimension.counted().is_some(), unit.counted) {
            // A unit of angular speed is worth revolutions.
            (true, _) => self.number / turn,
            (false, _) => self.number,
        };
        let offset = if self.kind.nature == Nature::Span { 0.0 } else { unit.offset };
        Ok(number / unit.factor - offset)
    }
}
