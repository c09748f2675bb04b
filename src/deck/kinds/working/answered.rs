//! An answer to a working as it is written.

use std::collections::BTreeMap;

use serde_json::{Map, Value};

use crate::deck::kinds::form;
use crate::domain::answer::{Given, Worked};

/// What was worked out: the answer with its figures or their seed, and the worksheet's lines.
pub(super) fn read(object: &Map<String, Value>) -> Result<Given, String> {
    if !object.contains_key("text") {
        return Err("the answer has no `text`, such as \"4320 kW\"".to_owned());
    }
    let seed = match object.get("seed") {
        None => None,
        Some(seed) => Some(seed.as_u64().ok_or("`seed` must be a whole number from 0, such as 7")?),
    };
    let mut givens = BTreeMap::new();
    match object.get("givens") {
        None => {}
        Some(Value::Object(figures)) => {
            for (name, figure) in figures {
                let text = match figure {
                    Value::String(text) => text.clone(),
                    Value::Number(number) => number.to_string(),
                    _ => return Err(format!("the given `{name}` must be a text such as \"320 mm\"")),
                };
                givens.insert(name.clone(), text);
            }
        }
        Some(_) => return Err("`givens` must be an object such as {\"bore\": \"320 mm\"}".to_owned()),
    }
    if seed.is_some() && object.contains_key("givens") {
        return Err("the answer gives `givens` and `seed` at once; use one of them".to_owned());
    }
    let wrong = || "`lines` must be a list of lines such as [\"A = pi/4 * bore^2\"]".to_owned();
    let lines = match object.get("lines") {
        None => Vec::new(),
        Some(Value::Array(lines)) => {
            lines.iter().map(|line| line.as_str().map(str::to_owned).ok_or_else(wrong)).collect::<Result<_, _>>()?
        }
        Some(_) => return Err(wrong()),
    };
    Ok(Given::Worked(Worked { seed, givens, text: form::words(object)?, lines, first: None }))
}
