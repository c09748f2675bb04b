//! What a check is, apart from any deck: its entry in the manual's table, and a problem of its sort at a place.

use serde::Serialize;

/// How much a problem matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// A hint for better cards.
    Advice,
    /// Probably not what the writer meant.
    Warning,
    /// The card (or the deck) cannot be used as it stands.
    Error,
}

impl Severity {
    /// `advice`, `warning` or `error`.
    pub fn word(self) -> &'static str {
        match self {
            Severity::Advice => "advice",
            Severity::Warning => "warning",
            Severity::Error => "error",
        }
    }
}

/// A sort of problem: an entry of the manual's table of messages.
#[derive(Debug, PartialEq, Eq)]
pub struct Check {
    /// Lower-case words joined by hyphens; public, and never changed once published.
    pub code: &'static str,
    /// How much it matters.
    pub severity: Severity,
    /// What is wrong, in one line.
    pub says: &'static str,
    /// Why it matters, in whole sentences for an instructor.
    pub why: &'static str,
    /// Lines of a deck file, or of a drawing, with the fault in them.
    pub example: &'static [&'static str],
    /// How it is mended as a rule; a problem says it for its own case.
    pub mend: &'static str,
}

impl Check {
    /// A problem of this sort.
    pub(crate) fn at(&'static self, site: Site, message: impl Into<String>, mend: impl Into<String>) -> Found {
        Found { check: self, site, message: message.into(), mend: mend.into() }
    }
}

/// A range of bytes in the text of one of the deck's files.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub(crate) struct Site {
    /// Which file, by its position in the reading's texts.
    pub(crate) file: usize,
    /// First byte.
    pub(crate) start: usize,
    /// One past the last byte.
    pub(crate) end: usize,
}

impl Site {
    /// The very start of a file.
    pub(crate) fn top(file: usize) -> Self {
        Self { file, start: 0, end: 0 }
    }
}

/// A problem before its line and column are known.
#[derive(Debug)]
pub(crate) struct Found {
    pub(crate) check: &'static Check,
    pub(crate) site: Site,
    pub(crate) message: String,
    pub(crate) mend: String,
}
