//! A why card: the links lie ashore and are put on the sheet in order, by keys alone or by mouse.

use eframe::egui::{
    Align2, CornerRadius, CursorIcon, Pos2, Rect, Response, Sense, Stroke, StrokeKind, Ui, UiBuilder, WidgetInfo,
    WidgetType, pos2, vec2,
};

use crate::app::program::command::{CardCommand, Command};
use crate::domain::answer::Given;
use crate::present::Tone;
use crate::present::kinds::why::{GivenLink, LinkStanding, LinkView, WhyAskedView, WhyMarkedView};
use crate::present::result::ResultView;
use crate::ui::keys::{self, Held, KeyLine};
use crate::ui::kit::{self, Act, Mark, Room, dashed_slot, heading, mark, paint, room};
use crate::ui::screens::card::act::{self, CardAct, Moment, Own};
use crate::ui::screens::card::face::{Canvas, CardFace};
use crate::ui::screens::card::outcome::{ResultAt, result_ui};
use crate::ui::screens::card::typed::Typed;
use crate::ui::theme::measure::{CORNER, LINE, OPTION_ROW, S4, S8, S12, S16, S24, S40};
use crate::ui::theme::{self, Cut, Size};

/// What lies on the sheet so far, and where the cursor stands.
#[derive(Default)]
pub(crate) struct Local {
    /// Positions (as `LinkView::position`) in the learner's order.
    placed: Vec<usize>,
    /// Counts through the links ashore, then those on the sheet.
    cursor: usize,
}

/// The face of a card of this kind that is asked.
pub(super) fn asked<'a>(view: &'a WhyAskedView, _typed: &'a mut Typed, local: &'a mut Local) -> Box<dyn CardFace + 'a> {
    Box::new(Asked { view, local })
}

/// The face of a card of this kind that is marked.
pub(super) fn marked<'a>(view: &'a WhyMarkedView, _local: &'a mut Local) -> Box<dyn CardFace + 'a> {
    Box::new(Marked { view })
}

/// A why that is asked: links ashore, and the sheet.
struct Asked<'a> {
    view: &'a WhyAskedView,
    local: &'a mut Local,
}

impl CardFace for Asked<'_> {
    fn acts(&self, _moment: Moment) -> Vec<Act<CardAct>> {
        let ready = !self.local.placed.is_empty() && !self.view.links.is_empty();
        vec![Act::primary("Mark the order", keys::CTRL_ENTER, CardAct::Own(Own::HandIn)).when(ready)]
    }

    fn keys(&self) -> Vec<KeyLine> {
        vec![
            KeyLine::of("↑, ↓", "Choose a link, ashore or on the sheet"),
            KeyLine::of("ENTER, →", "Put it on the sheet"),
            KeyLine::of("←", "Lift it out again, or the last one (Backspace too)"),
            KeyLine::of("SHIFT ↑, SHIFT ↓", "Move it on the sheet"),
        ]
    }

    fn body_ui(&mut self, ui: &mut Ui, _canvas: &mut Canvas<'_>) -> Option<Command> {
        asked_ui(ui, &self.view.links, self.local);
        None
    }

    fn run(&mut self, _ui: &Ui, act: Own) -> Option<Command> {
        let known = |p: &usize| self.view.links.iter().any(|l| l.position == *p);
        let placed = || self.local.placed.iter().copied().filter(known).collect();
        (act == Own::HandIn).then(|| Command::Card(CardCommand::Submit(Given::Links(placed()))))
    }
}

/// A why that is marked.
struct Marked<'a> {
    view: &'a WhyMarkedView,
}

impl CardFace for Marked<'_> {
    fn acts(&self, moment: Moment) -> Vec<Act<CardAct>> {
        act::marked(moment)
    }

    fn body_ui(&mut self, ui: &mut Ui, canvas: &mut Canvas<'_>) -> Option<Command> {
        marked_ui(ui, &self.view.given, &self.view.right, (canvas.result?, canvas.at))
    }
}

