//! What the program is started with.

use std::path::PathBuf;
use std::sync::Arc;

use crate::app::reader::Load;
use crate::domain::day::{Instant, ShipOffset};
use crate::store::Wake;

/// The time, as an argument of the whole program: a real clock in the window, a given one in tests.
pub type Clock = Arc<dyn Fn() -> Instant + Send + Sync>;

/// What the program is started with.
#[derive(Clone)]
pub struct Setup {
    /// The home folder: profiles and decks.
    pub home: PathBuf,
    /// The profile's folder.
    pub dir: PathBuf,
    /// A name for the learner where the profile is new.
    pub learner: Option<String>,
    /// Ship's time where the profile is new.
    pub ship: ShipOffset,
    /// The time.
    pub clock: Clock,
    /// Called when background work has something.
    pub wake: Wake,
    /// How the trained reader of typed answers is loaded; none where they are marked by their words alone.
    pub reader: Option<Load>,
}

#[cfg(test)]
impl Setup {
    /// A learner without a name on a home of a test, at the usual time of tests.
    pub(crate) fn on(home: &std::path::Path) -> Self {
        Self {
            home: home.to_owned(),
            dir: home.join("profiles/a"),
            learner: None,
            ship: Default::default(),
            clock: Arc::new(|| Instant(1_800_000_000_000)),
            wake: Arc::new(|| {}),
            reader: None,
        }
    }
}
