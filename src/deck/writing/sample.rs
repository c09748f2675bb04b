//! A sample answer written into its card.

use serde_json::{Map, Value as Json};
use toml_edit::{Array, ArrayOfTables, InlineTable, Item, Table, TableLike, Value};

use super::card::{Place, change, find};
use super::lists::{Slot, arrange};
use super::unwritable::Unwritable;
use super::values::{put, text_value};
use crate::domain::answer::{Answer, Given, Pointed};
use crate::domain::outcome::Outcome;

/// A sample that is to be written.
#[derive(Debug, Clone, PartialEq)]
pub struct SampleForm {
    /// The answer.
    pub answer: Answer,
    /// Points that it must say, from 1.
    pub says: Vec<usize>,
    /// Points that it must deny, from 1.
    pub denies: Vec<usize>,
    /// What it must come to.
    pub outcome: Option<Outcome>,
}

/// The text with a sample added to a card.
///
/// # Errors
/// Where the text is broken, the card is not there, or its samples are written in no way that is known.
pub fn with_sample(text: &str, place: &Place, sample: &SampleForm) -> Result<String, Unwritable> {
    let otherwise = || Unwritable::Otherwise { key: "samples".to_owned() };
    change(text, |doc| {
        let card = find(doc, place)?;
        let has_tables = card.iter().any(|(_, item)| item.is_table() || item.is_array_of_tables());
        match card.get_mut("samples") {
            Some(Item::Value(Value::Array(samples))) => {
                let mut slots: Vec<Slot> = (0..samples.len()).map(Slot::Kept).collect();
                slots.push(Slot::New(inline(sample)));
                let is_bare = samples.is_empty();
                arrange(samples, slots);
                if is_bare {
                    in_lines(samples);
                }
            }
            Some(Item::ArrayOfTables(samples)) => samples.push(own_table(sample)),
            None if has_tables => {
                // Below its own tables, where whoever writes by hand would add it.
                let mut samples = ArrayOfTables::new();
                samples.push(own_table(sample));
                card.insert("samples", Item::ArrayOfTables(samples));
            }
            None => {
                let mut samples = Array::new();
                samples.push_formatted(inline(sample));
                in_lines(&mut samples);
                put(card, "samples", Value::Array(samples));
            }
            Some(_) => return Err(otherwise()),
        }
        Ok(())
    })
}

/// One entry to a line.
fn in_lines(samples: &mut Array) {
    for sample in samples.iter_mut() {
        sample.decor_mut().set_prefix("\n  ");
        sample.decor_mut().set_suffix("");
    }
    samples.set_trailing_comma(true);
    samples.set_trailing("\n");
}

fn inline(sample: &SampleForm) -> Value {
    let mut table = InlineTable::new();
    fill(&mut table, sample);
    Value::InlineTable(table)
}

fn own_table(sample: &SampleForm) -> Table {
    let mut table = Table::new();
    fill(&mut table, sample);
    table.decor_mut().set_prefix("\n");
    table
}

fn fill(table: &mut dyn TableLike, sample: &SampleForm) {
    for (key, value) in given(&sample.answer.given) {
        put(table, &key, toml_of(&value));
    }
    for (key, points) in [("says", &sample.says), ("denies", &sample.denies)] {
        if !points.is_empty() {
            let points: Array = points.iter().map(|point| i64::try_from(*point).unwrap_or(i64::MAX)).collect();
            put(table, key, Value::Array(points));
        }
    }
    if let Some(outcome) = sample.outcome {
        put(table, "outcome", text_value(&outcome.word().to_lowercase()));
    }
}

/// An answer in the form in which `try` and the samples of decks write it.
fn given(given: &Given) -> Map<String, Json> {
    let mut keys = Map::new();
    let mut add = |key: &str, value: Json| {
        keys.insert(key.to_owned(), value);
    };
    match given {
        Given::Text(text) => add("text", Json::from(text.clone())),
        Given::Said(said) => add("said", Json::from(said.clone())),
        Given::Links(links) => add("links", Json::from(links.clone())),
        Given::Steps(steps) => add("steps", Json::from(steps.clone())),
        Given::LinedUp(set) => {
            add("open", Json::from(set.open.clone()));
            if !set.ways.is_empty() {
                let ways = set.ways.iter().map(|(valve, way)| (valve.clone(), Json::from(way.clone())));
                add("ways", Json::Object(ways.collect()));
            }
        }
        Given::Worked(worked) => {
            add("text", Json::from(worked.text.clone()));
            if !worked.givens.is_empty() {
                let givens = worked.givens.iter().map(|(name, figure)| (name.clone(), Json::from(figure.clone())));
                add("givens", Json::Object(givens.collect()));
            } else if let Some(seed) = worked.seed {
                add("seed", Json::from(seed));
            }
            if !worked.lines.is_empty() {
                add("lines", Json::from(worked.lines.clone()));
            }
        }
        Given::Pointed(Pointed::At(at)) => add("at", Json::from(at.to_vec())),
        Given::Pointed(Pointed::Part(part)) => add("part", Json::from(part.clone())),
    }
    keys
}

fn toml_of(value: &Json) -> Value {
    match value {
        Json::String(text) => text_value(text),
        Json::Number(number) => match number.as_i64() {
            Some(whole) => Value::from(whole),
            None => Value::from(number.as_f64().unwrap_or_default()),
        },
        Json::Bool(is) => Value::from(*is),
        Json::Array(entries) => Value::Array(entries.iter().map(toml_of).collect()),
        Json::Object(entries) => {
            let mut table = InlineTable::new();
            for (key, value) in entries {
                table.insert(key, toml_of(value));
            }
            Value::InlineTable(table)
        }
        Json::Null => Value::from(""),
    }
}
