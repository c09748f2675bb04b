//! The schematic on the sheet, with a widget on every symbol: valves are turned by click, or by Tab and Space; the
//! drawing is moved and brought closer.

use std::sync::Arc;

use eframe::egui::{
    CornerRadius, CursorIcon, EventFilter, Painter, Rect, Response, Sense, Stroke, StrokeKind, Ui, UiBuilder, Vec2,
    WidgetInfo, WidgetType, accesskit, pos2, vec2,
};

use crate::domain::english;
use crate::domain::piping::NodeKind;
use crate::present::kinds::lineup::SchematicView;
use crate::ui::keys::{self, Held};
use crate::ui::kit::{self, Room};
use crate::ui::schematic::{Dir, Paint, Sight, laid_out};
use crate::ui::screens::card::kinds::lineup::local::{Focus, Laid, Lined, Local, Shown};
use crate::ui::theme;
use crate::ui::theme::measure::{BOARD_LEAST, BOARD_TINY, CORNER, LINE, S40};

/// Draws the board; `used` is what stands above it.
pub(super) fn board_ui(ui: &mut Ui, lined: Lined<'_>, local: &mut Local, used: f32) {
    let shown = local.shown(lined);
    let tiny = kit::room(ui.ctx()) == Room::Tiny;
    let free = ui.clip_rect().height() - if tiny { 0.0 } else { used };
    let least = if tiny { BOARD_TINY } else { BOARD_LEAST };
    let (id, place) = ui.allocate_space(vec2(ui.available_width(), free.floor().max(least)));
    if local.focus == Focus::Nowhere && keys::take(ui, keys::TAB) {
        local.wanted = local.laid.as_ref().and_then(|laid| laid.order.first().copied());
    }
    if tiny && local.wanted.is_some() {
        ui.scroll_to_rect(place, Some(eframe::egui::Align::TOP));
    }
    lay_out(ui, shown.schematic, local, place.size());
    let turned = view_ui(ui, id, place, lined, &shown, local, tiny);
    if let Some(node) = turned {
        local.turn(lined, node);
        ui.ctx().request_repaint();
    }
}

/// Lays the drawing out anew where it, or its place, is another one.
fn lay_out(ui: &Ui, view: &Arc<SchematicView>, local: &mut Local, place: Vec2) {
    let same = |laid: &Laid| laid.place == place && (Arc::ptr_eq(&laid.view, view) || laid.view == *view);
    if local.laid.as_ref().is_some_and(same) {
        return;
    }
    let (model, layout) = laid_out(ui, view, place);
    let mut order = view.network.turnable();
    order.sort_by_key(|node| model.symbols[*node].place);
    local.laid = Some(Laid { view: Arc::clone(view), place, model, layout, order });
}

/// The drawing and its widgets; returns what is to be turned.
fn view_ui(
    ui: &mut Ui,
    id: eframe::egui::Id,
    place: Rect,
    lined: Lined<'_>,
    shown: &Shown<'_>,
    local: &mut Local,
    tiny: bool,
) -> Option<usize> {
    let laid = local.laid.take()?;
    let size = laid.layout.size;
    let ground = ui.interact(place, id, Sense::drag());
    move_by_mouse(ui, &ground, local, size, place, tiny);
    move_by_keys(ui, lined, &laid, local, place);
    let sight = local.camera.sight(size, place);
    let mut child = ui.new_child(UiBuilder::new().id_salt("line-up").max_rect(place));
    child.shrink_clip_rect(place.expand(LINE));
    let paint = Paint {
        view: shown.schematic,
        model: &laid.model,
        layout: &laid.layout,
        sight,
        set: &shown.set,
        flooded: shown.flooded,
        steps: shown.steps,
    };
    let painter = child.painter().clone();
    paint.show(&child, &painter);
    let mut turned = None;
    let mut focus = Focus::Nowhere;
    for node in reading_order(&laid) {
        let response = if shown.turns && laid.model.symbols[node].turnable {
            valve_ui(&mut child, shown, &laid, node, &sight)
        } else {
            symbol_ui(&mut child, shown, &laid, node, &sight);
            continue;
        };
        if local.wanted == Some(node) {
            response.request_focus();
            // What else had been given the focus by the same stroke is not seen to have it.
            ui.ctx().request_discard("the focus goes to a valve");
        }
        if response.has_focus() {
            focus = Focus::Valve;
            if local.chosen != Some(node) || response.gained_focus() {
                local.chosen = Some(node);
                let seen = laid.layout.symbols[node].label.as_ref().map_or(Rect::NOTHING, |l| l.rect);
                local.camera.bring(laid.layout.symbols[node].reach.union(seen).expand(LINE), size, place);
            }
        }
        if response.clicked() {
            turned = Some(node);
        }
    }
    local.wanted = None;
    if focus == Focus::Nowhere && ui.memory(|m| m.focused()).is_some() {
        focus = Focus::Elsewhere;
    }
    local.focus = focus;
    differences(&painter, &child, shown, &laid, &sight);
    local.laid = Some(laid);
    turned
}

