//! Random expressions are worked out by the program and by numbat, and must come to the same. numbat is given its own
//! words: its names for the units, and nothing of the program's reading of the text.

#![cfg(test)]

use proptest::prelude::*;

use super::engine::{engine_name, work_out};
use crate::domain::quantity::{Expression, Scope, Value};

/// Units of one kind, and how a quantity of the kind is made of two others.
struct Sort {
    units: &'static [&'static str],
    products: &'static [(usize, usize)],
    quotients: &'static [(usize, usize)],
}

const LENGTH: usize = 0;
const AREA: usize = 1;
const VOLUME: usize = 2;
const TIME: usize = 3;
const SPEED: usize = 4;
const FORCE: usize = 5;
const PRESSURE: usize = 6;
const ENERGY: usize = 7;
const POWER: usize = 8;
const MASS: usize = 9;
const DENSITY: usize = 10;
const FLOW: usize = 11;
const RATIO: usize = 12;

const SORTS: &[Sort] = &[
    Sort { units: &["m", "mm", "cm", "in", "nmi"], products: &[(SPEED, TIME)], quotients: &[(AREA, LENGTH)] },
    Sort { units: &["m^2", "mm^2", "ha"], products: &[(LENGTH, LENGTH)], quotients: &[(VOLUME, LENGTH)] },
    Sort { units: &["m^3", "L", "mL"], products: &[(AREA, LENGTH), (FLOW, TIME)], quotients: &[(MASS, DENSITY)] },
    Sort { units: &["s", "min", "h", "day"], products: &[], quotients: &[(LENGTH, SPEED), (ENERGY, POWER)] },
    Sort { units: &["kn", "m/s", "kmh"], products: &[], quotients: &[(LENGTH, TIME), (POWER, FORCE)] },
    Sort { units: &["N", "kN", "kgf"], products: &[(PRESSURE, AREA)], quotients: &[(ENERGY, LENGTH)] },
    Sort { units: &["bar", "kPa", "psi", "mmHg"], products: &[], quotients: &[(FORCE, AREA), (ENERGY, VOLUME)] },
    Sort { units: &["J", "kWh", "kcal"], products: &[(FORCE, LENGTH), (POWER, TIME)], quotients: &[] },
    Sort { units: &["kW", "W", "hp"], products: &[(FORCE, SPEED)], quotients: &[(ENERGY, TIME)] },
    Sort { units: &["kg", "t", "g", "lb"], products: &[(DENSITY, VOLUME)], quotients: &[] },
    Sort { units: &["kg/m^3"], products: &[], quotients: &[(MASS, VOLUME)] },
    Sort { units: &["m^3/h", "L/min"], products: &[(AREA, SPEED)], quotients: &[(VOLUME, TIME)] },
    Sort { units: &["%", "ppm"], products: &[(RATIO, RATIO)], quotients: &[(POWER, POWER), (MASS, MASS)] },
];

/// An expression in our words and in the engine's.
#[derive(Debug, Clone)]
struct Twin {
    ours: String,
    theirs: String,
}

/// A unit in the engine's names.
fn engine_unit(unit: &str) -> String {
    unit.split_inclusive(['/', '^'])
        .map(|part| {
            let name = part.trim_end_matches(['/', '^']);
            let own = engine_name(name).unwrap_or_else(|| name.to_owned());
            own + &part[name.len()..]
        })
        .collect()
}

fn leaf(sort: usize) -> BoxedStrategy<Twin> {
    let units = SORTS[sort].units;
    (1u32..9_999, 0u32..4, 0..units.len())
        .prop_map(move |(digits, scale, unit)| {
            let number = f64::from(digits) / 10f64.powi(scale as i32);
            let unit = units[unit];
            Twin { ours: format!("{number} {unit}"), theirs: format!("({number} * ({}))", engine_unit(unit)) }
        })
        .boxed()
}

fn joined(a: Twin, sign: &str, b: Twin) -> Twin {
    Twin { ours: format!("({} {sign} {})", a.ours, b.ours), theirs: format!("({} {sign} {})", a.theirs, b.theirs) }
}

fn expression(sort: usize, depth: u32) -> BoxedStrategy<Twin> {
    if depth == 0 {
        return leaf(sort);
    }
    let same = || expression(sort, depth - 1);
    let mut ways = vec![
        leaf(sort),
        (same(), same()).prop_map(|(a, b)| joined(a, "+", b)).boxed(),
        (same(), same()).prop_map(|(a, b)| joined(a, "-", b)).boxed(),
        (same(), 1u8..99)
            .prop_map(|(a, n)| joined(a, "*", Twin { ours: n.to_string(), theirs: n.to_string() }))
            .boxed(),
        same().prop_map(|a| Twin { ours: format!("-{}", a.ours), theirs: format!("(-{})", a.theirs) }).boxed(),
        same()
            .prop_map(|a| Twin {
                ours: format!("sqrt(({})^2)", a.ours),
                theirs: format!("((({}) ^ 2) ^ (1/2))", a.theirs),
            })
            .boxed(),
    ];
    for (left, right) in SORTS[sort].products {
        let parts = (expression(*left, depth - 1), expression(*right, depth - 1));
        ways.push(parts.prop_map(|(a, b)| joined(a, "*", b)).boxed());
    }
    for (left, right) in SORTS[sort].quotients {
        let parts = (expression(*left, depth - 1), expression(*right, depth - 1));
        ways.push(parts.prop_map(|(a, b)| joined(a, "/", b)).boxed());
    }
    proptest::strategy::Union::new(ways).boxed()
}

fn any_expression() -> impl Strategy<Value = Twin> {
    (0..SORTS.len()).prop_flat_map(|sort| expression(sort, 3))
}

fn ours(text: &str) -> Option<Value> {
    Expression::parse(text).ok()?.evaluate(&Scope::new()).ok()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, ..ProptestConfig::default() })]

    #[test]
    fn both_come_to_the_same(twin in any_expression().prop_filter("bounded", |twin| twin.ours.chars().count() <= 400)) {
        let theirs = work_out(&twin.theirs);
        match (ours(&twin.ours), theirs) {
            (Some(value), Some((number, dimension))) => {
                prop_assert_eq!(value.kind.dimension, dimension);
                // A difference of nearly equal quantities keeps few digits.
                let near = 1e-9 * number.abs().max(value.number.abs()) + 1e-9;
                prop_assert!((value.number - number).abs() <= near, "{} and {number}", value.number);
            }
            // Neither has a value: a division by zero.
            (None, theirs) => prop_assert!(theirs.is_none_or(|(number, _)| !number.is_finite()), "{theirs:?}"),
            (Some(value), None) => prop_assert!(false, "only ours: {value:?}"),
        }
    }

    #[test]
    fn both_refuse_to_add_what_does_not_fit(
        (one, other) in (0..SORTS.len(), 0..SORTS.len())
            .prop_filter("two kinds", |(one, other)| one != other)
            .prop_flat_map(|(one, other)| (expression(one, 1), expression(other, 1)))
    ) {
        let sum = joined(one, "+", other);
        prop_assert!(ours(&sum.ours).is_none());
        prop_assert!(work_out(&sum.theirs).is_none());
    }
}
