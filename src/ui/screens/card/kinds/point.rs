//! The point card: a drawing on the sheet, and one of its parts to find, by the pointer or by stepping through them.

use eframe::egui::{
    Align2, Color32, Context, CursorIcon, EventFilter, FocusDirection, Id, Rect, Sense, Ui, UiBuilder, WidgetInfo,
    WidgetType, accesskit, pos2, vec2,
};

use crate::app::program::command::{CardCommand, Command};
use crate::domain::answer::{Given, Pointed};
use crate::domain::drawing::Drawing;
use crate::domain::english;
use crate::present::drawing::{DrawingState, DrawingView};
use crate::present::kinds::point::{PointAskedView, PointMarkedView};
use crate::present::result::ResultView;
use crate::present::words;
use crate::ui::keys::{self, Held, KeyLine};
use crate::ui::kit::{self, Act, Laid, Mark, Room, label, mark};
use crate::ui::screens::card::act::{self, CardAct, Moment, Own};
use crate::ui::screens::card::face::{Canvas, CardFace, Layout};
use crate::ui::screens::card::outcome::{RESULT, RESULT_LINE, because_ui};
use crate::ui::screens::card::typed::Typed;
use crate::ui::theme::measure::{BESIDE, DRAWING_LEAST, DRAWING_LOW, S4, S8, S12, S16, S24, S40, UNDER};
use crate::ui::theme::{self, Cut, Size};

/// What is kept between frames.
#[derive(Default)]
pub(super) struct Local {
    /// The part that was stepped to.
    chosen: Option<usize>,
    pub(super) drawing: kit::DrawingLocal,
}

/// The face of a card of this kind that is asked.
pub(super) fn asked<'a>(
    view: &'a PointAskedView,
    _typed: &'a mut Typed,
    local: &'a mut Local,
) -> Box<dyn CardFace + 'a> {
    Box::new(Asked { view, local })
}

/// The face of a card of this kind that is marked.
pub(super) fn marked<'a>(view: &'a PointMarkedView, local: &'a mut Local) -> Box<dyn CardFace + 'a> {
    Box::new(Marked { view, local })
}

/// A point card that is asked.
struct Asked<'a> {
    view: &'a PointAskedView,
    local: &'a mut Local,
}

/// A point card that is marked.
struct Marked<'a> {
    view: &'a PointMarkedView,
    local: &'a mut Local,
}

impl CardFace for Asked<'_> {
    fn layout(&self, ui: &Ui) -> Layout {
        layout(ui)
    }

    fn acts(&self, _moment: Moment) -> Vec<Act<CardAct>> {
        let hand_in = Act::primary("Mark this part", keys::ENTER, CardAct::Own(Own::HandIn));
        let mut acts = vec![hand_in.when(self.local.chosen.is_some())];
        if matches!(self.view.drawing.state, DrawingState::Failed(_)) {
            // There is nothing to point at.
            acts.extend(act::aside());
        }
        acts
    }

    fn keys(&self) -> Vec<KeyLine> {
        let step = KeyLine::of("←, →", "Step through the parts");
        let let_go = KeyLine::of("ESC", "Let go of the part; once more: leave the watch");
        if self.local.chosen.is_some() { vec![step, let_go] } else { vec![step] }
    }

    fn takes_escape(&self) -> bool {
        self.local.chosen.is_some()
    }

    fn body_ui(&mut self, ui: &mut Ui, canvas: &mut Canvas<'_>) -> Option<Command> {
        let used = canvas.used(ui);
        point_ui(ui, &self.view.drawing, None, self.local, used)
    }

    fn run(&mut self, ui: &Ui, act: Own) -> Option<Command> {
        if act != Own::HandIn {
            return None;
        }
        let part = self.view.drawing.drawing.parts.get(self.local.chosen.take()?)?;
        if let Some(focused) = ui.memory(|m| m.focused()) {
            ui.memory_mut(|m| m.surrender_focus(focused));
        }
        Some(Command::Card(CardCommand::Submit(Given::Pointed(Pointed::Part(part.id.clone())))))
    }
}

