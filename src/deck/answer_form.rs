//! The forms of an answer as decks and the command line write it: one row of the table for each form, in the order in
//! which messages name them.

use std::collections::BTreeMap;

use serde_json::{Map, Value};

use crate::domain::answer::{Answer, Given, LinedUp, Pointed, Worked};

/// A form of an answer: the keys that it may have beside `seconds`, and what they give.
struct Form {
    keys: &'static [&'static str],
    /// What kinds of card it answers, as a message says it.
    says: &'static str,
    read: fn(&Map<String, Value>) -> Result<Given, String>,
}

/// The forms that can be marked. An answer is of the first one that has all of its keys.
const FORMS: &[Form] = &[
    Form { keys: &["text"], says: "`text` (recall, figure)", read: |object| Ok(Given::Text(words(object)?)) },
    Form {
        keys: &["text", "givens", "seed", "lines"],
        says: "`text` with `givens` or `seed` (working)",
        read: |object| Ok(Given::Worked(worked(object)?)),
    },
    Form { keys: &["said"], says: "`said` (recall)", read: |object| Ok(Given::Said(positions(object, "said")?)) },
    Form { keys: &["links"], says: "`links` (why)", read: |object| Ok(Given::Links(positions(object, "links")?)) },
    Form { keys: &["steps"], says: "`steps` (sequence)", read: |object| Ok(Given::Steps(keys(object, "steps")?)) },
    Form { keys: &["open", "ways"], says: "`open` and `ways` (line-up)", read: lined_up },
    Form { keys: &["at"], says: "`at` (point)", read: |object| Ok(Given::Pointed(Pointed::At(place(object)?))) },
    Form { keys: &["part"], says: "`part` (point)", read: |object| Ok(Given::Pointed(Pointed::Part(part(object)?))) },
];

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

/// The forms in words.
pub fn answer_forms() -> String {
    let says: Vec<&str> = FORMS.iter().map(|form| form.says).collect();
    match says.as_slice() {
        [most @ .., last] => format!("{} or {last}", most.join(", ")),
        [] => String::new(),
    }
}

fn words(object: &Map<String, Value>) -> Result<String, String> {
    match object.get("text") {
        Some(Value::String(text)) => Ok(text.clone()),
        _ => Err("`text` must be a string, such as \"30 bar\"".to_owned()),
    }
}

/// What was worked out: the answer with its figures or their seed, and the worksheet's lines.
fn worked(object: &Map<String, Value>) -> Result<Worked, String> {
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
    Ok(Worked { seed, givens, text: words(object)?, lines, first: None })
}

fn keys(object: &Map<String, Value>, key: &str) -> Result<Vec<String>, String> {
    let what =
        if key == "steps" { "step keys, such as [\"prime\", \"start\"]" } else { "node keys, such as [\"qcv\"]" };
    let wrong = || format!("`{key}` must be a list of {what}");
    let Some(Value::Array(items)) = object.get(key) else { return Err(wrong()) };
    items.iter().map(|item| item.as_str().map(str::to_owned).ok_or_else(wrong)).collect()
}

/// Either of `open` and `ways` may be left out: what is not named is shut.
fn lined_up(object: &Map<String, Value>) -> Result<Given, String> {
    let wrong = || "`ways` must name a way for each three-way valve, such as {\"tcv\": \"cooler\"}".to_owned();
    let open = if object.contains_key("open") { keys(object, "open")? } else { Vec::new() };
    let ways = match object.get("ways") {
        None => BTreeMap::new(),
        Some(Value::Object(ways)) => {
            let way = |(key, way): (&String, &Value)| Some((key.clone(), way.as_str()?.to_owned()));
            ways.iter().map(|entry| way(entry).ok_or_else(wrong)).collect::<Result<_, _>>()?
        }
        Some(_) => return Err(wrong()),
    };
    Ok(Given::LinedUp(LinedUp { open, ways }))
}

fn place(object: &Map<String, Value>) -> Result<[f64; 2], String> {
    let wrong = || "`at` must be two numbers in the drawing's own units, such as [120, 45.5]".to_owned();
    let Some(Value::Array(numbers)) = object.get("at") else { return Err(wrong()) };
    let numbers: Option<Vec<f64>> = numbers.iter().map(Value::as_f64).collect();
    numbers.and_then(|numbers| numbers.try_into().ok()).ok_or_else(wrong)
}

fn part(object: &Map<String, Value>) -> Result<String, String> {
    match object.get("part") {
        Some(Value::String(id)) => Ok(id.clone()),
        _ => Err("`part` must be the id of a part of the drawing, such as \"qcv\"".to_owned()),
    }
}

fn positions(object: &Map<String, Value>, key: &str) -> Result<Vec<usize>, String> {
    let wrong = || format!("`{key}` must be a list of whole numbers from 1, such as [1, 3]");
    let Some(Value::Array(items)) = object.get(key) else { return Err(wrong()) };
    let position = |item: &Value| item.as_u64().and_then(|n| usize::try_from(n).ok()).ok_or_else(wrong);
    items.iter().map(position).collect()
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
