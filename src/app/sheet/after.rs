//! What follows the first marking, of kinds whose answer may be mended. None of it changes the outcome.

use crate::domain::answer::LinedUp;
use crate::present::kinds::lineup::RightSetting;
use crate::present::kinds::sequence::RightOrder;

/// What follows the first run of a sequence. None of it changes the outcome.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct AfterRun {
    /// Runs so far.
    pub runs: usize,
    /// The steps of the last run, where there was more than one.
    pub last: Option<Vec<String>>,
    /// A right order, once it was asked for.
    pub right: Option<RightOrder>,
    /// There is something in the last run to ask about.
    pub may_explain: bool,
}

/// What follows the first check of a line-up. None of it changes the outcome.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct AfterCheck {
    /// Checks so far.
    pub checks: usize,
    /// The setting of the last check, where there was more than one.
    pub last: Option<LinedUp>,
    /// A setting that works, once it was asked for.
    pub right: Option<RightSetting>,
}
