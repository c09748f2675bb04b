//! The steps and the reflexes of a sequence.

use super::places::{Names, Places, ReflexPlaces, StepPlaces};
use crate::deck::checks;
use crate::deck::fields::{Context, Table, Text};
use crate::deck::shape::{Field, Shape, keys, needed, optional};
use crate::domain::ids::is_id;
use crate::domain::plant::{Fault, MOST_REFLEXES, MOST_STEPS, Procedure, Reflex, Severity, Step, Trap};

/// What a step may hold; the last two only where it is a trap.
pub(super) const STEP_FIELDS: [Field; 9] = [
    needed("key", Shape::Id, "a short name of the step"),
    needed("say", Shape::Text, "what is done"),
    optional("needs", Shape::Texts, "facts that must hold before it; with ! those that must not"),
    optional("gives", Shape::Texts, "facts that hold after it"),
    optional("takes", Shape::Texts, "facts that no longer hold after it"),
    optional("fault", Shape::Tables(&FAULT_FIELDS), "what happens without a need"),
    optional("trap", Shape::Flag, "true where it belongs to no right order"),
    optional("severity", Shape::Word(severities), "of a trap: how bad it is"),
    optional("tell", Shape::Text, "of a trap: what happens"),
];
const ALL_STEP_KEYS: [&str; 9] = keys(&STEP_FIELDS);
const STEP_KEYS: &[&str] = ALL_STEP_KEYS.split_at(7).0;
const TRAP_KEYS: &[&str] = ALL_STEP_KEYS.split_at(7).1;
const FAULT_FIELDS: [Field; 3] = [
    needed("without", Shape::Text, "the need that is unmet"),
    needed("severity", Shape::Word(severities), "how bad it is"),
    optional("tell", Shape::Text, "what happens"),
];
const FAULT_KEYS: &[&str] = &keys(&FAULT_FIELDS);
/// What a reflex may hold.
pub(super) const REFLEX_FIELDS: [Field; 4] = [
    needed("when", Shape::Texts, "facts that set it off"),
    optional("gives", Shape::Texts, "facts that hold after it"),
    optional("takes", Shape::Texts, "facts that no longer hold after it"),
    optional("tell", Shape::Text, "what happens"),
];
const REFLEX_KEYS: &[&str] = &keys(&REFLEX_FIELDS);
const STEP_SAMPLE: &str = "[[sequence.step]] with two brackets above each step";
const FAULT_SAMPLE: &str = "[[sequence.step.fault]] with two brackets above each fault";
const REFLEX_SAMPLE: &str = "[[sequence.reflex]] with two brackets above each reflex";
const SEVERITY_SAMPLE: &str = "severity = \"damage\", or \"no-effect\", \"trip\" or \"injury\"";

/// Reads every `[[sequence.step]]`.
pub(super) fn read(
    context: &mut Context<'_>,
    card: Table<'_, '_>,
    facts: &Names<'_>,
    procedure: &mut Procedure,
    places: &mut Places,
) {
    if card.required(context, "step", STEP_SAMPLE).is_none() {
        return;
    }
    let Some(tables) = card.tables(context, "step", "a step", STEP_SAMPLE) else { return };
    if tables.is_empty() {
        context.report(checks::key::missing_key(card.site, "step", "a sequence card", STEP_SAMPLE));
    }
    for table in tables {
        if procedure.steps.len() == MOST_STEPS {
            context.report(checks::file::too_many_of_card(table.site, "steps", MOST_STEPS));
            return;
        }
        let mut sites = StepPlaces { step: table.site, trap: table.site, ..StepPlaces::default() };
        let step = step(context, table, facts, &mut sites);
        if !step.key.is_empty() && procedure.step_of(&step.key).is_some() {
            let site = table.get("key").map_or(table.site, |value| context.site(value.span()));
            context.report(checks::sequence::duplicate_step(site, &step.key));
        }
        procedure.steps.push(step);
        places.steps.push(sites);
    }
}

