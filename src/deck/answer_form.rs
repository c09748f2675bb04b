//! An answer as decks and the command line write it: an object in one of the forms that DECK.md describes. How each form
//! is read stands with the kinds that are answered in it.

use std::sync::LazyLock;

use serde_json::{Map, Value};

use super::kinds::{self, ReadForm};
use crate::domain::answer::Answer;
use crate::domain::kinds::Kind;

/// The forms that can be marked, in the order in which messages name them. An answer is of the first one that has all of
/// its keys.
static FORMS: LazyLock<Vec<&'static ReadForm>> = LazyLock::new(kinds::forms);

/// Every key that an answer may have, in the order of the forms.
pub(crate) fn answer_keys() -> Vec<&'static str> {
    let mut keys = vec!["seconds"];
    for key in FORMS.iter().flat_map(|form| form.keys) {
        if !keys.contains(key) {
            keys.push(key);
        }
    }
    keys
}

/// Reads an answer: an object with one of the forms and, if wanted, `seconds`.
///
/// # Errors
/// With a message, where it has keys of no form or of several, or a value is not of the kind that its key wants.
pub fn answer_in(object: &Map<String, Value>) -> Result<Answer, String> {
    let given: Vec<&str> = object.keys().map(String::as_str).filter(|key| *key != "seconds").collect();
    let known = answer_keys();
    if let Some(key) = given.iter().find(|key| !known.contains(key)) {
        return Err(format!("the answer has an unknown key `{key}`; use {}, and `seconds` if wanted", answer_forms()));
    }
    let seconds = seconds(object)?;
    if given.is_empty() {
        return Err(format!("the answer gives nothing; use one of {}", answer_forms()));
    }
    match FORMS.iter().find(|form| given.iter().all(|key| form.keys.contains(key))) {
        Some(form) => Ok(Answer { given: (form.read)(object)?, seconds }),
        None => Err(format!("the answer gives {} at once; use one of {}", given.join(" and "), answer_forms())),
    }
}

/// The forms in words, each with the kinds of card that it answers.
pub fn answer_forms() -> String {
    let says = |read: &&ReadForm| {
        let takes = |kind: &Kind| kind.facts().forms.contains(&read.form);
        let kinds: Vec<&str> = Kind::ALL.into_iter().filter(takes).map(Kind::word).collect();
        format!("{} ({})", read.form.name(), kinds.join(", "))
    };
    let says: Vec<String> = FORMS.iter().map(says).collect();
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
