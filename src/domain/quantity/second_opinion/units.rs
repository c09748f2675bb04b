//! Every unit of the table and thousands of random products of units: numbat must come to the very same factor, to the
//! last bit, and to the same dimension. Its quantities are multiplied by its own arithmetic. Only ratios such as `%` it
//! makes numbers at once and multiplies before the units, so that products with them may differ in the last digits.

#![cfg(test)]

use std::collections::HashMap;

use numbat::value::Value;
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

use super::engine::{in_bases, value};
use crate::domain::quantity::Unit;
use crate::domain::quantity::table::UNITS;

/// So many random products.
const PRODUCTS: usize = 6_000;

/// Units by their places in the table, each with its power, and the power of all together.
struct Product {
    factors: Vec<(usize, i64)>,
    power: i64,
}

impl Product {
    fn random(random: &mut StdRng) -> Self {
        let factor = |random: &mut StdRng| {
            let power = [1, 1, 1, 1, 2, 3, -1, -2][random.random_range(0..8)];
            (random.random_range(0..UNITS.len()), power)
        };
        let count = random.random_range(1..4);
        let factors = (0..count).map(|_| factor(random)).collect();
        Self { factors, power: [1, 1, 1, 2, 3, -1][random.random_range(0..6)] }
    }

    /// Whether a ratio or a count is among its units.
    fn has_ratio(&self) -> bool {
        let ratio = |name| Unit::parse(name).is_ok_and(|unit| unit.dimension.is_none());
        self.factors.iter().any(|(unit, _)| ratio(UNITS[*unit].names[0]))
    }

    /// As a deck spells it.
    fn spelled(&self) -> String {
        let factor = |(unit, power): &(usize, i64)| format!("{}^{power}", UNITS[*unit].names[0]).replace("^1", "");
        let factors: Vec<String> = self.factors.iter().map(factor).collect();
        format!("({})^{}", factors.join(" "), self.power)
    }
}

/// numbat's quantities by the texts that they were read from.
struct Quantities(HashMap<String, Value>);

impl Quantities {
    fn read(&mut self, code: &str) -> Value {
        let read = || value(code).expect("numbat reads it");
        self.0.entry(code.to_owned()).or_insert_with(read).clone()
    }

    fn raised(&mut self, base: Value, power: i64) -> Value {
        match (base, self.read(&power.to_string())) {
            (base, _) if power == 1 => base,
            (Value::Quantity(base), Value::Quantity(power)) => {
                Value::Quantity(base.checked_power(power).expect("a whole power").expect("a unit is not zero"))
            }
            _ => unreachable!("both are quantities"),
        }
    }

    fn product(&mut self, product: &Product) -> Value {
        let factors = product.factors.iter().map(|(unit, power)| (format!("u_{unit}"), *power));
        let mut all: Option<Value> = None;
        for (name, power) in factors {
            let unit = self.read(&name);
            let factor = self.raised(unit, power);
            all = Some(match (all, factor) {
                (Some(Value::Quantity(all)), Value::Quantity(factor)) => Value::Quantity(all * factor),
                (_, factor) => factor,
            });
        }
        self.raised(all.expect("a product has a factor"), product.power)
    }
}

/// Holds a unit to numbat's quantity of one of it: the factors must lie no further apart than this share.
fn assert_same(spelling: &str, theirs: &Value, share: f64) {
    let unit = Unit::parse(spelling).unwrap_or_else(|error| panic!("{spelling}: {error}"));
    let (mut factor, mut dimension) = in_bases(theirs).unwrap_or_else(|| panic!("{spelling} is no quantity"));
    assert_eq!(unit.counted, dimension.counted().is_some(), "{spelling}");
    if let Some(counted) = dimension.counted() {
        (factor, dimension) = (factor / (2.0 * std::f64::consts::PI), counted);
    }
    assert_eq!(unit.dimension, dimension, "{spelling}");
    let apart = (unit.factor - factor).abs() / factor;
    assert!(apart <= share, "{spelling}: {:e} and {factor:e}", unit.factor);
}

#[test]
fn every_unit_of_the_table_is_worth_the_very_same() {
    for (at, unit) in UNITS.iter().enumerate() {
        let theirs = value(&format!("u_{at}")).expect("numbat knows the unit");
        for name in unit.names {
            assert_same(name, &theirs, 0.0);
        }
    }
}

#[test]
fn products_of_units_are_worth_the_very_same() {
    let mut random = StdRng::seed_from_u64(20_261_201);
    let mut quantities = Quantities(HashMap::new());
    let mut exact = 0;
    for _ in 0..PRODUCTS {
        let above = Product::random(&mut random);
        let below = random.random_bool(0.6).then(|| Product::random(&mut random));
        let mut spelled = above.spelled();
        let mut theirs = quantities.product(&above);
        if let Some(below) = &below {
            spelled = format!("{spelled}/{}", below.spelled());
            theirs = match (theirs, quantities.product(below)) {
                (Value::Quantity(over), Value::Quantity(under)) => Value::Quantity(over / under),
                _ => unreachable!("both are quantities"),
            };
        }
        let has_ratio = above.has_ratio() || below.is_some_and(|below| below.has_ratio());
        assert_same(&spelled, &theirs, if has_ratio { 1e-14 } else { 0.0 });
        exact += usize::from(!has_ratio);
    }
    assert!(exact > PRODUCTS / 2, "{exact} of {PRODUCTS} products have no ratio");
}
