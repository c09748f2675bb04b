//! What the rows of key points have in common: their heights, where their words begin, the head of a list of them.

use eframe::egui::{Align2, Rect, Ui, pos2, vec2};

use crate::present::kinds::recall::PointRow;
use crate::ui::kit::{self, heading, paint};
use crate::ui::theme::measure::{KEY_BOX, LINE, OPTION_ROW, POINT_ROW, S4, S8, S24, S40};
use crate::ui::theme::{self, Cut, Size};

/// Up to so many points have rows of the full height.
const FEW: usize = 4;

/// From a row's left edge to its words, past the number and the mark.
pub(super) const WORDS: f32 = S40 + S24 + S8;

/// How high a row of these points is.
pub(super) fn row_height(points: &[PointRow]) -> f32 {
    if points.len() > FEW { OPTION_ROW } else { POINT_ROW }
}

/// The head of a list of points: its name and a note at the left, at the right what the digits do.
pub(super) fn head_ui(ui: &mut Ui, name: &str, note: &str, keys: Option<(&str, usize)>) {
    let p = theme::palette(ui);
    let row = Rect::from_min_size(ui.cursor().min, vec2(ui.available_width(), S24 + S4));
    if let Some((words, count)) = keys {
        let y = row.center().y;
        let word = |right: f32, text: &str| {
            let at = pos2(right, y);
            paint(ui.painter(), at, Align2::RIGHT_CENTER, text, Size::Label, Cut::Regular, p.ink_second).left()
        };
        let mut right = kit::key_box(ui, pos2(row.right() - KEY_BOX, y), &count.to_string(), p.ink, p.line).left();
        if count > 1 {
            right = word(right - S4, "to") - S4;
            right = kit::key_box(ui, pos2(right - KEY_BOX, y), "1", p.ink, p.line).left();
        }
        word(right - S8, words);
    }
    ui.horizontal(|ui| {
        ui.set_height(S24 + S4);
        heading(ui, name, Size::Label, Cut::Semi);
        ui.add_space(S8);
        kit::label(ui, note, Size::Label, Cut::Regular, p.ink_second);
    });
    let y = ui.painter().round_to_pixel_center(ui.cursor().top());
    ui.painter().hline(row.x_range(), y, theme::hairline(ui));
    ui.add_space(LINE);
}
