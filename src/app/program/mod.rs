//! The seam between the program and a window: the window asks for the view, hands over commands, and lets
//! the program do its chores between frames. No window toolkit is named here.

pub mod app;
pub mod command;
pub(in crate::app) mod keeping;
pub(in crate::app) mod notices;
mod page;
pub mod route;
mod run;
pub mod setup;
pub(in crate::app) mod timekeeper;

use std::sync::Arc;
use std::time::Duration;

use crate::domain::settings::ThemeChoice;
use crate::present::ShellView;
use command::Command;

/// A program that a window can show.
pub trait Program {
    /// What is to be shown. Asked once a frame, so a program may keep the view until something changes.
    fn view(&mut self) -> Arc<ShellView>;

    /// Runs one command.
    fn command(&mut self, command: Command);

    /// Takes in what background work has reported, before each frame. Returns when it wants to be woken next
    /// (a clock on the screen that moves on), `None` to sleep until an input or a wake.
    fn tick(&mut self) -> Option<Duration>;

    /// Light, dark or as the system.
    fn theme(&self) -> ThemeChoice;

    /// Interface scale in per cent, 80 to 200.
    fn scale_percent(&self) -> u32;

    /// No motion at all.
    fn still(&self) -> bool;
}
