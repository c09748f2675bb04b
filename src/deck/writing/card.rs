//! A card between its file and its form: read into the form, and written back key by key where the form says otherwise.

use toml_edit::{Array, DocumentMut, InlineTable, Item, Table, TableLike, Value};

use super::lists::{Slot, arrange, set_texts};
use super::unwritable::Unwritable;
use super::values::{list_text, number_value, put, quoted, take_out, text_value};
use super::{network, plant};
use crate::deck::kinds;
use crate::domain::form::{CardForm, Holds, Part, PointForm, Shape};
use crate::domain::ids::is_id;
use crate::domain::kinds::Kind;

/// Where a card stands in its file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// What kind of card.
    pub kind: Kind,
    /// The how-manieth of its kind in the file, from 0.
    pub nth: usize,
    /// Its id, by which it is found where cards before it have come or gone.
    pub id: String,
}

/// The keys before what only the kind has, and those after it, in the order in which a new card is written.
const BEFORE: &[(&str, Shape)] = &[("topic", Shape::Line), ("heading", Shape::Line), ("ask", Shape::Text)];
const AFTER: &[(&str, Shape)] = &[
    ("because", Shape::Text),
    ("caution", Shape::Text),
    ("sources", Shape::List),
    ("seconds", Shape::Number),
    ("weight", Shape::Number),
];

/// Whether cards of a kind are written in a form.
pub fn has_form(kind: Kind) -> bool {
    !parts_of(kind).is_empty()
}

fn parts_of(kind: Kind) -> &'static [(&'static str, Shape)] {
    kinds::of_kind(kind).form
}

fn keys_of(kind: Kind) -> impl Iterator<Item = &'static (&'static str, Shape)> {
    BEFORE.iter().chain(parts_of(kind)).chain(AFTER)
}

