//! Names and what they stand for.

use crate::domain::quantity::value::{Kind, Value};

/// Names with their values. A later name hides an earlier one that is the same.
#[derive(Debug, Clone, Default)]
pub struct Scope {
    names: Vec<(String, Option<Value>)>,
}

/// A name of a scope and what it is of; none for a name that has no value.
pub type NameKind = (String, Option<Kind>);

impl Scope {
    /// A scope with no names.
    pub fn new() -> Self {
        Self::default()
    }

    /// Gives a name its value.
    pub fn set(&mut self, name: impl Into<String>, value: Value) {
        self.names.push((name.into(), Some(value)));
    }

    /// Makes a name known that has no value, so that it is not taken for a unit.
    pub fn without_value(&mut self, name: impl Into<String>) {
        self.names.push((name.into(), None));
    }

    /// The value of a name.
    pub fn get(&self, name: &str) -> Option<Value> {
        self.names.iter().rev().find(|(known, _)| known == name).and_then(|(_, value)| *value)
    }

    /// Whether the name is there, with a value or without.
    pub fn knows(&self, name: &str) -> bool {
        self.names.iter().any(|(known, _)| known == name)
    }

    /// The kinds of its names in their order, for [`Formula::new`](super::Formula::new).
    pub fn kinds(&self) -> Vec<NameKind> {
        self.names.iter().map(|(name, value)| (name.clone(), value.map(|value| value.kind))).collect()
    }

    pub(super) fn numbers(&self) -> Vec<f64> {
        self.names.iter().map(|(_, value)| value.map_or(f64::NAN, |value| value.number)).collect()
    }
}
