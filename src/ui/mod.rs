//! The window: egui draws the program's view and hands back commands.
//!
//! Screens are given a view and return a command; they change nothing but their own drafts and scroll.

use std::sync::{Arc, OnceLock};

pub use crate::app::program::Program;

/// Lets background work wake the sleeping window, without knowing of a window.
#[derive(Clone, Default)]
pub struct Wake(Arc<OnceLock<eframe::egui::Context>>);

impl Wake {
    /// A callback for a background thread: asks the window, once it is open, to draw again.
    pub fn callback(&self) -> Arc<dyn Fn() + Send + Sync> {
        let slot = Arc::clone(&self.0);
        Arc::new(move || {
            if let Some(ctx) = slot.get() {
                ctx.request_repaint();
            }
        })
    }
}
