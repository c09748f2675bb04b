//! Line-up: valves to set, against what the network must do.

use super::kind::{CardKind, Facts, Handed, Kind, Marked, Weighed};
use crate::domain::answer::{Given, LinedUp};
use crate::domain::key_point::KeyPoint;
use crate::domain::marking::common::{at_least, in_words, least_for_prompted};
use crate::domain::marking::{AnswerError, DemandMark, Detail, Leak};
use crate::domain::outcome::Outcome;
use crate::domain::piping::{Demand, DemandState, Examined, Network, NodeKind, Setting, Want, examine};

pub(super) const FACTS: Facts = Facts {
    kind: Kind::Lineup,
    word: "line-up",
    answered_with: "`open` and `ways`",
    first_seconds: 90.0,
    oral_seconds: 240.0,
};

impl CardKind for Network {
    fn facts(&self) -> &'static Facts {
        &FACTS
    }

    fn mark(&self, answer: &Handed<'_>) -> Result<Marked, AnswerError> {
        match answer.given {
            Given::LinedUp(set) => mark(self, set, answer.in_time),
            _ => Err(FACTS.wrong_form()),
        }
    }

    fn rule(&self, fluent: &str) -> String {
        let most = least_for_prompted(self.demands.iter().filter(|demand| is_flow(demand)).count());
        let some = most.map_or_else(String::new, |least| format!(" {} of them: Prompted.", at_least(least)));
        format!("Every flow there: Answered{fluent}.{some} Less, or a flow that must not be: Missed.")
    }

    fn expected(&self) -> Vec<KeyPoint> {
        self.demands.iter().map(|demand| KeyPoint::plain(demand.name.clone(), !is_flow(demand))).collect()
    }

    fn weigh(&self, detail: &Detail, _: Outcome) -> Vec<Weighed> {
        let Detail::Lineup { demands, .. } = detail else { return Vec::new() };
        let demands = self.demands.iter().zip(demands);
        demands.map(|(demand, mark)| Weighed::there(&demand.name, mark.met, !is_flow(demand))).collect()
    }

    fn texts(&self) -> Vec<&str> {
        let nodes = self.nodes.iter().map(|node| node.name.as_str());
        nodes.chain(self.demands.iter().map(|demand| demand.name.as_str())).collect()
    }

    fn has_critical(&self) -> bool {
        self.demands.iter().any(|demand| !is_flow(demand))
    }
}

/// Something that must flow; the other demands are what must never be.
fn is_flow(demand: &Demand) -> bool {
    matches!(demand.want, Want::Flow(_))
}

/// Marks a setting.
fn mark(network: &Network, set: &LinedUp, in_time: bool) -> Result<Marked, AnswerError> {
    let setting = network.setting_of(set).map_err(|error| AnswerError { message: error.message })?;
    let examined = examine(network, &setting).map_err(|error| AnswerError { message: error.to_string() })?;
    let keys = |nodes: &[usize]| nodes.iter().map(|node| network.nodes[*node].key.clone()).collect::<Vec<_>>();
    let with_names = || network.demands.iter().zip(&examined.demands);
    let detail = Detail::Lineup {
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
    Ok((outcome(network, &examined, in_time), reason(network, &setting, &examined), detail))
}

/// A broken `never` is missed whatever else is right. Otherwise the evidence is the flows.
fn outcome(network: &Network, examined: &Examined, in_time: bool) -> Outcome {
    if examined.demands.iter().any(|state| state.leak.is_some()) {
        return Outcome::Missed;
    }
    let flows = network.demands.iter().zip(&examined.demands).filter(|(demand, _)| is_flow(demand));
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
