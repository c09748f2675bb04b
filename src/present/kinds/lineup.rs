//! A line-up as data to draw: the schematic, before and after the check.
//!
//! Everything that a face says of it stands here in words, so that the window and the terminal say the same.

use std::sync::Arc;

use crate::domain::answer::LinedUp;
use crate::domain::piping::{Media, Medium, Network, NodeKind, Proof, Setting, media};
use crate::present::words;

/// The schematic: what there is, how it is found, what is in it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SchematicView {
    /// Nodes and pipes.
    pub network: Network,
    /// What is in them.
    pub media: Media,
    /// How everything stands as found.
    pub found: Setting,
}

/// What is shown while a card of this kind is asked.
pub type Asked = LineupAskedView;

/// What is shown of a card of this kind once it is marked.
pub type Marked = LineupCheckedView;

/// A line-up that is asked.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LineupAskedView {
    /// What is drawn.
    pub schematic: Arc<SchematicView>,
    /// What the line-up must do and must not do, by name.
    pub demands: Vec<String>,
}

/// A line-up that was checked.
#[derive(Debug, Clone, PartialEq)]
pub struct LineupCheckedView {
    /// As it is asked: for mending it.
    pub asked: LineupAskedView,
    /// Which check it is, from 1. The first one counts.
    pub check: usize,
    /// How the learner had set it for this check.
    pub set: Setting,
    /// What this check found of each demand, in order.
    pub demands: Vec<DemandView>,
    /// What is flooded, each pipe at most once.
    pub flooded: Vec<FloodedPipe>,
    /// A setting that works, once it was asked for.
    pub right: Option<RightSetting>,
}

/// What a check found of a demand.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DemandView {
    /// Name of the demand.
    pub name: String,
    /// Whether the demand is met.
    pub met: bool,
    /// Whether something flows that must not.
    pub leaks: bool,
    /// Why it is not met: `the return valve is shut`; empty where it is met.
    pub reason: String,
}

/// A pipe that the check floods.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FloodedPipe {
    /// The pipe, by its position.
    pub pipe: usize,
    /// Whether the flow is from `from` to `to`.
    pub forward: bool,
    /// How many pipes from where the flow starts, from 0.
    pub step: usize,
    /// Whether the pipe is part of a flow that must not be.
    pub leak: bool,
}

/// A setting that works.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RightSetting {
    /// How everything stands in it.
    pub set: Setting,
    /// What is open in it and where three-way valves stand, in words.
    pub words: Vec<String>,
    /// How many others there are: `One of 12 that work, with the fewest open.`
    pub note: String,
}

/// The word for a kind of node.
pub fn kind_word(kind: NodeKind) -> &'static str {
    match kind {
        NodeKind::Tank => "tank",
        NodeKind::SeaChest => "sea chest",
        NodeKind::Overboard => "overboard discharge",
        NodeKind::Receiver => "receiver",
        NodeKind::Valve => "valve",
        NodeKind::QuickClosing => "quick-closing valve",
        NodeKind::NonReturn => "non-return valve",
        NodeKind::ScrewDownNonReturn => "screw-down non-return valve",
        NodeKind::ThreeWay => "three-way valve",
        NodeKind::Pump => "pump",
        NodeKind::Compressor => "compressor",
        NodeKind::Filter => "filter",
        NodeKind::Cooler => "cooler",
        NodeKind::Heater => "heater",
        NodeKind::Engine => "engine",
        NodeKind::Junction => "junction",
    }
}

/// A medium's name as it stands on its pipes.
pub fn medium_name(medium: Medium) -> &'static str {
    match medium {
        Medium::SeaWater => "Sea water",
        Medium::FreshWater => "Fresh water",
        Medium::FuelOil => "Fuel oil",
        Medium::LubricatingOil => "Lubricating oil",
        Medium::HydraulicOil => "Hydraulic oil",
        Medium::Steam => "Steam",
        Medium::Condensate => "Condensate",
        Medium::Air => "Compressed air",
        Medium::StartingAir => "Starting air",
        Medium::ExhaustGas => "Exhaust gas",
        Medium::FireFighting => "Fire main",
        Medium::BilgeWater => "Bilge water",
        Medium::BallastWater => "Ballast water",
        Medium::FeedWater => "Feed water",
        Medium::FlammableGas => "Flammable gas",
        Medium::Refrigerant => "Refrigerant",
        Medium::InertGas => "Inert gas",
        Medium::Waste => "Waste",
    }
}

impl SchematicView {
    /// A network as it is drawn, with what is in its pipes.
    pub fn of(network: &Network) -> Self {
        Self { network: network.clone(), media: media(network), found: network.as_found() }
    }

    /// A setting in words, a line for each sort of thing: what is open, where three-way valves stand, what is shut.
    pub fn set_words(&self, set: &Setting) -> Vec<String> {
        let network = &self.network;
        let (three_ways, valves): (Vec<usize>, Vec<usize>) =
            network.turnable().into_iter().partition(|node| network.nodes[*node].kind == NodeKind::ThreeWay);
        let (open, shut): (Vec<usize>, Vec<usize>) = valves.into_iter().partition(|node| set.open[*node]);
        let names = |nodes: &[usize]| nodes.iter().map(|node| self.known(*node)).collect::<Vec<_>>().join(", ");
        let stands = |node: &usize| format!("{} {}", self.known(*node), self.state(*node, set).unwrap_or_default());
        let open = if open.is_empty() { "Open: nothing".to_owned() } else { format!("Open: {}", names(&open)) };
        let mut words = vec![open];
        if !three_ways.is_empty() {
            words.push(three_ways.iter().map(stands).collect::<Vec<_>>().join(", "));
        }
        if !shut.is_empty() {
            words.push(format!("Shut: {}", names(&shut)));
        }
        words
    }

