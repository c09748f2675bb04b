//! The piping of a line-up: what flows where when its valves stand so. Pure and immutable; nodes, pipes and
//! demands are meant by their position.
//!
//! [`Network`] is the immutable definition and [`Setting`] the small state; [`examine`] says what a setting does,
//! [`prove`] what holds over all settings, and [`survey`] what its writer should be told; the latter two are worked
//! out on decision diagrams and never by going through them. [`media`] says what is in each pipe. The exact meaning is
//! that of the deck format.

mod arcs;
mod chart;
mod diagram;
mod examine;
mod joined;
mod media;
mod mending;
mod network;
mod order;
mod proof;
mod reach;
mod setting;

pub use examine::{DemandState, Examined, Flood, FloodSort, examine};
pub use media::{Media, media};
pub use network::{Demand, MOST_DEMANDS, MOST_NODES, MOST_PIPES, Medium, Network, Node, NodeKind, Pipe, Setting, Want};
pub use proof::{Findings, MOST_COUNTED, Proof, prove, survey};
pub use reach::{Path, Stretch};
pub use setting::SettingError;

/// A network so entangled that nothing can be said of its settings as a whole.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("this network is too entangled for its settings to be judged: too many valves lie on ways that cross")]
pub struct TooComplex;
