//! Small gauges: time used of time given, marks against their line.

use eframe::egui::{CornerRadius, Rect, Stroke, Ui, pos2};

use crate::ui::theme;
use crate::ui::theme::measure::{LINE, S4, S8};

/// Parts of the axis of a time bar.
const PARTS: usize = 4;

/// Time used, as a bar on an axis with its quarters. What is over turns amber; the word beside it says so.
pub fn time_bar(ui: &Ui, rect: Rect, share: f32) {
    let p = theme::palette(ui);
    let y = ui.painter().round_to_pixel_center(rect.center().y);
    let color = if share > 1.0 { p.amber } else { p.ink_second };
    let bar = Rect::from_min_max(
        pos2(rect.left(), y - S8 + LINE),
        pos2(rect.left() + rect.width() * share.clamp(0.0, 1.0), y),
    );
    ui.painter().rect_filled(bar, CornerRadius::ZERO, color);
    let line = Stroke::new(LINE, p.line);
    ui.painter().hline(rect.x_range(), y, line);
    for part in 0..=PARTS {
        let x = ui.painter().round_to_pixel_center(rect.left() + rect.width() * part as f32 / PARTS as f32);
        ui.painter().vline(x, (y - S4)..=(y + S4), line);
    }
}

/// Marks over time, oldest first, against the line that passes.
pub fn marks(ui: &Ui, rect: Rect, shares: &[f64], line: f64) {
    let p = theme::palette(ui);
    let y_of = |share: f64| rect.bottom() - rect.height() * (share.clamp(0.0, 1.0) as f32);
    let pass = ui.painter().round_to_pixel_center(y_of(line));
    ui.painter().hline(rect.x_range(), pass, Stroke::new(LINE, p.line));
    let step = rect.width() / shares.len().max(2).saturating_sub(1) as f32;
    let points: Vec<_> =
        shares.iter().enumerate().map(|(at, share)| pos2(rect.left() + step * at as f32, y_of(*share))).collect();
    ui.painter().line(points.clone(), Stroke::new(1.5, p.ink_second));
    if let Some(last) = points.last() {
        ui.painter().circle_filled(*last, 3.0, p.ink);
    }
}
