//! `unseen-part`: a part that cannot be pointed at.
//!
//! Why: What is not drawn, or lies off the drawing or wholly behind other parts, cannot be found.
//!
//! Example:
//! ```toml
//! part = "hatching-pattern"
//! ```
//! To mend it: put the id and the title on a shape or a group that is drawn.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "unseen-part",
    "a part that cannot be pointed at",
    "put the id and the title on a shape or a group that is drawn",
);

pub(crate) fn found(site: Site, id: &str, path: &str, why: &str) -> Found {
    let shown: String = id.chars().take(60).collect();
    CHECK.at(
        site,
        format!("`{shown}` of the drawing `{path}` {why}"),
        "put the id and the <title> on a shape or a <g> that is drawn and can be seen",
    )
}
