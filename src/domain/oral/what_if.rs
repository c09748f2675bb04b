//! "And if ... now?": questions whose answer comes from the plant model or the model of the piping, not from a list.

use super::probe::Drafted;
use super::sitting::OralPoint;
use crate::domain::card::{Body, Card};
use crate::domain::piping::{self, Network, Want};
use crate::domain::plant::Procedure;

/// Every "what if" that a card's model gives, in a fixed order.
pub(super) fn all(card: &Card) -> Vec<Drafted> {
    match &card.body {
        Body::Sequence(procedure) => of_procedure(procedure),
        Body::Lineup(network) => of_network(network),
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

/// For each valve on which every right setting hangs: what is lost when somebody turns it.
fn of_network(network: &Network) -> Vec<Drafted> {
    let Ok(proof) = piping::prove(network) else { return Vec::new() };
    let Some(setting) = proof.least_open else { return Vec::new() };
    let shut = proof.needed_open.iter().map(|node| (*node, false));
    let opened = proof.needed_shut.iter().map(|node| (*node, true));
    shut.chain(opened)
        .filter(|(node, _)| network.nodes[*node].can_be_turned())
        .filter_map(|(node, open)| {
            let mut turned = setting.clone();
            turned.open[node] = open;
            let examined = piping::examine(network, &turned).ok()?;
            let lost = network.demands.iter().zip(&examined.demands).filter(|(_, state)| !state.met);
            let points: Vec<OralPoint> = lost
                .map(|(demand, _)| {
                    let (say, critical) = match demand.want {
                        Want::Flow(_) => (format!("No more flow: {}", demand.name), false),
                        Want::Never(_) => (format!("No longer kept: {}", demand.name), true),
                    };
                    OralPoint { say, accept: vec![demand.name.clone()], reject: Vec::new(), critical }
                })
                .collect();
            let (key, name) = (&network.nodes[node].key, &network.nodes[node].name);
            let done = if open { "opens" } else { "shuts" };
            (!points.is_empty()).then(|| Drafted {
                id: format!("if-{done}-{key}"),
                lead_in: "Suppose this.".to_owned(),
                ask: format!("All stands as it should. Then somebody {done} “{name}”. What happens?"),
                points,
            })
        })
        .collect()
}
