//! What the marking of a sequence tells. Steps and facts are meant by key.

use serde::Serialize;

use crate::domain::plant::Severity;

/// What only the marking of a sequence tells: steps run on the plant.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Told {
    /// The goal holds at the end.
    pub reaches_goal: bool,
    /// Steps tried with needs unmet, in the order of the list.
    pub breaks: Vec<BreakMark>,
    /// Traps used, in the order of the list.
    pub traps: Vec<String>,
    /// Needed steps that were not listed, in the order of the deck.
    pub left_out: Vec<String>,
    /// Fewest steps to lift out so that the rest stand in a working order of all steps; none where there is no
    /// such order, or too many to tell.
    pub out_of_place: Option<usize>,
    /// Fewest pairs of steps that stand the other way round; none as above.
    pub swaps: Option<usize>,
    /// What the plant did by itself, in order.
    pub events: Vec<String>,
    /// Facts that hold at the end, in the order of the deck.
    pub facts_after: Vec<String>,
}

/// A step that was tried with needs unmet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct BreakMark {
    /// The step's key.
    pub step: String,
    /// The unmet needs as the deck writes them, with `!`.
    pub without: Vec<String>,
    /// Of the first fault that fits.
    pub severity: Severity,
    /// What happens.
    pub tell: String,
}
