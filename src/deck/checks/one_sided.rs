//! `one-sided`: a pump, a compressor or a non-return valve without suction or without delivery.
//!
//! Why: What passes one way takes flow in by one pipe and gives it out by another.
//!
//! Example:
//! ```toml
//! [[lineup.pipe]]
//! from = "pump"
//! to = "filter"
//! [[lineup.pipe]]
//! from = "pump"                          # the suction, written the wrong way round
//! to = "tank"
//! ```
//! To mend it: add the pipe, or turn one round: its suction names it as `to`, its delivery as `from`.

use crate::deck::problem::{Check, Found, Site};
use crate::domain::piping::NodeKind;
pub(crate) const CHECK: Check = Check::warning(
    "one-sided",
    "a pump, a compressor or a non-return valve without suction or without delivery",
    "add the pipe, or turn one round: its suction names it as `to`, its delivery as `from`",
);

/// It has pipes on one side only; `has_delivery` says on which.
pub(crate) fn found(site: Site, key: &str, kind: NodeKind, has_delivery: bool) -> Found {
    let (what, names) = match (kind, has_delivery) {
        (NodeKind::Pump | NodeKind::Compressor, true) => ("no suction", "to"),
        (NodeKind::Pump | NodeKind::Compressor, false) => ("no delivery", "from"),
        (_, true) => ("no pipe in", "to"),
        (_, false) => ("no pipe out", "from"),
    };
    CHECK.at(
        site,
        format!("`{key}` is {} with {what}: no pipe names it as `{names}`", kind.one()),
        format!("add a [[lineup.pipe]] with {names} = \"{key}\", or turn one of its pipes round"),
    )
}