fn step(context: &mut Context<'_>, table: Table<'_, '_>, facts: &Names<'_>, sites: &mut StepPlaces) -> Step {
    let is_trap = table.flag(context, "trap");
    let what = if is_trap { "a trap" } else { "a step that is no trap" };
    let known: &[&[&str]] = if is_trap { &[STEP_KEYS, TRAP_KEYS] } else { &[STEP_KEYS] };
    Table { what, ..table }.check_keys(context, known);
    let key = table.required_text(context, "key", "key = \"a-short-name\"");
    if let Some(key) = key.filter(|key| !is_id(key.value)) {
        context.report(checks::key::bad_id(key.site, key.value));
    }
    let say = table.required_text(context, "say", "say = \"what is done\"");
    let mut step = Step {
        key: key.map_or_else(String::new, Text::own),
        say: say.map_or_else(String::new, Text::own),
        gives: facts.list(context, table, "gives"),
        takes: facts.list(context, table, "takes"),
        ..Step::default()
    };
    (step.needs, sites.needs) = facts.needs(context, table, "needs");
    if is_trap {
        sites.trap = table.get("trap").map_or(table.site, |value| context.site(value.span()));
        let severity = severity(context, Table { what, ..table });
        let tell = table.text(context, "tell").map(Text::own);
        step.trap = severity.map(|severity| Trap { severity, tell });
    }
    for table in table.tables(context, "fault", "a fault", FAULT_SAMPLE).unwrap_or_default() {
        if let Some(fault) = fault(context, table, facts, &step) {
            step.faults.push(fault);
            sites.faults.push(table.site);
        }
    }
    step
}

fn fault(context: &mut Context<'_>, table: Table<'_, '_>, facts: &Names<'_>, step: &Step) -> Option<Fault> {
    table.check_keys(context, &[FAULT_KEYS]);
    let without = table.required_text(context, "without", "without = \"the need that is unmet\"");
    let severity = severity(context, table);
    let tell = table.text(context, "tell").map(Text::own);
    let text = without?;
    let without = facts.need(context, text)?;
    if !step.needs.contains(&without) {
        let written: Vec<String> = step.needs.iter().map(|need| facts.written(*need)).collect();
        context.report(checks::sequence::stray_fault(
            text.site,
            &facts.written(without),
            &step.key,
            written.iter().map(String::as_str),
        ));
    }
    Some(Fault { without, severity: severity?, tell })
}

/// The words for how bad something is.
fn severities() -> Vec<&'static str> {
    Severity::ALL.map(Severity::word).to_vec()
}

fn severity(context: &mut Context<'_>, table: Table<'_, '_>) -> Option<Severity> {
    let word = table.required_text(context, "severity", SEVERITY_SAMPLE)?;
    let severity = Severity::ALL.into_iter().find(|severity| severity.word() == word.value);
    if severity.is_none() {
        context.report(checks::sequence::unknown_severity(word.site, word.value));
    }
    severity
}

/// Reads every `[[sequence.reflex]]`.
pub(super) fn read_reflexes(
    context: &mut Context<'_>,
    card: Table<'_, '_>,
    facts: &Names<'_>,
    procedure: &mut Procedure,
    places: &mut Places,
) {
    for table in card.tables(context, "reflex", "a reflex", REFLEX_SAMPLE).unwrap_or_default() {
        if procedure.reflexes.len() == MOST_REFLEXES {
            context.report(checks::file::too_many_of_card(table.site, "reflexes", MOST_REFLEXES));
            return;
        }
        table.check_keys(context, &[REFLEX_KEYS]);
        table.required(context, "when", "when = [\"the fact that sets it off\"]");
        let (when, sites) = facts.needs(context, table, "when");
        procedure.reflexes.push(Reflex {
            when,
            gives: facts.list(context, table, "gives"),
            takes: facts.list(context, table, "takes"),
            tell: table.text(context, "tell").map(Text::own),
        });
        places.reflexes.push(ReflexPlaces { reflex: table.site, when: sites });
    }
}