impl CardFace for Marked<'_> {
    fn layout(&self, ui: &Ui) -> Layout {
        layout(ui)
    }

    fn acts(&self, moment: Moment) -> Vec<Act<CardAct>> {
        act::marked(moment)
    }

    fn keys(&self) -> Vec<KeyLine> {
        vec![KeyLine::of("←, →", "Name the parts one by one")]
    }

    fn takes_escape(&self) -> bool {
        self.local.chosen.is_some()
    }

    fn body_ui(&mut self, ui: &mut Ui, canvas: &mut Canvas<'_>) -> Option<Command> {
        let used = canvas.used(ui);
        let result = canvas.result?;
        point_ui(ui, &self.view.drawing, Some((self.view, result)), self.local, used)
    }
}

/// A drawing needs the height, and keeps the outcome in sight above the actions.
fn layout(ui: &Ui) -> Layout {
    Layout { folded: true, in_strip: true, one_line: is_low(ui.ctx()), ..Layout::plain(ui) }
}

impl Local {
    /// The parts are stepped through with the arrows, and by their focus.
    fn keys(&mut self, ui: &Ui, drawing: &Drawing) {
        let parts = drawing.parts.len();
        if parts == 0 {
            return;
        }
        if self.chosen.is_some() && keys::take(ui, keys::ESC) {
            let focused = ui.memory(|m| m.focused());
            self.chosen = None;
            if let Some(focused) = focused {
                ui.memory_mut(|m| m.surrender_focus(focused));
            }
        }
        let before = self.chosen;
        // Where frames are slow, more than one stroke may have come since the last.
        while keys::take_repeated(ui, keys::RIGHT) || keys::take_repeated(ui, keys::DOWN) {
            self.chosen = Some(self.chosen.map_or(0, |part| (part + 1) % parts));
        }
        while keys::take_repeated(ui, keys::TO_LEFT) || keys::take_repeated(ui, keys::UP) {
            self.chosen = Some(self.chosen.map_or(parts - 1, |part| (part + parts - 1) % parts));
        }
        if let Some(part) = self.chosen.filter(|_| self.chosen != before) {
            ui.memory_mut(|m| {
                // The arrows are the card's, and lead nowhere else.
                m.move_focus(FocusDirection::None);
                m.request_focus(part_id(part));
            });
        }
    }
}

/// Draws the card below its question; `used` is the height that the question took.
fn point_ui(
    ui: &mut Ui,
    view: &DrawingView,
    after: Option<(&PointMarkedView, &ResultView)>,
    local: &mut Local,
    used: f32,
) -> Option<Command> {
    let marked = after.map(|(marked, _)| marked);
    local.keys(ui, &view.drawing);
    let places = Places::new(ui, &view.drawing, used, marked.is_some());
    let top = ui.cursor().min;
    let mut child = ui.new_child(UiBuilder::new().id_salt("drawing").max_rect(places.drawing));
    let (laid, drawn_for) = kit::drawing(&mut child, view, &mut local.drawing, places.drawing.size());
    let mut command = None;
    if laid.response.is_some() {
        command = pointer_ui(&child, view, &laid, local, marked);
        parts_ui(&child, view, &laid, local, marked);
    }
    let words = Rect::from_min_max(places.words(laid.place), pos2(ui.max_rect().right(), f32::INFINITY));
    let mut child = ui.new_child(UiBuilder::new().id_salt("words").max_rect(words));
    match after {
        None => asked_ui(&mut child, view, local),
        Some((marked, result)) => marked_ui(&mut child, marked, result, local),
    }
    let bottom = laid.place.bottom().max(child.min_rect().bottom());
    ui.allocate_space(vec2(ui.available_width(), bottom - top.y));
    command.or(drawn_for)
}

/// Whether the outcome stands in one line, so that the drawing has the height.
fn is_low(ctx: &Context) -> bool {
    kit::room(ctx) != Room::Full || ctx.content_rect().height() < DRAWING_LOW
}

/// Where the drawing and the words stand. Both are the same before and after the answer.
struct Places {
    drawing: Rect,
    beside: bool,
}

