//! Strokes: a key's press and its release bear one name, in whatever order other keys are let go.
//!
//! `?` is Shift and `/`. Who lets go of Shift first sends the press of `?` and the release of `/`: to the toolkit `?` then stays
//! down for ever, and each later press counts as its repetition. The place of the key on the keyboard is the same in both, so
//! the name of the press is kept by it. What the keys do stands in `keys`.

use eframe::egui::{Event, Key};

/// The keys that are held down: where each is on the keyboard, and by which name it was pressed.
#[derive(Debug, Default)]
pub struct Strokes {
    down: Vec<(Key, Key)>,
}

impl Strokes {
    /// Gives releases, and presses repeated by holding a key down, the name of the first press.
    pub fn mend(&mut self, events: &mut [Event]) {
        for event in events {
            match event {
                Event::Key { key, physical_key: Some(place), pressed, .. } => self.stroke(key, *place, *pressed),
                // What is let go while another window has the keyboard is never told.
                Event::WindowFocused(false) => self.down.clear(),
                _ => {}
            }
        }
    }

    fn stroke(&mut self, key: &mut Key, place: Key, pressed: bool) {
        match self.down.iter().position(|(held, _)| *held == place) {
            Some(at) if pressed => *key = self.down[at].1,
            Some(at) => *key = self.down.swap_remove(at).1,
            None if pressed => self.down.push((place, *key)),
            None => {}
        }
    }
}
