//! Small gauges: time used of time given, marks against their line.

use eframe::egui::{Align2, CornerRadius, Rect, Stroke, Ui, pos2, vec2};

use crate::domain::readiness::Bin;
use crate::ui::kit::text::paint;
use crate::ui::theme::measure::{LINE, S4, S8, S12, S16, S24, S40};
use crate::ui::theme::{self, Cut, Size};

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

/// Recall over weeks as a small line; a week before anything was met is a gap.
pub fn trend(ui: &Ui, rect: Rect, shares: &[Option<f64>]) {
    let p = theme::palette(ui);
    ui.painter().hline(rect.x_range(), ui.painter().round_to_pixel_center(rect.bottom()), theme::hairline(ui));
    let step = rect.width() / shares.len().max(2).saturating_sub(1) as f32;
    let points: Vec<_> = shares
        .iter()
        .enumerate()
        .filter_map(|(at, share)| {
            let share = (*share)?.clamp(0.0, 1.0) as f32;
            Some(pos2(rect.left() + step * at as f32, rect.bottom() - rect.height() * share))
        })
        .collect();
    if points.len() > 1 {
        ui.painter().line(points.clone(), Stroke::new(1.5, p.ink_second));
    }
    if let Some(last) = points.last() {
        ui.painter().circle_filled(*last, 2.5, p.ink);
    }
}

/// Forecasts against what came: the diagonal is a perfect forecaster, a dot each bin with its count.
pub fn reliability(ui: &Ui, rect: Rect, bins: &[Bin]) {
    let p = theme::palette(ui);
    let painter = ui.painter();
    let inner = Rect::from_min_max(rect.min + vec2(S40, S8), rect.max - vec2(S8, S24 + S16));
    let at = |forecast: f64, share: f64| {
        pos2(
            inner.left() + inner.width() * forecast.clamp(0.0, 1.0) as f32,
            inner.bottom() - inner.height() * share.clamp(0.0, 1.0) as f32,
        )
    };
    for fifth in 0..=5u8 {
        let share = f64::from(fifth) / 5.0;
        let (x, y) = (at(share, 0.0).x, at(0.0, share).y);
        painter.hline(inner.x_range(), painter.round_to_pixel_center(y), theme::hairline(ui));
        painter.vline(painter.round_to_pixel_center(x), inner.y_range(), theme::hairline(ui));
        let word = (u32::from(fifth) * 20).to_string();
        let ink = p.ink_second;
        paint(painter, pos2(inner.left() - S8, y), Align2::RIGHT_CENTER, &word, Size::Small, Cut::Mono, ink);
        paint(painter, pos2(x, inner.bottom() + S12), Align2::CENTER_CENTER, &word, Size::Small, Cut::Mono, ink);
    }
    let ink = p.ink_second;
    let under = pos2(inner.center().x, inner.bottom() + S24 + S8);
    paint(painter, under, Align2::CENTER_CENTER, "predicted, per cent", Size::Small, Cut::Regular, ink);
    painter.line_segment([at(0.0, 0.0), at(1.0, 1.0)], Stroke::new(LINE, p.line));
    let points: Vec<_> = bins.iter().map(|bin| at(bin.forecast, bin.share)).collect();
    painter.line(points.clone(), Stroke::new(1.5, p.bronze));
    for (point, bin) in points.iter().zip(bins) {
        painter.circle_filled(*point, S4, p.bronze);
        let right = point.x > inner.center().x;
        let (place, anchor) = if right {
            (*point + vec2(-S8, -S8), Align2::RIGHT_BOTTOM)
        } else {
            (*point + vec2(S8, S8), Align2::LEFT_TOP)
        };
        paint(painter, place, anchor, &bin.count.to_string(), Size::Small, Cut::Mono, p.ink);
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