impl Local {
    fn ashore<'a>(&self, links: &'a [LinkView]) -> Vec<&'a LinkView> {
        links.iter().filter(|l| !self.placed.contains(&l.position)).collect()
    }

    fn place(&mut self, position: usize, at: usize) {
        self.placed.retain(|p| *p != position);
        let at = at.min(self.placed.len());
        self.placed.insert(at, position);
    }

    fn lift(&mut self, position: usize) {
        self.placed.retain(|p| *p != position);
    }

    /// Moves the link at the cursor, or the cursor, or places and lifts, as the keys say.
    fn keys(&mut self, ui: &Ui, links: &[LinkView]) {
        let ashore: Vec<usize> = self.ashore(links).iter().map(|l| l.position).collect();
        let count = ashore.len();
        let all = links.len();
        self.cursor = self.cursor.min(all.saturating_sub(1));
        let on_sheet = self.cursor.checked_sub(count);
        if keys::take_repeated(ui, keys::SHIFT_UP) {
            self.shift(on_sheet, false);
        } else if keys::take_repeated(ui, keys::SHIFT_DOWN) {
            self.shift(on_sheet, true);
        } else if keys::take_repeated(ui, keys::UP) {
            self.cursor = self.cursor.saturating_sub(1);
        } else if keys::take_repeated(ui, keys::DOWN) {
            self.cursor = (self.cursor + 1).min(all.saturating_sub(1));
        } else if on_sheet.is_none() && (keys::take(ui, keys::ENTER) || keys::take(ui, keys::RIGHT)) {
            if let Some(position) = ashore.get(self.cursor) {
                self.place(*position, usize::MAX);
                self.cursor = self.cursor.min(count.saturating_sub(2));
            }
        } else if keys::take(ui, keys::LEFT) {
            let which = on_sheet.or_else(|| self.placed.len().checked_sub(1));
            if let Some(position) = which.and_then(|i| self.placed.get(i).copied()) {
                self.lift(position);
                self.cursor = if on_sheet.is_some() { (self.cursor + 1).min(all - 1) } else { self.cursor };
            }
        }
    }

    fn shift(&mut self, on_sheet: Option<usize>, down: bool) {
        let Some(at) = on_sheet else { return };
        let to = if down { at + 1 } else { at.wrapping_sub(1) };
        if to < self.placed.len() {
            self.placed.swap(at, to);
            self.cursor = if down { self.cursor + 1 } else { self.cursor - 1 };
        }
    }
}

/// Two columns, or one below the other where there is no room.
fn columns(ui: &mut Ui) -> (Rect, Rect, bool) {
    let area = Rect::from_min_size(ui.cursor().min, vec2(ui.available_width(), f32::INFINITY));
    if room(ui.ctx()) == Room::Tiny {
        return (area, area, true);
    }
    let gap = S40;
    let left = Rect::from_min_size(area.min, vec2((area.width() - gap) * 0.44, f32::INFINITY));
    let right = Rect::from_min_max(pos2(left.right() + gap, area.top()), area.max);
    (left, right, false)
}

/// The links ashore, and the sheet on which they are put.
fn asked_ui(ui: &mut Ui, links: &[LinkView], local: &mut Local) {
    local.keys(ui, links);
    let (left, mut right, stacked) = columns(ui);
    let mut child = ui.new_child(UiBuilder::new().id_salt("ashore").max_rect(left));
    let first = ashore_ui(&mut child, links, local);
    let used = child.min_rect();
    if stacked {
        right.min.y = used.bottom() + S16;
    }
    let mut child = ui.new_child(UiBuilder::new().id_salt("on-sheet").max_rect(right));
    let (second, slips) = sheet_ui(&mut child, links, local);
    let drop_area = child.min_rect();
    let bottom = used.bottom().max(drop_area.bottom());
    ui.allocate_space(vec2(left.width().min(ui.available_width()), bottom - ui.cursor().top()));
    ui.add_space(S12);
    let p = theme::palette(ui);
    let hint = "Enter puts a link on the sheet, ← lifts it out, Shift with ↑ or ↓ moves it. Or drag.";
    kit::label(ui, hint, Size::Label, Cut::Regular, p.ink_second);
    if let Some((position, response)) = first.or(second) {
        touched(ui, local, position, &response, &DropArea { area: drop_area, slips });
    }
}

/// Where a dragged link may fall: the sheet, and the slips that lie on it.
struct DropArea {
    area: Rect,
    slips: Vec<Rect>,
}

impl DropArea {
    fn holds(&self, pointer: Pos2) -> bool {
        self.area.expand(S24).contains(pointer)
    }

    /// How many slips stand above this height.
    fn above(&self, y: f32) -> usize {
        self.slips.iter().filter(|s| s.center().y < y).count()
    }

