//! "And if ... now?": questions whose answer comes from the plant model, not from a list.

use super::probe::Drafted;
use super::sitting::OralPoint;
use crate::domain::card::{Body, Card};
use crate::domain::plant::Procedure;

/// Every "what if" that a card's model gives, in a fixed order.
pub(super) fn all(card: &Card) -> Vec<Drafted> {
    match &card.body {
        Body::Sequence(procedure) => of_procedure(procedure),
        _ => Vec::new(),
    }
}

/// For each need of a step with a known fault: what happens if the step is done without it.
fn of_procedure(procedure: &Procedure) -> Vec<Drafted> {
    let steps = procedure.steps.iter().filter(|step| step.trap.is_none());
    steps
        .flat_map(|step| step.faults.iter().map(move |fault| (step, fault)))
        .filter_map(|(step, fault)| {
            let tell = fault.tell.clone()?;
            let fact = procedure.name(fault.without.fact);
            let said = if fault.without.holds { "is not so" } else { "is still so" };
            Some(Drafted {
                id: format!("if-{}-{}", step.key, procedure.written(fault.without).replace('!', "not-")),
                lead_in: "Suppose this.".to_owned(),
                ask: format!("You come to “{}”, but “{fact}” {said}. What happens?", step.say.trim_end_matches('.')),
                points: vec![OralPoint { say: tell, accept: Vec::new(), reject: Vec::new(), critical: false }],
            })
        })
        .collect()
}
