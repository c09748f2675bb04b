//! The plant of a sequence between its file and its form. Reflexes are the editor's; they stay as they are.

use toml_edit::{Array, ArrayOfTables, Item, Table, TableLike, Value};

use super::lists::set_texts;
use super::unwritable::Unwritable;
use super::values::{put, quoted, take_out, text_value};
use crate::domain::plant_form::{Cell, Effect, FactForm, FaultForm, Need, PlantForm, StepForm};

fn otherwise(key: &str) -> Unwritable {
    Unwritable::Otherwise { key: key.to_owned() }
}

fn texts(table: &dyn TableLike, key: &str) -> Result<Vec<String>, Unwritable> {
    let Some(item) = table.get(key) else { return Ok(Vec::new()) };
    let texts = item.as_array().and_then(|list| list.iter().map(|text| Some(text.as_str()?.to_owned())).collect());
    texts.ok_or_else(|| otherwise(key))
}

fn text(table: &dyn TableLike, key: &str) -> Result<String, Unwritable> {
    table.get(key).map_or(Ok(""), |item| item.as_str().ok_or_else(|| otherwise(key))).map(str::to_owned)
}

fn need_in(list: &[String], fact: &str) -> Need {
    match (list.iter().any(|one| one == fact), list.iter().any(|one| one.strip_prefix('!') == Some(fact))) {
        (true, _) => Need::Holds,
        (_, true) => Need::HoldsNot,
        _ => Need::Nothing,
    }
}

/// The plant that a card's table writes.
pub(super) fn read(card: &Table) -> Result<PlantForm, Unwritable> {
    let (start, goal) = (texts(card, "start")?, texts(card, "goal")?);
    let mut plant = PlantForm::default();
    if let Some(facts) = card.get("fact") {
        let facts = facts.as_table_like().ok_or_else(|| otherwise("fact"))?;
        for (key, name) in facts.iter() {
            plant.facts.push(FactForm {
                key: key.to_owned(),
                name: name.as_str().ok_or_else(|| otherwise("fact"))?.to_owned(),
                at_start: start.iter().any(|one| one == key),
                goal: need_in(&goal, key),
            });
        }
    }
    match card.get("step") {
        None => {}
        Some(Item::ArrayOfTables(steps)) => {
            for (was, step) in steps.iter().enumerate() {
                let step = read_step(step, was, &plant.facts)?;
                plant.steps.push(step);
            }
        }
        Some(_) => return Err(otherwise("step")),
    }
    Ok(plant)
}

fn read_step(step: &Table, was: usize, facts: &[FactForm]) -> Result<StepForm, Unwritable> {
    let (needs, gives, takes) = (texts(step, "needs")?, texts(step, "gives")?, texts(step, "takes")?);
    let cell = |fact: &FactForm| Cell {
        need: need_in(&needs, &fact.key),
        effect: match (gives.contains(&fact.key), takes.contains(&fact.key)) {
            (true, _) => Effect::Gives,
            (_, true) => Effect::Takes,
            _ => Effect::Nothing,
        },
    };
    let faults = match step.get("fault") {
        None => Vec::new(),
        Some(Item::ArrayOfTables(faults)) => faults.iter().map(read_fault).collect::<Result<_, _>>()?,
        Some(_) => return Err(otherwise("fault")),
    };
    Ok(StepForm {
        was: Some(was),
        key: text(step, "key")?,
        say: text(step, "say")?,
        trap: step.get("trap").map_or(Ok(false), |trap| trap.as_bool().ok_or_else(|| otherwise("trap")))?,
        severity: text(step, "severity")?,
        tell: text(step, "tell")?,
        cells: facts.iter().map(cell).collect(),
        faults,
    })
}

fn read_fault(fault: &Table) -> Result<FaultForm, Unwritable> {
    Ok(FaultForm { without: text(fault, "without")?, severity: text(fault, "severity")?, tell: text(fault, "tell")? })
}

/// Brings a card's table to what the form says; what says it already is not touched.
pub(super) fn set(card: &mut Table, plant: &PlantForm) -> Result<(), Unwritable> {
    let before = read(card)?;
    set_facts(card, plant, &before)?;
    let start = plant.facts.iter().filter(|fact| fact.at_start).map(|fact| fact.key.clone()).collect();
    list(card, "start", start)?;
    let goal = plant.facts.iter().filter_map(|fact| fact.goal.written(&fact.key)).collect();
    list(card, "goal", goal)?;
    set_steps(card, plant)
}

/// Brings a list to these; those that are in it already keep their order, and what names no fact of the form stays.
fn list(table: &mut dyn TableLike, key: &str, wanted: Vec<String>) -> Result<(), Unwritable> {
    let before = texts(table, key)?;
    let mut after: Vec<String> = before.iter().filter(|one| wanted.contains(one)).cloned().collect();
    after.extend(wanted.into_iter().filter(|one| !before.contains(one)));
    if after == before {
        return Ok(());
    }
    match table.get_mut(key) {
        _ if after.is_empty() => take_out(table, key),
        Some(Item::Value(Value::Array(array))) => set_texts(array, &after),
        _ => {
            let mut array = Array::new();
            after.iter().for_each(|text| array.push(text_value(text)));
            put(table, key, Value::Array(array));
        }
    }
    Ok(())
}

