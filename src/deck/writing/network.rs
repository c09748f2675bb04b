//! The network of a line-up between its file and its form.

use toml_edit::{Array, ArrayOfTables, InlineTable, Item, Table, TableLike, Value};

use super::lists::{Slot, arrange, set_texts};
use super::unwritable::Unwritable;
use super::values::{put, take_out, text_value};
use crate::domain::network_form::{DemandForm, NetworkForm, NodeForm, PipeForm, Spot};

fn otherwise(key: &str) -> Unwritable {
    Unwritable::Otherwise { key: key.to_owned() }
}

fn text(table: &dyn TableLike, key: &str) -> Result<String, Unwritable> {
    table.get(key).map_or(Ok(""), |item| item.as_str().ok_or_else(|| otherwise(key))).map(str::to_owned)
}

fn flag(table: &dyn TableLike, key: &str) -> Result<bool, Unwritable> {
    table.get(key).map_or(Ok(false), |item| item.as_bool().ok_or_else(|| otherwise(key)))
}

fn texts(table: &dyn TableLike, key: &str) -> Result<Vec<String>, Unwritable> {
    let Some(item) = table.get(key) else { return Ok(Vec::new()) };
    let texts = item.as_array().and_then(|list| list.iter().map(|text| Some(text.as_str()?.to_owned())).collect());
    texts.ok_or_else(|| otherwise(key))
}

fn spot_of(value: &Value) -> Option<Spot> {
    let pair: Vec<i64> = value.as_array()?.iter().map(Value::as_integer).collect::<Option<_>>()?;
    pair.try_into().ok()
}

/// The entries of a key: tables of their own, or tables in a list.
fn tables<'t>(card: &'t Table, key: &str) -> Result<Vec<&'t dyn TableLike>, Unwritable> {
    match card.get(key) {
        None => Ok(Vec::new()),
        Some(Item::ArrayOfTables(tables)) => Ok(tables.iter().map(|table| table as &dyn TableLike).collect()),
        Some(Item::Value(Value::Array(list))) => {
            let tables = list.iter().map(|entry| Some(entry.as_inline_table()? as &dyn TableLike));
            tables.collect::<Option<_>>().ok_or_else(|| otherwise(key))
        }
        Some(_) => Err(otherwise(key)),
    }
}

/// The network that a card's table writes.
pub(super) fn read(card: &Table) -> Result<NetworkForm, Unwritable> {
    let mut network = NetworkForm::default();
    for (was, node) in tables(card, "node")?.into_iter().enumerate() {
        let at = node.get("at").and_then(Item::as_value).and_then(spot_of).ok_or_else(|| otherwise("at"))?;
        network.nodes.push(NodeForm {
            was: Some(was),
            key: text(node, "key")?,
            kind: text(node, "kind")?,
            name: text(node, "name")?,
            at,
            medium: text(node, "medium")?,
            open: flag(node, "open")?,
            fixed: flag(node, "fixed")?,
            ways: texts(node, "ways")?,
        });
    }
    for (was, pipe) in tables(card, "pipe")?.into_iter().enumerate() {
        let via = match pipe.get("via") {
            None => Vec::new(),
            Some(item) => {
                let corners = item.as_array().and_then(|list| list.iter().map(spot_of).collect::<Option<Vec<Spot>>>());
                corners.ok_or_else(|| otherwise("via"))?
            }
        };
        network.pipes.push(PipeForm { was: Some(was), from: text(pipe, "from")?, to: text(pipe, "to")?, via });
    }
    for (was, demand) in tables(card, "demand")?.into_iter().enumerate() {
        let never = demand.contains_key("never");
        let stops = texts(demand, if never { "never" } else { "flow" })?;
        network.demands.push(DemandForm { was: Some(was), name: text(demand, "name")?, never, stops });
    }
    Ok(network)
}

/// Brings a card's table to what the form says; what says it already is not touched.
pub(super) fn set(card: &mut Table, network: &NetworkForm) -> Result<(), Unwritable> {
    sync(card, "node", &network.nodes, |node| node.was, set_node)?;
    sync(card, "pipe", &network.pipes, |pipe| pipe.was, set_pipe)?;
    sync(card, "demand", &network.demands, |demand| demand.was, set_demand)
}

