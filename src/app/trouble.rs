//! The profile could not be opened: what happened, and what can be done about it.

use crate::app::opening::Failure;
use crate::present::TroubleView;
use crate::present::pages::TroubleKind;
use crate::store::OpenError;

/// Why the profile is not open.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Trouble {
    /// Sort, sentence, technical reason.
    pub view: TroubleView,
}

impl Trouble {
    /// The thread that opens it ended without an answer.
    pub fn unknown() -> Self {
        let what = "The profile could not be opened: the program’s own work broke off. Try again.".to_owned();
        Self { view: TroubleView { kind: TroubleKind::Folder, what, detail: String::new() } }
    }
}

impl From<Failure> for Trouble {
    fn from(failure: Failure) -> Self {
        let kind = match &failure {
            Failure::Open(OpenError::InUse { .. }) => TroubleKind::InUse,
            Failure::Open(OpenError::Newer { .. }) => TroubleKind::Newer,
            _ => TroubleKind::Folder,
        };
        let text = failure.to_string();
        let mut chars = text.chars();
        let text: String = chars.next().map(|c| c.to_uppercase().chain(chars).collect()).unwrap_or_default();
        let what = format!("{}.", text.trim_end_matches('.'));
        Self { view: TroubleView { kind, what, detail: String::new() } }
    }
}