/// An empty form of a kind; none where the kind has no form.
pub fn blank_form(kind: Kind) -> Option<CardForm> {
    let part = |(key, shape): &(&'static str, Shape)| Part { key, shape: *shape, holds: shape.empty() };
    has_form(kind).then(|| CardForm { kind, id: String::new(), parts: keys_of(kind).map(part).collect() })
}

/// A card of a file's text in its form.
///
/// # Errors
/// Where the text is broken, the card is not there, or something in it is written otherwise than a form does.
pub fn form_of(text: &str, place: &Place) -> Result<CardForm, Unwritable> {
    let mut doc = parse(text)?;
    read(find(&mut doc, place)?, place.kind)
}

/// The text with a card changed to what its form says.
///
/// # Errors
/// Those of [`form_of`], or where a number is none.
pub fn with_card(text: &str, place: &Place, form: &CardForm) -> Result<String, Unwritable> {
    let changed = change(text, |doc| {
        let table = find(doc, place)?;
        let before = read(table, place.kind)?;
        for part in &form.parts {
            if before.part(part.key).is_some_and(|old| *old != part.holds) {
                set(table, part)?;
            }
        }
        Ok(())
    })?;
    let is = form_of(&changed, place)?;
    if is.says_as(&trimmed(form)) { Ok(changed) } else { Err(Unwritable::Lost) }
}

/// The text with a new card at its end.
///
/// # Errors
/// Where the text is broken, the id is none, or a number is none.
pub fn with_new_card(text: &str, form: &CardForm) -> Result<String, Unwritable> {
    if !is_id(&form.id) {
        return Err(Unwritable::BadId);
    }
    parse(text)?;
    let form = trimmed(form);
    let mut card = format!("[[{}]]\nid = {}\n", kinds::of_kind(form.kind).word, quoted(&form.id));
    let mut tables = String::new();
    let mut is_made_of_tables = false;
    for part in &form.parts {
        let written = match &part.holds {
            Holds::Network(_) => {
                is_made_of_tables = true;
                continue;
            }
            Holds::Plant(plant) => {
                let (head, facts) = plant::written(plant);
                card += &head;
                tables += &facts;
                is_made_of_tables = true;
                continue;
            }
            Holds::Text(text) if text.is_empty() => continue,
            Holds::List(list) if list.is_empty() => continue,
            Holds::Text(text) if part.shape == Shape::Number => {
                number_value(text).ok_or_else(|| Unwritable::NoNumber { key: part.key.to_owned() })?.to_string()
            }
            Holds::Text(text) => quoted(text),
            Holds::List(list) if list.iter().map(String::len).sum::<usize>() > 60 => {
                let lines: String = list.iter().map(|text| format!("  {},\n", quoted(text))).collect();
                format!("[\n{lines}]")
            }
            Holds::List(list) => list_text(list),
            Holds::Points(points) => {
                let lines: String = points.iter().map(|point| format!("  {},\n", point_text(point))).collect();
                format!("[\n{lines}]")
            }
        };
        card += &format!("{} = {written}\n", part.key);
    }
    card += &tables;
    let is_windows = text.contains("\r\n");
    let gap = if text.trim().is_empty() || text.ends_with("\n\n") { "" } else { "\n" };
    let end = if text.is_empty() || text.ends_with('\n') { "" } else { "\n" };
    let added = format!("{end}{gap}{card}");
    let whole = text.to_owned() + &if is_windows { added.replace('\n', "\r\n") } else { added };
    parse(&whole)?;
    if !is_made_of_tables {
        return Ok(whole);
    }
    let place = Place { kind: form.kind, nth: usize::MAX, id: form.id.clone() };
    change(&whole, |doc| {
        let card = find(doc, &place)?;
        for part in &form.parts {
            match &part.holds {
                Holds::Plant(plant) => plant::set(card, plant)?,
                Holds::Network(network) => network::set(card, network)?,
                Holds::Text(_) | Holds::List(_) | Holds::Points(_) => {}
            }
        }
        Ok(())
    })
}

/// Changes a text through its tables; line ends and the sign at the beginning of some editors' files stay.
pub(super) fn change(
    text: &str,
    run: impl FnOnce(&mut DocumentMut) -> Result<(), Unwritable>,
) -> Result<String, Unwritable> {
    let sign = if text.starts_with('\u{FEFF}') { "\u{FEFF}" } else { "" };
    let is_windows = text.contains("\r\n");
    let mut doc = parse(text)?;
    run(&mut doc)?;
    let mut changed = doc.to_string();
    if is_windows {
        changed = changed.replace("\r\n", "\n").replace('\n', "\r\n");
    }
    Ok(if changed.starts_with('\u{FEFF}') { changed } else { sign.to_owned() + &changed })
}

fn parse(text: &str) -> Result<DocumentMut, Unwritable> {
    let text = text.strip_prefix('\u{FEFF}').unwrap_or(text);
    text.parse().map_err(|error: toml_edit::TomlError| {
        let at = error.span().map_or(0, |span| span.start.min(text.len()));
        Unwritable::Broken { line: text[..text.floor_char_boundary(at)].matches('\n').count() + 1 }
    })
}

/// The card at a place.
pub(super) fn find<'d>(doc: &'d mut DocumentMut, place: &Place) -> Result<&'d mut Table, Unwritable> {
    let word = kinds::of_kind(place.kind).word;
    let cards = match doc.get_mut(word) {
        Some(Item::ArrayOfTables(cards)) => cards,
        Some(Item::None) | None => return Err(Unwritable::Gone),
        Some(_) => return Err(Unwritable::Otherwise { key: word.to_owned() }),
    };
    let is_it = |card: &Table| card.get("id").and_then(Item::as_str).unwrap_or_default() == place.id;
    let at = if cards.get(place.nth).is_some_and(is_it) { Some(place.nth) } else { cards.iter().position(is_it) };
    at.and_then(|at| cards.get_mut(at)).ok_or(Unwritable::Gone)
}

