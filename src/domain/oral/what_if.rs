//! "And if ... now?": questions whose answer comes from the plant model or the model of the piping, not from a list.

use super::probe::Drafted;
use super::sitting::OralPoint;
use crate::domain::card::{Body, Card};
use crate::domain::kinds::{never, too_early};
use crate::domain::piping::{self, Network, Want};
use crate::domain::plant::{Procedure, Step};

/// Every "what if" that a card's model gives, in a fixed order.
pub(super) fn all(card: &Card) -> Vec<Drafted> {
    match &card.body {
        Body::Sequence(procedure) => of_procedure(procedure),
        Body::Lineup(network) => of_network(network),
        _ => Vec::new(),
    }
}

/// Those "what ifs" that ask for what was missed here: the point (its words) of an answer to the card itself.
pub(super) fn about(card: &Card, missed: &str) -> Vec<Drafted> {
    match &card.body {
        Body::Sequence(procedure) => {
            let early = of_faults(procedure).filter(|(step, tell, _)| too_early(&step.say, tell) == missed);
            early.map(|(.., drafted)| drafted).chain(of_traps(procedure, missed)).collect()
        }
        Body::Lineup(network) => {
            let loses = |drafted: &Drafted| drafted.points.iter().any(|point| point.accept.iter().any(|p| p == missed));
            of_network(network).into_iter().filter(loses).collect()
        }
        _ => Vec::new(),
    }
}

/// For a trap that was stepped into: what it does.
fn of_traps<'a>(procedure: &'a Procedure, missed: &'a str) -> impl Iterator<Item = Drafted> + 'a {
    procedure.steps.iter().filter(move |step| never(&step.say) == missed).filter_map(|step| {
        Some(Drafted {
            id: format!("if-{}", step.key),
            lead_in: "Think again.".to_owned(),
            ask: format!("You do this: “{}”. What happens?", step.say.trim_end_matches('.')),
            points: vec![told(step.trap.as_ref()?.tell.clone()?)],
        })
    })
}

/// What the plant does, as the one point of an answer.
fn told(tell: String) -> OralPoint {
    OralPoint { say: tell, accept: Vec::new(), reject: Vec::new(), critical: false }
}

/// For each need of a step with a known fault: what happens if the step is done without it.
fn of_procedure(procedure: &Procedure) -> Vec<Drafted> {
    of_faults(procedure).map(|(.., drafted)| drafted).collect()
}

/// The same, each with its step and what happens.
fn of_faults(procedure: &Procedure) -> impl Iterator<Item = (&Step, &str, Drafted)> {
    let steps = procedure.steps.iter().filter(|step| step.trap.is_none());
    steps.flat_map(|step| step.faults.iter().map(move |fault| (step, fault))).filter_map(|(step, fault)| {
        let tell = fault.tell.as_deref()?;
        let fact = procedure.name(fault.without.fact);
        let said = if fault.without.holds { "is not so" } else { "is still so" };
        let drafted = Drafted {
            id: format!("if-{}-{}", step.key, procedure.written(fault.without).replace('!', "not-")),
            lead_in: "Suppose this.".to_owned(),
            ask: format!("You come to “{}”, but “{fact}” {said}. What happens?", step.say.trim_end_matches('.')),
            points: vec![told(tell.to_owned())],
        };
        Some((step, tell, drafted))
    })
}

/// For each valve on which every right setting hangs: what is lost when somebody turns it.
fn of_network(network: &Network) -> Vec<Drafted> {
    let Ok(proof) = piping::prove(network) else { return Vec::new() };
    let Some(setting) = proof.least_open else { return Vec::new() };
    let shut = proof.needed_open.iter().map(|node| (*node, false));
    let opened = proof.needed_shut.iter().map(|node| (*node, true));
    shut.chain(opened)
        .filter(|(node, _)| network.nodes[*node].can_be_turned() && is_told_by_name(network, *node))
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

/// No other node of the network has its name.
fn is_told_by_name(network: &Network, node: usize) -> bool {
    network.nodes.iter().filter(|other| other.name == network.nodes[node].name).count() == 1
}
