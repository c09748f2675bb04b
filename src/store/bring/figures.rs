//! What is told of a profile's file and of bringing it in.

use std::path::PathBuf;

use crate::domain::day::Instant;

/// How many of each there are.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Counts {
    /// Answers, those that were taken back among them.
    pub answers: u64,
    /// Takings back of answers.
    pub taken_back: u64,
    /// Sittings of mock orals.
    pub sittings: u64,
    /// Answered questions in them.
    pub turns: u64,
    /// Cards set aside or brought back.
    pub set_aside: u64,
    /// Fault reports.
    pub faults: u64,
    /// Editions of decks that were taken in.
    pub editions: u64,
    /// Ends of sittings, results of orals, and what else happened.
    pub events: u64,
}

impl Counts {
    /// There is nothing.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

/// What a profile's file holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ProfileFile {
    /// The file.
    pub file: PathBuf,
    /// The learner's name; may be empty.
    pub learner: String,
    /// The learner's ids.
    pub ids: Vec<String>,
    /// The version of the program that wrote it.
    pub program: String,
    /// When it was written.
    pub made: Instant,
    /// When its settings were changed last.
    pub settings_at: Instant,
    /// How many of each it holds.
    pub counts: Counts,
    /// The time of its first answer.
    pub first: Option<Instant>,
    /// The time of its last answer.
    pub last: Option<Instant>,
    /// Its length in bytes.
    pub bytes: u64,
    /// Its digest.
    pub sha256: String,
}

/// Whose a file is, seen from a profile.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Whose {
    /// The profile's own learner.
    Same,
    /// Another learner.
    Other,
    /// The profile has no answers yet and becomes this learner's.
    Fresh,
}

/// What bringing a file into a profile has changed, or would change.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Merged {
    /// Whose the file is.
    pub whose: Whose,
    /// What the profile's learner was called before.
    pub here: String,
    /// What was new.
    pub taken_in: Counts,
    /// What of the file was there already.
    pub there: Counts,
    /// The file's settings are the later ones, and hold now.
    pub settings: bool,
}