fn read(card: &Table, kind: Kind) -> Result<CardForm, Unwritable> {
    if !has_form(kind) {
        return Err(Unwritable::NoForm);
    }
    let id = card.get("id").and_then(Item::as_str).unwrap_or_default().to_owned();
    let part = |(key, shape): &(&'static str, Shape)| {
        let holds = match card.get(key) {
            _ if *shape == Shape::Plant => Holds::Plant(plant::read(card)?),
            _ if *shape == Shape::Network => Holds::Network(network::read(card)?),
            None => shape.empty(),
            Some(item) => holds(item, *shape).ok_or_else(|| Unwritable::Otherwise { key: (*key).to_owned() })?,
        };
        Ok(Part { key, shape: *shape, holds })
    };
    Ok(CardForm { kind, id, parts: keys_of(kind).map(part).collect::<Result<_, Unwritable>>()? })
}

fn holds(item: &Item, shape: Shape) -> Option<Holds> {
    Some(match shape {
        Shape::Line | Shape::Text => Holds::Text(item.as_str()?.to_owned()),
        Shape::Number => match item.as_value()? {
            value @ (Value::Integer(_) | Value::Float(_)) => Holds::Text(value.to_string().trim().to_owned()),
            _ => return None,
        },
        Shape::List => Holds::List(texts(item)?),
        Shape::Points => Holds::Points(match item {
            Item::Value(Value::Array(points)) => {
                let tables = points.iter().map(|point| Some(point.as_inline_table()? as &dyn TableLike));
                read_points(tables)?
            }
            Item::ArrayOfTables(points) => read_points(points.iter().map(|point| Some(point as &dyn TableLike)))?,
            _ => return None,
        }),
        // Read from the whole card.
        Shape::Plant | Shape::Network => return None,
    })
}

fn texts(item: &Item) -> Option<Vec<String>> {
    item.as_array()?.iter().map(|text| Some(text.as_str()?.to_owned())).collect()
}

fn read_points<'t>(tables: impl Iterator<Item = Option<&'t dyn TableLike>>) -> Option<Vec<PointForm>> {
    let point = |(at, table): (usize, Option<&dyn TableLike>)| {
        let table = table?;
        let list = |key: &str| table.get(key).map_or(Some(Vec::new()), texts);
        Some(PointForm {
            was: Some(at),
            say: table.get("say").map_or(Some(""), Item::as_str)?.to_owned(),
            accept: list("accept")?,
            reject: list("reject")?,
            critical: table.get("critical").map_or(Some(false), Item::as_bool)?,
        })
    };
    tables.enumerate().map(point).collect()
}

fn set(card: &mut Table, part: &Part) -> Result<(), Unwritable> {
    let otherwise = || Unwritable::Otherwise { key: part.key.to_owned() };
    match (&part.holds, part.shape) {
        (Holds::Text(text), _) if text.trim().is_empty() => take_out(card, part.key),
        (Holds::Text(text), Shape::Number) => {
            let number = number_value(text).ok_or_else(|| Unwritable::NoNumber { key: part.key.to_owned() })?;
            put(card, part.key, number);
        }
        (Holds::Text(text), _) => put(card, part.key, text_value(text.trim())),
        (Holds::List(list), _) => set_list(card, part.key, list),
        (Holds::Plant(of), _) => plant::set(card, &of.settled())?,
        (Holds::Network(of), _) => network::set(card, &of.settled())?,
        (Holds::Points(points), _) => match card.get_mut(part.key) {
            Some(Item::Value(Value::Array(array))) => set_points(array, points),
            Some(Item::ArrayOfTables(tables)) => {
                // In their order, each a table of its own: they are changed where they stand, and new ones come last.
                let kept: Vec<usize> = points.iter().map_while(|point| point.was).collect();
                let in_place = kept.iter().copied().eq(0..tables.len());
                if !in_place || points[kept.len()..].iter().any(|point| point.was.is_some()) {
                    return Err(otherwise());
                }
                for (table, point) in tables.iter_mut().zip(points) {
                    set_point(table, point);
                }
                for point in &points[kept.len()..] {
                    let mut table = Table::new();
                    set_point(&mut table, point);
                    tables.push(table);
                }
            }
            None => {
                let lines: String = points.iter().map(|point| format!("  {},\n", point_text(point))).collect();
                let value: Value = format!("[\n{lines}]").parse().map_err(|_| otherwise())?;
                put(card, part.key, value);
            }
            Some(_) => return Err(otherwise()),
        },
    }
    Ok(())
}

