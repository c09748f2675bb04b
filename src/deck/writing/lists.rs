//! Lists of a deck's file put into another order, with entries added and left out; remarks between them stay.

use toml_edit::{Array, Value};

use super::values::{raw, text_value};

/// An entry of a list as it is to be.
pub(super) enum Slot {
    /// The one that was at this place, from 0.
    Kept(usize),
    /// A new one.
    New(Value),
}

/// Brings a list into the order of `slots`.
pub(super) fn arrange(array: &mut Array, slots: Vec<Slot>) {
    let mut old: Vec<Option<Value>> = array.iter().cloned().map(Some).collect();
    let in_lines = old.first().and_then(Option::as_ref).is_some_and(|first| raw(first.decor().prefix()).contains('\n'));
    let usual =
        old.first().and_then(Option::as_ref).map_or_else(String::new, |first| indent(&raw(first.decor().prefix())));
    let behind = old.last().and_then(Option::as_ref).map_or_else(String::new, |last| raw(last.decor().suffix()));
    let kept: Vec<usize> =
        slots.iter().filter_map(|slot| if let Slot::Kept(at) = slot { Some(*at) } else { None }).collect();
    let mut remarks: Vec<(usize, String)> = Vec::new();
    for (at, gone) in old.iter().enumerate().filter(|(at, _)| !kept.contains(at)) {
        let above = gone.as_ref().map(|gone| raw(gone.decor().prefix())).unwrap_or_default();
        if above.contains('#') {
            remarks.push((at, above.trim_end().to_owned()));
        }
    }
    let many = slots.len();
    array.clear();
    for (n, slot) in slots.into_iter().enumerate() {
        let (mut value, from) = match slot {
            Slot::Kept(at) => match old.get_mut(at).and_then(Option::take) {
                Some(value) => (value, Some(at)),
                None => continue,
            },
            Slot::New(value) => (value, None),
        };
        let mut above = if from.is_some() { raw(value.decor().prefix()) } else { usual.clone() };
        if !in_lines && !above.contains(['#', '\n']) {
            above = if n == 0 { String::new() } else { " ".to_owned() };
        } else if in_lines && !above.contains('\n') {
            above.clone_from(&usual);
        }
        // What was said above an entry that is gone is said above the next one that stays.
        let due = |(at, _): &(usize, String)| from.is_some_and(|from| *at < from);
        let told: String = remarks.iter().filter(|remark| due(remark)).map(|(_, told)| told.as_str()).collect();
        remarks.retain(|remark| !due(remark));
        value.decor_mut().set_prefix(told + &above);
        let is_last = n + 1 == many;
        let own = raw(value.decor().suffix());
        if own.trim().is_empty() {
            value.decor_mut().set_suffix(if is_last && behind.trim().is_empty() {
                behind.clone()
            } else {
                String::new()
            });
        }
        array.push_formatted(value);
    }
    if !remarks.is_empty() {
        let told: String = remarks.into_iter().map(|(_, told)| told).collect();
        let trailing = raw(Some(array.trailing()));
        array.set_trailing_comma(true);
        array.set_trailing(format!("{told}{}", if trailing.contains('\n') { trailing } else { "\n".to_owned() }));
    }
}

/// The last line break of what stands before an entry, with the spaces after it.
fn indent(before: &str) -> String {
    before.rfind('\n').map_or_else(String::new, |at| before[at..].to_owned())
}

/// Brings a list of texts to these; those that stay keep their places in the file.
pub(super) fn set_texts(array: &mut Array, texts: &[String]) {
    let mut free: Vec<bool> = vec![true; array.len()];
    let has = |at: usize, text: &str| array.get(at).and_then(Value::as_str) == Some(text);
    let mut slots: Vec<Option<Slot>> = Vec::new();
    for text in texts {
        let found = (0..free.len()).find(|at| free[*at] && has(*at, text));
        if let Some(at) = found {
            free[at] = false;
        }
        slots.push(found.map(Slot::Kept));
    }
    // One that was only reworded keeps the place, and the remark, of the one that it was.
    for (at, slot) in slots.iter_mut().enumerate() {
        if slot.is_some() {
            continue;
        }
        let new = text_value(&texts[at]);
        *slot = Some(if free.get(at).copied().unwrap_or(false) {
            free[at] = false;
            if let Some(old) = array.get_mut(at) {
                let decor = old.decor().clone();
                *old = new;
                *old.decor_mut() = decor;
            }
            Slot::Kept(at)
        } else {
            Slot::New(new)
        });
    }
    arrange(array, slots.into_iter().flatten().collect());
}
