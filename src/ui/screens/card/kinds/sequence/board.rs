//! Making the list: the steps ashore at the left, the procedure sheet with its slot at the right. By mouse a slip
//! is dragged or clicked; by keys it is chosen, put, moved and lifted out.

use eframe::egui::{
    Align2, CursorIcon, Id, Key, LayerId, Order, Rect, Response, Sense, Ui, UiBuilder, WidgetInfo, WidgetType, pos2,
    vec2,
};

use crate::present::kinds::sequence::{SequenceAskedView, StepView};
use crate::present::words;
use crate::ui::keys::{self, Held};
use crate::ui::kit::{self, Panes, Room, Side, dashed_slot, heading, paint};
use crate::ui::screens::card::kinds::sequence::draft::Place;
use crate::ui::screens::card::kinds::sequence::facts;
use crate::ui::screens::card::kinds::sequence::local::Board;
use crate::ui::theme::measure::{LINE, READING, RUN_ROW, S4, S8, S12, S16, S24, S40};
use crate::ui::theme::{self, Cut, Size};

/// From a slip's left edge to its words; past the grip, or past the number.
const WORDS: f32 = S40;

/// What was done with the mouse or by a focused widget, to be carried out once everything is drawn.
enum Done {
    Choose(String),
    Put(String, usize),
    Lift(String),
    Shift(bool),
}

/// Draws both lists; keys first.
pub(super) fn board_ui(ui: &mut Ui, view: &SequenceAskedView, board: &mut Board, panes: &Panes) {
    let all: Vec<&str> = view.steps.iter().map(|s| s.key.as_str()).collect();
    board.draft.settle(&all);
    board.moved |= keys_ui(ui, board, &all);
    let mut done = Vec::new();
    let heads = (
        panes.head(ui, "Ashore", panes.left, |ui| ashore_head_ui(ui, board.draft.ashore(&all).len())),
        if panes.stacked {
            panes.right
        } else {
            panes.head(ui, "Procedure", panes.right, |ui| sheet_head_ui(ui, board, &mut done))
        },
    );
    let bottom = panes.columns(ui, heads, |ui, side| match side {
        Side::Left => ashore_ui(ui, view, board, &all, &mut done),
        Side::Right => {
            if panes.stacked {
                sheet_head_ui(ui, board, &mut done);
            }
            sheet_ui(ui, view, board, &mut done);
        }
        Side::Under if view.facts.is_empty() => {}
        Side::Under => {
            ui.add_space(if kit::room(ui.ctx()) == Room::Tiny { S12 } else { S16 });
            facts::strip_ui(ui, &view.facts);
        }
    });
    kit::end_of_panes(ui, bottom);
    if let Some(step) = board.dragged.clone().and_then(|key| view.steps.iter().find(|s| s.key == key)) {
        ghost_ui(ui, step, board, &mut done);
    }
    board.moved = false;
    for act in done {
        board.moved |= !matches!(act, Done::Choose(_));
        match act {
            Done::Choose(key) => board.draft.choose(&key),
            Done::Put(key, before) => board.draft.put(&all, &key, before),
            Done::Lift(key) => board.draft.lift(&key),
            Done::Shift(down) => board.draft.shift(down),
        }
        ui.ctx().request_repaint();
    }
    board.draft.settle(&all);
}

/// The width of the steps ashore at this width of the content.
pub(super) fn ashore_width(content: f32) -> f32 {
    (content - S40) / 2.0
}

/// Everything but *Run it* by keys; true when something moved.
fn keys_ui(ui: &Ui, board: &mut Board, all: &[&str]) -> bool {
    let before = board.draft.clone();
    let draft = &mut board.draft;
    if keys::take(ui, keys::UNDO) {
        draft.undo();
    } else if keys::take(ui, keys::REDO) {
        draft.redo();
    } else if keys::take_repeated(ui, keys::SHIFT_UP) {
        draft.shift(false);
    } else if keys::take_repeated(ui, keys::SHIFT_DOWN) {
        draft.shift(true);
    } else if keys::take_repeated(ui, keys::UP) {
        draft.step(all, false);
    } else if keys::take_repeated(ui, keys::DOWN) {
        draft.step(all, true);
    } else if keys::take(ui, keys::TO_LEFT) {
        draft.cross(all, false);
    } else if keys::take(ui, keys::RIGHT) {
        draft.cross(all, true);
    } else if keys::take(ui, keys::LIFT) {
        if let Some(key) = draft.chosen().map(str::to_owned) {
            draft.lift(&key);
        }
    } else if keys::take(ui, keys::ENTER)
        && let Some(key) = draft.chosen().map(str::to_owned)
    {
        match draft.place_of(&key, all) {
            Some(Place::Ashore(_)) => draft.put(all, &key, draft.slot()),
            Some(Place::Line(at)) => {
                draft.set_slot(at + 1);
                draft.cross(all, false);
            }
            None => {}
        }
    }
    board.draft != before
}

