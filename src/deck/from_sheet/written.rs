//! Values and cards as they are written into a deck's file.

use crate::deck::kinds::{RowPoint, Wanted};
use toml_edit::Value;

/// A text as TOML, on one line unless it has several itself.
pub(super) fn text(text: &str) -> String {
    Value::from(text).to_string()
}

/// A list of texts on one line.
pub(super) fn texts(texts: &[String]) -> String {
    format!("[{}]", texts.iter().map(|one| text(one)).collect::<Vec<_>>().join(", "))
}

/// A key point.
pub(super) fn point(point: &RowPoint) -> String {
    let mut out = format!("{{ say = {}", text(&point.say));
    if !point.accept.is_empty() {
        out += &format!(", accept = {}", texts(&point.accept));
    }
    if point.critical {
        out += ", critical = true";
    }
    out + " }"
}

/// The value of a key.
pub(super) fn value(wanted: &Wanted) -> String {
    let lines = |lines: Vec<String>| format!("[\n  {},\n]", lines.join(",\n  "));
    match wanted {
        Wanted::Text(one) => text(one),
        // Sources are short and few; links are sentences.
        Wanted::Texts(all) if all.iter().map(String::len).sum::<usize>() < 80 => texts(all),
        Wanted::Texts(all) => lines(all.iter().map(|one| text(one)).collect()),
        Wanted::Points(all) => lines(all.iter().map(point).collect()),
    }
}

/// A card of a kind, with its header.
pub(super) fn card(kind: &str, wanted: &[(&'static str, Wanted)]) -> String {
    let keys: Vec<String> = wanted.iter().map(|(key, wanted)| format!("{key} = {}\n", value(wanted))).collect();
    format!("[[{kind}]]\n{}", keys.concat())
}
