//! An expression as a tree, in a list of nodes.

use std::ops::Range;

use super::functions::Function;
use crate::domain::quantity::Unit;

/// A node's place in the list.
pub(super) type NodeId = usize;

/// A node with its place in the text, in bytes.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Node {
    pub(super) part: Part,
    pub(super) span: Range<usize>,
}

/// What a node is.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Part {
    Number(f64),
    Quantity(f64, Unit),
    Name(String),
    Negate(NodeId),
    Add(NodeId, NodeId),
    Subtract(NodeId, NodeId),
    Multiply(NodeId, NodeId),
    Divide(NodeId, NodeId),
    Power(NodeId, NodeId),
    Call(Function, Vec<NodeId>),
}

/// The whole.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Tree {
    pub(super) nodes: Vec<Node>,
    pub(super) root: NodeId,
}

impl Tree {
    pub(super) fn node(&self, id: NodeId) -> &Node {
        &self.nodes[id]
    }
}
