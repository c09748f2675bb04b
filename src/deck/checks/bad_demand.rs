//! `bad-demand`: a demand that is neither a flow through nodes nor a never between two.
//!
//! Why: It could not be marked.
//!
//! Example:
//! ```toml
//! [[lineup.demand]]
//! name = "Tank to engine"
//! flow = ["service-tank"]
//! ```
//! To mend it: write flow with two nodes or more in order, or never with two.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "bad-demand",
    "a demand that is neither a flow through nodes nor a never between two",
    "write flow with two nodes or more in order, or never with two",
);

/// Neither `flow` nor `never`, or both.
pub(crate) fn one_of(site: Site, has_both: bool) -> Found {
    let what = if has_both { "has both `flow` and `never`" } else { "has neither `flow` nor `never`" };
    let mend = if has_both {
        "make two demands of it"
    } else {
        "add flow = [\"from\", \"to\"], or never = [\"from\", \"to\"]"
    };
    CHECK.at(site, format!("this demand {what}"), mend)
}

/// Too few nodes, or too many.
pub(crate) fn number(site: Site, key: &str, given: usize) -> Found {
    let (wanted, mend) = if key == "flow" {
        (
            "two nodes or more",
            "name the nodes that the flow goes through, in order, such as flow = [\"tank\", \"pump\", \"engine\"]",
        )
    } else {
        (
            "two nodes",
            "name where the flow would come from and where it must not go, such as never = [\"tank\", \"bilge\"]",
        )
    };
    CHECK.at(site, format!("`{key}` needs {wanted}, and this has {given}"), mend)
}
