//! `bedplate schema`: every deck of the program keeps to it, and a misspelt key, a wrong type and a missing key do not.

use std::fs;
use std::path::{Path, PathBuf};

use bedplate::deck::{SchemaOf, schema};
use serde_json::{Value, json};

/// What a schema says against a value, with where; none where the value keeps to it. Only what our schema uses is known
/// here, and anything else in it is an error of this test.
fn fault(root: &Value, rule: &Value, value: &Value, at: &str) -> Option<String> {
    let rules = rule.as_object().expect("a schema is an object");
    let refused = |why: String| Some(format!("{at}: {why}"));
    for (word, wanted) in rules {
        let number = |of: &Value| of.as_f64().expect("a number");
        let found = match word.as_str() {
            "$schema" | "title" | "description" | "definitions" | "then" | "else" => None,
            "$ref" => {
                let name = wanted.as_str().and_then(|path| path.strip_prefix("#/definitions/")).expect("a definition");
                fault(root, &root["definitions"][name], value, at)
            }
            "allOf" => wanted.as_array().expect("a list").iter().find_map(|rule| fault(root, rule, value, at)),
            "anyOf" => {
                let all = wanted.as_array().expect("a list");
                if all.iter().any(|rule| fault(root, rule, value, at).is_none()) {
                    None
                } else {
                    refused("none fits".into())
                }
            }
            "if" => {
                let next = if fault(root, wanted, value, at).is_none() { "then" } else { "else" };
                fault(root, &rules[next], value, at)
            }
            "type" => {
                let is = match wanted.as_str().expect("a word") {
                    "object" => value.is_object(),
                    "array" => value.is_array(),
                    "string" => value.is_string(),
                    "boolean" => value.is_boolean(),
                    "number" => value.is_number(),
                    "integer" => value.is_i64() || value.is_u64(),
                    other => panic!("no such type: {other}"),
                };
                if is { None } else { refused(format!("no {wanted}")) }
            }
            "enum" if wanted.as_array().expect("a list").contains(value) => None,
            "enum" => refused(format!("{value} is not among the words")),
            "required" => {
                let keys = wanted.as_array().expect("a list").iter().filter_map(Value::as_str);
                keys.filter(|key| value.is_object() && value.get(key).is_none())
                    .map(|key| format!("{at}: no `{key}`"))
                    .next()
            }
            "properties" => wanted
                .as_object()
                .expect("keys")
                .iter()
                .find_map(|(key, rule)| fault(root, rule, value.get(key)?, &format!("{at}/{key}"))),
            "additionalProperties" => {
                let known = |key: &str| rules.get("properties").is_some_and(|known| known.get(key).is_some());
                value.as_object().into_iter().flatten().filter(|(key, _)| !known(key)).find_map(|(key, inner)| {
                    match wanted {
                        Value::Bool(false) => refused(format!("the key `{key}`")),
                        rule => fault(root, rule, inner, &format!("{at}/{key}")),
                    }
                })
            }
            "items" => {
                let mut entries = value.as_array().into_iter().flatten().enumerate();
                entries.find_map(|(n, inner)| fault(root, wanted, inner, &format!("{at}/{n}")))
            }
            "minItems" if value.as_array().is_some_and(|all| (all.len() as f64) < number(wanted)) => {
                refused("too few".into())
            }
            "maxItems" if value.as_array().is_some_and(|all| all.len() as f64 > number(wanted)) => {
                refused("too many".into())
            }
            "minProperties" if value.as_object().is_some_and(|all| (all.len() as f64) < number(wanted)) => {
                refused("empty".into())
            }
            "minLength" if value.as_str().is_some_and(|text| (text.len() as f64) < number(wanted)) => {
                refused("empty".into())
            }
            "minimum" if value.as_f64().is_some_and(|n| n < number(wanted)) => refused("too small".into()),
            "maximum" if value.as_f64().is_some_and(|n| n > number(wanted)) => refused("too large".into()),
            "exclusiveMinimum" if value.as_f64().is_some_and(|n| n <= number(wanted)) => refused("too small".into()),
            "pattern" => {
                assert_eq!(wanted, "^[a-z0-9-]{1,100}$");
                let is = |text: &str| bedplate::domain::ids::is_id(text);
                if value.as_str().is_none_or(is) { None } else { refused("no id".into()) }
            }
            "minItems" | "maxItems" | "minProperties" | "minLength" | "minimum" | "maximum" | "exclusiveMinimum" => {
                None
            }
            other => panic!("this test does not know `{other}`"),
        };
        if found.is_some() {
            return found;
        }
    }
    None
}

fn against(of: SchemaOf, value: &Value) -> Option<String> {
    let schema = schema(of);
    fault(&schema, &schema, value, "")
}

fn read(path: &Path) -> Option<Value> {
    let text = fs::read_to_string(path).ok()?;
    let table: toml::Table = toml::from_str(text.trim_start_matches('\u{FEFF}')).ok()?;
    serde_json::to_value(table).ok()
}