    /// The height of the gap before a slip.
    fn gap(&self, index: usize) -> f32 {
        let last = self.slips.last().map_or(self.area.top() + S24 + S8, |s| s.bottom() + S4 / 2.0);
        self.slips.get(index).map_or(last, |s| s.top() - S4 / 2.0)
    }
}

/// A link was clicked, or dropped somewhere.
fn touched(ui: &Ui, local: &mut Local, position: usize, response: &Response, sheet: &DropArea) {
    let pointer = response.interact_pointer_pos();
    if response.clicked() {
        if local.placed.contains(&position) { local.lift(position) } else { local.place(position, usize::MAX) }
    } else if response.drag_stopped() {
        match pointer.filter(|p| sheet.holds(*p)) {
            Some(p) => {
                let to = sheet.above(p.y);
                let from = local.placed.iter().position(|p| *p == position);
                local.place(position, if from.is_some_and(|f| f < to) { to - 1 } else { to });
            }
            None => local.lift(position),
        }
    } else if response.dragged() {
        if let Some(p) = pointer.filter(|p| sheet.holds(*p)) {
            ui.painter().hline(sheet.area.x_range(), sheet.gap(sheet.above(p.y)), theme::focus_ring(ui));
        }
        ui.ctx().set_cursor_icon(CursorIcon::Grabbing);
    }
}

fn ashore_ui(ui: &mut Ui, links: &[LinkView], local: &Local) -> Option<(usize, Response)> {
    column_head(ui, "Ashore", "some may belong nowhere");
    let mut hit = None;
    for (index, link) in local.ashore(links).into_iter().enumerate() {
        let response = slip_ui(ui, link, None, local.cursor == index);
        if touched_at_all(&response) {
            hit = Some((link.position, response));
        }
        ui.add_space(S4);
    }
    hit
}

fn sheet_ui(ui: &mut Ui, links: &[LinkView], local: &Local) -> (Option<(usize, Response)>, Vec<Rect>) {
    column_head(ui, "On the sheet", "from the first cause to what you saw");
    let ashore = links.len() - local.placed.len().min(links.len());
    let mut hit = None;
    let mut slips = Vec::new();
    for (index, position) in local.placed.iter().enumerate() {
        let Some(link) = links.iter().find(|l| l.position == *position) else { continue };
        let response = slip_ui(ui, link, Some(index + 1), local.cursor == ashore + index);
        slips.push(response.rect);
        if touched_at_all(&response) {
            hit = Some((link.position, response));
        }
        ui.add_space(S4);
    }
    if ashore > 0 {
        let (_, slot) = ui.allocate_space(vec2(ui.available_width(), OPTION_ROW));
        dashed_slot(ui, slot.shrink(LINE));
        let p = theme::palette(ui);
        let number = (local.placed.len() + 1).to_string();
        let at = pos2(slot.left() + S12, slot.center().y);
        paint(ui.painter(), at, Align2::LEFT_CENTER, &number, Size::Label, Cut::Mono, p.bronze);
    }
    (hit, slips)
}

fn touched_at_all(response: &Response) -> bool {
    response.clicked() || response.dragged() || response.drag_stopped()
}

fn column_head(ui: &mut Ui, name: &str, note: &str) {
    let p = theme::palette(ui);
    ui.horizontal(|ui| {
        heading(ui, name, Size::Label, Cut::Semi);
        ui.add_space(S8);
        kit::label(ui, note, Size::Label, Cut::Regular, p.ink_second);
    });
    ui.add_space(S8);
}

