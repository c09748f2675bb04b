//! An answer as it is given at the command line: a JSON object in one of the forms that decks have too.

use serde_json::Value;

use super::json;
use crate::deck::{answer_forms, answer_in};
use crate::domain::answer::Answer;

/// Reads an answer: an object with one of the forms and, if wanted, `seconds`.
pub(super) fn read_answer(text: &str) -> Result<Answer, String> {
    let value = json::read(text).map_err(|error| match error.is_data() {
        true => format!("the answer cannot be read: {error}"),
        false => format!("the answer is no JSON: {error}"),
    })?;
    match value {
        Value::Object(object) => answer_in(&object),
        _ => Err(format!("the answer must be a JSON object with {}, such as {{\"text\": \"30 bar\"}}", answer_forms())),
    }
}
