//! What a line-up card defines: nodes, pipes and demands; and a setting of what can be turned. Immutable once read.

/// A network may have this many nodes.
pub const MOST_NODES: usize = 200;
/// A network may have this many pipes.
pub const MOST_PIPES: usize = 400;
/// A network may have this many demands.
pub const MOST_DEMANDS: usize = 32;

/// A network of pipes with what it is asked to do.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Network {
    /// In the order of the file, at most [`MOST_NODES`].
    pub nodes: Vec<Node>,
    /// In the order of the file, at most [`MOST_PIPES`].
    pub pipes: Vec<Pipe>,
    /// In the order of the file, at most [`MOST_DEMANDS`].
    pub demands: Vec<Demand>,
}

/// Something that pipes are tied to.
#[derive(Debug, Clone, PartialEq)]
pub struct Node {
    /// Key of the node in the deck.
    pub key: String,
    /// What it is.
    pub kind: NodeKind,
    /// Name of the node for people.
    pub name: String,
    /// Column and row on the grid, where the deck gives them.
    pub at: Option<[i32; 2]>,
    /// What is in it, where the deck says.
    pub medium: Option<Medium>,
    /// As found, for what can be shut: it is open.
    pub open: bool,
    /// Stays as found and cannot be turned.
    pub fixed: bool,
    /// For a three-way valve: the two neighbours that it joins its common pipes with, one at a time.
    pub ways: Option<[usize; 2]>,
}

/// What a node is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum NodeKind {
    /// An end.
    Tank,
    /// An end: where the sea comes in.
    SeaChest,
    /// An end: where the ship discharges.
    Overboard,
    /// An end: a pressure vessel for air.
    Receiver,
    /// Can be shut.
    Valve,
    /// Can be shut, from outside the space too.
    QuickClosing,
    /// Passes one way.
    NonReturn,
    /// Can be shut; open, it passes one way.
    ScrewDownNonReturn,
    /// Joins its common pipes with one of its two ways.
    ThreeWay,
    /// Passes one way.
    Pump,
    /// Passes one way.
    Compressor,
    /// Passes both ways.
    Filter,
    /// Passes both ways.
    Cooler,
    /// Passes both ways.
    Heater,
    /// Passes both ways.
    Engine,
    /// Passes both ways: where pipes meet.
    Junction,
}

/// What is in a pipe: the media of ISO 14726, in words.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Medium {
    /// `sea-water`.
    SeaWater,
    /// `fresh-water`.
    FreshWater,
    /// `fuel-oil`.
    FuelOil,
    /// `lubricating-oil`.
    LubricatingOil,
    /// `hydraulic-oil`.
    HydraulicOil,
    /// `steam`.
    Steam,
    /// `condensate`.
    Condensate,
    /// `air`.
    Air,
    /// `starting-air`.
    StartingAir,
    /// `exhaust-gas`.
    ExhaustGas,
    /// `fire-fighting`.
    FireFighting,
    /// `bilge-water`.
    BilgeWater,
    /// `ballast-water`.
    BallastWater,
    /// `feed-water`.
    FeedWater,
    /// `flammable-gas`.
    FlammableGas,
    /// `refrigerant`.
    Refrigerant,
    /// `inert-gas`.
    InertGas,
    /// `waste`.
    Waste,
}

/// A pipe between two nodes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pipe {
    /// The node it leaves.
    pub from: usize,
    /// The node it comes to. It matters at what passes one way only.
    pub to: usize,
    /// Corners on the grid, from `from` to `to`.
    pub via: Vec<[i32; 2]>,
}

/// Something the line-up must do, or must not.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Demand {
    /// Name of the demand for people.
    pub name: String,
    /// What is wanted.
    pub want: Want,
}

/// What a demand wants.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Want {
    /// Flow through these stops in this order; two or more, the same never twice running. At every one between the
    /// first and the last that is no end, flow comes in by one pipe and goes on by another.
    Flow(Vec<usize>),
    /// No flow from the first to the second.
    Never([usize; 2]),
}

/// How everything that can be turned stands: one entry for each node.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Default)]
pub struct Setting {
    /// Whether the node is open; true for what cannot be shut.
    pub open: Vec<bool>,
    /// For a three-way valve, which of its two ways is joined (0 or 1); none joins nothing.
    pub way: Vec<Option<usize>>,
}

impl NodeKind {
    /// Every kind, in the order of the manual.
    pub const ALL: [NodeKind; 16] = [
        NodeKind::Tank,
        NodeKind::SeaChest,
        NodeKind::Overboard,
        NodeKind::Receiver,
        NodeKind::Valve,
        NodeKind::QuickClosing,
        NodeKind::NonReturn,
        NodeKind::ScrewDownNonReturn,
        NodeKind::ThreeWay,
        NodeKind::Pump,
        NodeKind::Compressor,
        NodeKind::Filter,
        NodeKind::Cooler,
        NodeKind::Heater,
        NodeKind::Engine,
        NodeKind::Junction,
    ];

