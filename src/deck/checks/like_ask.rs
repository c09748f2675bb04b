//! `like-ask`: two cards that ask nearly the same.
//!
//! Why: Learners mix up cards that look alike.
//!
//! Example:
//! ```toml
//! ask = "Which trips act at once on a diesel alternator?"
//! # and
//! ask = "Which trips act at once on the diesel alternator itself?"
//! ```
//! To mend it: reword one of them, or leave it if they really differ.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::warning(
    "like-ask",
    "two cards that ask nearly the same",
    "reword one of them, or leave it if they really differ",
);

/// `first` says where the first stands.
pub(crate) fn found(site: Site, first: &str) -> Found {
    CHECK.at(
        site,
        format!("this asks nearly the same as {first}"),
        "reword one of the two if a learner could mix them up",
    )
}