/// Every node, in the order in which one reads: column by column, each from above.
fn reading_order(laid: &Laid) -> Vec<usize> {
    let mut order: Vec<usize> = (0..laid.model.symbols.len()).collect();
    order.sort_by_key(|node| laid.model.symbols[*node].place);
    order
}

/// A valve that can be turned.
fn valve_ui(ui: &mut Ui, shown: &Shown<'_>, laid: &Laid, node: usize, sight: &Sight) -> Response {
    let p = theme::palette(ui);
    let reach = sight.rect(laid.layout.symbols[node].reach);
    let response = ui.interact(reach, ui.id().with(("valve", node)), Sense::click());
    let of = &shown.schematic.network.nodes[node];
    let said = shown.schematic.said(node, &shown.set);
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, &said));
    let open = (of.kind != NodeKind::ThreeWay).then(|| shown.set.open.get(node).copied().unwrap_or(false));
    let joined = format!(
        "{}. {}",
        english::capital(crate::present::kinds::lineup::kind_word(of.kind)),
        shown.schematic.joined(node)
    );
    ui.ctx().accesskit_node_builder(response.id, |a11y| {
        if let Some(open) = open {
            a11y.set_toggled(accesskit::Toggled::from(open));
        }
        a11y.set_description(joined);
    });
    if response.has_focus() {
        // Space is its own, and the arrows go to the valve on that side.
        keys::note(ui.ctx(), response.id, Held::Choice);
        let filter = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
        ui.memory_mut(|m| m.set_focus_lock_filter(response.id, filter));
        ui.painter().rect_stroke(reach, CornerRadius::same(CORNER), theme::focus_ring(ui), StrokeKind::Inside);
    } else if response.hovered() {
        let stroke = Stroke::new(LINE, p.bronze);
        ui.painter().rect_stroke(reach, CornerRadius::same(CORNER), stroke, StrokeKind::Inside);
    }
    response.on_hover_cursor(CursorIcon::PointingHand)
}

/// What cannot be turned, or not now: its name for those who do not see the drawing.
fn symbol_ui(ui: &mut Ui, shown: &Shown<'_>, laid: &Laid, node: usize, sight: &Sight) {
    let symbol = &laid.model.symbols[node];
    if symbol.kind == NodeKind::Junction && symbol.name.is_empty() {
        return;
    }
    let placed = &laid.layout.symbols[node];
    let response = ui.interact(sight.rect(placed.body), ui.id().with(("symbol", node)), Sense::hover());
    let mut said = shown.schematic.said(node, &shown.set);
    if shown.differ.contains(&node) {
        said += ", otherwise than you had it";
    }
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &said));
    let joined = shown.schematic.joined(node);
    ui.ctx().accesskit_node_builder(response.id, |a11y| a11y.set_description(joined));
    if shown.schematic.network.nodes[node].fixed && symbol.kind.can_be_shut() {
        response.on_hover_text("It stays as found and cannot be turned.");
    }
}

