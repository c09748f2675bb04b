//! Values of a deck's file made from texts, and put into the place of others with the spaces and remarks around them.

use std::fmt::Write;

use toml_edit::{Item, RawString, TableLike, Value};

/// A text as it is written between quotes.
pub(super) fn quoted(text: &str) -> String {
    let is_long = text.contains('\n');
    let mut out = String::from(if is_long { "\"\"\"\n" } else { "\"" });
    for sign in text.chars() {
        match sign {
            '\\' => out += "\\\\",
            '"' => out += "\\\"",
            '\n' => out.push('\n'),
            '\t' => out += "\\t",
            sign if sign.is_control() => {
                // Writing to a text cannot fail.
                let _ = write!(out, "\\u{:04X}", u32::from(sign));
            }
            sign => out.push(sign),
        }
    }
    out + if is_long { "\"\"\"" } else { "\"" }
}

/// A text as a value.
pub(super) fn text_value(text: &str) -> Value {
    quoted(text).parse().unwrap_or_else(|_| Value::from(text))
}

/// A number as a value, as it is typed.
pub(super) fn number_value(text: &str) -> Option<Value> {
    let value: Value = text.trim().parse().ok()?;
    matches!(value, Value::Integer(_) | Value::Float(_)).then(|| bare(value))
}

/// Texts as a list in one line.
pub(super) fn list_text(texts: &[String]) -> String {
    let texts: Vec<String> = texts.iter().map(|text| quoted(text)).collect();
    format!("[{}]", texts.join(", "))
}

/// A value without spaces around it.
pub(super) fn bare(mut value: Value) -> Value {
    value.decor_mut().clear();
    value
}

/// As much of what surrounds a thing as there is.
pub(super) fn raw(text: Option<&RawString>) -> String {
    text.and_then(RawString::as_str).unwrap_or_default().to_owned()
}

/// Puts a value into a key; what stood around the one before stays.
pub(super) fn put(table: &mut dyn TableLike, key: &str, value: Value) {
    match table.get_mut(key) {
        Some(Item::Value(old)) => {
            let decor = old.decor().clone();
            *old = value;
            *old.decor_mut() = decor;
        }
        _ => {
            table.insert(key, Item::Value(value));
        }
    }
}

/// Takes a key out; a remark above it goes to the key below, or else stays behind the one before.
pub(super) fn take_out(table: &mut dyn TableLike, key: &str) {
    let above = table.key(key).map(|key| raw(key.leaf_decor().prefix())).unwrap_or_default();
    let keys: Vec<String> = table.iter().filter(|(_, item)| item.is_value()).map(|(key, _)| key.to_owned()).collect();
    let at = keys.iter().position(|one| one == key);
    table.remove(key);
    let Some(at) = at.filter(|_| above.contains('#')) else { return };
    if let Some(mut next) = keys.get(at + 1).and_then(|next| table.key_mut(next)) {
        let below = raw(next.leaf_decor().prefix());
        next.leaf_decor_mut().set_prefix(above + &below);
    } else if let Some(Item::Value(before)) =
        at.checked_sub(1).and_then(|before| keys.get(before)).and_then(|before| table.get_mut(before))
    {
        let behind = raw(before.decor().suffix());
        before.decor_mut().set_suffix(format!("{behind}\n{}", above.trim_end_matches('\n')));
    }
}
