//! The deck format as a JSON schema (draft 7), for editors that complete keys and mark mistakes while one writes. It is made
//! from the lists by which decks are read; what only the whole deck can tell (`check`) is not in it.

use serde_json::{Map, Value, json};

use super::competences::competences;
use super::head;
use super::kinds;
use super::shape::{Field, Shape};

/// The schema of one sort of file of a deck.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SchemaOf {
    /// Of any file: of `deck.toml` where one of its keys stands at the top, else of a card file.
    Any,
    /// Of `deck.toml`.
    Head,
    /// Of a card file.
    Cards,
}

/// The schema.
pub fn schema(of: SchemaOf) -> Value {
    let head_keys = head::FIELDS.iter().map(|field| json!({ "required": [field.key] })).collect::<Vec<_>>();
    let (head, cards) = (json!({ "$ref": "#/definitions/deck" }), json!({ "$ref": "#/definitions/cards" }));
    let mut schema = match of {
        SchemaOf::Any => json!({ "if": { "anyOf": head_keys }, "then": head, "else": cards }),
        SchemaOf::Head => json!({ "allOf": [head] }),
        SchemaOf::Cards => json!({ "allOf": [cards] }),
    };
    let mut definitions = Map::new();
    let mut kinds = Map::new();
    for kind in kinds::words().into_iter().filter_map(kinds::of_word) {
        let card = object(kinds::FIELDS.iter().chain(kind.fields));
        definitions.insert(kind.word.to_owned(), json!({ "type": "array", "items": card, "description": kind.one }));
        kinds.insert(kind.word.to_owned(), json!({ "$ref": format!("#/definitions/{}", kind.word) }));
    }
    let topics: Vec<&str> = competences().all().map(|one| one.key.as_str()).collect();
    definitions.insert("topic".to_owned(), json!({ "enum": topics }));
    let mut head = object(head::FIELDS.iter());
    // Cards may stand in deck.toml too.
    if let Some(Value::Object(keys)) = head.get_mut("properties") {
        keys.extend(kinds.clone());
    }
    definitions.insert("deck".to_owned(), head);
    let cards = json!({ "type": "object", "properties": kinds, "additionalProperties": false });
    definitions.insert("cards".to_owned(), cards);
    if let Value::Object(top) = &mut schema {
        top.insert("$schema".to_owned(), json!("http://json-schema.org/draft-07/schema#"));
        top.insert("title".to_owned(), json!("A deck of Bedplate"));
        top.insert("definitions".to_owned(), Value::Object(definitions));
    }
    schema
}

/// A table with these keys and no others.
fn object<'f>(fields: impl Iterator<Item = &'f Field>) -> Value {
    let (mut properties, mut required) = (Map::new(), Vec::new());
    for field in fields {
        let mut value = of_shape(&field.shape);
        if let Value::Object(value) = &mut value {
            value.insert("description".to_owned(), json!(field.says));
        }
        properties.insert(field.key.to_owned(), value);
        if field.needed {
            required.push(field.key);
        }
    }
    json!({ "type": "object", "properties": properties, "required": required, "additionalProperties": false })
}

fn of_shape(shape: &Shape) -> Value {
    let text = || json!({ "type": "string", "minLength": 1 });
    let pair = || json!({ "type": "array", "items": { "type": "integer" }, "minItems": 2, "maxItems": 2 });
    match shape {
        Shape::Text => text(),
        Shape::Id => json!({ "type": "string", "pattern": "^[a-z0-9-]{1,100}$" }),
        Shape::Free => json!({ "type": "string" }),
        // What stands beside a `$ref` is passed over in this draft.
        Shape::Topic => json!({ "allOf": [{ "$ref": "#/definitions/topic" }] }),
        Shape::Word(words) => json!({ "enum": words() }),
        Shape::Flag => json!({ "type": "boolean" }),
        Shape::Number => json!({ "type": "number", "exclusiveMinimum": 0 }),
        Shape::Whole(least, None) => json!({ "type": "integer", "minimum": least }),
        Shape::Whole(least, Some(most)) => json!({ "type": "integer", "minimum": least, "maximum": most }),
        Shape::Texts => json!({ "type": "array", "items": text() }),
        Shape::Pair => pair(),
        Shape::Pairs => json!({ "type": "array", "items": pair() }),
        Shape::Tables(fields) => json!({ "type": "array", "items": object(fields.iter()) }),
        Shape::Table(fields) => object(fields.iter()),
        Shape::Named(fields) => json!({ "type": "object", "additionalProperties": object(fields.iter()) }),
        Shape::NamedTexts => json!({ "type": "object", "additionalProperties": text() }),
        Shape::Samples => {
            let sample: Map<String, Value> =
                kinds::sample_keys().into_iter().map(|key| (key.to_owned(), of_sample(key))).collect();
            let sample =
                json!({ "type": "object", "properties": sample, "minProperties": 1, "additionalProperties": false });
            json!({ "type": "array", "items": sample, "maxItems": kinds::MOST_SAMPLES })
        }
    }
}

/// A key of a sample: of the answer, or of what is expected of it. What an answer holds more is told by the check.
fn of_sample(key: &str) -> Value {
    let numbers = || json!({ "type": "array", "items": { "type": "integer", "minimum": 1 } });
    match key {
        "says" | "denies" | "said" | "links" => numbers(),
        "outcome" => json!({ "enum": kinds::outcome_words() }),
        "slip" => json!({ "enum": kinds::slip_words() }),
        "order" => json!({ "enum": [kinds::ONE_THAT_WORKS] }),
        "steps" | "open" | "lines" => of_shape(&Shape::Texts),
        "ways" | "givens" => of_shape(&Shape::NamedTexts),
        "at" => json!({ "type": "array", "items": { "type": "number" }, "minItems": 2, "maxItems": 2 }),
        "seconds" => json!({ "type": "number", "minimum": 0 }),
        "seed" => json!({ "type": "integer", "minimum": 0 }),
        _ => json!({ "type": "string" }),
    }
}
