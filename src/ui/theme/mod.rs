//! The only place with colours, type sizes and spacing. A colour is a role, in two themes: Sheet and Night.

mod install;
pub mod measure;
pub mod media;
mod palette;
mod tint;
mod type_;

pub use install::{apply, install};
pub use palette::{NIGHT, Palette, SHEET};
pub use tint::{drawing_tint, night_tint};
pub use type_::{Cut, Size, font, format, line_height, scaled};

use eframe::egui::{Color32, Stroke, Ui};

use crate::present::Tone;

/// The palette of the theme in force.
pub fn palette(ui: &Ui) -> &'static Palette {
    if ui.visuals().dark_mode { &NIGHT } else { &SHEET }
}

/// The colour of a tone.
pub fn tone(ui: &Ui, tone: Tone) -> Color32 {
    let p = palette(ui);
    match tone {
        Tone::Plain => p.ink,
        Tone::Quiet => p.ink_second,
        Tone::Good => p.sea,
        Tone::Weak => p.amber,
        Tone::Bad => p.red_lead,
    }
}

/// A line of 1 px for frames, fields, axes and key boxes.
pub fn line(ui: &Ui) -> Stroke {
    Stroke::new(measure::LINE, palette(ui).line)
}

/// A line of 1 px that only separates.
pub fn hairline(ui: &Ui) -> Stroke {
    Stroke::new(measure::LINE, palette(ui).hairline)
}

/// The ring around what has the keyboard's focus.
pub fn focus_ring(ui: &Ui) -> Stroke {
    Stroke::new(measure::FOCUS, palette(ui).bronze)
}
