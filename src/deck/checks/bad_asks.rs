//! `bad-asks`: a unit asked for that is not what the answer's rate is of.
//!
//! Why: `asks` lets a learner answer "how many tonnes in a day" with tonnes, so the answer must be in tonnes over
//! something.
//!
//! Example:
//! ```toml
//! [[working]]
//! asks = "m3"
//! [working.answer]
//! is = "rate"
//! unit = "t/day"
//! ```
//! To mend it: ask for what stands above the line in the answer's unit, or leave asks out.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check = Check::error(
    "bad-asks",
    "a unit asked for that is not what the answer's rate is of",
    "ask for what stands above the line in the answer's unit, or leave asks out",
);

pub(crate) fn found(site: Site, asks: &str, answer: &str) -> Found {
    match answer.split_once('/') {
        Some((above, _)) => {
            let above = above.trim();
            CHECK.at(
                site,
                format!("`asks` names `{asks}`, but the answer's unit `{answer}` is a rate of `{above}`"),
                format!("write asks = \"{above}\", or another unit of that kind, or leave `asks` out"),
            )
        }
        None => {
            let what = if answer.is_empty() { "a plain number" } else { answer };
            CHECK.at(
                site,
                format!("`asks` is for an answer that is a rate, and this one is in {what}"),
                format!("leave `asks` out, or give the answer as a rate, such as unit = \"{asks}/day\""),
            )
        }
    }
}
