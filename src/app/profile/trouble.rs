//! The profile could not be opened: what happened, and what can be done about it.

use crate::app::profile::opening::Failure;
use crate::domain::day::ShipOffset;
use crate::domain::english;
use crate::present::pages::TroubleKind;
use crate::present::{TroubleView, words};
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

impl Trouble {
    /// From why opening failed; times are said by `ship`'s time.
    pub fn from(failure: &Failure, ship: ShipOffset) -> Self {
        let kind = match failure {
            Failure::Open(OpenError::Damaged { newest_good_backup, .. }) => TroubleKind::Damaged {
                backup: newest_good_backup.as_ref().map(|backup| {
                    format!(
                        "{}, {}",
                        words::day(backup.made_at.study_day(ship)),
                        words::time_of_day(backup.made_at, ship)
                    )
                }),
            },
            Failure::Open(OpenError::InUse { .. }) => TroubleKind::InUse,
            Failure::Open(OpenError::Newer { .. }) => TroubleKind::Newer,
            _ => TroubleKind::Folder,
        };
        let detail = match failure {
            Failure::Open(OpenError::Damaged { path, why, set_aside_would_be, .. }) => {
                format!("{}: {why}. It would be set aside as {}.", path.display(), set_aside_would_be.display())
            }
            _ => String::new(),
        };
        let what = english::sentence(&failure.to_string());
        Self { view: TroubleView { kind, what, detail } }
    }
}
