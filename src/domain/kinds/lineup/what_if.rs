//! "And if ... now?" of a line-up: what is lost when somebody turns a valve on which every right setting hangs.

use crate::domain::key_point::KeyPoint;
use crate::domain::kinds::kind::WhatIf;
use crate::domain::piping::{self, Network, Want};

/// Those that ask for a demand that was not met, by its name.
pub(super) fn about(network: &Network, missed: &str) -> Vec<WhatIf> {
    let loses = |what_if: &WhatIf| what_if.points.iter().any(|point| point.accept.iter().any(|p| p == missed));
    all(network).into_iter().filter(loses).collect()
}

/// For each valve on which every right setting hangs: what is lost when somebody turns it.
pub(super) fn all(network: &Network) -> Vec<WhatIf> {
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
            let points: Vec<KeyPoint> = lost
                .map(|(demand, _)| {
                    let (say, critical) = match demand.want {
                        Want::Flow(_) => (format!("No more flow: {}", demand.name), false),
                        Want::Never(_) => (format!("No longer kept: {}", demand.name), true),
                    };
                    KeyPoint { say, accept: vec![demand.name.clone()], reject: Vec::new(), critical }
                })
                .collect();
            let (key, name) = (&network.nodes[node].key, &network.nodes[node].name);
            let done = if open { "opens" } else { "shuts" };
            (!points.is_empty()).then(|| WhatIf {
                id: format!("if-{done}-{key}"),
                lead_in: "Suppose this.",
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
