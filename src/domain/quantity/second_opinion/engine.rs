//! The table's units in numbat's language, and what numbat makes of a text in its own words.
//!
//! The context that holds the unit module grows with use, so that a fresh copy is taken after so many texts.

#![cfg(test)]

use std::cell::RefCell;
use std::fmt::Write as _;

use numbat::resolver::CodeSource;
use numbat::value::Value;
use numbat::{Context, InterpreterResult};

use crate::domain::quantity::dimension::Dimension;
use crate::domain::quantity::power::Power;
use crate::domain::quantity::table::{UNITS, position};

/// So many texts are given to one copy of the context.
const TEXTS: usize = 100;

/// The context with the unit module, a copy to work with, and how many texts it may still be given.
struct Contexts {
    base: Context,
    copy: Context,
    left: usize,
}

thread_local! {
    static CONTEXTS: RefCell<Contexts> = RefCell::new(Contexts::new());
}

impl Contexts {
    fn new() -> Self {
        let mut base = Context::new_without_importer();
        if let Err(error) = base.interpret(&module(), CodeSource::Internal) {
            panic!("{error}\n{}", module());
        }
        Self { copy: base.clone(), base, left: TEXTS }
    }

    fn work_out(&mut self, code: &str) -> Option<InterpreterResult> {
        if self.left == 0 {
            (self.copy, self.left) = (self.base.clone(), TEXTS);
        }
        self.left -= 1;
        self.copy.interpret(code, CodeSource::Text).ok().map(|(_, result)| result)
    }
}

/// The name that a unit of the table bears in numbat's language; `None` for a spelling that the table does not hold.
pub(super) fn engine_name(spelling: &str) -> Option<String> {
    position(spelling).map(|at| format!("u_{at}"))
}

/// The value of a text in numbat's own words; `None` where it refuses the text.
pub(super) fn value(code: &str) -> Option<Value> {
    match CONTEXTS.with_borrow_mut(|contexts| contexts.work_out(code))? {
        InterpreterResult::Value(value) => Some(value),
        InterpreterResult::Continue => None,
    }
}

/// The number in base units, and the dimension, of a text in numbat's own words; `None` where it refuses the text.
pub(super) fn work_out(code: &str) -> Option<(f64, Dimension)> {
    in_bases(&value(code)?)
}

/// A value as a number in base units with its dimension; `None` where it is no quantity.
pub(super) fn in_bases(value: &Value) -> Option<(f64, Dimension)> {
    let Value::Quantity(quantity) = value else { return None };
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

/// The unit module in numbat's language.
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

/// A definition of the table with the units' names in numbat's language.
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
