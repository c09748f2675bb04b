//! Two columns side by side that scroll as one, as high as the sheet has room; where there is not enough room for that,
//! two columns in the flow, or one below the other.

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
    /// How high both are where they scroll as one.
    pub height: Option<f32>,
    /// The right one stands below the left one.
    pub stacked: bool,
}

/// One of two columns, or what stands under them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// The left one.
    Left,
    /// The right one.
    Right,
    /// What stands under both.
    Under,
}

fn column(ui: &mut Ui, side: Side, rect: Rect, content: &mut impl FnMut(&mut Ui, Side)) -> f32 {
    let mut child = ui.new_child(UiBuilder::new().id_salt(("column", side as u8)).max_rect(rect));
    child.set_width(rect.width());
    content(&mut child, side);
    child.min_rect().bottom()
}

/// The places of two columns in the flow: the left one so wide, with this gap.
pub fn flowing(ui: &Ui, left: f32, gap: f32) -> Panes {
    panes(ui, left, gap, f32::INFINITY, 0.0)
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

    /// Draws both columns below their heads; lines may hang out by 24 at both sides. They scroll as one or, where there is no
    /// room for that, stand in the flow of the sheet. `content` draws the one that it is told, and the right one first;
    /// what stands under both, over their whole width, comes last. Returns the bottom of all.
    pub fn columns(&self, ui: &mut Ui, (left, right): (Rect, Rect), mut content: impl FnMut(&mut Ui, Side)) -> f32 {
        let under = |bottom: f32| Rect::from_min_max(pos2(left.left(), bottom), pos2(right.right(), f32::INFINITY));
        if self.stacked {
            let first = column(ui, Side::Left, left, &mut content);
            let second = column(ui, Side::Right, right.with_min_y(first + S16), &mut content);
            return column(ui, Side::Under, under(second), &mut content);
        }
        if self.height.is_none() {
            let second = column(ui, Side::Right, right, &mut content);
            let bottom = second.max(column(ui, Side::Left, left, &mut content));
            return column(ui, Side::Under, under(bottom), &mut content);
        }
        let outer = left.union(right).expand2(vec2(S24, 0.0));
        let mut child = ui.new_child(UiBuilder::new().id_salt("columns").max_rect(outer));
        ScrollArea::vertical().id_salt("columns").auto_shrink(false).max_height(outer.height()).show(
            &mut child,
            |ui| {
                let at = ui.cursor().min;
                let place = |of: Rect| {
                    let x = at.x + of.left() - outer.left();
                    Rect::from_min_size(pos2(x, at.y), vec2(of.width(), f32::INFINITY))
                };
                let second = column(ui, Side::Right, place(right), &mut content);
                let bottom = second.max(column(ui, Side::Left, place(left), &mut content));
                let both = place(left.union(right)).with_min_y(bottom);
                let bottom = column(ui, Side::Under, both, &mut content);
                ui.allocate_space(vec2(ui.available_width(), (bottom - at.y).max(0.0)));
            },
        );
        outer.bottom()
    }
}

/// The hairline under what stands over a list.
pub fn list_rule(ui: &mut Ui) {
    let (_, rect) = ui.allocate_space(vec2(ui.available_width(), LINE));
    ui.painter().hline(rect.x_range(), ui.painter().round_to_pixel_center(rect.top()), theme::hairline(ui));
}

/// A child as wide as a column with nothing in it: keeps the flow below the panes.
pub fn end_of_panes(ui: &mut Ui, bottom: f32) {
    let height = bottom - ui.cursor().top();
    ui.allocate_space(vec2(ui.available_width(), height.max(0.0)));
}
