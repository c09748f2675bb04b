//! The left rail: where one can go, and at its foot the learner, ship's time and the oral.

use eframe::egui::{Align2, CursorIcon, Rect, Sense, Ui, UiBuilder, WidgetInfo, WidgetType, accesskit, pos2, vec2};

use crate::app::program::command::Command;
use crate::app::program::route::Route;
use crate::present::Place;
use crate::present::shell::RailView;
use crate::ui::keys::{self, Held};
use crate::ui::kit::{self, Icon, Room, paint, paint_in};
use crate::ui::theme::measure::{ITEM, LINE, MARK, RAIL, RAIL_FOLDED, S4, S8, S12, S16, S24, S40};
use crate::ui::theme::{self, Cut, Size};

const UPPER: [(Place, &str, Icon); 7] = [
    (Place::Watch, "Watch", Icon::Watch),
    (Place::Oral, "Oral", Icon::Oral),
    (Place::Competence, "Competence", Icon::Competence),
    (Place::Plan, "Plan", Icon::Plan),
    (Place::Library, "Library", Icon::Library),
    (Place::Class, "Class", Icon::Class),
    (Place::Worksheet, "Worksheet", Icon::Worksheet),
];
const LOWER: [(Place, &str, Icon); 2] =
    [(Place::Settings, "Settings", Icon::Settings), (Place::About, "About", Icon::About)];

fn route(place: Place) -> Route {
    match place {
        Place::Watch => Route::Watch,
        Place::Oral => Route::Oral,
        Place::Competence => Route::Competence,
        Place::Plan => Route::Plan,
        Place::Library => Route::Library,
        Place::Class => Route::Class(0),
        Place::Worksheet => Route::Worksheet,
        Place::Settings => Route::Settings,
        Place::About => Route::About,
        Place::Profiles => Route::Profiles,
    }
}

/// The rail's width in this room.
pub(super) fn width(room: Room) -> f32 {
    if room == Room::Full { RAIL } else { RAIL_FOLDED }
}

/// Draws the rail in its rectangle.
pub(super) fn rail_ui(ui: &mut Ui, rect: Rect, view: &RailView) -> Option<Command> {
    let mut child = ui.new_child(UiBuilder::new().id_salt("rail").max_rect(rect).accessibility_parent(ui.unique_id()));
    let ui = &mut child;
    let p = theme::palette(ui);
    let folded = rect.width() < RAIL;
    let edge = ui.painter().round_to_pixel_center(rect.right() - LINE);
    ui.painter().vline(edge, rect.y_range(), theme::hairline(ui));
    let low = rect.height() <= S40 * 10.0;
    let step = if low { ITEM - S8 } else { ITEM };
    let head = if low { S40 } else { S24 + S4 };
    kit::logo(ui.painter(), pos2(rect.left() + S24 + S4, rect.top() + S24 + S4), p.ink, p.bronze);
    if !folded {
        let at = pos2(rect.left() + S40 + S12, rect.top() + S24 + S4);
        paint(ui.painter(), at, Align2::LEFT_CENTER, "Bedplate", Size::Body, Cut::Semi, p.ink);
    }
    let mut command = None;
    let mut top = rect.top() + if low { head + S8 } else { S40 + S24 };
    for (place, name, icon) in UPPER.into_iter().filter(|(place, ..)| view.class || *place != Place::Class) {
        let item = Rect::from_min_size(pos2(rect.left(), top), vec2(rect.width() - LINE, step));
        command = item_ui(ui, item, view, (place, name, icon), folded).or(command);
        top += step;
    }
    let foot = if folded { ITEM + S8 } else { foot_height(view) };
    let mut top = (rect.bottom() - foot - S16 - LOWER.len() as f32 * step).max(top);
    for (place, name, icon) in LOWER {
        let item = Rect::from_min_size(pos2(rect.left(), top), vec2(rect.width() - LINE, step));
        command = item_ui(ui, item, view, (place, name, icon), folded).or(command);
        top += step;
    }
    let foot = Rect::from_min_max(pos2(rect.left(), (rect.bottom() - foot).max(top)), rect.max);
    foot_ui(ui, foot, view, folded).or(command)
}

