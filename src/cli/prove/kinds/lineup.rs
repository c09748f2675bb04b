//! Which settings of a line-up's valves work.

use serde::Serialize;

use super::proof::{Proof, Proved, listed};
use crate::cli::say::{labelled, printable};
use crate::domain::answer::LinedUp;
use crate::domain::piping::{self, Network};

impl Proof for Network {
    fn prove(&self) -> Result<Proved, String> {
        let known = lineup(self)?;
        Ok(Proved::of(&known, lineup_text(self, &known)))
    }
}

/// What is known of a line-up. Nodes are meant by key.
#[derive(Debug, Serialize)]
struct ProvedLineup {
    /// Some setting meets every demand.
    works: bool,
    /// How many settings do, in decimal; none beyond 20 nodes that can be turned.
    settings: Option<String>,
    /// One of them with the fewest open, in the form of an answer.
    least_open: Option<LinedUp>,
    /// Valves that stand open in every one of them.
    needed_open: Vec<String>,
    /// Valves that stand shut in every one of them.
    needed_shut: Vec<String>,
}

fn lineup(network: &Network) -> Result<ProvedLineup, String> {
    let proof = piping::prove(network).map_err(|error| error.to_string())?;
    let keys = |nodes: &[usize]| nodes.iter().map(|node| network.nodes[*node].key.clone()).collect::<Vec<_>>();
    Ok(ProvedLineup {
        works: proof.works,
        settings: proof.settings.map(|settings| settings.to_string()),
        least_open: proof.least_open.as_ref().map(|setting| network.named_setting(setting)),
        needed_open: keys(&proof.needed_open),
        needed_shut: keys(&proof.needed_shut),
    })
}

fn lineup_text(network: &Network, proved: &ProvedLineup) -> String {
    let mut lines = Vec::new();
    lines.push(match (&proved.works, proved.settings.as_deref()) {
        (false, _) => "No setting of the valves meets every demand.".to_owned(),
        (true, None) => "It works. There are too many valves to count the settings.".to_owned(),
        (true, Some("1")) => "It works. One setting meets every demand.".to_owned(),
        (true, Some(settings)) => format!("It works. {settings} settings meet every demand."),
    });
    let name = |key: &String| network.node_of(key).map_or("", |node| network.nodes[node].name.as_str());
    if let Some(least) = &proved.least_open {
        lines.push("One with the fewest open:".to_owned());
        let open = least.open.iter().map(|key| (key, "open".to_owned()));
        let ways = least.ways.iter().map(|(key, way)| (key, format!("to {}", name(way))));
        let set: Vec<String> = open
            .chain(ways)
            .map(|(key, how)| labelled("  ", &format!("{}: {}, {how}", printable(key), name(key)), 4))
            .collect();
        if set.is_empty() {
            lines.push("  everything shut".to_owned());
        }
        lines.extend(set);
    }
    if proved.works {
        lines.push(labelled("Always open:", &listed(&proved.needed_open), 14));
        lines.push(labelled("Always shut:", &listed(&proved.needed_shut), 14));
    }
    lines.join("\n") + "\n"
}
