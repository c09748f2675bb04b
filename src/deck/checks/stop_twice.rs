//! `stop-twice`: a flow that names the same stop twice running.
//!
//! Why: Between a stop and itself there is no way to go.
//!
//! Example:
//! ```toml
//! [[lineup.demand]]
//! name = "Tank to engine"
//! flow = ["service-tank", "pump", "pump", "engine"]
//! ```
//! To mend it: name the stop once, or name what flow goes through before it comes back.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "stop-twice",
    "a flow that names the same stop twice running",
    "name the stop once, or name what flow goes through before it comes back",
);

pub(crate) fn found(site: Site, key: &str) -> Found {
    CHECK.at(
        site,
        format!("this flow names `{key}` twice running"),
        format!("name `{key}` once here, or name between the two what flow goes through before it comes back"),
    )
}
