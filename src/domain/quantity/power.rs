//! Powers of units as exact fractions: the square root of an area is a length, and a cube root of a mass is one too.

use std::fmt::Write as _;

/// No power may be higher than this, above or below its line.
const MOST: i64 = 1_000;

/// A fraction in its lowest terms, its lower part above zero.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) struct Power {
    top: i16,
    bottom: i16,
}

impl Power {
    pub(super) const ZERO: Power = Power { top: 0, bottom: 1 };
    pub(super) const ONE: Power = Power { top: 1, bottom: 1 };

    pub(super) const fn whole(number: i16) -> Self {
        Self { top: number, bottom: 1 }
    }

    /// A fraction; `None` where it is none or too high.
    pub(super) fn new(top: i64, bottom: i64) -> Option<Self> {
        let common = divisor(top.unsigned_abs(), bottom.unsigned_abs());
        let common = i64::try_from(common).ok().filter(|common| *common > 0)?;
        let sign = bottom.signum();
        let (top, bottom) = (sign * top / common, sign * bottom / common);
        if bottom == 0 || top.abs() > MOST || bottom > MOST {
            return None;
        }
        Some(Self { top: i16::try_from(top).ok()?, bottom: i16::try_from(bottom).ok()? })
    }

    /// The fraction that a number is, such as 0.25 or 2/3; `None` where it is none with a small lower part.
    pub(super) fn of(number: f64) -> Option<Self> {
        let near = |bottom: i64| {
            let top = number * bottom as f64;
            (top.abs() <= MOST as f64 && (top - top.round()).abs() < 1e-9 * bottom as f64)
                .then(|| Self::new(top.round() as i64, bottom))
                .flatten()
        };
        (1..=MOST).find_map(near)
    }

    pub(super) fn is_zero(self) -> bool {
        self.top == 0
    }

    pub(super) fn is_below_zero(self) -> bool {
        self.top < 0
    }

    pub(super) fn size(self) -> Self {
        Self { top: self.top.abs(), ..self }
    }

    pub(super) fn plus(self, other: Self) -> Option<Self> {
        let ((a, b), (c, d)) = (self.parts(), other.parts());
        Self::new(a * d + c * b, b * d)
    }

    pub(super) fn minus(self, other: Self) -> Option<Self> {
        self.plus(Self { top: -other.top, ..other })
    }

    pub(super) fn times(self, other: Self) -> Option<Self> {
        let ((a, b), (c, d)) = (self.parts(), other.parts());
        Self::new(a * c, b * d)
    }

    fn parts(self) -> (i64, i64) {
        (self.top.into(), self.bottom.into())
    }

    /// A unit's name with this power, such as `m2` or `kg^(1/3)`.
    pub(super) fn on(self, name: &str) -> String {
        let mut out = name.to_owned();
        // Writing to a string cannot fail.
        let _ = match (self.top, self.bottom) {
            (1, 1) => Ok(()),
            (top, 1) => write!(out, "{top}"),
            (top, bottom) => write!(out, "^({top}/{bottom})"),
        };
        out
    }
}

fn divisor(mut a: u64, mut b: u64) -> u64 {
    while b > 0 {
        (a, b) = (b, a % b);
    }
    a
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fractions_are_kept_in_their_lowest_terms() {
        assert_eq!(Power::new(4, -6), Power::new(-2, 3));
        assert_eq!(Power::of(2.0 / 3.0), Power::new(2, 3));
        assert_eq!(Power::of(-0.23), Power::new(-23, 100));
        assert_eq!(Power::of(std::f64::consts::PI), None);
        assert_eq!(Power::of(f64::NAN), None);
        assert_eq!(Power::new(1, 3).and_then(|third| third.times(Power::whole(3))), Some(Power::ONE));
        assert_eq!(Power::whole(900).plus(Power::whole(900)), None);
    }
}
