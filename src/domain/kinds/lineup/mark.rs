//! Marks a line-up: the valves as the learner set them, against what the network must do.

use super::told::{DemandMark, Leak, Told};
use crate::domain::answer::LinedUp;
use crate::domain::english::in_words;
use crate::domain::kinds::kind::Marked;
use crate::domain::marking::AnswerError;
use crate::domain::outcome::Outcome;
use crate::domain::piping::{DemandState, Examined, Network, NodeKind, Setting, Want, examine};

/// Marks a setting.
pub(super) fn mark(network: &Network, set: &LinedUp, in_time: bool) -> Result<Marked<Told>, AnswerError> {
    let setting = network.setting_of(set).map_err(|error| AnswerError { message: error.message })?;
    let examined = examine(network, &setting).map_err(|error| AnswerError { message: error.to_string() })?;
    let keys = |nodes: &[usize]| nodes.iter().map(|node| network.nodes[*node].key.clone()).collect::<Vec<_>>();
    let with_names = || network.demands.iter().zip(&examined.demands);
    let told = Told {
        demands: with_names()
            .map(|(demand, state)| DemandMark {
                name: demand.name.clone(),
                met: state.met,
                path: state.path.as_ref().map(|path| keys(&path.nodes)),
                blocked_by: keys(&state.blocked_by),
            })
            .collect(),
        leaks: with_names()
            .filter_map(|(demand, state)| {
                let path = keys(&state.leak.as_ref()?.nodes);
                Some(Leak { name: demand.name.clone(), path })
            })
            .collect(),
    };
    Ok(Marked { outcome: outcome(network, &examined, in_time), reason: reason(network, &setting, &examined), told })
}

/// A broken `never` is missed whatever else is right. Otherwise the evidence is the flows.
fn outcome(network: &Network, examined: &Examined, in_time: bool) -> Outcome {
    if examined.demands.iter().any(|state| state.leak.is_some()) {
        return Outcome::Missed;
    }
    let flows =
        network.demands.iter().zip(&examined.demands).filter(|(demand, _)| matches!(demand.want, Want::Flow(_)));
    let (right, of) = flows.fold((0, 0), |(right, of), (_, state)| (right + usize::from(state.met), of + 1));
    Outcome::from_share(right as f64, f64::from(of), in_time)
}

/// One sentence about the worst thing in the setting: a leak and where it goes, or what stands in the way.
fn reason(network: &Network, setting: &Setting, examined: &Examined) -> String {
    let states = || network.demands.iter().zip(&examined.demands);
    if let Some((demand, path)) = states().find_map(|(demand, state)| Some((demand, state.leak.as_ref()?))) {
        let names: Vec<&str> = path.nodes.iter().map(|node| network.nodes[*node].name.as_str()).collect();
        return format!("“{}” is broken: flow goes {}.", demand.name, way(&names));
    }
    let not_met: Vec<_> = states().filter(|(_, state)| !state.met).collect();
    match not_met.as_slice() {
        [] => match examined.demands.len() {
            1 => "The one demand is met.".to_owned(),
            2 => "Both demands are met.".to_owned(),
            n => format!("All {} demands are met.", in_words(n)),
        },
        [(demand, state), rest @ ..] => {
            let others = match rest.len() {
                0 => String::new(),
                1 => "; one more demand is not met".to_owned(),
                n => format!("; {} more demands are not met", in_words(n)),
            };
            format!("“{}” is not met: {}{others}.", demand.name, hindrance(network, setting, state))
        }
    }
}

/// What stands in the way of a flow, such as `Return valve is shut`.
fn hindrance(network: &Network, setting: &Setting, state: &DemandState) -> String {
    let one = |node: &usize| {
        let it = &network.nodes[*node];
        let how = match (it.kind == NodeKind::ThreeWay, setting.way[*node]) {
            (false, _) => "is shut",
            (true, None) => "is on neither way",
            (true, Some(_)) => "is on the wrong way",
        };
        format!("{} {how}", it.name)
    };
    match state.blocked_by.as_slice() {
        [] => "nothing that can be turned would let it flow".to_owned(),
        [node] => one(node),
        [nodes @ .., last] => {
            format!("{} and {}", nodes.iter().map(one).collect::<Vec<_>>().join(", "), one(last))
        }
    }
}

/// A path in words.
fn way(names: &[&str]) -> String {
    match names {
        [] => "where it should not".to_owned(),
        [one] => format!("from {one} to itself"),
        [first, last] => format!("from {first} straight to {last}"),
        [first, between @ .., last] => format!("from {first} by {} to {last}", between.join(", ")),
    }
}
