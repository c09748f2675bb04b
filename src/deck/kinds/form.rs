//! A form of an answer as JSON: the keys that it has, and how what stands there is read.

use serde_json::{Map, Value};

use crate::domain::answer::{Form, Given};

/// How a form of an answer is read.
pub(crate) struct ReadForm {
    /// Which form it is.
    pub(crate) form: Form,
    /// The keys that it may have beside `seconds`.
    pub(crate) keys: &'static [&'static str],
    /// What they give.
    pub(crate) read: fn(&Map<String, Value>) -> Result<Given, String>,
}

/// The typed words.
pub(super) fn words(object: &Map<String, Value>) -> Result<String, String> {
    match object.get("text") {
        Some(Value::String(text)) => Ok(text.clone()),
        _ => Err("`text` must be a string, such as \"30 bar\"".to_owned()),
    }
}

/// A list of numbers.
pub(super) fn positions(object: &Map<String, Value>, key: &str) -> Result<Vec<usize>, String> {
    let wrong = || format!("`{key}` must be a list of whole numbers from 1, such as [1, 3]");
    let Some(Value::Array(items)) = object.get(key) else { return Err(wrong()) };
    let position = |item: &Value| item.as_u64().and_then(|n| usize::try_from(n).ok()).ok_or_else(wrong);
    items.iter().map(position).collect()
}

/// A list of keys of what the card has.
pub(super) fn keys(object: &Map<String, Value>, key: &str) -> Result<Vec<String>, String> {
    let what =
        if key == "steps" { "step keys, such as [\"prime\", \"start\"]" } else { "node keys, such as [\"qcv\"]" };
    let wrong = || format!("`{key}` must be a list of {what}");
    let Some(Value::Array(items)) = object.get(key) else { return Err(wrong()) };
    items.iter().map(|item| item.as_str().map(str::to_owned).ok_or_else(wrong)).collect()
}
