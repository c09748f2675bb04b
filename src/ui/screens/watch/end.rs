//! The end of a watch: what slipped and why, the outcomes, what comes tomorrow.

use eframe::egui::{Align2, Ui, pos2, vec2};

use crate::app::program::command::{Command, WatchCommand};
use crate::app::program::route::Route;
use crate::domain::outcome::Outcome;
use crate::present::watch::{OutcomeCount, SlippedRow};
use crate::present::{Tone, WatchEndView};
use crate::ui::keys;
use crate::ui::kit::{Act, Mark, Room, Sheet, heading, label_in, lines, mark, paint, paint_in, ring_focus, room};
use crate::ui::theme::measure::{READING, S4, S8, S12, S16, S24, S40};
use crate::ui::theme::{self, Cut, Size};

/// Draws the end.
pub fn watch_end_ui(ui: &mut Ui, view: &WatchEndView) -> Option<Command> {
    let mut acts = vec![
        Act::primary("To the front page", keys::ENTER, Command::Watch(WatchCommand::Leave)),
        Act::other("Library", keys::letter('L'), Command::Go(Route::Library)),
    ];
    if view.can_take_back {
        acts.push(Act::other("Take back the last answer", keys::TAKE_BACK, Command::Watch(WatchCommand::TakeBack)));
    }
    let sheet = Sheet { framed: true, block: Some(&view.block), folded: false, scroll: "watch-end" };
    let (opened, act) = sheet.show(ui, &acts, |ui| content_ui(ui, view));
    act.or(opened)
}

fn content_ui(ui: &mut Ui, view: &WatchEndView) -> Option<Command> {
    let p = theme::palette(ui);
    ui.add_space(S12);
    heading(ui, &view.headline, if room(ui.ctx()) == Room::Tiny { Size::Prompt } else { Size::Big }, Cut::Semi);
    ui.add_space(S8);
    label_in(ui, READING + S40, &view.sentence, Size::Body, Cut::Regular, p.ink_second);
    ui.add_space(S24);
    counts_ui(ui, &view.counts);
    ui.add_space(S24);
    let mut command = None;
    if view.slipped.is_empty() {
        heading(ui, "Nothing slipped", Size::Head, Cut::Semi);
    } else {
        heading(ui, "What slipped, and why", Size::Head, Cut::Semi);
        ui.add_space(S4);
        for row in &view.slipped {
            command = slipped_ui(ui, row).or(command);
        }
    }
    ui.add_space(S16);
    label_in(ui, READING + S40, &view.tomorrow, Size::Body, Cut::Regular, p.ink);
    command
}

/// Four figures side by side, each with its word and mark.
fn counts_ui(ui: &mut Ui, counts: &[OutcomeCount]) {
    let p = theme::palette(ui);
    let width = (ui.available_width() / counts.len().max(1) as f32).min(152.0);
    ui.horizontal(|ui| {
        for OutcomeCount { outcome, count } in counts {
            let (id, rect) = ui.allocate_space(vec2(width, S40 + S24));
            let response = ui.interact(rect, id, eframe::egui::Sense::hover());
            let said = format!("{}: {count}", outcome.word());
            response.widget_info(|| eframe::egui::WidgetInfo::labeled(eframe::egui::WidgetType::Label, true, &said));
            let (shape, tone) = shape(*outcome);
            let y = rect.top() + S12;
            mark(ui.painter(), pos2(rect.left() + S8, y), shape, theme::tone(ui, tone));
            let at = pos2(rect.left() + S24, y);
            paint(ui.painter(), at, Align2::LEFT_CENTER, outcome.word(), Size::Label, Cut::Regular, p.ink_second);
            let at = pos2(rect.left() + S24, rect.top() + S24);
            paint(ui.painter(), at, Align2::LEFT_TOP, &count.to_string(), Size::Prompt, Cut::Mono, p.ink);
        }
    });
}

fn shape(outcome: Outcome) -> (Mark, Tone) {
    match outcome {
        Outcome::Missed => (Mark::Cross, Tone::Bad),
        Outcome::Prompted => (Mark::WedgeDown, Tone::Weak),
        Outcome::Answered => (Mark::Tick, Tone::Good),
        Outcome::Fluent => (Mark::Dot, Tone::Good),
    }
}

fn slipped_ui(ui: &mut Ui, row: &SlippedRow) -> Option<Command> {
    let p = theme::palette(ui);
    let next_room = S40 * 3.0;
    let width = ui.available_width() - S24 - next_room;
    let ask = lines(ui, &row.ask, width, 2, Size::Body, Cut::Regular, p.ink);
    let why = lines(ui, &row.why, width, 3, Size::Label, Cut::Regular, p.ink_second);
    let height = ask.size().y + why.size().y + S16;
    let (id, rect) = ui.allocate_space(vec2(ui.available_width(), height));
    let response = ui.interact(rect, id, eframe::egui::Sense::click());
    let said = format!("{}. {} Back {}.", row.ask, row.why, row.next);
    response.widget_info(|| eframe::egui::WidgetInfo::labeled(eframe::egui::WidgetType::Button, true, &said));
    if response.has_focus() {
        keys::note(ui.ctx(), id, keys::Held::Button);
    }
    if response.hovered() {
        ui.painter().rect_filled(rect, 0, p.raised);
    }
    let top = rect.top() + S8;
    let first = top + theme::line_height(Size::Body) / 2.0;
    mark(ui.painter(), pos2(rect.left() + S4, first), Mark::WedgeDown, p.amber);
    let ask_height = ask.size().y;
    ui.painter().galley(pos2(rect.left() + S24, top), ask, p.ink);
    ui.painter().galley(pos2(rect.left() + S24, top + ask_height), why, p.ink_second);
    let place = eframe::egui::Rect::from_min_max(
        pos2(rect.right() - next_room + S8, first - S12),
        pos2(rect.right(), first + S12),
    );
    paint_in(ui, place, Align2::RIGHT_CENTER, &format!("back {}", row.next), Size::Label, Cut::Regular, p.ink_second);
    ui.painter().hline(rect.x_range(), ui.painter().round_to_pixel_center(rect.bottom() - 1.0), theme::hairline(ui));
    ring_focus(ui, &response, rect.expand2(vec2(S4, -2.0)));
    response.clicked().then(|| Command::Go(Route::Card(row.key.clone())))
}
