//! What people call a dimension.

use std::collections::HashMap;
use std::sync::OnceLock;

use super::dimension::Dimension;
use super::table::DIMENSION_WORDS;
use super::unit::Unit;

impl Dimension {
    /// What people call it, such as "pressure" or "volume flow"; `None` for a dimension without a common name.
    pub fn word(&self) -> Option<&'static str> {
        static WORDS: OnceLock<HashMap<Dimension, &'static str>> = OnceLock::new();
        let words = WORDS.get_or_init(|| {
            let named = |(word, unit): &(&'static str, &str)| {
                let unit = if *unit == "1" { "" } else { *unit };
                Some((Unit::parse(unit).ok()?.dimension, *word))
            };
            DIMENSION_WORDS.iter().filter_map(named).collect()
        });
        words.get(self).copied()
    }

    /// "a pressure", "an area", "a quantity in kg m/s2": for messages.
    pub fn described(&self) -> String {
        match self.word() {
            Some(word) if word.starts_with(['a', 'e', 'i', 'o', 'u']) => format!("an {word}"),
            Some(word) => format!("a {word}"),
            None => format!("a quantity in {}", self.in_base_units()),
        }
    }
}
