//! What stands over a card's answer: kind, place and clock, the question, the caution, the picture.

use eframe::egui::{Align2, Rect, Ui, pos2, vec2};

use crate::domain::english;
use crate::domain::kinds::Kind;
use crate::present::{PictureView, words};
use crate::ui::kit::{self, Mark, label_in, mark, paint, paint_in, rich};
use crate::ui::theme::measure::{PROMPT, S8, S12, S16, S24};
use crate::ui::theme::{self, Cut, Size};

/// Questions of so many characters are set smaller, and of so many as running text over the whole sheet.
const MIDDLING_ASK: usize = 160;
const LONG_ASK: usize = 240;

/// What stands over a card's answer.
#[derive(Clone, Copy)]
pub(crate) struct Prompt<'a> {
    pub(crate) kind: Kind,
    pub(crate) place: &'a str,
    /// That an edition has changed the card.
    pub(crate) changed: Option<&'a str>,
    pub(crate) clock: Option<u32>,
    /// Seconds within which a full answer is fluent.
    pub(crate) limit: Option<u32>,
    pub(crate) ask: &'a str,
    pub(crate) caution: Option<&'a str>,
    pub(crate) picture: Option<&'a PictureView>,
    /// The question stands above the sheet, where it stays while the sheet scrolls.
    pub(crate) pinned: bool,
    /// The answer stands below, which needs the room more than the picture does.
    pub(crate) answered: bool,
}

/// Kind, place, clock; the question; the caution; the picture.
pub(crate) fn prompt_ui(ui: &mut Ui, prompt: &Prompt<'_>, shown: &mut kit::PictureLocal) {
    let Prompt { kind, place, changed, clock, limit, ask, pinned, answered, .. } = *prompt;
    let p = theme::palette(ui);
    let room = kit::room(ui.ctx());
    if pinned {
        beside_ui(ui, prompt, shown);
        return;
    }
    if room == kit::Room::Full {
        ui.add_space(S8);
    }
    let (_, row) = ui.allocate_space(vec2(ui.available_width(), theme::line_height(Size::Label)));
    let word = paint_in(ui, row, Align2::LEFT_CENTER, &english::capital(kind.word()), Size::Label, Cut::Semi, p.ink);
    let right = clock.map_or(row.right(), |seconds| {
        let text = match limit {
            Some(limit) => format!("{} of {}", words::clock(seconds), words::clock(limit)),
            None => words::clock(seconds),
        };
        paint_in(ui, row, Align2::RIGHT_CENTER, &text, Size::Label, Cut::Mono, p.ink_second).left() - S16
    });
    let mut left = word.right();
    let after = |ui: &Ui, left: f32| {
        let dot = pos2(left + S8, row.center().y);
        paint(ui.painter(), dot, Align2::CENTER_CENTER, "·", Size::Label, Cut::Regular, p.ink_second);
        Rect::from_min_max(pos2(left + S16, row.top()), pos2(right, row.bottom()))
    };
    if let Some(changed) = changed {
        let rest = after(ui, left);
        left = paint_in(ui, rest, Align2::LEFT_CENTER, changed, Size::Label, Cut::Semi, p.bronze).right();
    }
    let rest = after(ui, left);
    paint_in(ui, rest, Align2::LEFT_CENTER, place, Size::Label, Cut::Regular, p.ink_second);
    ui.add_space(S8);
    // A long question, such as a sequence's plant and goal, is set smaller, so that there is room for the answer.
    let size = match (room, ask.chars().count()) {
        (kit::Room::Full, MIDDLING_ASK..) if answered => Size::Body,
        (kit::Room::Full, _) if answered => Size::Head,
        (kit::Room::Tiny, _) if kit::is_low(ui.ctx()) => Size::Body,
        (_, LONG_ASK..) => Size::Body,
        (kit::Room::Tiny, _) | (_, MIDDLING_ASK..) => Size::Head,
        _ => Size::Prompt,
    };
    let width = if size == Size::Body { ui.available_width() } else { PROMPT };
    rich(ui, ask, width, size, p.ink);
    beside_ui(ui, prompt, shown);
    ui.add_space(match room {
        kit::Room::Full if answered => S12,
        kit::Room::Full => S24,
        kit::Room::Folded => S16,
        kit::Room::Tiny => S8,
    });
}

/// What belongs to a question beside its words: the caution, the picture.
fn beside_ui(ui: &mut Ui, prompt: &Prompt<'_>, shown: &mut kit::PictureLocal) {
    if let Some(caution) = prompt.caution {
        ui.add_space(S12);
        caution_in(ui, caution, ui.available_width());
    }
    if prompt.picture.is_some() {
        ui.add_space(S12);
    }
    picture_ui(ui, prompt.picture, shown, if prompt.answered { 0.26 } else { 0.42 });
}

/// A card's picture, in at most this share of the window's height.
pub(crate) fn picture_ui(ui: &mut Ui, picture: Option<&PictureView>, shown: &mut kit::PictureLocal, share: f32) {
    match picture {
        Some(picture) => kit::picture(ui, picture, shown, share),
        None => shown.clear(),
    }
}

/// A caution: the amber wedge, the word, the text.
pub(crate) fn caution_ui(ui: &mut Ui, text: &str) {
    caution_in(ui, text, PROMPT);
}

/// A caution within a width: the amber wedge, the word, the text.
pub(crate) fn caution_in(ui: &mut Ui, text: &str, width: f32) {
    let p = theme::palette(ui);
    ui.horizontal_top(|ui| {
        let (_, place) = ui.allocate_space(vec2(S24, theme::line_height(Size::Label)));
        mark(ui.painter(), pos2(place.left() + S8, place.center().y), Mark::WedgeUp, p.amber);
        ui.vertical(|ui| {
            label_in(ui, width - S24, &format!("Caution: {text}"), Size::Label, Cut::Regular, p.ink);
        });
    });
}
