//! Words under a label, as pages and reports list them.

/// A label with its words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Labelled {
    /// What it is: `Day of the oral`.
    pub label: String,
    /// What is to be said of it.
    pub words: String,
}

impl Labelled {
    /// The label with these words.
    pub fn of(label: impl Into<String>, words: impl Into<String>) -> Self {
        Self { label: label.into(), words: words.into() }
    }
}
