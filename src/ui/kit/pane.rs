//! Two columns side by side that scroll each on its own, as high as the sheet has room; where there is not enough
//! room for that, two columns in the flow, or one below the other.

use eframe::egui::{Rect, ScrollArea, Ui, UiBuilder, pos2, vec2};

use crate::ui::kit::sheet::{Room, room};
use crate::ui::theme;
use crate::ui::theme::measure::{LINE, PANE_LEAST, S16, S24};

/// The places of two columns.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Panes {
    /// The left one.
    pub left: Rect,
    /// The right one.
    pub right: Rect,
    /// How high both are where each scrolls on its own.
    pub height: Option<f32>,
    /// The right one stands below the left one.
    pub stacked: bool,
}

/// The places of two columns below the cursor: the left one so wide, with this gap, leaving so much free below.
/// `used` is what the content has used above, from the top of what scrolls.
pub fn panes(ui: &Ui, left: f32, gap: f32, below: f32, used: f32) -> Panes {
    let top = ui.cursor().top();
    let area = Rect::from_min_size(ui.cursor().min, vec2(ui.available_width(), f32::INFINITY));
    if room(ui.ctx()) == Room::Tiny {
        return Panes { left: area, right: area, height: None, stacked: true };
    }
    let free = ui.clip_rect().height() - used - below;
    let height = (free >= PANE_LEAST).then_some(free.floor());
    let bottom = height.map_or(f32::INFINITY, |h| top + h);
    let first = Rect::from_min_max(area.min, pos2(area.left() + left, bottom));
    let second = Rect::from_min_max(pos2(first.right() + gap, top), pos2(area.right(), bottom));
    Panes { left: first, right: second, height, stacked: false }
}

impl Panes {
    /// Draws what stands over a column and does not scroll with it; returns the place of the column below it.
    pub fn head(&self, ui: &mut Ui, name: &str, rect: Rect, content: impl FnOnce(&mut Ui)) -> Rect {
        let mut child = ui.new_child(UiBuilder::new().id_salt((name, "head")).max_rect(rect));
        content(&mut child);
        rect.with_min_y(child.min_rect().bottom())
    }

    /// Draws one column; lines may hang out by 24 at both sides. Returns what it returned and its bottom.
    pub fn column<R>(&self, ui: &mut Ui, name: &str, rect: Rect, content: impl FnOnce(&mut Ui) -> R) -> (R, f32) {
        let inner = |ui: &mut Ui| {
            ui.horizontal_top(|ui| {
                ui.add_space(S24);
                ui.vertical(|ui| {
                    ui.set_width(rect.width());
                    content(ui)
                })
                .inner
            })
            .inner
        };
        let outer = rect.expand2(vec2(S24, 0.0));
        let mut child = ui.new_child(UiBuilder::new().id_salt(name).max_rect(outer));
        if self.height.is_some() {
            let area = ScrollArea::vertical().id_salt(name).auto_shrink(false).max_height(rect.height());
            let out = area.show(&mut child, inner);
            (out.inner, rect.bottom())
        } else {
            let inner = inner(&mut child);
            (inner, child.min_rect().bottom())
        }
    }

    /// Where the second column stands once the first has ended.
    pub fn second(&self, rect: Rect, first_bottom: f32) -> Rect {
        if self.stacked { rect.with_min_y(first_bottom + S16) } else { rect }
    }
}

/// The hairline under what stands over a list.
pub fn list_rule(ui: &mut Ui) {
    let (_, rect) = ui.allocate_space(vec2(ui.available_width(), LINE));
    ui.painter().hline(rect.x_range(), ui.painter().round_to_pixel_center(rect.top()), theme::hairline(ui));
}