/// Changes the entries of a key where they stand, leaves out those that no form stands for, and adds new ones behind them.
fn sync<T>(
    card: &mut Table,
    key: &str,
    forms: &[T],
    was: impl Fn(&T) -> Option<usize>,
    set: impl Fn(&mut dyn TableLike, &T) -> Result<(), Unwritable>,
) -> Result<(), Unwritable> {
    if !card.contains_key(key) {
        if forms.is_empty() {
            return Ok(());
        }
        card.insert(key, Item::ArrayOfTables(ArrayOfTables::new()));
    }
    let tables = match card.get_mut(key) {
        Some(Item::ArrayOfTables(tables)) => tables,
        Some(Item::Value(Value::Array(list))) => return sync_list(list, key, forms, was, set),
        _ => return Err(otherwise(key)),
    };
    for at in (0..tables.len()).rev() {
        match (forms.iter().find(|form| was(form) == Some(at)), tables.get_mut(at)) {
            (Some(form), Some(table)) => set(table, form)?,
            _ => {
                tables.remove(at);
            }
        }
    }
    for form in forms.iter().filter(|form| was(form).is_none()) {
        let mut table = Table::new();
        set(&mut table, form)?;
        tables.push(table);
    }
    Ok(())
}

/// The same where the entries stand in a list.
fn sync_list<T>(
    list: &mut Array,
    key: &str,
    forms: &[T],
    was: impl Fn(&T) -> Option<usize>,
    set: impl Fn(&mut dyn TableLike, &T) -> Result<(), Unwritable>,
) -> Result<(), Unwritable> {
    let mut slots = Vec::new();
    for form in forms {
        if let Some(at) = was(form) {
            let table = list.get_mut(at).and_then(Value::as_inline_table_mut).ok_or_else(|| otherwise(key))?;
            set(table, form)?;
            slots.push(Slot::Kept(at));
        } else {
            let mut table = InlineTable::new();
            set(&mut table, form)?;
            slots.push(Slot::New(Value::InlineTable(table)));
        }
    }
    arrange(list, slots);
    Ok(())
}

fn set_text(table: &mut dyn TableLike, key: &str, wanted: &str) -> Result<(), Unwritable> {
    if text(table, key)? != wanted {
        if wanted.is_empty() {
            take_out(table, key);
        } else {
            put(table, key, text_value(wanted));
        }
    }
    Ok(())
}

fn set_flag(table: &mut dyn TableLike, key: &str, wanted: bool) -> Result<(), Unwritable> {
    if flag(table, key)? != wanted {
        if wanted {
            put(table, key, Value::from(true));
        } else {
            take_out(table, key);
        }
    }
    Ok(())
}

fn set_list(table: &mut dyn TableLike, key: &str, wanted: &[String]) -> Result<(), Unwritable> {
    if texts(table, key)? == wanted {
        return Ok(());
    }
    match table.get_mut(key) {
        _ if wanted.is_empty() => take_out(table, key),
        Some(Item::Value(Value::Array(array))) => set_texts(array, wanted),
        _ => put(table, key, Value::Array(wanted.iter().map(|text| text_value(text)).collect())),
    }
    Ok(())
}

fn spot_value(spot: Spot) -> Value {
    Value::Array(spot.into_iter().collect::<Array>())
}

fn set_node(table: &mut dyn TableLike, node: &NodeForm) -> Result<(), Unwritable> {
    for (key, wanted) in [("key", &node.key), ("kind", &node.kind), ("name", &node.name)] {
        set_text(table, key, wanted)?;
    }
    if table.get("at").and_then(Item::as_value).and_then(spot_of) != Some(node.at) {
        put(table, "at", spot_value(node.at));
    }
    set_text(table, "medium", &node.medium)?;
    set_flag(table, "open", node.open)?;
    set_flag(table, "fixed", node.fixed)?;
    set_list(table, "ways", &node.ways)
}

fn set_pipe(table: &mut dyn TableLike, pipe: &PipeForm) -> Result<(), Unwritable> {
    set_text(table, "from", &pipe.from)?;
    set_text(table, "to", &pipe.to)?;
    let now: Option<Vec<Spot>> =
        table.get("via").and_then(Item::as_array).and_then(|list| list.iter().map(spot_of).collect());
    if now.unwrap_or_default() != pipe.via {
        if pipe.via.is_empty() {
            take_out(table, "via");
        } else {
            put(table, "via", Value::Array(pipe.via.iter().map(|corner| spot_value(*corner)).collect()));
        }
    }
    Ok(())
}

fn set_demand(table: &mut dyn TableLike, demand: &DemandForm) -> Result<(), Unwritable> {
    set_text(table, "name", &demand.name)?;
    let (key, other) = if demand.never { ("never", "flow") } else { ("flow", "never") };
    if table.contains_key(other) {
        take_out(table, other);
    }
    set_list(table, key, &demand.stops)
}