/// One link as a slip of paper. On the sheet it has its number.
fn slip_ui(ui: &mut Ui, link: &LinkView, number: Option<usize>, cursor: bool) -> Response {
    let p = theme::palette(ui);
    let left = if number.is_some() { S40 } else { S12 };
    let text = kit::lines(ui, &link.text, ui.available_width() - left - S8, 5, Size::Label, Cut::Regular, p.ink);
    let height = OPTION_ROW.max(text.size().y + S12);
    let (_, rect) = ui.allocate_space(vec2(ui.available_width(), height));
    let response = ui.interact(rect, ui.id().with(("slip", link.position)), Sense::click_and_drag());
    let said = match number {
        Some(n) => format!("Line {n}: {}", link.text),
        None => format!("Ashore: {}", link.text),
    };
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, &said));
    if response.has_focus() {
        keys::note(ui.ctx(), response.id, Held::Button);
    }
    if cursor {
        ui.ctx().accesskit_node_builder(response.id, |node| node.set_selected(true));
        response.scroll_to_me(None);
    }
    let fill = if cursor || response.hovered() { p.raised } else { p.sheet };
    let stroke = Stroke::new(LINE, if cursor { p.bronze } else { p.line });
    ui.painter().rect(rect, CornerRadius::same(CORNER), fill, stroke, StrokeKind::Inside);
    if cursor {
        let bar = Rect::from_min_size(rect.min, vec2(S4, rect.height()));
        ui.painter().rect_filled(bar, CornerRadius::same(CORNER), p.bronze);
    }
    if let Some(n) = number {
        let at = pos2(rect.left() + S12, rect.center().y);
        paint(ui.painter(), at, Align2::LEFT_CENTER, &n.to_string(), Size::Label, Cut::Mono, p.ink_second);
    }
    let at = pos2(rect.left() + left, rect.center().y - text.size().y / 2.0);
    ui.painter().galley(at, text, p.ink);
    kit::ring_focus(ui, &response, rect);
    response.on_hover_cursor(CursorIcon::Grab)
}

/// The learner's order beside the right one.
fn marked_ui(
    ui: &mut Ui,
    given: &[GivenLink],
    right_order: &[String],
    (result, at): (&ResultView, ResultAt),
) -> Option<Command> {
    let (left, mut right, stacked) = columns(ui);
    let mut child = ui.new_child(UiBuilder::new().id_salt("given").max_rect(left));
    column_head(&mut child, "Your order", "");
    for (i, link) in given.iter().enumerate() {
        let (word, tone, shape) = match link.standing {
            LinkStanding::InOrder => ("in order", Tone::Good, Mark::Tick),
            LinkStanding::OutOfPlace => ("out of its place", Tone::Weak, Mark::WedgeDown),
            LinkStanding::False => ("belongs nowhere", Tone::Bad, Mark::Cross),
        };
        line_ui(&mut child, i + 1, &link.text, Some((word, tone, shape)));
    }
    let used = child.min_rect().bottom();
    if stacked {
        right.min.y = used + S16;
    }
    let mut child = ui.new_child(UiBuilder::new().id_salt("right").max_rect(right));
    column_head(&mut child, "The right order", if right_order.is_empty() { "told in the debrief" } else { "" });
    for (i, link) in right_order.iter().enumerate() {
        line_ui(&mut child, i + 1, link, None);
    }
    let bottom = used.max(child.min_rect().bottom());
    ui.allocate_space(vec2(ui.available_width(), bottom - ui.cursor().top()));
    result_ui(ui, result, at)
}

fn line_ui(ui: &mut Ui, number: usize, text: &str, state: Option<(&str, Tone, Mark)>) {
    let p = theme::palette(ui);
    let left = if state.is_some() { S40 + S16 } else { S24 + S4 };
    let galley = kit::lines(ui, text, ui.available_width() - left, 5, Size::Label, Cut::Regular, p.ink);
    let words = state.map_or(0.0, |_| theme::line_height(Size::Small));
    let height = OPTION_ROW.max(galley.size().y + words + S12);
    let (id, rect) = ui.allocate_space(vec2(ui.available_width(), height));
    let response = ui.interact(rect, id, Sense::hover());
    let said = match state {
        Some((word, ..)) => format!("{number}. {text}: {word}"),
        None => format!("{number}. {text}"),
    };
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &said));
    let top = rect.top() + S4 + 2.0;
    let first = top + theme::line_height(Size::Label) / 2.0;
    let at = pos2(rect.left(), first);
    paint(ui.painter(), at, Align2::LEFT_CENTER, &number.to_string(), Size::Label, Cut::Mono, p.ink_second);
    let text_height = galley.size().y;
    ui.painter().galley(pos2(rect.left() + left, top), galley, p.ink);
    if let Some((word, tone, shape)) = state {
        let color = theme::tone(ui, tone);
        mark(ui.painter(), pos2(rect.left() + S24 + S12, first), shape, color);
        let at = pos2(rect.left() + left, top + text_height);
        paint(ui.painter(), at, Align2::LEFT_TOP, word, Size::Small, Cut::Regular, color);
    }
    ui.painter().hline(rect.x_range(), ui.painter().round_to_pixel_center(rect.bottom() - 1.0), theme::hairline(ui));
}