fn set_list(table: &mut dyn TableLike, key: &str, list: &[String]) {
    let list: Vec<String> = list.iter().map(|text| text.trim().to_owned()).filter(|text| !text.is_empty()).collect();
    match table.get_mut(key) {
        _ if list.is_empty() => take_out(table, key),
        Some(Item::Value(Value::Array(array))) => set_texts(array, &list),
        _ => {
            let mut array = Array::new();
            list.iter().for_each(|text| array.push(text_value(text)));
            put(table, key, Value::Array(array));
        }
    }
}

fn set_points(array: &mut Array, points: &[PointForm]) {
    let mut slots = Vec::new();
    for point in points {
        let old = point.was.and_then(|was| array.get_mut(was)).and_then(Value::as_inline_table_mut);
        if let (Some(was), Some(table)) = (point.was, old) {
            set_point(table, point);
            slots.push(Slot::Kept(was));
        } else {
            let new = point_text(point).parse().unwrap_or_else(|_| {
                let mut table = InlineTable::new();
                set_point(&mut table, point);
                Value::InlineTable(table)
            });
            slots.push(Slot::New(new));
        }
    }
    arrange(array, slots);
}

/// Brings a point to what the form says; keys that say it already are not touched.
fn set_point(table: &mut dyn TableLike, point: &PointForm) {
    let say = point.say.trim();
    if table.get("say").and_then(Item::as_str) != Some(say) {
        put(table, "say", text_value(say));
    }
    for (key, list) in [("accept", &point.accept), ("reject", &point.reject)] {
        if table.get(key).map_or(Some(Vec::new()), texts).as_ref() != Some(list) {
            set_list(table, key, list);
        }
    }
    let is_critical = table.get("critical").and_then(Item::as_bool).unwrap_or(false);
    if is_critical && !point.critical {
        take_out(table, "critical");
    } else if !is_critical && point.critical {
        put(table, "critical", Value::from(true));
    }
}

fn point_text(point: &PointForm) -> String {
    let mut text = format!("{{ say = {}", quoted(point.say.trim()));
    for (key, list) in [("accept", &point.accept), ("reject", &point.reject)] {
        if !list.is_empty() {
            text += &format!(", {key} = {}", list_text(list));
        }
    }
    text + if point.critical { ", critical = true }" } else { " }" }
}

/// A form without spaces around its texts, and without empty entries.
fn trimmed(form: &CardForm) -> CardForm {
    let own = |text: &String| text.trim().to_owned();
    let full = |list: &[String]| list.iter().map(own).filter(|text| !text.is_empty()).collect::<Vec<_>>();
    let mut form = form.clone();
    for part in &mut form.parts {
        part.holds = match &part.holds {
            Holds::Text(text) => Holds::Text(own(text)),
            Holds::List(list) => Holds::List(full(list)),
            Holds::Plant(plant) => Holds::Plant(plant.settled()),
            Holds::Network(network) => Holds::Network(network.settled()),
            Holds::Points(points) => Holds::Points(
                points
                    .iter()
                    .map(|point| PointForm {
                        say: own(&point.say),
                        accept: full(&point.accept),
                        reject: full(&point.reject),
                        ..point.clone()
                    })
                    .collect(),
            ),
        };
    }
    form
}
