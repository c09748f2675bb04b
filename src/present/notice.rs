//! The notice line over the sheet.

use crate::present::tone::Tone;

/// One line about what just happened. Shown above the sheet until put away or replaced.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Notice {
    /// `Good` for done, `Weak` for look out, `Bad` for failed, `Plain` otherwise.
    pub tone: Tone,
    /// One or two sentences.
    pub text: String,
}

impl Notice {
    /// Something is done.
    pub fn done(text: impl Into<String>) -> Self {
        Self { tone: Tone::Good, text: text.into() }
    }

    /// Something could not be done.
    pub fn failed(text: impl Into<String>) -> Self {
        Self { tone: Tone::Bad, text: text.into() }
    }
}