fn ashore_head_ui(ui: &mut Ui, count: usize) {
    let note = match count {
        0 => "none left".to_owned(),
        n => format!("{} left; some may belong nowhere", words::number(n)),
    };
    head_row(ui, "Ashore", &note);
    ui.add_space(S8);
}

fn ashore_ui(ui: &mut Ui, view: &SequenceAskedView, board: &mut Board, all: &[&str], done: &mut Vec<Done>) {
    let p = theme::palette(ui);
    let ashore = board.draft.ashore(all);
    let count = ashore.len();
    kit::list(ui, "Ashore", count);
    for (n, step) in view.steps.iter().filter(|s| ashore.contains(&s.key.as_str())).enumerate() {
        let chosen = board.draft.chosen() == Some(&step.key);
        let text = kit::lines(ui, &step.words, ui.available_width() - WORDS - S8, 6, Size::Label, Cut::Regular, p.ink);
        let height = RUN_ROW.max(text.size().y + S8);
        let (_, rect) = ui.allocate_space(vec2(ui.available_width(), height));
        let response = slip(ui, step, rect, &format!("Ashore: {}", step.words), board);
        kit::list_item(ui, &response, (n + 1, count), chosen);
        let away = board.dragged.as_deref() == Some(&step.key);
        kit::item_ground(ui, rect, chosen && !away, response.hovered() && board.dragged.is_none(), true);
        let ink = if away { p.ink_second } else { p.ink };
        kit::grip(ui.painter(), pos2(rect.left() + S16 + 2.0, rect.center().y), theme::line(ui));
        ui.painter().galley_with_override_text_color(
            pos2(rect.left() + WORDS - S4, rect.center().y - text.size().y / 2.0),
            text,
            ink,
        );
        kit::ring_focus(ui, &response, rect.shrink(2.0));
        if chosen && board.moved {
            response.scroll_to_me(None);
        }
        if response.clicked() {
            done.push(Done::Put(step.key.clone(), board.draft.slot()));
        }
        ui.add_space(S4);
    }
}

/// The name and the note over a list; returns the row.
fn head_row(ui: &mut Ui, name: &str, note: &str) -> Rect {
    let p = theme::palette(ui);
    let row = Rect::from_min_size(ui.cursor().min, vec2(ui.available_width(), S24));
    ui.horizontal(|ui| {
        heading(ui, name, Size::Label, Cut::Semi);
        ui.add_space(S8);
        kit::label(ui, note, Size::Label, Cut::Regular, p.ink_second);
    });
    row
}

/// A slip of either list as a widget: it can be clicked and dragged, and being focused chooses it.
fn slip(ui: &Ui, step: &StepView, rect: Rect, said: &str, board: &mut Board) -> Response {
    let response = ui.interact(rect, slip_id(&step.key), Sense::click_and_drag());
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, said));
    if response.has_focus() {
        keys::note(ui.ctx(), response.id, Held::Button);
        // The arrows choose and move here; they do not lead the focus away.
        let filter = eframe::egui::EventFilter { horizontal_arrows: true, vertical_arrows: true, ..Default::default() };
        ui.memory_mut(|m| m.set_focus_lock_filter(response.id, filter));
        if response.gained_focus() {
            board.draft.choose(&step.key);
            response.scroll_to_me(None);
        } else if board.moved
            && let Some(chosen) = board.draft.chosen().filter(|c| *c != step.key)
        {
            ui.memory_mut(|m| m.request_focus(slip_id(chosen)));
        }
    }
    if response.drag_started() {
        board.dragged = Some(step.key.clone());
        board.draft.choose(&step.key);
    }
    response.on_hover_cursor(CursorIcon::Grab)
}

fn slip_id(key: &str) -> Id {
    Id::new(("sequence-slip", key))
}

