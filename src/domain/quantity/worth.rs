//! What a product of units is worth: a factor to base units, and a dimension, both from the table's own definitions.

use std::sync::OnceLock;

use super::dimension::{BASES, Dimension};
use super::table::{UNITS, position};

/// A unit of the table in a product, by its place in the table, with its power.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Factor {
    pub(super) unit: usize,
    pub(super) power: i64,
}

/// The worth of a unit.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Worth {
    /// A number in the unit by this is the number in base units.
    pub(super) factor: f64,
    /// What the unit measures.
    pub(super) dimension: Dimension,
    /// Whether the unit is an angular speed, whose factor here is to revolutions by time and not to radians by time.
    pub(super) counted: bool,
}

/// The worth of a product of units; `None` where its factor is no positive finite number or a power is too high.
pub(super) fn worth(product: &[Factor]) -> Option<Worth> {
    let (mut factor, mut powers) = (1.0, [0; BASES]);
    for Factor { unit, power } in product {
        let base = bases().get(*unit)?;
        factor *= base.factor.powf(*power as f64);
        add(&mut powers, &base.powers, *power)?;
    }
    let dimension = Dimension::of_powers(&powers)?;
    (factor.is_finite() && factor > 0.0).then(|| counted(factor, dimension))
}

/// An angular speed is a speed of rotation: 2 pi radians are one revolution, and revolutions are counted.
fn counted(factor: f64, dimension: Dimension) -> Worth {
    match dimension.counted() {
        Some(dimension) => Worth { factor: factor / (2.0 * std::f64::consts::PI), dimension, counted: true },
        None => Worth { factor, dimension, counted: false },
    }
}

/// A unit of the table in base units.
struct InBases {
    factor: f64,
    /// The power of each base unit.
    powers: [i64; BASES],
}

/// Every unit of the table in base units, in the table's order.
fn bases() -> &'static [InBases] {
    static IN_BASES: OnceLock<Vec<InBases>> = OnceLock::new();
    IN_BASES.get_or_init(|| {
        let mut known: Vec<InBases> = Vec::with_capacity(UNITS.len());
        for unit in UNITS {
            let made = defined(unit.is, &known);
            known.push(made);
        }
        known
    })
}

/// A unit by its definition in units above it, such as `kg * m / s^2` or `254 * mm / 10`. A word that the table does not
/// hold above it, which a test excludes, makes the unit worthless: its factor is no number.
fn defined(definition: &str, above: &[InBases]) -> InBases {
    if definition.starts_with(':') {
        let mut powers = [0; BASES];
        // Base units head the table, so that each is the base of its own number.
        if let Some(power) = powers.get_mut(above.len()) {
            *power = 1;
        }
        return InBases { factor: 1.0, powers };
    }
    // The numbers as written first, then the units' factors: 25.4 by a thousandth, not 254 thousandths by a tenth.
    let (mut number, mut factor, mut powers) = (1.0, 1.0, [0; BASES]);
    let mut sign = 1;
    for word in definition.split(' ') {
        match word {
            "*" => sign = 1,
            "/" => sign = -1,
            word => match (word.parse::<f64>(), named(word, above)) {
                (Ok(written), _) if sign > 0 => number *= written,
                (Ok(written), _) => number /= written,
                (Err(_), Some((unit, power))) => {
                    factor *= unit.factor.powf((sign * power) as f64);
                    if add(&mut powers, &unit.powers, sign * power).is_none() {
                        factor = f64::NAN;
                    }
                }
                (Err(_), None) => factor = f64::NAN,
            },
        }
    }
    InBases { factor: number * factor, powers }
}

/// A unit above with its power, such as `s^2`.
fn named<'a>(word: &str, above: &'a [InBases]) -> Option<(&'a InBases, i64)> {
    let (name, power) = word.split_once('^').unwrap_or((word, "1"));
    Some((above.get(position(name)?)?, power.parse().ok()?))
}

/// Adds the powers of a unit that is itself raised to a power; `None` where one grows beyond all bounds.
fn add(powers: &mut [i64; BASES], of: &[i64; BASES], by: i64) -> Option<()> {
    for (power, of) in powers.iter_mut().zip(of) {
        *power = power.checked_add(of.checked_mul(by)?)?;
    }
    Some(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(unit: &str, power: i64) -> Factor {
        Factor { unit: position(unit).expect("a unit of the table"), power }
    }

    #[test]
    fn every_unit_of_the_table_has_a_worth() {
        for unit in UNITS {
            for name in unit.names {
                assert!(worth(&[of(name, 1)]).is_some(), "{name}");
            }
        }
    }

    #[test]
    fn base_units_head_the_table() {
        let is_base = |unit: &super::super::table::UnitDef| unit.is.starts_with(':');
        assert!(UNITS[..BASES].iter().all(is_base) && !UNITS[BASES..].iter().any(is_base));
    }

    #[test]
    fn revolutions_are_counted_and_radians_turned_into_them() {
        let rpm = worth(&[of("rpm", 1)]).expect("a unit of the table");
        assert_eq!(rpm.dimension.in_base_units(), "1/s");
        let angular = worth(&[of("rad", 1), of("s", -1)]).expect("a product of units");
        assert_eq!(angular.dimension, rpm.dimension);
        // 2 pi rad/s is one revolution a second, 60 rpm.
        let turns = 2.0 * std::f64::consts::PI * angular.factor / rpm.factor;
        assert!((turns - 60.0).abs() < 1e-9, "{turns}");
    }

    #[test]
    fn powers_beyond_all_bounds_have_no_worth() {
        assert_eq!(worth(&[of("m", 1_001)]), None);
        assert_eq!(worth(&[of("km", 200)]), None);
        assert_eq!(worth(&[of("m", i64::MAX), of("m", 1)]), None);
        assert!(
            worth(&[of("m", 5_000), of("m", -4_999)])
                .is_some_and(|length| length.dimension == worth(&[of("m", 1)]).expect("a metre").dimension)
        );
    }
}
