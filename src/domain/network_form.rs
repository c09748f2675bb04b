//! The network of a line-up as a form holds it: nodes on a grid, pipes between them, what must flow and what must not.

/// A network in a form.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct NetworkForm {
    /// In the order of the file.
    pub nodes: Vec<NodeForm>,
    /// In the order of the file.
    pub pipes: Vec<PipeForm>,
    /// In the order of the file.
    pub demands: Vec<DemandForm>,
}

/// A column and a row of the grid.
pub type Spot = [i64; 2];

/// A node in a form.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct NodeForm {
    /// Which node of the file it was, from 0; none for a new one.
    pub was: Option<usize>,
    /// Its key, which stays.
    pub key: String,
    /// Its kind, by the word of decks.
    pub kind: String,
    /// For people.
    pub name: String,
    /// Where it stands.
    pub at: Spot,
    /// What is in it, by the word of decks; may be empty.
    pub medium: String,
    /// It is found open.
    pub open: bool,
    /// It cannot be turned.
    pub fixed: bool,
    /// The two neighbours that a three-way valve can be set to.
    pub ways: Vec<String>,
}

/// A pipe in a form.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct PipeForm {
    /// Which pipe of the file it was, from 0; none for a new one.
    pub was: Option<usize>,
    /// Key of the node that it leaves.
    pub from: String,
    /// Key of the node that it comes to.
    pub to: String,
    /// Its corners.
    pub via: Vec<Spot>,
}

/// A demand in a form.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct DemandForm {
    /// Which demand of the file it was, from 0; none for a new one.
    pub was: Option<usize>,
    /// What is wanted, in a few words.
    pub name: String,
    /// It must never flow from the first of two stops to the second.
    pub never: bool,
    /// Keys of nodes in their order.
    pub stops: Vec<String>,
}

impl NetworkForm {
    /// The node at a place.
    pub fn node_at(&self, at: Spot) -> Option<usize> {
        self.nodes.iter().position(|node| node.at == at)
    }

    /// The node of this key.
    pub fn node_of(&self, key: &str) -> Option<&NodeForm> {
        self.nodes.iter().find(|node| node.key == key)
    }

    /// Adds a node of a kind at a place.
    pub fn place(&mut self, kind: &str, name: String, at: Spot) {
        let mut number = 1;
        while self.nodes.iter().any(|node| node.key == format!("{kind}-{number}")) {
            number += 1;
        }
        let key = format!("{kind}-{number}");
        self.nodes.push(NodeForm { key, kind: kind.to_owned(), name, at, ..NodeForm::default() });
    }

    /// Leaves a node out, with the pipes that it had; demands and ways that name it lose it.
    pub fn leave_out(&mut self, at: usize) {
        if at >= self.nodes.len() {
            return;
        }
        let key = self.nodes.remove(at).key;
        self.pipes.retain(|pipe| pipe.from != key && pipe.to != key);
        self.demands.iter_mut().for_each(|demand| demand.stops.retain(|stop| *stop != key));
        self.nodes.iter_mut().for_each(|node| node.ways.retain(|way| *way != key));
    }

    /// As it is written into a file: without spaces around texts, and without demands that say nothing.
    pub fn settled(&self) -> Self {
        let own = |text: &String| text.trim().to_owned();
        let mut network = self.clone();
        for node in &mut network.nodes {
            (node.name, node.kind, node.medium) = (own(&node.name), own(&node.kind), own(&node.medium));
            node.ways = node.ways.iter().map(own).filter(|way| !way.is_empty()).collect();
        }
        for demand in &mut network.demands {
            demand.name = own(&demand.name);
            demand.stops = demand.stops.iter().map(own).filter(|stop| !stop.is_empty()).collect();
        }
        network.demands.retain(|demand| !demand.name.is_empty() || !demand.stops.is_empty());
        network
    }
}