    /// Word of the kind in deck files.
    pub fn word(self) -> &'static str {
        match self {
            NodeKind::Tank => "tank",
            NodeKind::SeaChest => "sea-chest",
            NodeKind::Overboard => "overboard",
            NodeKind::Receiver => "receiver",
            NodeKind::Valve => "valve",
            NodeKind::QuickClosing => "quick-closing",
            NodeKind::NonReturn => "non-return",
            NodeKind::ScrewDownNonReturn => "screw-down-non-return",
            NodeKind::ThreeWay => "three-way",
            NodeKind::Pump => "pump",
            NodeKind::Compressor => "compressor",
            NodeKind::Filter => "filter",
            NodeKind::Cooler => "cooler",
            NodeKind::Heater => "heater",
            NodeKind::Engine => "engine",
            NodeKind::Junction => "junction",
        }
    }

    /// One of it in words, such as `a sea chest`.
    pub fn one(self) -> &'static str {
        match self {
            NodeKind::Tank => "a tank",
            NodeKind::SeaChest => "a sea chest",
            NodeKind::Overboard => "an overboard discharge",
            NodeKind::Receiver => "a receiver",
            NodeKind::Valve => "a valve",
            NodeKind::QuickClosing => "a quick-closing valve",
            NodeKind::NonReturn => "a non-return valve",
            NodeKind::ScrewDownNonReturn => "a screw-down non-return valve",
            NodeKind::ThreeWay => "a three-way valve",
            NodeKind::Pump => "a pump",
            NodeKind::Compressor => "a compressor",
            NodeKind::Filter => "a filter",
            NodeKind::Cooler => "a cooler",
            NodeKind::Heater => "a heater",
            NodeKind::Engine => "an engine",
            NodeKind::Junction => "a junction",
        }
    }

    /// Flow starts or stops there and never passes through.
    pub fn is_end(self) -> bool {
        matches!(self, NodeKind::Tank | NodeKind::SeaChest | NodeKind::Overboard | NodeKind::Receiver)
    }

    /// Whether it can be shut.
    pub fn can_be_shut(self) -> bool {
        matches!(self, NodeKind::Valve | NodeKind::QuickClosing | NodeKind::ScrewDownNonReturn)
    }

    /// Whether flow passes one way only: in by pipes to it, out by pipes from it.
    pub fn is_one_way(self) -> bool {
        matches!(self, NodeKind::NonReturn | NodeKind::ScrewDownNonReturn | NodeKind::Pump | NodeKind::Compressor)
    }
}

impl Medium {
    /// Every medium, in the order of the manual.
    pub const ALL: [Medium; 18] = [
        Medium::SeaWater,
        Medium::FreshWater,
        Medium::FuelOil,
        Medium::LubricatingOil,
        Medium::HydraulicOil,
        Medium::Steam,
        Medium::Condensate,
        Medium::Air,
        Medium::StartingAir,
        Medium::ExhaustGas,
        Medium::FireFighting,
        Medium::BilgeWater,
        Medium::BallastWater,
        Medium::FeedWater,
        Medium::FlammableGas,
        Medium::Refrigerant,
        Medium::InertGas,
        Medium::Waste,
    ];

    /// Word of the medium in deck files.
    pub fn word(self) -> &'static str {
        match self {
            Medium::SeaWater => "sea-water",
            Medium::FreshWater => "fresh-water",
            Medium::FuelOil => "fuel-oil",
            Medium::LubricatingOil => "lubricating-oil",
            Medium::HydraulicOil => "hydraulic-oil",
            Medium::Steam => "steam",
            Medium::Condensate => "condensate",
            Medium::Air => "air",
            Medium::StartingAir => "starting-air",
            Medium::ExhaustGas => "exhaust-gas",
            Medium::FireFighting => "fire-fighting",
            Medium::BilgeWater => "bilge-water",
            Medium::BallastWater => "ballast-water",
            Medium::FeedWater => "feed-water",
            Medium::FlammableGas => "flammable-gas",
            Medium::Refrigerant => "refrigerant",
            Medium::InertGas => "inert-gas",
            Medium::Waste => "waste",
        }
    }
}

impl Node {
    /// The learner can turn it: a shut-off that is not fixed, or a three-way valve.
    pub fn can_be_turned(&self) -> bool {
        (self.kind.can_be_shut() && !self.fixed) || self.kind == NodeKind::ThreeWay
    }
}

impl Network {
    /// The node of this key.
    pub fn node_of(&self, key: &str) -> Option<usize> {
        self.nodes.iter().position(|node| node.key == key)
    }

    /// As found: shut-offs as the deck says, three-way valves on neither way.
    pub fn as_found(&self) -> Setting {
        Setting {
            open: self.nodes.iter().map(|n| n.open || !n.kind.can_be_shut()).collect(),
            way: vec![None; self.nodes.len()],
        }
    }

    /// What pipes tie to a node, once for each pipe.
    pub fn neighbours(&self, node: usize) -> impl Iterator<Item = usize> {
        let other = move |pipe: &Pipe| match (pipe.from == node, pipe.to == node) {
            (true, _) => Some(pipe.to),
            (false, true) => Some(pipe.from),
            (false, false) => None,
        };
        self.pipes.iter().filter_map(other)
    }

    /// What can be turned, in the order of the file.
    pub fn turnable(&self) -> Vec<usize> {
        (0..self.nodes.len()).filter(|at| self.nodes[*at].can_be_turned()).collect()
    }
}
