//! The functions that an expression may use.

use crate::domain::quantity::power::Power;
use crate::domain::quantity::steam::Property::{self, Enthalpy, Entropy, Volume};
use crate::domain::quantity::steam::{self, By};
use crate::domain::quantity::value::{Kind, Nature};
use crate::domain::quantity::{Dimension, Unit};

/// A function.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Function {
    Sqrt,
    Exp,
    Ln,
    Log10,
    Sin,
    Cos,
    Tan,
    Asin,
    Acos,
    Atan,
    Abs,
    Min,
    Max,
    Round,
    Floor,
    Ceil,
    /// The temperature of saturation for a pressure.
    SaturationTemperature,
    /// The pressure of saturation for a temperature.
    SaturationPressure,
    /// A property of saturated water or steam.
    Saturated(Property, Dryness, By),
    /// A property of water or steam at a pressure and a temperature.
    Steam(Property),
}

/// Every function as it is written, such as `min(a, b, ...)`, with what it gives.
pub fn functions() -> impl Iterator<Item = (String, &'static str)> {
    FUNCTIONS.iter().map(|(function, .., gives)| (function.written(), *gives))
}

/// Of what a saturated property is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Dryness {
    Water,
    Steam,
    /// From water to steam.
    Latent,
}

/// A function's name, what it is given, and what it gives: for the manual.
pub(super) const FUNCTIONS: &[(Function, &str, &str, &str)] = &[
    (Function::Sqrt, "sqrt", "x", "the square root, of units too"),
    (Function::Exp, "exp", "x", "e to the power of a pure number"),
    (Function::Ln, "ln", "x", "the natural logarithm of a pure number"),
    (Function::Log10, "log10", "x", "the common logarithm of a pure number"),
    (Function::Sin, "sin", "angle", "the sine of an angle, or of a pure number in radians"),
    (Function::Cos, "cos", "angle", "the cosine"),
    (Function::Tan, "tan", "angle", "the tangent"),
    (Function::Asin, "asin", "x", "the angle that has this sine"),
    (Function::Acos, "acos", "x", "the angle that has this cosine"),
    (Function::Atan, "atan", "x", "the angle that has this tangent"),
    (Function::Abs, "abs", "x", "the size without its sign"),
    (Function::Min, "min", "a, b, ...", "the least of two or more of one kind"),
    (Function::Max, "max", "a, b, ...", "the greatest of two or more of one kind"),
    (Function::Round, "round", "x", "the nearest whole number of a pure number"),
    (Function::Floor, "floor", "x", "the whole number at or below"),
    (Function::Ceil, "ceil", "x", "the whole number at or above, as of bottles"),
    (Function::SaturationTemperature, "t_sat", "p", "the temperature at which water boils at a pressure"),
    (Function::SaturationPressure, "p_sat", "t", "the pressure at which water boils at a temperature"),
    (saturated(Enthalpy, Dryness::Water), "h_f", "p or t", "the specific enthalpy of saturated water"),
    (saturated(Enthalpy, Dryness::Steam), "h_g", "p or t", "the specific enthalpy of dry saturated steam"),
    (saturated(Enthalpy, Dryness::Latent), "h_fg", "p or t", "the latent heat"),
    (saturated(Entropy, Dryness::Water), "s_f", "p or t", "the specific entropy of saturated water"),
    (saturated(Entropy, Dryness::Steam), "s_g", "p or t", "the specific entropy of dry saturated steam"),
    (saturated(Volume, Dryness::Water), "v_f", "p or t", "the specific volume of saturated water"),
    (saturated(Volume, Dryness::Steam), "v_g", "p or t", "the specific volume of dry saturated steam"),
    (Function::Steam(Enthalpy), "h_pt", "p, t", "the specific enthalpy of water or superheated steam"),
    (Function::Steam(Entropy), "s_pt", "p, t", "its specific entropy"),
    (Function::Steam(Volume), "v_pt", "p, t", "its specific volume"),
];

