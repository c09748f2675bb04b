//! What a sequence asks, in lines: facts by their names, for their keys are the deck's own affair. The order in which the
//! steps stand in the deck is none of it, because they are offered shuffled; that of the reflexes is.

use crate::domain::editions::{Line, Part, What, folded, names};
use crate::domain::plant::{Need, Procedure};

/// What a procedure asks.
pub(super) fn asked(procedure: &Procedure) -> Vec<Part> {
    let facts = Facts(names(procedure.facts.iter().map(|fact| (fact.key.as_str(), fact.name.as_str()))));
    let start = facts.listed(&procedure.start.iter().collect::<Vec<_>>());
    let goal = facts.needed(&procedure.goal);
    let steps = procedure.steps.iter().map(|step| {
        let mut line = vec![folded(&step.say)];
        line.extend(clause("needs", facts.needed(&step.needs)));
        line.extend(clause("gives", facts.listed(&step.gives)));
        line.extend(clause("takes", facts.listed(&step.takes)));
        // Of several the first that fits is the one that counts.
        let faults = step.faults.iter();
        let faults = faults.map(|fault| format!("{} without {}", fault.severity.word(), facts.need(fault.without)));
        line.extend(clause("wrong:", faults.collect()));
        line.extend(step.trap.as_ref().map(|trap| format!("a trap: {}", trap.severity.word())));
        Line::new(&line.join(" | "))
    });
    let reflexes = procedure.reflexes.iter().map(|reflex| {
        let mut line = vec![format!("when {}", facts.needed(&reflex.when).join(", "))];
        line.extend(clause("gives", facts.listed(&reflex.gives)));
        line.extend(clause("takes", facts.listed(&reflex.takes)));
        Line::new(&line.join(" | "))
    });
    let lines = |texts: Vec<String>| texts.into_iter().map(|text| Line::new(&text)).collect::<Vec<_>>();
    vec![
        Part::any_order(What::Start, lines(start)),
        Part::any_order(What::Goal, lines(goal)),
        Part::any_order(What::Steps, steps),
        Part::in_order(What::Reflexes, reflexes),
    ]
}

/// What the facts are called.
struct Facts(Vec<String>);

impl Facts {
    fn name(&self, fact: usize) -> &str {
        self.0.get(fact).map_or("", String::as_str)
    }

    fn need(&self, need: Need) -> String {
        let name = self.name(need.fact);
        if need.holds { name.to_owned() } else { format!("not {name}") }
    }

    fn needed(&self, needs: &[Need]) -> Vec<String> {
        sorted(needs.iter().map(|need| self.need(*need)).collect())
    }

    fn listed(&self, facts: &[usize]) -> Vec<String> {
        sorted(facts.iter().map(|fact| self.name(*fact).to_owned()).collect())
    }
}

fn sorted(mut texts: Vec<String>) -> Vec<String> {
    texts.sort();
    texts
}

fn clause(word: &str, texts: Vec<String>) -> Option<String> {
    (!texts.is_empty()).then(|| format!("{word} {}", texts.join(", ")))
}
