//! `unknown-competence`: a topic that is no competence of the STCW tables.
//!
//! Why: Cards are counted under the competences of tables A-III/1, A-III/2 and A-III/6.
//!
//! Example:
//! ```toml
//! topic = "A-III/1.9.1"
//! ```
//! To mend it: use a key of table, function and competence such as A-III/1.2.1.

use crate::deck::problem::{Check, Found, Site};
use crate::deck::{competences, suggest};

pub(crate) const CHECK: Check = Check::error(
    "unknown-competence",
    "a topic that is no competence of the STCW tables",
    "use a key of table, function and competence such as A-III/1.2.1",
);

pub(crate) fn found(site: Site, topic: &str) -> Found {
    let all = competences();
    let shown: String = topic.chars().take(60).collect();
    let keys: Vec<&str> = all.all().map(|c| c.key.as_str()).collect();
    let inside: Vec<&str> = keys.iter().copied().filter(|key| is_inside(key, topic)).collect();
    let mend = match inside.as_slice() {
        [first, .., last] => format!("name one competence of it, from `{first}` to `{last}`"),
        _ => match suggest::nearest(topic, keys.iter().copied()) {
            Some(near) => format!("use a key of table, function and competence, such as `{near}`"),
            None => "use a key of table, function and competence, such as `A-III/1.2.1`".to_owned(),
        },
    };
    CHECK.at(site, format!("`{shown}` is no competence of the tables A-III/1, A-III/2 and A-III/6"), mend)
}

/// Whether `topic` is the table or the function that the key belongs to.
fn is_inside(key: &str, topic: &str) -> bool {
    key.strip_prefix(topic).is_some_and(|rest| rest.starts_with('.'))
}
