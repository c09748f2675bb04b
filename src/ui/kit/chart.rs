//! A chart over days: a line with its band, bars under it, and a cursor that tells the values of one day.

use eframe::egui::{Align2, CornerRadius, Mesh, Rect, Shape, Stroke, Ui, pos2};

use crate::present::plan::{ChancePoint, Tick};
use crate::ui::kit::text::paint;
use crate::ui::theme::measure::{FOCUS, LINE, S4, S8, S12, S16, S24, S40};
use crate::ui::theme::{self, Cut, Size};

/// What a chart shows.
pub struct Chart<'a> {
    /// Days along the axis.
    pub days: u32,
    /// The chance on days, in their order. Empty where there is none: then the bars have the whole height.
    pub band: &'a [ChancePoint],
    /// A bar for each day.
    pub bars: &'a [f64],
    /// A level line among the bars.
    pub level: f64,
    /// Days with their names.
    pub ticks: &'a [Tick],
    /// Over the line, over the bars, at the last day.
    pub names: [&'a str; 3],
    /// The day that the cursor stands on.
    pub cursor: Option<u32>,
}

impl Chart<'_> {
    /// The chance on a day, between the days that are known.
    pub fn on(&self, day: u32) -> Option<ChancePoint> {
        let after = self.band.iter().position(|point| point.in_days >= day)?;
        let to = self.band[after];
        let Some(from) = after.checked_sub(1).filter(|_| to.in_days > day).map(|at| self.band[at]) else {
            return Some(to);
        };
        let share = f64::from(day - from.in_days) / f64::from(to.in_days - from.in_days);
        let between = |a: f64, b: f64| a + (b - a) * share;
        Some(ChancePoint {
            in_days: day,
            low: between(from.low, to.low),
            middle: between(from.middle, to.middle),
            high: between(from.high, to.high),
        })
    }
}

/// Draws the chart.
pub fn chart(ui: &Ui, rect: Rect, chart: &Chart<'_>) {
    let p = theme::palette(ui);
    let painter = ui.painter();
    let name = |at, anchor, text: &str, cut, ink| paint(painter, at, anchor, text, Size::Small, cut, ink);
    let left = rect.left() + S40;
    let right = rect.right() - S4;
    let step = (right - left) / chart.days.max(1) as f32;
    let x_of = |day: f32| left + step * day;
    let low_part = match chart.band.is_empty() {
        true => rect.height() - S40,
        false => (rect.height() * 0.28).max(S40 + S24),
    };
    let upper = Rect::from_min_max(pos2(left, rect.top() + S24), pos2(right, rect.bottom() - low_part - S40));
    let lower = Rect::from_min_max(pos2(left, rect.bottom() - low_part), pos2(right, rect.bottom() - S16));
    let y_of = |share: f64| upper.bottom() - upper.height() * (share.clamp(0.0, 1.0) as f32);
    name(pos2(left, upper.top() - S12), Align2::LEFT_CENTER, chart.names[0], Cut::Regular, p.ink_second);
    for fifth in (0..=5u8).filter(|_| !chart.band.is_empty()) {
        let y = painter.round_to_pixel_center(y_of(f64::from(fifth) / 5.0));
        painter.hline(left..=right, y, theme::hairline(ui));
        name(pos2(left - S8, y), Align2::RIGHT_CENTER, &(u32::from(fifth) * 20).to_string(), Cut::Mono, p.ink_second);
    }
    if !chart.band.is_empty() {
        band(ui, chart, x_of, y_of);
    }
    // Bars.
    name(pos2(left, lower.top() - S12), Align2::LEFT_CENTER, chart.names[1], Cut::Regular, p.ink_second);
    let most = chart.bars.iter().copied().fold(chart.level, f64::max).max(1.0);
    let top = (most / 20.0).ceil() * 20.0;
    let bar_y = |value: f64| lower.bottom() - lower.height() * (value / top) as f32;
    for value in [0.0, top / 2.0, top] {
        let y = painter.round_to_pixel_center(bar_y(value));
        painter.hline(left..=right, y, theme::hairline(ui));
        name(pos2(left - S8, y), Align2::RIGHT_CENTER, &format!("{value:.0}"), Cut::Mono, p.ink_second);
    }
    for (day, value) in (0u32..).zip(chart.bars) {
        let x = x_of(day as f32);
        let bar = Rect::from_min_max(pos2(x + step * 0.12, bar_y(*value)), pos2(x + step * 0.88, lower.bottom()));
        let ink = if day == 0 || chart.cursor == Some(day) { p.ink } else { p.ink_second };
        painter.rect_filled(bar, CornerRadius::ZERO, ink);
    }
    let y = painter.round_to_pixel_center(bar_y(chart.level));
    painter.extend(Shape::dashed_line(&[pos2(left, y), pos2(right, y)], Stroke::new(LINE, p.bronze), S4, S4));
    for tick in chart.ticks {
        let x = painter.round_to_pixel_center(x_of(tick.in_days as f32 + 0.5));
        painter.vline(x, lower.bottom()..=lower.bottom() + S4, theme::line(ui));
        name(pos2(x, lower.bottom() + S12), Align2::CENTER_CENTER, &tick.name, Cut::Mono, p.ink_second);
    }
    // The day itself.
    let x = painter.round_to_pixel_center(right);
    painter.vline(x, rect.top() + S8..=lower.bottom(), Stroke::new(LINE * 1.5, p.bronze));
    name(pos2(x - S8, rect.top() + S12), Align2::RIGHT_CENTER, chart.names[2], Cut::Semi, p.bronze);
    if let Some(day) = chart.cursor {
        let x = painter.round_to_pixel_center(x_of(day as f32 + if day == chart.days { 0.0 } else { 0.5 }));
        painter.vline(x, upper.top().min(lower.top())..=lower.bottom(), Stroke::new(LINE, p.ink));
    }
}

/// The line with its band.
fn band(ui: &Ui, chart: &Chart<'_>, x_of: impl Fn(f32) -> f32, y_of: impl Fn(f64) -> f32) {
    let p = theme::palette(ui);
    let painter = ui.painter();
    let of = |pick: fn(&ChancePoint) -> f64| -> Vec<_> {
        chart.band.iter().map(|point| pos2(x_of(point.in_days as f32), y_of(pick(point)))).collect()
    };
    let (low, middle, high) = (of(|on| on.low), of(|on| on.middle), of(|on| on.high));
    let mut mesh = Mesh::default();
    for (at, (a, b)) in low.iter().zip(&high).enumerate() {
        mesh.colored_vertex(*a, p.raised);
        mesh.colored_vertex(*b, p.raised);
        if at > 0 {
            let n = at as u32 * 2;
            mesh.add_triangle(n - 2, n - 1, n);
            mesh.add_triangle(n - 1, n, n + 1);
        }
    }
    painter.add(Shape::mesh(mesh));
    painter.line(low, Stroke::new(LINE, p.line));
    painter.line(high, Stroke::new(LINE, p.line));
    let ends: Vec<_> = middle.first().into_iter().chain(middle.last()).copied().collect();
    painter.line(middle, Stroke::new(FOCUS, p.ink));
    for end in ends {
        painter.circle_filled(end, S4 - LINE / 2.0, p.ink);
    }
}