impl Places {
    fn new(ui: &Ui, drawing: &Drawing, used: f32, marked: bool) -> Self {
        let strip = match (marked, is_low(ui.ctx())) {
            (true, _) => 0.0,
            (false, true) => RESULT_LINE,
            (false, false) => RESULT,
        };
        let width = ui.available_width();
        let height = ui.clip_rect().height() - used - kit::margins(ui.ctx()) - strip;
        let tiny = kit::room(ui.ctx()) == Room::Tiny;
        let high = height.floor().max(DRAWING_LEAST);
        // Where there is little room the drawing takes the width, up to what can be seen of it at once after scrolling.
        let seen = ui.clip_rect().height() - kit::margins(ui.ctx());
        let under = vec2(width, if tiny { high.max(seen.floor()) } else { (high - UNDER).max(DRAWING_LEAST) });
        let beside = vec2(width - BESIDE - S40, high);
        // Words beside the drawing, unless that leaves a wide one much smaller.
        let is_beside = !tiny && kit::fitted(drawing, under).y < 1.15 * kit::fitted(drawing, beside).y;
        let most = if is_beside { beside } else { under };
        Self { drawing: Rect::from_min_size(ui.cursor().min, most), beside: is_beside }
    }

    /// The upper left corner of the words, once the drawing stands.
    fn words(&self, drawing: Rect) -> eframe::egui::Pos2 {
        if self.beside { pos2(drawing.right() + S40, drawing.top()) } else { drawing.left_bottom() + vec2(0.0, S12) }
    }
}

fn part_id(part: usize) -> Id {
    Id::new(("part of a drawing", part))
}

/// What the pointer does: over a part it lights up, and a click on it is the answer.
fn pointer_ui(
    ui: &Ui,
    view: &DrawingView,
    laid: &Laid,
    local: &mut Local,
    marked: Option<&PointMarkedView>,
) -> Option<Command> {
    let response = laid.response.as_ref()?;
    let at = response.hover_pos().or_else(|| response.interact_pointer_pos())?;
    let units = laid.units(at);
    let part = view.drawing.part_at(units)?;
    ui.ctx().set_cursor_icon(CursorIcon::PointingHand);
    if response.clicked() {
        if marked.is_none() {
            local.chosen = None;
            return Some(Command::Card(CardCommand::Submit(Given::Pointed(Pointed::At(units)))));
        }
        local.chosen = Some(part);
    }
    if local.chosen != Some(part) && !marked.is_some_and(|marked| is_flagged(marked, part)) {
        let p = theme::palette(ui);
        local.drawing.mark(ui, laid, part, p.bronze, marked.is_none());
        if marked.is_some() {
            laid.flag(ui, part, &name(&view.drawing, part), None, p.line, &mut Vec::new());
        }
    }
    None
}

fn is_flagged(marked: &PointMarkedView, part: usize) -> bool {
    part == marked.target || Some(part) == marked.pointed
}

/// The parts for keys and for assistive technology, and the marks of those that are chosen, right and wrong.
fn parts_ui(ui: &Ui, view: &DrawingView, laid: &Laid, local: &mut Local, marked: Option<&PointMarkedView>) {
    let p = theme::palette(ui);
    for part in 0..view.drawing.parts.len() {
        node_ui(ui, view, laid, local, marked, part);
    }
    // What is marked is to be seen.
    let flagged = marked.into_iter().flat_map(|marked| [Some(marked.target), marked.pointed]).flatten();
    let mut taken: Vec<Rect> = flagged.map(|part| laid.around(part)).collect();
    if let Some(marked) = marked {
        let mut flag = |local: &mut Local, part: usize, more: &str, shape: Mark, color: Color32| {
            local.drawing.mark(ui, laid, part, color, true);
            let words = format!("{}{more}", name(&view.drawing, part));
            laid.flag(ui, part, &words, Some(shape), color, &mut taken);
        };
        match marked.pointed {
            Some(part) if marked.hit && part != marked.target => {
                flag(local, marked.target, "", Mark::Tick, p.sea);
                flag(local, part, ", a piece of it", Mark::Tick, p.sea);
            }
            Some(part) if !marked.hit => {
                flag(local, part, ": not this", Mark::Cross, p.red_lead);
                flag(local, marked.target, ": this one", Mark::Tick, p.sea);
            }
            _ => flag(local, marked.target, "", Mark::Tick, p.sea),
        }
    }
    // One with a flag stands out already.
    if let Some(part) = local.chosen.filter(|part| !marked.is_some_and(|marked| is_flagged(marked, *part))) {
        local.drawing.mark(ui, laid, part, p.bronze, true);
        if marked.is_some() {
            laid.flag(ui, part, &name(&view.drawing, part), None, p.bronze, &mut taken);
        }
    }
}

