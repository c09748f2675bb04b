//! Expressions over quantities: names, numbers with their units, `+ - * / ^`, brackets and a few functions.
//!
//! A text is cut into tokens (`token`, `unit_tail`), read as a tree (`parser`) and, against the kinds of the names in
//! it, made into a formula (`formula`): here every unit is looked at, once. A formula is then worked out on numbers
//! alone (`run`), as often as wanted. What a unit is worth comes from the unit engine; nothing else does, because the
//! engine takes a tenth of a millisecond for an expression and cannot be stopped, and a deck is checked with hundreds
//! of draws for each of its cards. Tests hold the two against each other. Everything here takes time in proportion to
//! the text, which is bounded, so that no text of a deck or of a learner needs a time limit.
//!
//! What a text means:
//! - `9.81 m/s^2`, `4.19 kJ/(kg K)`, `5 %`: the unit belongs to the number and binds closest. A stroke belongs to it
//!   where it stands close on both sides; `x / 2 m / s` are two divisions.
//! - A name is one of the scope first, else a unit that stands alone, as in `p / bar`.
//! - `85 degC` is a reading: 358.15 K in products and powers. A reading less a reading is a difference in kelvins; a
//!   reading with kelvins added or taken away is a reading again. Asked for in degC, a difference is given as a
//!   difference and any other temperature as a reading.
//! - Revolutions are counted: `720 rpm` is 12 in a second. `75 rad/s` are radians; a radian is metre by metre, so that
//!   an angle may stand where a pure number does.
//! - `450 kVA` may not be added to kilowatts nor given in them. Multiplied or divided by anything but a whole number
//!   as written, it is a power of no said sort, so that `apparent * pf` is given in kilowatts. Volts by amperes are of
//!   no said sort either.

mod against_engine;
mod error;
mod formula;
mod functions;
mod parser;
mod run;
mod scope;
mod token;
mod tree;
mod unit_tail;

use std::ops::Range;

pub use error::{ExpressionError, Sort};
pub use formula::Formula;
pub(crate) use formula::below_absolute_zero;
pub use scope::Scope;

use super::Unit;
use super::typed::chars::Chars;
use super::value::{Kind, Value};
use tree::{Part, Tree};

/// A name may have this many characters.
pub const MOST_NAME_CHARS: usize = 40;

/// How a text is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Style {
    /// As decks write: no thousands marks, no decimal comma.
    Deck,
    /// As learners type: both, where there is one way to read them.
    Typed,
}

/// An expression as read.
#[derive(Debug, Clone, PartialEq)]
pub struct Expression {
    tree: Tree,
}

impl Expression {
    /// Reads an expression of a deck.
    ///
    /// # Errors
    /// Where it is no expression, or beyond the bounds: 400 characters, brackets 32 deep.
    pub fn parse(text: &str) -> Result<Self, ExpressionError> {
        Self::read(text, Style::Deck)
    }

    /// Reads an expression that a learner typed: decimal commas and thousands marks are understood where there is one
    /// way to read them.
    ///
    /// # Errors
    /// As [`Expression::parse`].
    pub fn parse_typed(text: &str) -> Result<Self, ExpressionError> {
        Self::read(text, Style::Typed)
    }

    fn read(text: &str, style: Style) -> Result<Self, ExpressionError> {
        let tokens = token::tokens(text, style)?;
        Ok(Self { tree: parser::parse(&tokens, text)? })
    }

    /// The names in it with their places, in the order of the text; units that stand alone are among them, functions
    /// are not.
    pub fn names(&self) -> Vec<(&str, Range<usize>)> {
        let mut names: Vec<_> = self
            .tree
            .nodes
            .iter()
            .filter_map(|node| match &node.part {
                Part::Name(name) => Some((name.as_str(), node.span.clone())),
                _ => None,
            })
            .collect();
        names.sort_by_key(|(_, span)| span.start);
        names
    }

    /// It is one quantity as written, with this number and unit.
    pub(crate) fn quantity(&self) -> Option<(f64, &Unit)> {
        match &self.tree.node(self.tree.root).part {
            Part::Quantity(number, unit) => Some((*number, unit)),
            _ => None,
        }
    }

    /// Its value among these names.
    ///
    /// # Errors
    /// Where a name is unknown, units do not fit one another, or there is no value.
    pub fn evaluate(&self, scope: &Scope) -> Result<Value, ExpressionError> {
        let formula = Formula::new(self, &scope.kinds())?;
        let number = formula.run(&scope.numbers(), &mut Vec::new())?;
        Ok(Value { number, kind: formula.kind() })
    }
}

/// A text as a name in one spelling of its signs: letters, digits and `_`, beginning with a letter, and not the name
/// of pi; `None` where it is no name.
pub fn name(text: &str) -> Option<String> {
    let spelled: String = Chars::new(text.trim()).chars.into_iter().collect();
    let mut chars = spelled.chars();
    let is_name = chars.next().is_some_and(token::begins_name) && chars.all(token::continues_name);
    let is_short = spelled.chars().count() <= MOST_NAME_CHARS;
    (is_name && is_short && !matches!(spelled.as_str(), "pi" | "π")).then_some(spelled)
}

/// Whether a function bears this name.
pub fn is_function(name: &str) -> bool {
    functions::Function::named(name).is_some()
}

/// Whether a name alone is read as a unit where nothing bears it.
pub fn is_unit(name: &str) -> bool {
    super::engine::engine_name(name).is_some()
}

/// Every function as it is written, such as `min(a, b, ...)`, with what it gives.
pub fn functions() -> impl Iterator<Item = (String, &'static str)> {
    functions::FUNCTIONS.iter().map(|(function, .., gives)| (function.written(), *gives))
}
