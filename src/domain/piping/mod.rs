//! The piping of a line-up: what flows where when its valves stand so. Pure and immutable; nodes, pipes and
//! demands are meant by their position.

mod network;

pub use network::{Demand, MOST_DEMANDS, MOST_NODES, MOST_PIPES, Medium, Network, Node, NodeKind, Pipe, Setting, Want};
