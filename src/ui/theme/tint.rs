//! How a drawing made for the light sheet is coloured at night: light and dark change places, hues stay.

use eframe::egui::{Color32, Ui};

use super::palette::{NIGHT, SHEET};
use crate::present::drawing::Tint;

/// The share of red, green and blue in how light a colour is (ITU-R BT.601, which is made for coded channels as these
/// are).
const LIGHT: [f32; 3] = [0.299, 0.587, 0.114];

/// How a drawing is coloured in the theme in force; none as it was made.
pub fn drawing_tint(ui: &Ui) -> Option<Tint> {
    ui.visuals().dark_mode.then(night_tint)
}

/// Ink becomes the night's ink and the sheet the night's sheet, both exactly; between them lightness runs evenly, and
/// what a colour has more or less of a channel than grey it keeps.
pub fn night_tint() -> Tint {
    let from = [SHEET.ink, SHEET.sheet].map(channels);
    let to = [NIGHT.ink, NIGHT.sheet].map(channels);
    let light = from.map(|color| (0..3).map(|n| LIGHT[n] * color[n]).sum::<f32>());
    let row = |n: usize| {
        // The grey that takes the place of this light, so that ink and sheet come out as they should.
        let grey = [0, 1].map(|which: usize| to[which][n] - (from[which][n] - light[which]));
        let slope = (grey[1] - grey[0]) / (light[1] - light[0]);
        let mut row = LIGHT.map(|share| share * (slope - 1.0));
        row[n] += 1.0;
        [row[0], row[1], row[2], grey[0] - slope * light[0]]
    };
    Tint([row(0), row(1), row(2)])
}

fn channels(color: Color32) -> [f32; 3] {
    [color.r(), color.g(), color.b()].map(f32::from)
}
