//! `[[sequence]]`: put the steps in an order that works. Here the table is read into a procedure with the place of
//! every part; `judging` then looks for what cannot work.

mod judging;
mod steps;

use super::kind::DeckKind;
use crate::deck::checks::{bad_id, missing_key, too_many, unknown_fact};
use crate::deck::fields::{Context, Table, Text, table_of};
use crate::deck::problem::Site;
use crate::domain::card::Body;
use crate::domain::ids::is_id;
use crate::domain::plant::{Fact, Facts, MOST_FACTS, Need, Procedure};

const GOAL_SAMPLE: &str = "goal = [\"the fact to reach\"]";
const KEYS: &[&str] = &["start", "goal", "fact", "step", "reflex", "strict"];

pub(crate) const KIND: DeckKind = DeckKind { word: "sequence", one: "a sequence card", keys: KEYS, read };

/// Where the parts of a procedure stand in the file.
#[derive(Default)]
struct Places {
    card: Site,
    strict: Option<Site>,
    facts: Vec<Site>,
    goal: Vec<Site>,
    goal_list: Site,
    steps: Vec<StepPlaces>,
    reflexes: Vec<ReflexPlaces>,
}

/// Where the parts of a step stand.
#[derive(Default)]
struct StepPlaces {
    step: Site,
    needs: Vec<Site>,
    faults: Vec<Site>,
    trap: Site,
}

/// Where the parts of a reflex stand.
#[derive(Default)]
struct ReflexPlaces {
    reflex: Site,
    when: Vec<Site>,
}

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
            context.report(missing_key::found(places.goal_list, "goal", "a sequence card", GOAL_SAMPLE));
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
            context.report(too_many::of_card(site, "facts", MOST_FACTS));
            names.is_lacking = true;
            break;
        }
        if !is_id(key) {
            context.report(bad_id::found(site, key));
        }
        let name = table.text(context, key).map_or_else(String::new, Text::own);
        procedure.facts.push(Fact { key: key.to_owned(), name });
        places.facts.push(site);
        names.keys.push(key);
    }
    names
}

/// The declared facts, by name.
struct Names<'t> {
    keys: Vec<&'t str>,
    /// They could not be read, so that nothing can be said of one that is not there.
    is_lacking: bool,
}

impl Names<'_> {
    /// A need as a deck writes it.
    fn written(&self, need: Need) -> String {
        let key = self.keys.get(need.fact).copied().unwrap_or_default();
        if need.holds { key.to_owned() } else { format!("!{key}") }
    }

    /// The fact of this name; reported where there is none.
    fn number(&self, context: &mut Context<'_>, name: &str, site: Site) -> Option<usize> {
        let number = self.keys.iter().position(|key| *key == name);
        if number.is_none() && !self.is_lacking {
            context.report(unknown_fact::found(site, name, self.keys.iter().copied()));
        }
        number
    }

    /// A need as written: `fact` or `!fact`.
    fn need(&self, context: &mut Context<'_>, text: Text<'_>) -> Option<Need> {
        let written = text.value.trim();
        let name = written.strip_prefix('!').map_or(written, str::trim_start);
        let fact = self.number(context, name, text.site)?;
        Some(Need { fact, holds: !written.starts_with('!') })
    }

    /// A list of needs with their places.
    fn needs(&self, context: &mut Context<'_>, table: Table<'_, '_>, key: &str) -> (Vec<Need>, Vec<Site>) {
        let texts = table.texts(context, key).unwrap_or_default();
        let needs = texts.into_iter().filter_map(|text| Some((self.need(context, text)?, text.site)));
        needs.collect::<Vec<_>>().into_iter().unzip()
    }

    /// A list of facts, none of them with `!`.
    fn list(&self, context: &mut Context<'_>, table: Table<'_, '_>, key: &str) -> Vec<usize> {
        let mut facts = Vec::new();
        for text in table.texts(context, key).unwrap_or_default() {
            let name = text.value.trim();
            if name.starts_with('!') {
                context.report(unknown_fact::negated(text.site, name, key));
            } else {
                facts.extend(self.number(context, name, text.site));
            }
        }
        facts
    }
}