fn sheet_ui(ui: &mut Ui, view: &SequenceAskedView, board: &mut Board, done: &mut Vec<Done>) {
    let steps: Vec<&StepView> = {
        let placed = board.draft.placed().iter().filter(|k| board.dragged.as_ref() != Some(*k));
        placed.filter_map(|k| view.steps.iter().find(|s| s.key == *k)).collect()
    };
    kit::list(ui, "Procedure", steps.len());
    if let Some(pointer) = board.dragged.as_ref().and_then(|_| ui.ctx().pointer_latest_pos()) {
        let over = ui.max_rect().x_range().expand(S24).contains(pointer.x);
        let above = board.lines.iter().filter(|r| r.center().y < pointer.y).count();
        board.drop_at = over.then_some(above.min(steps.len()));
        if over {
            ui.scroll_to_rect(Rect::from_center_size(pointer, vec2(LINE, S40 + S40)), None);
        }
    }
    let slot = match &board.dragged {
        Some(_) => board.drop_at,
        None if view.steps.len() > steps.len() => Some(board.draft.slot()),
        None => None,
    };
    let mut lines = Vec::new();
    for n in 0..=steps.len() {
        if slot == Some(n) {
            slot_ui(ui, view, board, n, done);
        }
        if let Some(step) = steps.get(n) {
            let number = n + 1 + usize::from(slot.is_some_and(|s| s <= n && board.shows_next()));
            lines.push(line_ui(ui, step, (number, n + 1, steps.len()), board, done));
        }
    }
    board.lines = lines;
}

/// The name, how many lines, and the two keys that move.
fn sheet_head_ui(ui: &mut Ui, board: &Board, done: &mut Vec<Done>) {
    let p = theme::palette(ui);
    let count = board.draft.placed().len();
    let note = if count == 0 { "no line yet".to_owned() } else { words::count_in_words(count, "line") };
    let row = head_row(ui, "Procedure", &note);
    let what = if board.draft.chosen_ashore() { "the slot" } else { "the line" };
    let mut right = row.right_center();
    for (hot, down, way) in [(keys::SHIFT_DOWN, true, "down"), (keys::SHIFT_UP, false, "up")] {
        let name = format!("Move {what} {way}");
        let (response, left) = kit::key_button(ui, right, "", hot, &name, board.draft.can_shift(down));
        if response.clicked() {
            done.push(Done::Shift(down));
        }
        right.x = left - S4;
    }
    let word = Rect::from_min_max(pos2(right.x - S40, row.top()), pos2(right.x - S4, row.bottom()));
    kit::paint(
        ui.painter(),
        word.right_center(),
        Align2::RIGHT_CENTER,
        "move",
        Size::Label,
        Cut::Regular,
        p.ink_second,
    );
    ui.add_space(S8);
    kit::list_rule(ui);
}

/// The number at the left of a line of the sheet.
fn number(ui: &Ui, rect: Rect, number: usize, color: eframe::egui::Color32) {
    let at = pos2(rect.left() + S24 + S4, rect.center().y);
    paint(ui.painter(), at, Align2::RIGHT_CENTER, &number.to_string(), Size::Label, Cut::Mono, color);
}

/// One line; `place` is the number shown, its place in the list, how many there are. Returns where it stands.
fn line_ui(
    ui: &mut Ui,
    step: &StepView,
    place: (usize, usize, usize),
    board: &mut Board,
    done: &mut Vec<Done>,
) -> Rect {
    let p = theme::palette(ui);
    let chosen = board.draft.chosen() == Some(&step.key) && board.dragged.is_none();
    let lift = if chosen { S40 * 4.0 } else { S8 };
    let width = ui.available_width() - WORDS - S4 - lift;
    let text = kit::lines(ui, &step.words, width, 6, Size::Label, Cut::Regular, p.ink);
    let height = RUN_ROW.max(text.size().y + S8);
    let (_, rect) = ui.allocate_space(vec2(ui.available_width(), height));
    let response = slip(ui, step, rect, &format!("Line {}: {}", place.1, step.words), board);
    kit::list_item(ui, &response, (place.1, place.2), chosen);
    let inner = rect.shrink2(vec2(0.0, S4 / 2.0)).translate(vec2(0.0, -LINE / 2.0));
    if chosen || (response.hovered() && board.dragged.is_none()) {
        kit::item_ground(ui, inner, chosen, true, false);
    }
    number(ui, rect, place.0, p.ink_second);
    let at = pos2(rect.left() + WORDS + S4, rect.center().y - text.size().y / 2.0);
    ui.painter().galley(at, text, p.ink);
    let y = ui.painter().round_to_pixel_center(rect.bottom() - LINE);
    ui.painter().hline(rect.x_range(), y, theme::hairline(ui));
    kit::ring_focus(ui, &response, inner.shrink(2.0));
    if chosen && board.moved {
        response.scroll_to_me(None);
    }
    if chosen {
        let right = pos2(rect.right() - S12, rect.center().y);
        let name = format!("Lift out: {}", step.words);
        if kit::key_button(ui, right, "lift out", keys::LIFT, &name, true).0.clicked() {
            done.push(Done::Lift(step.key.clone()));
        }
    }
    if response.clicked() {
        done.push(Done::Choose(step.key.clone()));
    }
    rect
}