fn item_ui(
    ui: &Ui,
    rect: Rect,
    view: &RailView,
    (place, name, icon): (Place, &'static str, Icon),
    folded: bool,
) -> Option<Command> {
    let response = ui.interact(rect, ui.id().with(name), Sense::click());
    let current = view.place == Some(place);
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, name));
    if current {
        ui.ctx().accesskit_node_builder(response.id, |n| n.set_aria_current(accesskit::AriaCurrent::Page));
    }
    if response.has_focus() {
        keys::note(ui.ctx(), response.id, Held::Button);
    }
    let p = theme::palette(ui);
    if current || response.hovered() {
        ui.painter().rect_filled(rect, 0, p.raised);
    }
    if current {
        ui.painter().rect_filled(Rect::from_min_size(rect.min, vec2(MARK, rect.height())), 0, p.bronze);
    }
    let ink = if current || response.hovered() { p.ink } else { p.ink_second };
    kit::icon(ui.painter(), pos2(rect.left() + S16 + 10.0, rect.center().y), icon, ink);
    if !folded {
        let cut = if current { Cut::Semi } else { Cut::Regular };
        let at = pos2(rect.left() + S40 + S8, rect.center().y);
        paint(ui.painter(), at, Align2::LEFT_CENTER, name, Size::Body, cut, ink);
    }
    kit::ring_focus(ui, &response, rect.shrink(S4));
    let clicked = response.clicked();
    let response = response.on_hover_cursor(CursorIcon::PointingHand);
    if folded {
        response.on_hover_text(name);
    }
    clicked.then(|| Command::Go(route(place)))
}

fn foot_height(view: &RailView) -> f32 {
    S16 + 3.0 * S24 + if view.oral.is_some() { S24 + S4 } else { 0.0 } + S24
}

fn foot_ui(ui: &Ui, rect: Rect, view: &RailView, folded: bool) -> Option<Command> {
    let p = theme::palette(ui);
    let left = rect.left() + S16;
    let line = if folded { S8 } else { S16 };
    let x = (rect.left() + line)..=(rect.right() - line);
    ui.painter().hline(x, ui.painter().round_to_pixel_center(rect.top()), theme::hairline(ui));
    let name = if view.learner.is_empty() { "Learner" } else { view.learner.as_str() };
    let item = if folded {
        Rect::from_min_size(rect.min + vec2(0.0, S4), vec2(rect.width() - LINE, ITEM))
    } else {
        Rect::from_min_size(rect.min + vec2(S8, S12), vec2(rect.width() - S16, S24 + S4))
    };
    let response = ui.interact(item, ui.id().with("learner"), Sense::click());
    let said = format!("{name}: learners on this computer");
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, &said));
    if response.has_focus() {
        keys::note(ui.ctx(), response.id, Held::Button);
    }
    kit::ring_focus(ui, &response, item.shrink(2.0));
    let clicked = response.clicked();
    let ink = if response.hovered() { p.bronze } else { p.ink };
    let response = response.on_hover_cursor(CursorIcon::PointingHand);
    if folded {
        kit::icon(ui.painter(), pos2(left + 10.0, item.center().y), Icon::Learner, ink);
        let oral = view.oral.as_deref().unwrap_or_default();
        response.on_hover_text(format!("{name}\nShip’s time {} {}\n{oral}", view.clock, view.offset));
        return clicked.then_some(Command::Go(Route::Profiles));
    }
    let width = rect.width() - 2.0 * S16;
    let row = |n: f32| Rect::from_min_size(pos2(left, rect.top() + S12 + n), vec2(width, S24));
    paint_in(ui, row(2.0), Align2::LEFT_CENTER, name, Size::Label, Cut::Semi, ink);
    paint_in(ui, row(S24 + 2.0), Align2::LEFT_CENTER, "Ship’s time", Size::Label, Cut::Regular, p.ink_second);
    let placed = paint_in(ui, row(2.0 * S24), Align2::LEFT_CENTER, &view.clock, Size::Label, Cut::Mono, p.ink);
    let rest = Rect::from_min_max(pos2(placed.right() + S8, row(2.0 * S24).top()), row(2.0 * S24).max);
    paint_in(ui, rest, Align2::LEFT_CENTER, &view.offset, Size::Label, Cut::Mono, p.ink_second);
    if let Some(oral) = &view.oral {
        paint_in(ui, row(3.0 * S24 + S4), Align2::LEFT_CENTER, oral, Size::Label, Cut::Regular, p.ink);
    }
    clicked.then_some(Command::Go(Route::Profiles))
}
