//! Why a file is not taken: the rule that it breaks, and where.

use crate::deck::signs::visible;

/// A file that is refused.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{text}")]
pub struct Refusal {
    /// Names the rule: lower-case words joined by hyphens, never changed once published.
    pub code: &'static str,
    /// A sentence that names the entry; nothing in it that a terminal would obey.
    pub text: String,
    /// The file could not even be read, as against one that was read and breaks a rule.
    pub is_unreadable: bool,
}

impl Refusal {
    /// The file was read, and breaks a rule.
    pub fn rule(code: &'static str, text: impl AsRef<str>) -> Self {
        Self { code, text: visible(text.as_ref()), is_unreadable: false }
    }

    /// The file is not what it should be at all.
    pub fn unreadable(code: &'static str, text: impl AsRef<str>) -> Self {
        Self { code, text: visible(text.as_ref()), is_unreadable: true }
    }
}