/// The dashed slot: where the chosen step goes, or the dragged one falls. It numbers itself.
fn slot_ui(ui: &mut Ui, view: &SequenceAskedView, board: &Board, at: usize, done: &mut Vec<Done>) {
    let p = theme::palette(ui);
    let key = board.dragged.as_deref().or_else(|| board.draft.chosen().filter(|_| board.draft.chosen_ashore()));
    let step = view.steps.iter().find(|s| Some(s.key.as_str()) == key);
    let shown = step.map_or("", |s| &s.words);
    let width = ui.available_width() - WORDS - S4 - S40 * 3.5;
    let text = kit::lines(ui, shown, width, 6, Size::Label, Cut::Regular, p.bronze);
    let height = RUN_ROW.max(text.size().y + S16);
    let (_, rect) = ui.allocate_space(vec2(ui.available_width(), height));
    let box_ = rect.shrink2(vec2(LINE, S4)).translate(vec2(0.0, -LINE / 2.0));
    dashed_slot(ui, box_);
    let y = ui.painter().round_to_pixel_center(rect.bottom() - LINE);
    ui.painter().hline(rect.x_range(), y, theme::hairline(ui));
    let Some(step) = step else { return };
    number(ui, rect, at + 1, p.bronze);
    let left = pos2(rect.left() + WORDS + S4, rect.center().y - text.size().y / 2.0);
    ui.painter().galley(left, text, p.bronze);
    if board.dragged.is_none() {
        let right = pos2(rect.right() - S12, rect.center().y);
        let name = format!("Put here as line {}: {}", at + 1, step.words);
        let (response, _) = kit::key_button(ui, right, "put here", keys::ENTER, &name, true);
        if response.clicked() {
            done.push(Done::Put(step.key.clone(), at));
        }
        // In one column the steps ashore are what is looked at.
        if board.moved && kit::room(ui.ctx()) != Room::Tiny {
            ui.scroll_to_rect(rect, None);
        }
    }
}

/// What is dragged, under the pointer; where it falls when it is let go.
fn ghost_ui(ui: &mut Ui, step: &StepView, board: &mut Board, done: &mut Vec<Done>) {
    let p = theme::palette(ui);
    let pointer = ui.ctx().pointer_latest_pos();
    let dragged = ui.ctx().is_being_dragged(slip_id(&step.key));
    let from_sheet = board.draft.is_placed(&step.key);
    if from_sheet {
        // Its line is drawn as the slot now; the widget itself is kept, under the pointer.
        let at = pointer.unwrap_or_default();
        ui.interact(Rect::from_center_size(at, vec2(S8, S8)), slip_id(&step.key), Sense::click_and_drag());
    }
    if !dragged {
        board.dragged = None;
        if ui.input(|i| i.key_pressed(Key::Escape)) {
            board.drop_at = None;
            return;
        }
        match board.drop_at.take() {
            Some(before) => done.push(Done::Put(step.key.clone(), before)),
            None if from_sheet => done.push(Done::Lift(step.key.clone())),
            None => done.push(Done::Choose(step.key.clone())),
        }
        return;
    }
    let Some(pointer) = pointer else { return };
    let painter = ui.ctx().layer_painter(LayerId::new(Order::Tooltip, Id::new("sequence-ghost")));
    let text = kit::lines(ui, &step.words, READING * 0.75 - WORDS - S8, 2, Size::Label, Cut::Regular, p.ink);
    let rect = Rect::from_min_size(
        pointer - vec2(S16, S16),
        vec2(WORDS + text.size().x + S12, RUN_ROW.max(text.size().y + S8)),
    );
    let mut over = ui.new_child(UiBuilder::new().layer_id(painter.layer_id()).max_rect(rect));
    over.set_clip_rect(ui.ctx().content_rect());
    kit::item_ground(&over, rect, true, true, true);
    kit::grip(over.painter(), pos2(rect.left() + S16 + 2.0, rect.center().y), theme::line(ui));
    over.painter().galley(pos2(rect.left() + WORDS - S4, rect.center().y - text.size().y / 2.0), text, p.ink);
    ui.ctx().set_cursor_icon(CursorIcon::Grabbing);
}