fn set_facts(card: &mut Table, plant: &PlantForm, before: &PlantForm) -> Result<(), Unwritable> {
    if !card.contains_key("fact") {
        card.insert("fact", Item::Table(Table::new()));
    }
    let facts = card.get_mut("fact").and_then(Item::as_table_like_mut).ok_or_else(|| otherwise("fact"))?;
    for gone in before.facts.iter().filter(|old| plant.facts.iter().all(|fact| fact.key != old.key)) {
        take_out(facts, &gone.key);
    }
    for fact in &plant.facts {
        let was = before.facts.iter().find(|old| old.key == fact.key);
        if was.is_none_or(|old| old.name != fact.name) {
            put(facts, &fact.key, text_value(&fact.name));
        }
    }
    Ok(())
}

fn set_steps(card: &mut Table, plant: &PlantForm) -> Result<(), Unwritable> {
    if !card.contains_key("step") {
        card.insert("step", Item::ArrayOfTables(ArrayOfTables::new()));
    }
    let Some(Item::ArrayOfTables(steps)) = card.get_mut("step") else { return Err(otherwise("step")) };
    for step in plant.steps.iter().filter(|step| step.was.is_none()) {
        let mut table = Table::new();
        put(&mut table, "key", text_value(&step.key));
        set_step(&mut table, step, plant)?;
        table.decor_mut().set_prefix("\n");
        steps.push(table);
    }
    let new = plant.steps.iter().filter(|step| step.was.is_none()).count();
    let old = steps.len() - new;
    for at in (0..old).rev() {
        match plant.steps.iter().find(|step| step.was == Some(at)) {
            None => {
                steps.remove(at);
            }
            Some(step) => {
                let table = steps.get_mut(at).ok_or_else(|| otherwise("step"))?;
                set_step(table, step, plant)?;
            }
        }
    }
    Ok(())
}

fn set_text(table: &mut dyn TableLike, key: &str, wanted: &str) -> Result<(), Unwritable> {
    let wanted = wanted.trim();
    if text(table, key)? == wanted {
        return Ok(());
    }
    if wanted.is_empty() {
        take_out(table, key);
    } else {
        put(table, key, text_value(wanted));
    }
    Ok(())
}

fn set_step(table: &mut Table, step: &StepForm, plant: &PlantForm) -> Result<(), Unwritable> {
    set_text(table, "say", &step.say)?;
    let of = |is: &dyn Fn(&Cell) -> bool| -> Vec<String> {
        let with = plant.facts.iter().zip(&step.cells).filter(|(_, cell)| is(cell));
        with.map(|(fact, _)| fact.key.clone()).collect()
    };
    let needs = plant.facts.iter().zip(&step.cells);
    let needs: Vec<String> = needs.filter_map(|(fact, cell)| cell.need.written(&fact.key)).collect();
    list(table, "needs", needs.clone())?;
    list(table, "gives", of(&|cell| cell.effect == Effect::Gives))?;
    list(table, "takes", of(&|cell| cell.effect == Effect::Takes))?;
    let is_trap = table.get("trap").and_then(Item::as_bool).unwrap_or(false);
    if is_trap != step.trap {
        if step.trap {
            put(table, "trap", Value::from(true));
        } else {
            take_out(table, "trap");
        }
    }
    set_text(table, "severity", if step.trap { &step.severity } else { "" })?;
    set_text(table, "tell", if step.trap { &step.tell } else { "" })?;
    set_faults(table, step, &needs)
}

/// What happens without a need: those whose need is gone go, new ones are added where something is said of them.
fn set_faults(table: &mut Table, step: &StepForm, needs: &[String]) -> Result<(), Unwritable> {
    let wanted: Vec<&FaultForm> = step
        .faults
        .iter()
        .filter(|fault| needs.contains(&fault.without) && !(fault.severity.is_empty() && fault.tell.trim().is_empty()))
        .collect();
    if !table.contains_key("fault") {
        if wanted.is_empty() {
            return Ok(());
        }
        table.insert("fault", Item::ArrayOfTables(ArrayOfTables::new()));
    }
    let Some(Item::ArrayOfTables(faults)) = table.get_mut("fault") else { return Err(otherwise("fault")) };
    for at in (0..faults.len()).rev() {
        let without = faults.get(at).and_then(|fault| fault.get("without")?.as_str()).unwrap_or_default().to_owned();
        match (wanted.iter().find(|fault| fault.without == without), faults.get_mut(at)) {
            (Some(fault), Some(table)) => {
                set_text(table, "severity", &fault.severity)?;
                set_text(table, "tell", &fault.tell)?;
            }
            _ => {
                faults.remove(at);
            }
        }
    }
    let has = |faults: &ArrayOfTables, without: &str| {
        faults.iter().any(|fault| fault.get("without").and_then(Item::as_str) == Some(without))
    };
    for fault in wanted {
        if !has(faults, &fault.without) {
            let mut table = Table::new();
            for (key, value) in [("without", &fault.without), ("severity", &fault.severity), ("tell", &fault.tell)] {
                set_text(&mut table, key, value)?;
            }
            faults.push(table);
        }
    }
    Ok(())
}

/// A plant as the tables of a new card.
pub(super) fn written(plant: &PlantForm) -> (String, String) {
    let list = |texts: Vec<String>| texts.iter().map(|text| quoted(text)).collect::<Vec<_>>().join(", ");
    let start: Vec<String> = plant.facts.iter().filter(|fact| fact.at_start).map(|fact| fact.key.clone()).collect();
    let goal: Vec<String> = plant.facts.iter().filter_map(|fact| fact.goal.written(&fact.key)).collect();
    let mut head = String::new();
    if !start.is_empty() {
        head += &format!("start = [{}]\n", list(start));
    }
    head += &format!("goal = [{}]\n", list(goal));
    let facts: String = plant.facts.iter().map(|fact| format!("{} = {}\n", fact.key, quoted(&fact.name))).collect();
    (head, format!("\n[sequence.fact]\n{facts}"))
}
