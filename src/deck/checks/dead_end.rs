//! `dead-end`: a stop in the middle of a flow that has one pipe only.
//!
//! Why: Flow goes through a stop: it comes in by one pipe and goes out by another.
//!
//! Example:
//! ```toml
//! [[lineup.pipe]]
//! from = "outlet-valve"
//! to = "cooler"                          # and no other pipe names the cooler
//! [[lineup.demand]]
//! name = "Through the cooler to the engine"
//! flow = ["service-tank", "cooler", "engine"]
//! ```
//! To mend it: add the pipe by which flow goes on, or let the flow end there.

use crate::deck::problem::{Check, Found, Site};
use crate::domain::piping::NodeKind;

pub(crate) const CHECK: Check = Check::error(
    "dead-end",
    "a stop in the middle of a flow that has one pipe only",
    "add the pipe by which flow goes on, or let the flow end there",
);

pub(crate) fn found(site: Site, key: &str, kind: NodeKind) -> Found {
    CHECK.at(
        site,
        format!("flow cannot go through `{key}`: it is {} with one pipe only", kind.one()),
        format!("add the [[lineup.pipe]] by which flow goes on from `{key}`, or make `{key}` the last of the flow"),
    )
}
