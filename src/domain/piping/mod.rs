//! The piping of a line-up: what flows where when its valves stand so. Pure and immutable; nodes, pipes and
//! demands are meant by their position.

mod media;
mod network;

pub use media::{Media, media};
pub use network::{Demand, MOST_DEMANDS, MOST_NODES, MOST_PIPES, Medium, Network, Node, NodeKind, Pipe, Setting, Want};