/// Around what stands otherwise than the learner had it.
fn differences(painter: &Painter, ui: &Ui, shown: &Shown<'_>, laid: &Laid, sight: &Sight) {
    let clipped = painter.with_clip_rect(ui.clip_rect());
    for node in &shown.differ {
        let box_ = sight.rect(laid.layout.symbols[*node].reach);
        clipped.rect_stroke(
            box_,
            CornerRadius::same(CORNER),
            Stroke::new(LINE, theme::palette(ui).bronze),
            StrokeKind::Inside,
        );
    }
}

fn move_by_mouse(ui: &Ui, ground: &Response, local: &mut Local, size: Vec2, place: Rect, tiny: bool) {
    if local.camera.sight(size, place).partial {
        if ground.dragged() {
            local.camera.pan(ground.drag_delta(), size, place);
        }
        if ground.hovered() {
            ui.ctx().set_cursor_icon(if ground.dragged() { CursorIcon::Grabbing } else { CursorIcon::Grab });
        }
    }
    let Some(pointer) = ui.input(|i| i.pointer.hover_pos()).filter(|p| place.contains(*p)) else { return };
    let pinched = ui.input(eframe::egui::InputState::zoom_delta);
    // Where the sheet itself scrolls, the wheel alone is the sheet's.
    let wheel = if tiny { 0.0 } else { ui.input(|i| i.smooth_scroll_delta().y) };
    let factor = pinched * (wheel / 240.0).exp();
    if factor != 1.0 {
        local.camera.zoom(factor, pointer, size, place);
        if wheel != 0.0 {
            ui.input_mut(|i| i.smooth_scroll_delta = Vec2::ZERO);
        }
    }
}

fn move_by_keys(ui: &Ui, lined: Lined<'_>, laid: &Laid, local: &mut Local, place: Rect) {
    let size = laid.layout.size;
    // After the check these two move the outcome.
    let free = lined.checked.is_none() || local.is_mending();
    if keys::take_repeated(ui, keys::FURTHER) || (free && keys::take_repeated(ui, keys::MINUS)) {
        local.camera.stroke(false, size, place);
    } else if keys::take_repeated(ui, keys::CLOSER) || (free && keys::take_repeated(ui, keys::PLUS)) {
        local.camera.stroke(true, size, place);
    } else if keys::take(ui, keys::WHOLE) {
        local.camera.whole(size, place);
    }
    let arrows = [(keys::UP, Dir::Up), (keys::DOWN, Dir::Down), (keys::TO_LEFT, Dir::Left), (keys::RIGHT, Dir::Right)];
    let partial = local.camera.sight(size, place).partial;
    for (hot, dir) in arrows {
        if local.focus == Focus::Elsewhere || !keys::take_repeated(ui, hot) {
            continue;
        }
        if partial {
            local.camera.pan(-dir.step() * S40, size, place);
        } else {
            local.wanted = beside(laid, local.chosen, dir).or(local.chosen);
        }
    }
}

/// The valve on a side of the chosen one: the nearest, what is straight ahead before what is aside.
fn beside(laid: &Laid, chosen: Option<usize>, dir: Dir) -> Option<usize> {
    let Some(chosen) = chosen else { return laid.order.first().copied() };
    let at = |node: usize| laid.layout.symbols[node].center;
    let away = |node: usize| {
        let by = at(node) - at(chosen);
        let (along, aside) = if dir.is_level() { (by.x * dir.step().x, by.y) } else { (by.y * dir.step().y, by.x) };
        (along > 1.0).then_some(along + 2.0 * aside.abs())
    };
    let on_that_side = laid.order.iter().filter_map(|node| Some((away(*node)?, *node)));
    on_that_side.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, node)| node)
}

/// Over a drawing of which a part is seen: how the rest of it is reached.
pub(super) fn partial_hint(local: &Local, place: Vec2) -> Option<&'static str> {
    let laid = local.laid.as_ref()?;
    let place = Rect::from_min_size(pos2(0.0, 0.0), place);
    local.camera.sight(laid.layout.size, place).partial.then_some("Arrows move the drawing, 0 shows all")
}
