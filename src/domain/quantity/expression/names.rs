//! Names in expressions: how one is written, and what bears one already.

use super::functions::Function;
use crate::domain::quantity::typed::chars::Chars;

/// A name may have this many characters.
pub const MOST_NAME_CHARS: usize = 40;

/// A letter or a sign that a name may begin with.
pub(super) fn begins_name(c: char) -> bool {
    c.is_alphabetic() || c == '_'
}

/// A sign that a name may go on with.
pub(super) fn continues_name(c: char) -> bool {
    c.is_alphanumeric() || c == '_'
}

/// A text as a name in one spelling of its signs: letters, digits and `_`, beginning with a letter, and not the name
/// of pi; `None` where it is no name.
pub fn name(text: &str) -> Option<String> {
    let spelled: String = Chars::new(text.trim()).chars.into_iter().collect();
    let mut chars = spelled.chars();
    let is_name = chars.next().is_some_and(begins_name) && chars.all(continues_name);
    let is_short = spelled.chars().count() <= MOST_NAME_CHARS;
    (is_name && is_short && !matches!(spelled.as_str(), "pi" | "π")).then_some(spelled)
}

/// Whether a function bears this name.
pub fn is_function(name: &str) -> bool {
    Function::named(name).is_some()
}

/// Whether a name alone is read as a unit where nothing bears it.
pub fn is_unit(name: &str) -> bool {
    crate::domain::quantity::table::position(name).is_some()
}
