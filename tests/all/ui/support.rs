//! The window without a window: a harness on a program, pressed by keys and by accessible names.

use std::cell::{Cell, RefCell};
use std::rc::Rc;
use std::time::Duration;

use bedplate::app::program::Program;
use bedplate::app::program::command::Command;
use bedplate::ui::{Window, theme};
use eframe::egui::{self, Event, Key, Modifiers, Vec2};
use egui_kittest::Harness;

/// The sizes that must work, in points: as designed, the least window, and the least window at 200 %.
pub const SIZES: [Vec2; 3] = [Vec2::new(1280.0, 800.0), Vec2::new(1024.0, 640.0), Vec2::new(512.0, 320.0)];

/// A harness and the commands that were given.
pub struct Bench {
    /// The window.
    pub harness: Harness<'static>,
    log: Rc<RefCell<Vec<Command>>>,
    /// When the program last wanted to be woken, where it says so.
    pub wanted: Rc<Cell<Option<Duration>>>,
}

impl Bench {
    /// Any program, with the log of the commands it was given; each frame takes so many seconds of its clock.
    pub fn driving(program: Box<dyn Program>, log: Rc<RefCell<Vec<Command>>>, size: Vec2, frame_seconds: f32) -> Self {
        let mut window = Window::new(program);
        let mut begun = false;
        let harness = Harness::builder().with_size(size).with_step_dt(frame_seconds).build_ui(move |ui| {
            if !begun {
                theme::install(ui.ctx());
                begun = true;
                return;
            }
            window.before(ui.ctx());
            window.frame(ui);
        });
        let mut bench = Self { harness, log, wanted: Rc::default() };
        if frame_seconds < 0.1 {
            // Something plays: nothing is awaited.
            bench.harness.run_steps(2);
        } else {
            bench.harness.run();
        }
        bench
    }

    /// Presses a key.
    pub fn key(&mut self, key: Key) -> &mut Self {
        self.key_with(Modifiers::NONE, key)
    }

    /// Presses a key with others held. A letter also arrives as text, as from a real keyboard.
    pub fn key_with(&mut self, modifiers: Modifiers, key: Key) -> &mut Self {
        let event = |pressed| Event::Key { key, physical_key: None, pressed, repeat: false, modifiers };
        self.harness.event_modifiers(event(true), modifiers);
        if let Some(text) = text_of(key)
            && !modifiers.command
        {
            self.harness.event(Event::Text(text));
        }
        self.harness.event_modifiers(event(false), modifiers);
        self.harness.run();
        self
    }

    /// Types text into whatever has the focus.
    pub fn text(&mut self, text: &str) -> &mut Self {
        self.harness.event(Event::Text(text.to_owned()));
        self.harness.run();
        self
    }

    /// The commands given since the last call.
    pub fn commands(&self) -> Vec<Command> {
        self.log.borrow_mut().drain(..).collect()
    }

    /// Everything that is painted as text, in the order painted.
    pub fn painted(&self) -> Vec<(egui::Rect, egui::Rect, String)> {
        let mut out = Vec::new();
        for clipped in &self.harness.output().shapes {
            collect(&clipped.shape, clipped.clip_rect, &mut out);
        }
        out
    }

    /// Whether some painted text holds these words.
    pub fn shows(&self, words: &str) -> bool {
        self.painted().iter().any(|(_, _, text)| text.contains(words))
    }
}

fn collect(shape: &egui::Shape, clip: egui::Rect, out: &mut Vec<(egui::Rect, egui::Rect, String)>) {
    match shape {
        egui::Shape::Vec(shapes) => shapes.iter().for_each(|s| collect(s, clip, out)),
        egui::Shape::Text(text) if !text.galley.text().trim().is_empty() => {
            let rect = text.galley.rect.translate(text.pos.to_vec2());
            out.push((rect, clip, text.galley.text().to_owned()));
        }
        _ => {}
    }
}

fn text_of(key: Key) -> Option<String> {
    let name = key.symbol_or_name();
    let single = name.chars().count() == 1;
    match key {
        Key::Space => Some(" ".to_owned()),
        Key::ArrowUp | Key::ArrowDown | Key::ArrowLeft | Key::ArrowRight | Key::Backspace | Key::Enter => None,
        _ if single => Some(name.to_lowercase()),
        _ => None,
    }
}
