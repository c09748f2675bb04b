//! The functions that an expression may use.

use super::super::value::Nature;
use super::Kind;
use crate::domain::quantity::Dimension;
use crate::domain::quantity::power::Power;

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
];

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
        let entry = FUNCTIONS.iter().find(|(function, ..)| *function == self);
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

    /// What it gives for one thing of this kind.
    ///
    /// # Errors
    /// With what it wants.
    pub(super) fn kind(self, given: Kind) -> Result<Kind, &'static str> {
        match self {
            Function::Abs | Function::Min | Function::Max => Ok(given),
            Function::Sqrt => {
                let half = Power::new(1, 2).and_then(|half| given.dimension.raised(half));
                half.map(Kind::plain).ok_or("a quantity with lower powers")
            }
            Function::Asin | Function::Acos | Function::Atan if given.is_number() => {
                Ok(Kind::plain(Dimension::angle()))
            }
            Function::Sin | Function::Cos | Function::Tan if !given.is_number() => Err("an angle"),
            _ if given.is_number() => Ok(Kind { dimension: Dimension::NONE, nature: Nature::Plain }),
            _ => Err("a pure number"),
        }
    }

    /// Its value.
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
        }
    }
}

/// A number that is whole but for the noise of its last digits, as whole: 52.000000000001 bottles are 52.
fn settled(x: f64) -> f64 {
    if (x - x.round()).abs() < 1e-9 * x.abs().max(1.0) { x.round() } else { x }
}
