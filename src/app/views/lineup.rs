//! A line-up as data to draw: the schematic, what a check found of it in words, a setting that works.

use std::sync::Arc;

use crate::app::sheet::Sheet;
use crate::domain::piping::{
    DemandState, Examined, FloodSort, Network, NodeKind, Setting, TooComplex, Want, examine, media, prove,
};
use crate::present::lineup::{
    DemandView, FloodedPipe, LineupAskedView, LineupCheckedView, RightSetting, SchematicView,
};
use crate::present::watch::ResultView;
use crate::present::words;

/// Before the answer.
pub fn asked(network: &Network) -> LineupAskedView {
    let demands = network.demands.iter().map(|demand| demand.name.clone()).collect();
    LineupAskedView { schematic: Arc::new(schematic(network)), demands }
}

fn schematic(network: &Network) -> SchematicView {
    SchematicView { network: network.clone(), media: media(network), found: network.as_found() }
}

/// The last check, with what the first one comes to.
pub fn checked(network: &Network, sheet: &Sheet, result: ResultView) -> LineupCheckedView {
    // What is marked names only what the network has.
    let set = sheet.lined_up().and_then(|set| network.setting_of(set).ok()).unwrap_or_else(|| network.all_shut());
    let (check, right) = (sheet.lineup.checks.max(1), sheet.lineup.right.clone());
    of_setting(network, set, check, right, result)
}

/// A check of a setting.
pub fn of_setting(
    network: &Network,
    set: Setting,
    check: usize,
    right: Option<RightSetting>,
    result: ResultView,
) -> LineupCheckedView {
    let asked = asked(network);
    // A network that is too entangled was not marked, and comes not this far.
    let examined = examine(network, &set).unwrap_or_default();
    let used: Vec<usize> =
        examined.demands.iter().filter_map(|state| state.path.as_ref()).flat_map(|path| path.nodes.clone()).collect();
    let states = network.demands.iter().zip(&examined.demands);
    let demands = states.map(|(demand, state)| DemandView {
        name: demand.name.clone(),
        met: state.met,
        leaks: !state.met && matches!(demand.want, Want::Never(_)),
        reason: if result.withheld { String::new() } else { reason(&asked.schematic, &set, state, &used) },
    });
    let demands = demands.collect();
    LineupCheckedView { demands, flooded: flooded(&examined), asked, check, set, right, result }
}

/// Why a demand is not met; empty where it is. `used` is what flows that are met go through.
fn reason(view: &SchematicView, set: &Setting, state: &DemandState, used: &[usize]) -> String {
    if state.met {
        return String::new();
    }
    if let Some(leak) = &state.leak {
        let turned: Vec<usize> =
            leak.nodes.iter().copied().filter(|node| view.network.nodes[*node].can_be_turned()).collect();
        // What is open for nothing else is what to look at.
        let needless: Vec<usize> = turned.iter().copied().filter(|node| !used.contains(node)).collect();
        let through = if needless.is_empty() { &turned } else { &needless };
        return match through.iter().map(|node| view.known(*node)).collect::<Vec<_>>().as_slice() {
            [] => "it flows, whatever is turned".to_owned(),
            names => format!("it flows by {}", words::listed(names)),
        };
    }
    let hindrance = |node: &usize| {
        let how = match (view.network.nodes[*node].kind, set.way[*node]) {
            (NodeKind::ThreeWay, None) => "stands to neither way".to_owned(),
            (NodeKind::ThreeWay, Some(_)) => {
                format!("stands {}", view.state(*node, set).unwrap_or_default())
            }
            _ => "is shut".to_owned(),
        };
        format!("{} {how}", view.known(*node))
    };
    let all_shut = |nodes: &[usize]| nodes.iter().all(|node| view.network.nodes[*node].kind != NodeKind::ThreeWay);
    match state.blocked_by.as_slice() {
        [] => "nothing that can be turned would do it".to_owned(),
        nodes if nodes.len() > 1 && all_shut(nodes) => {
            let names: Vec<String> = nodes.iter().map(|node| view.known(*node)).collect();
            format!("{} are shut", words::listed(&names))
        }
        nodes => words::listed(&nodes.iter().map(hindrance).collect::<Vec<_>>()),
    }
}

