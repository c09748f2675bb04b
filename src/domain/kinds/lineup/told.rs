//! What the marking of a line-up tells. Nodes are meant by key.

use serde::Serialize;

/// What only the marking of a line-up tells: valves set.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Told {
    /// One for each of the card's demands, in order.
    pub demands: Vec<DemandMark>,
    /// Every `never` that is broken.
    pub leaks: Vec<Leak>,
}

/// One demand's mark.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct DemandMark {
    /// The demand's name.
    pub name: String,
    /// Whether it is met.
    pub met: bool,
    /// The path of the flow, where a `flow` is met.
    pub path: Option<Vec<String>>,
    /// The fewest that would have to be turned for a `flow` that is not met; empty where nothing would do it.
    pub blocked_by: Vec<String>,
}

/// A `never` that is broken.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Leak {
    /// The demand's name.
    pub name: String,
    /// The way it leaks.
    pub path: Vec<String>,
}
