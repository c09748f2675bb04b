//! Answers as JSON, in the forms that DECK.md describes: one row of the table for each form, in the order in which
//! messages name them.

use std::collections::BTreeMap;

use serde_json::{Map, Value};

use super::json;
use crate::domain::answer::{Answer, Form, Given, LinedUp, Pointed, Worked};
use crate::domain::card::Kind;

/// How a form of an answer is read: the keys that it may have beside `seconds`, and what they give.
struct Read {
    form: Form,
    keys: &'static [&'static str],
    read: fn(&Map<String, Value>) -> Result<Given, String>,
}

/// The forms that can be marked. An answer is of the first one that has all of its keys.
const FORMS: &[Read] = &[
    Read { form: Form::Text, keys: &["text"], read: |object| Ok(Given::Text(words(object)?)) },
    Read {
        form: Form::Worked,
        keys: &["text", "givens", "seed", "lines"],
        read: |object| Ok(Given::Worked(worked(object)?)),
    },
    Read { form: Form::Said, keys: &["said"], read: |object| Ok(Given::Said(positions(object, "said")?)) },
    Read { form: Form::Links, keys: &["links"], read: |object| Ok(Given::Links(positions(object, "links")?)) },
    Read { form: Form::Steps, keys: &["steps"], read: |object| Ok(Given::Steps(keys(object, "steps")?)) },
    Read { form: Form::LinedUp, keys: &["open", "ways"], read: lined_up },
    Read { form: Form::At, keys: &["at"], read: |object| Ok(Given::Pointed(Pointed::At(place(object)?))) },
    Read { form: Form::Part, keys: &["part"], read: |object| Ok(Given::Pointed(Pointed::Part(part(object)?))) },
];

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
    if let Some(key) = given.iter().find(|key| !FORMS.iter().any(|form| form.keys.contains(*key))) {
        return Err(format!("the answer has an unknown key `{key}`; use {}, and `seconds` if wanted", forms()));
    }
    let seconds = seconds(&object)?;
    if given.is_empty() {
        return Err(format!("the answer gives nothing; use one of {}", forms()));
    }
    match FORMS.iter().find(|form| given.iter().all(|key| form.keys.contains(key))) {
        Some(form) => Ok(Answer { given: (form.read)(&object)?, seconds }),
        None => Err(format!("the answer gives {} at once; use one of {}", given.join(" and "), forms())),
    }
}

/// The forms in words, each with the kinds of card that it answers.
fn forms() -> String {
    let says = |read: &Read| {
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
