//! The window itself: opens it, runs the program between frames, sleeps while nothing happens.

use std::sync::{Arc, OnceLock};

use eframe::egui::{self, Context, Ui};

use crate::app::program::Program;
use crate::ui::shell::{self, Locals};
use crate::ui::strokes::Strokes;
use crate::ui::theme;

/// Lets background work wake the sleeping window, without knowing of a window.
#[derive(Clone, Default)]
pub struct Wake(Arc<OnceLock<Context>>);

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

    fn fill(&self, ctx: &Context) {
        // A second window of the same process would be woken through the first; there is only one.
        let _ = self.0.set(ctx.clone());
    }
}

/// Opens the window on a program and returns when it is closed. The error says that there is no display, or
/// what the system refused.
pub fn run(program: Box<dyn Program>, wake: &Wake) -> Result<(), String> {
    let icon = eframe::icon_data::from_png_bytes(include_bytes!("../../assets/icon.png")).map_err(|e| e.to_string())?;
    let options = eframe::NativeOptions {
        viewport: egui::ViewportBuilder::default()
            .with_title("Bedplate")
            .with_app_id("bedplate")
            .with_icon(icon)
            .with_inner_size([1280.0, 800.0])
            .with_min_inner_size([1024.0, 640.0]),
        ..eframe::NativeOptions::default()
    };
    let wake = wake.clone();
    let make = move |cc: &eframe::CreationContext<'_>| {
        theme::install(&cc.egui_ctx);
        wake.fill(&cc.egui_ctx);
        let window: Box<dyn eframe::App> = Box::new(Window::new(program));
        Ok(window)
    };
    eframe::run_native("bedplate", options, Box::new(make)).map_err(|e| e.to_string())
}

/// A program in a window. Tests drive it without one.
pub struct Window {
    program: Box<dyn Program>,
    locals: Locals,
    strokes: Strokes,
}

impl Window {
    /// A window on a program.
    pub fn new(program: Box<dyn Program>) -> Self {
        Self { program, locals: Locals::default(), strokes: Strokes::default() }
    }

    /// Before anything else in a pass: mends the names of keys.
    pub fn take_input(&mut self, input: &mut egui::RawInput) {
        self.strokes.mend(&mut input.events);
    }

    /// Lets the program do its chores and follows the learner's choices.
    pub fn before(&mut self, ctx: &Context) {
        if let Some(after) = self.program.tick() {
            ctx.request_repaint_after(after);
        }
        theme::apply(ctx, self.program.theme(), self.program.scale_percent(), self.program.still());
    }

    /// Draws one frame and runs what was asked for.
    pub fn frame(&mut self, ui: &mut Ui) {
        let view = self.program.view();
        let commands = shell::shell_ui(ui, &view, self.program.scale_percent(), &mut self.locals);
        if !commands.is_empty() {
            commands.into_iter().for_each(|c| self.program.command(c));
            ui.ctx().request_repaint();
        }
    }
}

impl eframe::App for Window {
    fn logic(&mut self, ctx: &Context, _frame: &mut eframe::Frame) {
        self.before(ctx);
    }

    fn ui(&mut self, ui: &mut Ui, _frame: &mut eframe::Frame) {
        self.frame(ui);
    }

    fn raw_input_hook(&mut self, _ctx: &Context, input: &mut egui::RawInput) {
        self.take_input(input);
    }

    fn clear_color(&self, visuals: &egui::Visuals) -> [f32; 4] {
        visuals.panel_fill.to_normalized_gamma_f32()
    }
}