/// Every file of a deck's folder, `pictures` left out.
fn files(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).into_iter().flatten().flatten().map(|entry| entry.path()) {
        if entry.is_dir() {
            files.extend(self::files(&entry));
        } else if entry.extension().is_some_and(|ending| ending == "toml") && !name(&entry).starts_with('.') {
            files.push(entry);
        }
    }
    files
}

fn folders(of: &str) -> Vec<PathBuf> {
    let all = fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join(of)).expect("a folder");
    all.map(|entry| entry.expect("an entry").path()).filter(|path| path.is_dir()).collect()
}

fn name(path: &Path) -> String {
    path.file_name().expect("a name").to_string_lossy().into_owned()
}

#[test]
fn every_deck_of_the_program_keeps_to_the_schema() {
    let sound = folders("tests/decks").into_iter().filter(|folder| name(folder).starts_with("sound"));
    let mut checked = 0;
    for file in folders("decks").into_iter().chain(sound).flat_map(|folder| files(&folder)) {
        let value = read(&file).unwrap_or_else(|| panic!("{} is TOML", file.display()));
        let own = if name(&file) == "deck.toml" { SchemaOf::Head } else { SchemaOf::Cards };
        for of in [SchemaOf::Any, own] {
            assert_eq!(against(of, &value), None, "{} by {of:?}", file.display());
        }
        checked += 1;
    }
    assert!(checked > 100, "{checked}");
}

#[test]
fn what_is_misspelt_missing_or_of_another_type_does_not() {
    let mut refused = 0;
    for folder in folders("tests/decks") {
        let code = name(&folder).split("--").next().unwrap_or_default().to_owned();
        if ["unknown-key", "missing-key", "wrong-type", "unknown-kind", "bad-weight", "unknown-competence"]
            .contains(&code.as_str())
        {
            // What is no TOML at all, an editor marks by itself.
            let Some(values) = files(&folder).iter().map(|file| read(file)).collect::<Option<Vec<Value>>>() else {
                continue;
            };
            let faults = values.iter().filter_map(|value| against(SchemaOf::Any, value)).count();
            assert!(faults > 0, "{}", folder.display());
            refused += 1;
        }
    }
    assert!(refused > 10, "{refused}");
}

#[test]
fn one_change_is_told_where_it_is() {
    let head =
        json!({ "id": "a", "title": "A", "edition": 1, "source": { "p": { "title": "P", "kind": "practice" } } });
    let figure = json!({ "id": "f", "topic": "A-III/1.1.4", "ask": "How much?", "value": "30 bar", "sources": ["p"] });
    assert_eq!(against(SchemaOf::Any, &head), None);
    assert_eq!(against(SchemaOf::Any, &json!({ "figure": [figure] })), None);
    let changed = |whole: &Value, key: &str, to: Option<Value>| {
        let mut whole = whole.clone();
        let keys = whole.as_object_mut().expect("an object");
        match to {
            Some(value) => keys.insert(key.to_owned(), value),
            None => keys.remove(key),
        };
        whole
    };
    for (key, to, told) in [
        ("edition", Some(json!("1")), "/edition"),
        ("title", None, "no `title`"),
        ("titel", Some(json!("A")), "`titel`"),
        ("source", Some(json!({ "p": { "title": "P", "kind": "hearsay" } })), "/source/p/kind"),
    ] {
        let fault = against(SchemaOf::Any, &changed(&head, key, to)).expect("it is refused");
        assert!(fault.contains(told), "{fault}");
    }
    for (key, to, told) in [
        ("id", Some(json!("Full air")), "/figure/0/id"),
        ("seconds", Some(json!("8")), "/figure/0/seconds"),
        ("weight", Some(json!(4)), "/figure/0/weight"),
        ("value", None, "no `value`"),
        ("points", Some(json!([])), "`points`"),
        ("sources", Some(json!("p")), "/figure/0/sources"),
        (
            "probes",
            Some(json!([{ "after": "all", "ask": "?", "points": [{ "says": "x" }] }])),
            "/figure/0/probes/0/points/0",
        ),
        ("samples", Some(json!([{ "text": "30 bar", "outcome": "right" }])), "/figure/0/samples/0/outcome"),
    ] {
        let fault = against(SchemaOf::Any, &json!({ "figure": [changed(&figure, key, to)] })).expect("it is refused");
        assert!(fault.contains(told), "{key}: {fault}");
    }
}

#[test]
fn the_command_prints_it() {
    for (arguments, of) in [
        (&["schema"][..], SchemaOf::Any),
        (&["schema", "deck"], SchemaOf::Head),
        (&["schema", "cards"], SchemaOf::Cards),
    ] {
        let output =
            assert_cmd::Command::cargo_bin("bedplate").expect("built").args(arguments).output().expect("it runs");
        assert!(output.status.success());
        let printed: Value = serde_json::from_slice(&output.stdout).expect("JSON");
        assert_eq!(printed, schema(of));
        assert_eq!(printed["$schema"], "http://json-schema.org/draft-07/schema#");
    }
}
