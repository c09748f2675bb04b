//! Messages of the checker as plain sentences.

use crate::domain::english;

/// What is wrong and how to mend it, each as a sentence of its own under the line that says where.
pub(super) fn of_problem(message: &str, mend: &str) -> String {
    format!("    {}\n    To mend it: {}", sentence(message), ended(mend))
}

fn sentence(text: &str) -> String {
    ended(&english::capital(text))
}

/// A text with a full stop, unless it ends as a sentence already.
fn ended(text: &str) -> String {
    let text = text.trim_end();
    if text.ends_with(['.', '?', '!', ':']) { text.to_owned() } else { format!("{text}.") }
}
