//! The unit engine: the one place that calls numbat.
//!
//! It is given nothing but products and quotients of the program's own units, written by `spelling`, never a
//! learner's or an author's text. One base context holds the unit module; it is cloned for each evaluation,
//! because a context grows with use, and what a unit is worth is kept, so that each spelling is worked out once.

use std::cell::RefCell;
use std::collections::HashMap;
use std::fmt::Write as _;

use numbat::resolver::CodeSource;
use numbat::value::Value;
use numbat::{Context, InterpreterResult};

use super::dimension::Dimension;
use super::power::Power;
use super::table::UNITS;

/// A unit's worth: `number * factor` is the value in base units.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Worth {
    pub factor: f64,
    pub dimension: Dimension,
    /// It was an angular speed and is counted in revolutions here.
    pub counted: bool,
}

/// How many unit spellings are kept; beyond it the store is emptied, so that hostile input cannot fill memory.
const KEPT: usize = 2_000;

thread_local! {
    static BASE: RefCell<Option<Context>> = const { RefCell::new(None) };
    static WORTH: RefCell<HashMap<String, Option<Worth>>> = RefCell::new(HashMap::new());
}

/// The name that a unit bears inside the engine; `None` for a spelling that the table does not hold.
pub(super) fn engine_name(spelling: &str) -> Option<String> {
    UNITS.iter().position(|u| u.names.contains(&spelling)).map(|at| format!("u_{at}"))
}

/// The worth of a product of engine names such as `u_3 * u_4^2 / (u_5)`; `None` where the engine refuses it or
/// the factor is not a positive finite number.
pub(super) fn worth(expression: &str) -> Option<Worth> {
    if let Some(known) = WORTH.with_borrow(|kept| kept.get(expression).cloned()) {
        return known;
    }
    let found = evaluate(expression);
    WORTH.with_borrow_mut(|kept| {
        if kept.len() >= KEPT {
            kept.clear();
        }
        kept.insert(expression.to_owned(), found.clone());
    });
    found
}

fn evaluate(expression: &str) -> Option<Worth> {
    let (factor, dimension) = work_out(&format!("1 * ({expression})"))?;
    (factor.is_finite() && factor > 0.0).then(|| counted(Worth { factor, dimension, counted: false }))
}

/// The number in base units, and the dimension, of code in the engine's own words; `None` where it refuses it.
fn work_out(code: &str) -> Option<(f64, Dimension)> {
    let mut context = BASE.with_borrow_mut(|base| {
        if base.is_none() {
            *base = build();
        }
        base.clone()
    })?;
    let (_, result) = context.interpret(code, CodeSource::Text).ok()?;
    let InterpreterResult::Value(Value::Quantity(quantity)) = result else {
        return None;
    };
    let base = quantity.to_base_unit_representation();
    let mut dimension = Dimension::NONE;
    for part in base.unit().iter() {
        let number: usize = part.unit_id.name.strip_prefix("u_")?.parse().ok()?;
        let power =
            Power::new(i64::try_from(*part.exponent.numer()).ok()?, i64::try_from(*part.exponent.denom()).ok()?)?;
        dimension = dimension.times(&Dimension::base(number)?.raised(power)?)?;
    }
    Some((base.unsafe_value().to_f64(), dimension))
}

/// What the engine makes of an expression in its own words, for tests that hold the program's own arithmetic to it.
#[cfg(test)]
pub(super) fn second_opinion(code: &str) -> Option<(f64, Dimension)> {
    work_out(code)
}

/// An angular speed is a speed of rotation: 2 pi radians are one revolution, and revolutions are counted.
fn counted(worth: Worth) -> Worth {
    match worth.dimension.counted() {
        Some(dimension) => Worth { factor: worth.factor / (2.0 * std::f64::consts::PI), dimension, counted: true },
        None => worth,
    }
}

/// The base context with the unit module; `None` only if the module is faulty, which a test excludes.
fn build() -> Option<Context> {
    let mut context = Context::new_without_importer();
    let _ = context.interpret(&module(), CodeSource::Internal).ok()?;
    Some(context)
}

/// The unit module in the engine's language.
fn module() -> String {
    let mut text = String::from("dimension Scalar = 1\n");
    for (at, unit) in UNITS.iter().enumerate() {
        // Writing to a string cannot fail.
        let _ = match unit.is.strip_prefix(':') {
            Some(dimension) => writeln!(text, "dimension {dimension}\nunit u_{at}: {dimension}"),
            None => writeln!(text, "unit u_{at} = {}", translate(unit.is)),
        };
    }
    text
}

/// A definition of the table with the units' engine names.
fn translate(definition: &str) -> String {
    let words: Vec<String> = definition
        .split(' ')
        .map(|word| {
            let (name, power) = word.split_once('^').map_or((word, None), |(n, p)| (n, Some(p)));
            let name = engine_name(name).unwrap_or_else(|| name.to_owned());
            power.map_or_else(|| name.clone(), |p| format!("{name}^{p}"))
        })
        .collect();
    words.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_unit_module_is_sound() {
        let mut context = Context::new_without_importer();
        if let Err(error) = context.interpret(&module(), CodeSource::Internal) {
            panic!("{error}\n{}", module());
        }
    }

    #[test]
    fn every_unit_of_the_table_has_a_worth() {
        for unit in UNITS {
            for name in unit.names {
                let engine = engine_name(name).unwrap_or_default();
                assert!(worth(&engine).is_some(), "{name}");
            }
        }
    }

    #[test]
    fn revolutions_are_counted_and_radians_turned_into_them() {
        let name = |unit| engine_name(unit).unwrap_or_default();
        let rpm = worth(&name("rpm")).expect("a unit of the table");
        assert_eq!(rpm.dimension.in_base_units(), "1/s");
        let angular = worth(&format!("{} / {}", name("rad"), name("s"))).expect("a product of units");
        assert_eq!(angular.dimension, rpm.dimension);
        // 2 pi rad/s is one revolution a second, 60 rpm.
        let turns = 2.0 * std::f64::consts::PI * angular.factor / rpm.factor;
        assert!((turns - 60.0).abs() < 1e-9, "{turns}");
    }
}