/// Each flooded pipe once: as soon as any flow comes to it, and as a leak where one goes through it.
fn flooded(examined: &Examined) -> Vec<FloodedPipe> {
    let mut flooded: Vec<FloodedPipe> = Vec::new();
    for flood in examined.floods() {
        let leak = flood.sort == FloodSort::Leak;
        let new = FloodedPipe { pipe: flood.pipe, forward: flood.forward, step: flood.step, leak };
        match flooded.iter_mut().find(|f| f.pipe == flood.pipe) {
            None => flooded.push(new),
            Some(known) if leak && !known.leak => *known = new,
            Some(known) if leak == known.leak && new.step < known.step => *known = new,
            Some(_) => {}
        }
    }
    flooded
}

/// The setting that works with the fewest open.
///
/// # Errors
/// Where the network is too entangled to be judged.
pub fn right_setting(network: &Network) -> Result<RightSetting, TooComplex> {
    let proof = prove(network)?;
    let view = schematic(network);
    let note = match (&proof.least_open, proof.settings) {
        (None, _) => "No setting meets every demand.".to_owned(),
        (Some(_), Some(1)) => "The only one.".to_owned(),
        (Some(_), Some(n)) => format!("One of {}, with the fewest open.", words::figure(n as usize)),
        (Some(_), None) => "With the fewest open.".to_owned(),
    };
    let words = proof.least_open.as_ref().map_or_else(Vec::new, |set| set_words(&view, set));
    let set = proof.least_open.unwrap_or_else(|| network.all_shut());
    Ok(RightSetting { set, words, note })
}

/// A setting in words, a line for each sort of thing.
fn set_words(view: &SchematicView, set: &Setting) -> Vec<String> {
    let network = &view.network;
    let (three_ways, valves): (Vec<usize>, Vec<usize>) =
        network.turnable().into_iter().partition(|node| network.nodes[*node].kind == NodeKind::ThreeWay);
    let (open, shut): (Vec<usize>, Vec<usize>) = valves.into_iter().partition(|node| set.open[*node]);
    let names = |nodes: &[usize]| nodes.iter().map(|node| view.known(*node)).collect::<Vec<_>>().join(", ");
    let stands = |node: &usize| format!("{} {}", view.known(*node), view.state(*node, set).unwrap_or_default());
    let mut words = vec![if open.is_empty() { "Open: nothing".to_owned() } else { format!("Open: {}", names(&open)) }];
    if !three_ways.is_empty() {
        words.push(three_ways.iter().map(stands).collect::<Vec<_>>().join(", "));
    }
    if !shut.is_empty() {
        words.push(format!("Shut: {}", names(&shut)));
    }
    words
}

/// The parts of its remedy, each with label, text and whether it is safety-critical.
pub fn remedy(network: &Network, part: &mut dyn FnMut(String, String, bool)) {
    let of = network.demands.len();
    for (n, demand) in network.demands.iter().enumerate() {
        let never = matches!(demand.want, Want::Never(_));
        part(format!("Demand {} of {of}", n + 1), demand.name.clone(), never);
    }
    let Ok(proof) = prove(network) else { return };
    let view = schematic(network);
    for (label, nodes) in [("Always open", &proof.needed_open), ("Always shut", &proof.needed_shut)] {
        if !nodes.is_empty() {
            let names: Vec<String> = nodes.iter().map(|node| view.known(*node)).collect();
            part(label.to_owned(), words::listed(&names), false);
        }
    }
    if let Some(set) = &proof.least_open {
        part("A setting that works".to_owned(), set_words(&view, set).join(". "), false);
    }
}
