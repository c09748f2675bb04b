//! Two computers of one learner, as data to draw.

/// A profile's file is taken in, or written.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct BringOverView {
    /// What is being done; none where nothing is.
    pub busy: Option<String>,
    /// Files that were found on this computer and on sticks, by their paths.
    pub found: Vec<String>,
    /// The file that the profile is best written into.
    pub write_to: String,
    /// The file that was looked into.
    pub looked: Option<LookedView>,
}

/// A file that was looked into: what would come.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct LookedView {
    /// Its path.
    pub file: String,
    /// `R. Halloran, written Tuesday 1 December 2026, 14:40`.
    pub whose: String,
    /// What is to be said before another learner's file comes in; none where it is the learner's own.
    pub question: Option<String>,
    /// What would come, sort by sort.
    pub rows: Vec<ComesRow>,
    /// What becomes of the settings.
    pub settings: String,
    /// Nothing of it is new.
    pub nothing: bool,
}

/// How many of one sort would come.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct ComesRow {
    /// `Answers`.
    pub what: String,
    /// How many are new.
    pub new: String,
    /// How many are there already.
    pub there: String,
}
