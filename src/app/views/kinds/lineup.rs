//! A line-up as view data: the schematic, what a check found of it in words, a setting that works.

use std::sync::Arc;

use crate::app::sheet::{AnswerSheet, Marked};
use crate::app::views::kinds::{KindView, Laid, part};
use crate::domain::answer::Given;
use crate::domain::card::Card;
use crate::domain::english;
use crate::domain::kinds::Detail;
use crate::domain::piping::{
    DemandState, Examined, FloodSort, Network, NodeKind, Proof, Setting, Want, examine, prove,
};
use crate::present::kinds::lineup::{
    DemandView, FloodedPipe, LineupAskedView, LineupCheckedView, RightSetting, SchematicView,
};
use crate::present::kinds::{AskedView, MarkedView};
use crate::present::library::{AnswerPoint, AnswerView};
use crate::present::stage::RemedyPart;
use crate::present::words;

impl KindView for Network {
    fn given(&self, given: &Given) -> Option<String> {
        let Given::LinedUp(set) = given else { return None };
        let name = |key: &String| {
            let node = self.nodes.iter().find(|node| node.key == *key);
            node.map_or_else(|| key.clone(), |node| node.name.clone())
        };
        let open: Vec<String> = set.open.iter().map(name).collect();
        let open = if open.is_empty() { "none".to_owned() } else { open.join(", ") };
        let ways: Vec<String> =
            set.ways.iter().map(|(valve, way)| format!("{} to {}", name(valve), name(way))).collect();
        Some(format!("Open: {open}. {}", ways.join(", ")))
    }

    fn can_be_proved(&self) -> bool {
        true
    }

    fn proof(&self, _card: &Card) -> Option<Result<Vec<String>, String>> {
        Some(prove(self).map(|proof| proved(self, &proof)).map_err(|error| error.to_string()))
    }

    fn schematic(&self) -> Option<Arc<SchematicView>> {
        Some(asked(self).schematic)
    }

    fn asked(&self, _laid: Laid<'_>) -> AskedView {
        AskedView::Lineup(asked(self))
    }

    fn marked(&self, laid: Laid<'_>, _marked: &Marked) -> MarkedView {
        let sheet = laid.sheet;
        // What is marked names only what the network has.
        let set = sheet.lined_up().and_then(|set| self.setting_of(set).ok()).unwrap_or_else(|| self.all_shut());
        let (check, right) = (sheet.lineup.checks.max(1), sheet.lineup.right.clone());
        MarkedView::Lineup(checked(self, set, check, right, laid.withheld))
    }

    fn tally(&self, marked: &Marked, _sheet: &AnswerSheet) -> String {
        let Detail::Lineup(told) = &marked.marking.detail else { return String::new() };
        let met = told.demands.iter().filter(|demand| demand.met).count();
        format!("{met} of {} met, ", words::count(told.demands.len(), "demand"))
    }

    fn remedy(&self, _card: &Card, _sheet: Option<&AnswerSheet>) -> Vec<RemedyPart> {
        remedy(self)
    }

    fn answer(&self, _card: &Card) -> AnswerView {
        let point =
            |part: RemedyPart| AnswerPoint { text: format!("{}: {}", part.label, part.text), critical: part.critical };
        AnswerView::Points(remedy(self).into_iter().map(point).collect())
    }
}

/// Before the answer.
pub fn asked(network: &Network) -> LineupAskedView {
    let demands = network.demands.iter().map(|demand| demand.name.clone()).collect();
    LineupAskedView { schematic: Arc::new(SchematicView::of(network)), demands }
}

/// A check of a setting.
pub fn checked(
    network: &Network,
    set: Setting,
    check: usize,
    right: Option<RightSetting>,
    withheld: bool,
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
        reason: if withheld { String::new() } else { reason(&asked.schematic, &set, state, &used) },
    });
    let demands = demands.collect();
    LineupCheckedView { demands, flooded: flooded(&examined), asked, check, set, right }
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
            names => format!("it flows by {}", english::listed(names)),
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
            format!("{} are shut", english::listed(&names))
        }
        nodes => english::listed(&nodes.iter().map(hindrance).collect::<Vec<_>>()),
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

/// What a remedy uncovers of a line-up: its demands, what is always open or shut, a setting that works.
pub fn remedy(network: &Network) -> Vec<RemedyPart> {
    let of = network.demands.len();
    let demands = network.demands.iter().enumerate().map(|(n, demand)| RemedyPart {
        label: format!("Demand {} of {of}", n + 1),
        text: demand.name.clone(),
        critical: matches!(demand.want, Want::Never(_)),
    });
    let mut parts: Vec<RemedyPart> = demands.collect();
    let Ok(proof) = prove(network) else { return parts };
    let view = SchematicView::of(network);
    for (label, nodes) in [("Always open", &proof.needed_open), ("Always shut", &proof.needed_shut)] {
        if !nodes.is_empty() {
            let names: Vec<String> = nodes.iter().map(|node| view.known(*node)).collect();
            parts.push(part(label, english::listed(&names)));
        }
    }
    if let Some(set) = &proof.least_open {
        parts.push(part("A setting that works", view.set_words(set).join(". ")));
    }
    parts
}

/// What is known of a line-up, in sentences.
fn proved(network: &Network, proof: &Proof) -> Vec<String> {
    let names = |nodes: &[usize]| {
        let names: Vec<&str> = nodes.iter().map(|node| network.nodes[*node].name.as_str()).collect();
        names.join(", ")
    };
    let mut lines = vec![match (proof.works, proof.settings) {
        (false, _) => "No setting of the valves meets every demand: nobody can be right.".to_owned(),
        (true, None) => "It works. There are too many valves to count the settings.".to_owned(),
        (true, Some(1)) => "It works. One setting meets every demand.".to_owned(),
        (true, Some(settings)) => format!("It works. {settings} settings meet every demand."),
    }];
    if let Some(least) = &proof.least_open {
        let set = network.given(&Given::LinedUp(network.named_setting(least))).unwrap_or_default();
        lines.push(format!("With the fewest open. {}.", set.trim().trim_end_matches('.')));
    }
    for (what, nodes) in
        [("Open in every right setting", &proof.needed_open), ("Shut in every one", &proof.needed_shut)]
    {
        if !nodes.is_empty() {
            lines.push(format!("{what}: {}.", names(nodes)));
        }
    }
    lines
}
