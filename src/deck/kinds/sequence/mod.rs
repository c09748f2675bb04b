//! `[[sequence]]`: put the steps in an order that works. Here the table is read into a procedure with the place of
//! every part; `judging` then looks for what cannot work.

mod judging;
mod places;
mod steps;

use self::places::{Names, Places};
use super::form::{self, ReadForm};
use super::kind::DeckKind;
use crate::deck::checks;
use crate::deck::fields::{Context, Table, Text, table_of};
use crate::deck::shape::{Field, Shape, keys, needed, optional};
use crate::domain::answer::{Form, Given};
use crate::domain::form::Shape as FormShape;
use crate::domain::ids::is_id;
use crate::domain::kinds::Body;
use crate::domain::plant::{Fact, Facts, MOST_FACTS, Procedure};

const GOAL_SAMPLE: &str = "goal = [\"the fact to reach\"]";
/// What only this kind holds.
const FIELDS: [Field; 6] = [
    optional("start", Shape::Texts, "facts that hold at the start"),
    needed("goal", Shape::Texts, "what must hold at the end"),
    needed("fact", Shape::NamedTexts, "each fact with its name for people"),
    optional("step", Shape::Tables(&steps::STEP_FIELDS), "what can be done"),
    optional("reflex", Shape::Tables(&steps::REFLEX_FIELDS), "what the plant does by itself"),
    optional("strict", Shape::Flag, "true where one order alone is right"),
];
const KEYS: &[&str] = &keys(&FIELDS);

pub(crate) const KIND: DeckKind = DeckKind {
    word: "sequence",
    one: "a sequence card",
    chapter: 4,
    fields: &FIELDS,
    keys: KEYS,
    expects: &["order"],
    forms: FORMS,
    in_row: Err(
        "a sequence has steps, each with what it needs and what it gives, which no row can hold: write it in a file of the deck, as the manual (decks/FORMAT.md) shows it",
    ),
    form: &[("step", FormShape::Plant)],
    read,
};

/// The forms in which it is answered.
const FORMS: &[ReadForm] =
    &[ReadForm { form: Form::Steps, keys: &["steps"], read: |object| Ok(Given::Steps(form::keys(object, "steps")?)) }];

fn read(context: &mut Context<'_>, card: Table<'_, '_>) -> Option<Body> {
    let errors_before = context.problems.errors();
    let mut procedure = Procedure::default();
    let mut places = Places { card: card.site, goal_list: card.site, ..Places::default() };
    procedure.strict = card.flag(context, "strict");
    places.strict = card.get("strict").map(|value| context.site(value.span()));
    let facts = facts(context, card, &mut procedure, &mut places);
    procedure.start = Facts::of(facts.list(context, card, "start"));
    let goal = card.required(context, "goal", GOAL_SAMPLE);
    if let Some(goal) = goal {
        places.goal_list = context.site(goal.span());
        (procedure.goal, places.goal) = facts.needs(context, card, "goal");
        if goal.get_ref().as_array().is_some_and(|entries| entries.is_empty()) {
            context.report(checks::key::missing_key(places.goal_list, "goal", "a sequence card", GOAL_SAMPLE));
        }
    }
    steps::read(context, card, &facts, &mut procedure, &mut places);
    steps::read_reflexes(context, card, &facts, &mut procedure, &mut places);
    if context.problems.errors() > errors_before {
        // What follows from a fault that has been told is not told as well.
        return None;
    }
    judging::judge(context, &procedure, &places);
    Some(Body::Sequence(procedure))
}

/// Reads `[sequence.fact]`: the facts in the order of the file.
fn facts<'t>(
    context: &mut Context<'_>,
    card: Table<'t, '_>,
    procedure: &mut Procedure,
    places: &mut Places,
) -> Names<'t> {
    const SAMPLE: &str = "[sequence.fact] with fact = \"its name for people\" for each fact";
    let mut names = Names { keys: Vec::new(), is_lacking: true };
    let Some(value) = card.required(context, "fact", SAMPLE) else { return names };
    let Some(table) = table_of(context, value, "fact", "the facts", SAMPLE) else { return names };
    names.is_lacking = false;
    let mut keys: Vec<(usize, &'t str)> = Vec::new();
    for key in table.table.keys() {
        keys.push((key.span().start, key.get_ref()));
    }
    keys.sort_unstable();
    for (start, key) in keys {
        let site = context.site(start..start + key.len());
        if procedure.facts.len() == MOST_FACTS {
            context.report(checks::file::too_many_of_card(site, "facts", MOST_FACTS));
            names.is_lacking = true;
            break;
        }
        if !is_id(key) {
            context.report(checks::key::bad_id(site, key));
        }
        let name = table.text(context, key).map_or_else(String::new, Text::own);
        procedure.facts.push(Fact { key: key.to_owned(), name });
        places.facts.push(site);
        names.keys.push(key);
    }
    names
}
