//! `long-sentence`: a question with a sentence of more than 25 words.
//!
//! Why: Many readers have English as a second language, and the question is heard once at the oral.
//!
//! Example:
//! ```toml
//! ask = "... a sentence of thirty words ..."
//! ```
//! To mend it: make two sentences of it.

use crate::deck::problem::{Check, Found, Site};

pub(crate) const CHECK: Check =
    Check::advice("long-sentence", "a question with a sentence of more than 25 words", "make two sentences of it");

pub(crate) fn found(site: Site, words: usize, most: usize) -> Found {
    CHECK.at(
        site,
        format!("a sentence of this question has {words} words"),
        format!("make two sentences of it: at most {most} words each"),
    )
}
