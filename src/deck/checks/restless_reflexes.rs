//! `restless-reflexes`: reflexes that never come to rest.
//!
//! Why: Each would undo what the other does, for ever.
//!
//! Example:
//! ```toml
//! [[sequence.reflex]]
//! when = ["hot"]
//! takes = ["hot"]
//! [[sequence.reflex]]
//! when = ["!hot"]
//! gives = ["hot"]
//! ```
//! To mend it: let one of them wait for something that the other does not undo.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "restless-reflexes",
    "reflexes that never come to rest",
    "let one of them wait for something that the other does not undo",
);

/// `others` are the numbers of the other reflexes that take part, from 1.
pub(crate) fn found(site: Site, others: &[usize]) -> Found {
    let others: Vec<String> = others.iter().map(|number| format!("number {number}")).collect();
    let with = if others.is_empty() { String::new() } else { format!(" with reflex {}", others.join(" and ")) };
    CHECK.at(
        site,
        format!("this reflex goes on for ever{with}"),
        "let one of them wait for something that another does not undo",
    )
}
