//! Expressions over quantities: names, numbers with their units, `+ - * / ^`, brackets and a few functions.
//!
//! A text is cut into tokens (`token`, `unit_tail`), read as a tree (`parser`) and, against the kinds of the names in
//! it, made into a formula (`formula`): here every unit is looked at, once. A formula is then worked out on numbers
//! alone (`run`), as often as wanted: a deck is checked with hundreds of draws for each of its cards. Everything here
//! takes time in proportion to the text, which is bounded, so that no text of a deck or of a learner needs a time limit.
//! Tests hold random expressions to a unit language of its own (`quantity::second_opinion`).
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

mod error;
mod formula;
mod functions;
mod names;
mod parser;
mod reading;
mod run;
mod scope;
mod token;
mod tree;
mod unit_tail;

pub use error::{ExpressionError, Sort};
pub use formula::Formula;
pub use formula::below_absolute_zero;
pub use functions::functions;
pub use names::{MOST_NAME_CHARS, is_function, is_unit, name};
pub use reading::Expression;
pub use scope::Scope;
