//! `shared-part-name`: two parts of a drawing with the name of the one to find.
//!
//! Why: The learner who points at the other one is told that it is the same thing, and that it is wrong.
//!
//! Example:
//! ```xml
//! <circle id="valve-1"><title>exhaust valve</title></circle>
//! <circle id="valve-2"><title>exhaust valve</title></circle>
//! ```
//! To mend it: name them apart, or make one group of them with the id and the title.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::warning(
    "shared-part-name",
    "two parts of a drawing with the name of the one to find",
    "name them apart, or make one group of them with the id and the title",
);

pub(crate) fn found(site: Site, name: &str, other: &str) -> Found {
    CHECK.at(
        site,
        format!("the part `{other}` is called {name} too, and is not right"),
        "name them apart, or put them into one <g> with the id and the <title>",
    )
}
