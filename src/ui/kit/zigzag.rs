//! Where a procedure fails, the sheet breaks: the zig-zag line of a shortened view on a drawing.

use eframe::egui::{Painter, Rangef, Shape, Stroke, pos2};

use crate::ui::theme::measure::LINE;

/// Half of the height of a zig-zag.
pub const ZIGZAG: f32 = 8.0;
const WIDTH: f32 = 24.0;
const APART: f32 = 36.0;

/// A line over this width with two zig-zags about its middle.
pub fn break_line(painter: &Painter, x: Rangef, y: f32, color: eframe::egui::Color32) {
    let y = painter.round_to_pixel_center(y);
    let mut points = vec![pos2(x.min, y)];
    for left in [x.center() - APART - WIDTH, x.center() + APART] {
        points.extend([
            pos2(left, y),
            pos2(left + WIDTH / 4.0, y - ZIGZAG),
            pos2(left + WIDTH * 0.75, y + ZIGZAG),
            pos2(left + WIDTH, y),
        ]);
    }
    points.push(pos2(x.max, y));
    painter.add(Shape::line(points, Stroke::new(LINE * 1.25, color)));
}
