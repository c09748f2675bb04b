//! The schematic of a line-up: what is drawn (`model`), where it goes (`places`, `routes`, `labels`, `layout`), the
//! shapes of its symbols (`symbols`), and the drawing of it (`camera`, `paint`).
//!
//! All but `paint` is pure: from a network and the width of words to points and rectangles.

mod camera;
mod labels;
mod layout;
mod media;
mod model;
mod paint;
mod places;
mod routes;
mod symbols;

pub use camera::{Camera, Sight};
pub use labels::{Label, Side, StateAt};
pub use layout::{Layout, Placed, lay};
pub use media::MediumLabel;
pub use model::{Model, Text};
pub use paint::{Legend, Paint, bare_symbol, laid_out, legend};
pub use routes::{Dir, Leg, Route};
pub use symbols::{Fill, Look, Part, symbol};
