//! `not-strict`: a sequence that says `strict` and that has more than one working order.
//!
//! Why: Any order that works is judged right.
//!
//! Example:
//! ```toml
//! strict = true                  # and two steps may change places
//! ```
//! To mend it: take `strict` away, or add the needs that make the one order.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::advice(
    "not-strict",
    "a sequence that says `strict` and that has more than one working order",
    "take `strict` away, or add the needs that make the one order",
);

pub(crate) fn found(site: Site, orders: &str) -> Found {
    CHECK.at(
        site,
        format!("`strict` is said, but {orders} orders work"),
        "take `strict` away, or add the needs that leave one order only",
    )
}