/// A part as something that can have the focus. It takes no room from the pointer, which goes by outlines.
fn node_ui(ui: &Ui, view: &DrawingView, laid: &Laid, local: &mut Local, marked: Option<&PointMarkedView>, part: usize) {
    let parts = &view.drawing.parts;
    let around = laid.around(part);
    let response = ui.interact(around, part_id(part), Sense::focusable_noninteractive());
    let said = match marked {
        None => number(part, parts.len()),
        Some(marked) if part == marked.target => {
            format!("{}: {}, the right one", number(part, parts.len()), parts[part].name)
        }
        Some(marked) if Some(part) == marked.pointed => {
            format!("{}: {}, where you pointed", number(part, parts.len()), parts[part].name)
        }
        Some(_) => format!("{}: {}", number(part, parts.len()), parts[part].name),
    };
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, &said));
    if response.gained_focus() {
        local.chosen = Some(part);
        response.scroll_to_me(None);
    }
    if response.has_focus() {
        // Enter is the screen's, and the arrows step from part to part.
        // After the marking parts are only looked at: the keys are the card's.
        let held = if marked.is_some() { Held::Nothing } else { Held::Choice };
        keys::note(ui.ctx(), response.id, held);
        let filter = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
        ui.memory_mut(|m| m.set_focus_lock_filter(response.id, filter));
    }
    let asked_for = ui.input(|i| i.has_accesskit_action_request(response.id, accesskit::Action::Click));
    if asked_for {
        local.chosen = Some(part);
    }
    let chosen = local.chosen == Some(part);
    ui.ctx().accesskit_node_builder(response.id, |node| {
        node.add_action(accesskit::Action::Click);
        if let Some(look) = &parts[part].look {
            node.set_description(look.clone());
        }
        if chosen {
            node.set_selected(true);
        }
    });
}

/// `Part 3 of 9`.
fn number(part: usize, parts: usize) -> String {
    format!("Part {} of {parts}", part + 1)
}

fn name(drawing: &Drawing, part: usize) -> String {
    drawing.parts.get(part).map_or_else(String::new, |part| english::capital(&part.name))
}

/// Before the answer: which part is chosen, without its name, and how to choose.
fn asked_ui(ui: &mut Ui, view: &DrawingView, local: &Local) {
    let p = theme::palette(ui);
    let parts = view.drawing.parts.len();
    let chosen = local.chosen.map_or_else(|| words::count(parts, "part"), |part| number(part, parts));
    label(ui, &chosen, Size::Body, Cut::Semi, p.ink);
    ui.add_space(S4);
    let hint = match local.chosen {
        None => "Click the part. Or step through the parts with ← and →, and press Enter at the right one.",
        Some(_) => "Enter: this is the part. ← and → go on, Esc lets go of it.",
    };
    label(ui, hint, Size::Label, Cut::Regular, p.ink_second);
}

/// After it: right or wrong in a word and a sentence, the reason, and which part is looked at.
fn marked_ui(ui: &mut Ui, marked: &PointMarkedView, result: &ResultView, local: &Local) {
    let p = theme::palette(ui);
    let (word, shape, color) =
        if marked.hit { ("Found", Mark::Tick, p.sea) } else { ("Not found", Mark::Cross, p.red_lead) };
    let (_, row) = ui.allocate_space(vec2(ui.available_width(), theme::line_height(Size::Body)));
    mark(ui.painter(), pos2(row.left() + S8, row.center().y), shape, color);
    let place = row.with_min_x(row.left() + S24);
    kit::paint_in(ui, place, Align2::LEFT_CENTER, word, Size::Body, Cut::Semi, color);
    ui.add_space(S4);
    let response = label(ui, &marked.reason, Size::Body, Cut::Regular, p.ink);
    ui.ctx().accesskit_node_builder(response.id, |node| node.set_live(accesskit::Live::Polite));
    because_ui(ui, result);
    ui.add_space(S16);
    let drawing = &marked.drawing.drawing;
    let line = match local.chosen {
        Some(part) => format!("{}: {}.", number(part, drawing.parts.len()), drawing.parts[part].name),
        None => "← and → name the parts one by one.".to_owned(),
    };
    label(ui, &line, Size::Label, Cut::Regular, p.ink_second);
}
