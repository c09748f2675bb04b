//! The window: egui draws the program's view and hands back commands.
//!
//! Screens are given a view and return a command; they change nothing but their own drafts and scroll.

pub mod keys;
pub mod kit;
mod rail;
pub mod schematic;
pub mod screens;
pub mod shell;
pub mod strokes;
pub mod theme;
mod window;

pub use shell::Locals;
pub use window::{Wake, Window, run};