    /// The word for how a node stands: `open`, `shut`, `open, fixed`, `to Cooler`. None for what has no such state.
    pub fn state(&self, node: usize, set: &Setting) -> Option<String> {
        let of = self.network.nodes.get(node)?;
        if of.kind == NodeKind::ThreeWay {
            return Some(match (set.way.get(node).copied().flatten(), of.ways) {
                (Some(way), Some(ways)) => format!("to {}", self.name(*ways.get(way)?)),
                _ => "to neither way".to_owned(),
            });
        }
        if !of.kind.can_be_shut() {
            return None;
        }
        let word = if set.open.get(node).copied().unwrap_or(false) { "open" } else { "shut" };
        Some(if of.fixed { format!("{word}, fixed") } else { word.to_owned() })
    }

    /// Every state that a node may be shown in.
    pub fn states(&self, node: usize) -> Vec<String> {
        let mut set = self.found.clone();
        let mut states = Vec::new();
        let turned = self.network.nodes.get(node).is_some_and(crate::domain::piping::Node::can_be_turned);
        // As found, and after each turn: both of a valve, both ways of a three-way valve.
        for _ in 0..3 {
            states.extend(self.state(node, &set).filter(|s| !states.contains(s)));
            if turned {
                self.turn(node, &mut set);
            }
        }
        states
    }

    /// Turns what can be turned: open or shut; from one way to the other.
    pub fn turn(&self, node: usize, set: &mut Setting) {
        let Some(of) = self.network.nodes.get(node).filter(|n| n.can_be_turned()) else { return };
        if of.kind == NodeKind::ThreeWay {
            if let (Some(way), Some(_)) = (set.way.get_mut(node), of.ways) {
                *way = Some(way.map_or(0, |at| 1 - at.min(1)));
            }
        } else if let Some(open) = set.open.get_mut(node) {
            *open = !*open;
        }
    }

    /// A node's name; its kind where it has none.
    pub fn name(&self, node: usize) -> &str {
        match self.network.nodes.get(node) {
            Some(of) if of.name.trim().is_empty() => kind_word(of.kind),
            Some(of) => of.name.trim(),
            None => "",
        }
    }

    /// A node in words: `Return valve, shut`; what cannot be turned with its kind: `Supply pump, pump`.
    pub fn said(&self, node: usize, set: &Setting) -> String {
        let Some(of) = self.network.nodes.get(node) else { return String::new() };
        let (name, kind) = (self.name(node), kind_word(of.kind));
        let mut said = self.known(node);
        if !name.to_lowercase().ends_with(kind) && !of.can_be_turned() {
            said += &format!(", {kind}");
        }
        if let Some(state) = self.state(node, set) {
            said += &format!(", {state}");
        }
        if of.fixed && of.kind.can_be_shut() {
            said += " as found";
        }
        said
    }

    /// What a node is joined with: `From Service tank. To Supply pump, Drain.`
    pub fn joined(&self, node: usize) -> String {
        let names = |of: &dyn Fn(&crate::domain::piping::Pipe) -> Option<usize>| {
            let all: Vec<&str> = self.network.pipes.iter().filter_map(of).map(|n| self.name(n)).collect();
            all.join(", ")
        };
        let from = names(&|pipe| (pipe.to == node).then_some(pipe.from));
        let to = names(&|pipe| (pipe.from == node).then_some(pipe.to));
        [("From", from), ("To", to)]
            .into_iter()
            .filter(|(_, all)| !all.is_empty())
            .map(|(word, all)| format!("{word} {all}."))
            .collect::<Vec<_>>()
            .join(" ")
    }

    /// A node's name, told apart from others of the same name by what it is joined with.
    pub fn known(&self, node: usize) -> String {
        let name = self.name(node);
        let alike = (0..self.network.nodes.len()).filter(|other| self.name(*other) == name).count();
        let before = self.network.pipes.iter().find(|pipe| pipe.to == node).map(|pipe| self.name(pipe.from));
        let after = self.network.pipes.iter().find(|pipe| pipe.from == node).map(|pipe| self.name(pipe.to));
        match (alike, before, after) {
            (0 | 1, ..) | (_, None, None) => name.to_owned(),
            (_, Some(before), _) => format!("{name} (after {before})"),
            (_, None, Some(after)) => format!("{name} (before {after})"),
        }
    }

    /// What a setting is as an answer: everything that can be turned and stands open, and the ways.
    pub fn answer(&self, set: &Setting) -> LinedUp {
        self.network.named_setting(set)
    }
}

impl RightSetting {
    /// The setting that works with the fewest open, as a network's proof has it.
    pub fn of(network: &Network, proof: Proof) -> Self {
        let view = SchematicView::of(network);
        let note = match (&proof.least_open, proof.settings) {
            (None, _) => "No setting meets every demand.".to_owned(),
            (Some(_), Some(1)) => "The only one.".to_owned(),
            (Some(_), Some(n)) => format!("One of {}, with the fewest open.", words::figure(n as usize)),
            (Some(_), None) => "With the fewest open.".to_owned(),
        };
        let words = proof.least_open.as_ref().map_or_else(Vec::new, |set| view.set_words(set));
        let set = proof.least_open.unwrap_or_else(|| network.all_shut());
        Self { set, words, note }
    }
}

impl LineupCheckedView {
    /// Whether every demand is met.
    pub fn works(&self) -> bool {
        self.demands.iter().all(|demand| demand.met)
    }

    /// How many steps the flooding takes.
    pub fn steps(&self) -> usize {
        self.flooded.iter().map(|f| f.step + 1).max().unwrap_or(0)
    }
}