const fn saturated(property: Property, dryness: Dryness) -> Function {
    Function::Saturated(property, dryness, By::Pressure)
}

/// Why a function has no value.
pub(super) type NoValue = &'static str;

impl Function {
    pub(super) fn named(name: &str) -> Option<Self> {
        FUNCTIONS.iter().find(|(_, known, ..)| *known == name).map(|(function, ..)| *function)
    }

    /// The known name that this one is nearest to, if any is near.
    pub(super) fn nearest(name: &str) -> Option<&'static str> {
        if name == "log" {
            return Some("log10");
        }
        let lower = name.to_lowercase();
        let near = |known: &&'static str| strsim::osa_distance(&lower, known);
        let best = FUNCTIONS.iter().map(|(_, known, ..)| *known).min_by_key(near)?;
        (near(&best) <= lower.chars().count() / 3).then_some(best)
    }

    fn entry(self) -> (&'static str, &'static str) {
        let by_pressure = match self {
            Function::Saturated(property, dryness, _) => saturated(property, dryness),
            function => function,
        };
        let entry = FUNCTIONS.iter().find(|(function, ..)| *function == by_pressure);
        entry.map_or(("", ""), |(_, name, given, _)| (name, given))
    }

    /// As it is written: `min(a, b, ...)`.
    pub(super) fn written(self) -> String {
        let (name, given) = self.entry();
        format!("{name}({given})")
    }

    /// The least and the most that it is given.
    pub(super) fn takes(self) -> (usize, usize) {
        match self {
            Function::Min | Function::Max => (2, 20),
            Function::Steam(_) => (2, 2),
            _ => (1, 1),
        }
    }

    pub(super) fn takes_in_words(self) -> &'static str {
        match self.takes() {
            (1, 1) => "one",
            (2, 2) => "two",
            _ => "two or more",
        }
    }

    /// The function for what it is given: a saturated state is looked up by pressure or by temperature.
    pub(super) fn given(self, kind: Kind) -> Self {
        match self {
            Function::Saturated(property, dryness, _) if kind.dimension.is_temperature() => {
                Function::Saturated(property, dryness, By::Temperature)
            }
            function => function,
        }
    }

    /// Whether all that it is given must be of one kind.
    pub(super) fn is_of_one_kind(self) -> bool {
        matches!(self, Function::Min | Function::Max)
    }

    /// What it gives for things of these kinds; of several of one kind, the first.
    ///
    /// # Errors
    /// With which one does not fit, and what it wants.
    pub(super) fn kind(self, given: &[Kind]) -> Result<Kind, (usize, &'static str)> {
        let first = given.first().copied().unwrap_or(Kind::NUMBER);
        let pressure = |at: usize| match given.get(at) {
            Some(kind) if kind.dimension == of_unit("Pa").dimension => Ok(()),
            _ => Err((at, "a pressure")),
        };
        let temperature = |at: usize| match given.get(at) {
            Some(kind) if kind.dimension.is_temperature() && kind.nature != Nature::Span => Ok(()),
            _ => Err((at, "a temperature")),
        };
        match self {
            Function::Abs | Function::Min | Function::Max => Ok(first),
            Function::Sqrt => {
                let half = Power::new(1, 2).and_then(|half| first.dimension.raised(half));
                half.map(Kind::plain).ok_or((0, "a quantity with lower powers"))
            }
            Function::Asin | Function::Acos | Function::Atan if first.is_number() => {
                Ok(Kind::plain(Dimension::angle()))
            }
            Function::Sin | Function::Cos | Function::Tan if !first.is_number() => Err((0, "an angle")),
            Function::SaturationTemperature => pressure(0).map(|()| of_unit("degC")),
            Function::SaturationPressure => temperature(0).map(|()| of_unit("Pa")),
            Function::Saturated(property, ..) => {
                pressure(0).or_else(|_| temperature(0)).map_err(|_| (0, "a pressure or a temperature"))?;
                Ok(of_property(property))
            }
            Function::Steam(property) => {
                pressure(0)?;
                temperature(1)?;
                Ok(of_property(property))
            }
            _ if first.is_number() => Ok(Kind::NUMBER),
            _ => Err((0, "a pure number")),
        }
    }

    /// The function's value.
    ///
    /// # Errors
    /// Where it has none, in words.
    pub(super) fn value(self, given: &[f64]) -> Result<f64, NoValue> {
        let x = given.first().copied().unwrap_or(f64::NAN);
        match self {
            Function::Sqrt if x < 0.0 => Err("the square root of a number below zero"),
            Function::Ln | Function::Log10 if x <= 0.0 => Err("the logarithm of zero or of a number below zero"),
            Function::Asin | Function::Acos if x.abs() > 1.0 + 1e-12 => {
                Err("an angle whose sine or cosine is greater than one")
            }
            Function::Sqrt => Ok(x.sqrt()),
            Function::Exp => Ok(x.exp()),
            Function::Ln => Ok(x.ln()),
            Function::Log10 => Ok(x.log10()),
            Function::Sin => Ok(x.sin()),
            Function::Cos => Ok(x.cos()),
            Function::Tan if x.cos().abs() < 1e-12 => Err("the tangent of a right angle"),
            Function::Tan => Ok(x.tan()),
            Function::Asin => Ok(x.clamp(-1.0, 1.0).asin()),
            Function::Acos => Ok(x.clamp(-1.0, 1.0).acos()),
            Function::Atan => Ok(x.atan()),
            Function::Abs => Ok(x.abs()),
            Function::Min => Ok(given.iter().copied().fold(f64::INFINITY, f64::min)),
            Function::Max => Ok(given.iter().copied().fold(f64::NEG_INFINITY, f64::max)),
            Function::Round => Ok(settled(x).round()),
            Function::Floor => Ok(settled(x).floor()),
            Function::Ceil => Ok(settled(x).ceil()),
            Function::SaturationTemperature => steam::saturation_temperature(x).ok_or(NOT_SATURATED),
            Function::SaturationPressure => steam::saturation_pressure(x).ok_or(NOT_SATURATED),
            Function::Saturated(property, dryness, by) => {
                let at = |dryness| steam::saturated(property, dryness, by, x).ok_or(NOT_SATURATED);
                match dryness {
                    Dryness::Water => at(0.0),
                    Dryness::Steam => at(1.0),
                    Dryness::Latent => Ok(at(1.0)? - at(0.0)?),
                }
            }
            Function::Steam(property) => {
                let temperature = given.get(1).copied().unwrap_or(f64::NAN);
                steam::at(property, x, temperature).ok_or("outside the steam tables (to 1000 bar, 0 to 800 °C)")
            }
        }
    }

    /// How much work it is, in steps of arithmetic.
    pub(super) fn work(self) -> usize {
        match self {
            Function::SaturationTemperature | Function::SaturationPressure | Function::Saturated(..) => 100,
            Function::Steam(_) => 50,
            _ => 1,
        }
    }
}

const NOT_SATURATED: NoValue = "outside the saturated steam tables (0.0062 to 220.6 bar absolute, 0.01 to 373.9 °C)";

fn of_unit(unit: &str) -> Kind {
    // The units named here are the table's.
    Unit::parse(unit).map_or(Kind::NUMBER, |unit| Kind::of_unit(&unit))
}

fn of_property(property: Property) -> Kind {
    of_unit(match property {
        Enthalpy => "J/kg",
        Entropy => "J/(kg K)",
        Volume => "m3/kg",
    })
}

/// A number that is whole but for the noise of its last digits, as whole: 52.000000000001 bottles are 52.
fn settled(x: f64) -> f64 {
    if (x - x.round()).abs() < 1e-9 * x.abs().max(1.0) { x.round() } else { x }
}
