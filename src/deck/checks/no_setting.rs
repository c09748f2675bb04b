//! `no-setting`: no setting of the valves meets every demand.
//!
//! Why: There would be no right answer.
//!
//! Example:
//! ```toml
//! [[lineup.demand]]
//! name = "Tank to engine"
//! flow = ["service-tank", "engine"]      # and a fixed valve between them is shut
//! ```
//! To mend it: see which demands stand against one another, and what is fixed.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "no-setting",
    "no setting of the valves meets every demand",
    "see which demands stand against one another, and what is fixed",
);

/// One demand that no setting meets.
pub(crate) fn one(site: Site, name: &str, is_flow: bool) -> Found {
    let (why, mend) = if is_flow {
        (
            "flow cannot go there in any setting",
            "see whether a pipe is missing, a pump or a non-return valve stands the wrong way round, an end lies between or a shut valve is fixed",
        )
    } else {
        ("flow goes there in every setting", "put a valve between the two, or take the demand out")
    };
    CHECK.at(site, format!("no setting meets the demand “{name}”: {why}"), mend)
}

/// Demands that can be met one by one, and not together; the first is at `site`.
pub(crate) fn together(site: Site, names: &[&str]) -> Found {
    let names: Vec<String> = names.iter().map(|name| format!("“{name}”")).collect();
    CHECK.at(
        site,
        format!("no setting meets these demands together: {}", names.join(", ")),
        "let a valve stand where their ways part, or take one of them out",
    )
}
