//! The middle column of a sitting: the question, which stays where it is, and under it the answer.
//!
//! While an answer is given, everything is fitted into the height there is: a long question is set smaller, and the field has
//! fewer rows. Once it is marked, what it comes to scrolls under the question.

use eframe::egui::{Align2, ScrollArea, Ui, vec2};

use crate::app::program::command::Command;
use crate::present::OralView;
use crate::present::stage::Stage;
use crate::ui::kit::{self, Room, label_in, paint_in, rich, rich_height};
use crate::ui::screens::card::CardLocal;
use crate::ui::screens::card::prompt::caution_in;
use crate::ui::screens::oral::kinds::{self, Spoken};
use crate::ui::screens::oral::ways::{WAYS, ways_ui};
use crate::ui::theme::measure::{PROMPT, S4, S8, S12, S16, S24};
use crate::ui::theme::{self, Cut, Size};

/// A question that is higher than this share of the column scrolls by itself.
const QUESTION_MOST: f32 = 0.6;

fn asked(view: &OralView) -> bool {
    view.card.stage.is_asked()
}

/// Draws the column in a height; `page` scrolls what is marked, in points.
pub(super) fn middle_ui(
    ui: &mut Ui,
    view: &OralView,
    local: &mut CardLocal,
    height: f32,
    page: f32,
) -> Option<Command> {
    let p = theme::palette(ui);
    let room = kit::room(ui.ctx());
    let top = ui.cursor().top();
    if room != Room::Tiny {
        let (_, row) = ui.allocate_space(vec2(ui.available_width(), theme::line_height(Size::Label)));
        let word = paint_in(ui, row, Align2::LEFT_CENTER, &view.asked, Size::Label, Cut::Semi, p.ink);
        let rest = row.with_min_x(word.right() + S8);
        paint_in(ui, rest, Align2::LEFT_CENTER, &format!("· {}", view.number), Size::Label, Cut::Regular, p.ink_second);
        ui.add_space(S12);
    }
    if !view.lead_in.is_empty() {
        let (cut, ink) = if view.again { (Cut::Semi, p.ink) } else { (Cut::Regular, p.ink_second) };
        label_in(ui, PROMPT, &view.lead_in, Size::Label, cut, ink);
        ui.add_space(S4);
    }
    let gap = if room == Room::Full { S16 } else { S8 };
    let free = (top + height - ui.cursor().top() - gap).max(0.0);
    question_ui(ui, view, local, free - least_answer(ui, view).min(free));
    ui.add_space(gap);
    let free = (top + height - ui.cursor().top()).max(0.0);
    if asked(view) {
        return asked_ui(ui, view, local, free);
    }
    let area = ScrollArea::vertical().id_salt(("oral-marked", &view.card.key.card)).auto_shrink(false).max_height(free);
    let out = area.show(ui, |ui| {
        ui.scroll_with_delta(vec2(0.0, -page));
        ui.set_width(ui.available_width() - S8);
        marked_ui(ui, view)
    });
    out.inner
}

/// How high the least answer is, with the ways to answer; or what stands in its place.
fn least_answer(ui: &Ui, view: &OralView) -> f32 {
    match spoken(view) {
        Some(kind) => kind.least(ui, view) + if has_ways(ui) { S12 + WAYS } else { 0.0 },
        None => ui.clip_rect().height() * (1.0 - QUESTION_MOST),
    }
}

/// The question that stands, where it is answered here.
fn spoken(view: &OralView) -> Option<&dyn Spoken> {
    match &view.card.stage {
        Stage::Asked(asked) => kinds::asked(asked),
        _ => None,
    }
}

/// In the smallest window the ways to answer have their keys alone.
fn has_ways(ui: &Ui) -> bool {
    !kit::is_low(ui.ctx())
}

/// The question in the largest size that fits; the caution and the picture under it. What does not fit at all scrolls.
fn question_ui(ui: &mut Ui, view: &OralView, local: &mut CardLocal, most: f32) {
    let p = theme::palette(ui);
    let sizes: &[Size] = match (asked(view), kit::room(ui.ctx())) {
        (true, Room::Full) => &[Size::Prompt, Size::Head, Size::Body, Size::Label],
        (true, _) => &[Size::Head, Size::Body, Size::Label],
        _ => &[Size::Body, Size::Label],
    };
    let width = ui.available_width().min(PROMPT);
    let caution = view.card.caution.as_deref();
    let beside = caution.map_or(0.0, |text| {
        let words = kit::lines(ui, text, width - S24, 9, Size::Label, Cut::Regular, p.ink);
        S12 + words.size().y + theme::line_height(Size::Label)
    });
    let fits = |size: &&Size| rich_height(ui, &view.card.ask, width, **size) + beside <= most;
    let size = *sizes.iter().find(fits).unwrap_or(&Size::Label);
    let needed = rich_height(ui, &view.card.ask, width, size) + beside;
    let spare = most - needed - S12;
    let content = |ui: &mut Ui, local: &mut CardLocal| {
        rich(ui, &view.card.ask, PROMPT, size, p.ink);
        if let Some(caution) = caution {
            ui.add_space(S12);
            caution_in(ui, caution, ui.available_width());
        }
        match &view.card.picture {
            Some(picture) => {
                ui.add_space(S12);
                let share = (spare / ui.ctx().content_rect().height()).clamp(0.16, 0.42);
                kit::picture(ui, picture, &mut local.picture, share);
            }
            None => local.picture.clear(),
        }
    };
    if needed <= most && view.card.picture.is_none() {
        content(ui, local);
        return;
    }
    let area = ScrollArea::vertical().id_salt(("oral-question", &view.card.key.card)).max_height(most.max(S24));
    area.show(ui, |ui| content(ui, local));
}

/// The place of the answer, in a height.
fn asked_ui(ui: &mut Ui, view: &OralView, local: &mut CardLocal, free: f32) -> Option<Command> {
    let ways = if has_ways(ui) { S12 + WAYS } else { 0.0 };
    let typed = &mut local.drafts.typed;
    let mut command = spoken(view).and_then(|kind| kind.answer_ui(ui, view, typed, free - ways));
    if has_ways(ui) {
        ui.add_space(S12);
        command = ways_ui(ui, view.way).or(command);
    }
    command
}

/// The marked answer.
fn marked_ui(ui: &mut Ui, view: &OralView) -> Option<Command> {
    let Stage::Marked(marked) = &view.card.stage else { return None };
    kinds::marked(&marked.view)?.marked_ui(ui, view, &marked.result)
}
