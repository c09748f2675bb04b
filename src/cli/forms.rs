//! Answers as JSON, in the forms that DECK.md describes. How each is read stands with the kinds that are answered in it.

use std::sync::LazyLock;

use serde_json::{Map, Value};

use super::form::ReadForm;
use super::json;
use super::kinds;
use crate::domain::answer::Answer;
use crate::domain::kinds::Kind;

/// The forms that can be marked, in the order in which messages name them. An answer is of the first one that has all of
/// its keys.
fn all() -> &'static [&'static ReadForm] {
    static ALL: LazyLock<Vec<&'static ReadForm>> = LazyLock::new(|| {
        let mut all = kinds::forms();
        all.sort_by_key(|read| read.form);
        all
    });
    &ALL
}

/// Reads an answer: an object with one of the forms and, if wanted, `seconds`.
pub(super) fn read_answer(text: &str) -> Result<Answer, String> {
    let value = json::read(text).map_err(|error| match error.is_data() {
        true => format!("the answer cannot be read: {error}"),
        false => format!("the answer is no JSON: {error}"),
    })?;
    let Value::Object(object) = value else {
        return Err(format!("the answer must be a JSON object with {}, such as {{\"text\": \"30 bar\"}}", forms()));
    };
    let given: Vec<&str> = object.keys().map(String::as_str).filter(|key| *key != "seconds").collect();
    if let Some(key) = given.iter().find(|key| !all().iter().any(|form| form.keys.contains(*key))) {
        return Err(format!("the answer has an unknown key `{key}`; use {}, and `seconds` if wanted", forms()));
    }
    let seconds = seconds(&object)?;
    if given.is_empty() {
        return Err(format!("the answer gives nothing; use one of {}", forms()));
    }
    match all().iter().find(|form| given.iter().all(|key| form.keys.contains(key))) {
        Some(form) => Ok(Answer { given: (form.read)(&object)?, seconds }),
        None => Err(format!("the answer gives {} at once; use one of {}", given.join(" and "), forms())),
    }
}

/// The forms in words, each with the kinds of card that it answers.
fn forms() -> String {
    let says = |read: &&ReadForm| {
        let takes = |kind: &Kind| kind.facts().forms.contains(&read.form);
        let kinds: Vec<&str> = Kind::ALL.into_iter().filter(takes).map(Kind::word).collect();
        format!("{} ({})", read.form.name(), kinds.join(", "))
    };
    let says: Vec<String> = all().iter().map(says).collect();
    match says.as_slice() {
        [most @ .., last] => format!("{} or {last}", most.join(", ")),
        [] => String::new(),
    }
}

fn seconds(object: &Map<String, Value>) -> Result<Option<f64>, String> {
    match object.get("seconds") {
        None => Ok(None),
        Some(value) => match value.as_f64().filter(|s| s.is_finite() && *s >= 0.0) {
            Some(seconds) => Ok(Some(seconds)),
            None => Err("`seconds` must be a number from 0, such as 40".to_owned()),
        },
    }
}
