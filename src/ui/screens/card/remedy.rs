//! The remedy for a stubborn card: its parts one by one.

use eframe::egui::{Align2, Rect, Ui, pos2, vec2};

use crate::app::program::command::{Command, WatchCommand};
use crate::domain::english;
use crate::present::drawing::PartShown;
use crate::present::stage::{RemedyPart, RemedyView};
use crate::present::words;
use crate::ui::keys;
use crate::ui::kit::{self, Act, heading, label, label_in, rich, wedge_in_margin};
use crate::ui::screens::card::act::{CardAct, Moment};
use crate::ui::screens::card::face::{Canvas, CardFace, Layout};
use crate::ui::theme::measure::{READING, S4, S8, S12, S16};
use crate::ui::theme::{self, Cut, Size};

/// A card taken apart.
pub(super) struct RemedyFace<'a> {
    pub(super) view: &'a RemedyView,
    /// The part of its drawing that is the answer.
    pub(super) part: Option<&'a PartShown>,
    pub(super) drawing: &'a mut kit::DrawingLocal,
}

impl CardFace for RemedyFace<'_> {
    fn layout(&self, ui: &Ui) -> Layout {
        Layout { folded: self.view.folded, ..Layout::plain(ui) }
    }

    fn acts(&self, _moment: Moment) -> Vec<Act<CardAct>> {
        let name = if self.view.shown < self.view.parts.len() { "Next part" } else { "On with the watch" };
        vec![Act::primary(name, keys::SPACE, CardAct::Run(Command::Watch(WatchCommand::RemedyOn)))]
    }

    fn body_ui(&mut self, ui: &mut Ui, _canvas: &mut Canvas<'_>) -> Option<Command> {
        let drawn_for = self.part.and_then(|part| kit::part_shown(ui, part, self.drawing));
        remedy_ui(ui, &self.view.intro, &self.view.parts, self.view.shown);
        drawn_for
    }
}

/// Draws the parts uncovered so far; the newest stands last and is scrolled to.
fn remedy_ui(ui: &mut Ui, intro: &str, parts: &[RemedyPart], shown: usize) {
    let p = theme::palette(ui);
    label_in(ui, READING, intro, Size::Body, Cut::Regular, p.ink_second);
    ui.add_space(S8);
    for (index, part) in parts.iter().take(shown.max(1)).enumerate() {
        ui.add_space(S12);
        let top = ui.cursor().min;
        let response = heading(ui, &part.label, Size::Label, Cut::Semi);
        if part.critical {
            let row = Rect::from_min_size(top, vec2(READING, theme::line_height(Size::Label)));
            wedge_in_margin(ui, row);
            let at = pos2(response.rect.right() + S8, response.rect.center().y);
            let anchor = Align2::LEFT_CENTER;
            kit::paint(ui.painter(), at, anchor, "safety-critical", Size::Label, Cut::Regular, p.red_lead);
        }
        ui.add_space(S4);
        rich(ui, &part.text, READING, Size::Body, p.ink);
        if index + 1 == shown.min(parts.len()) {
            response.scroll_to_me(None);
        }
    }
    ui.add_space(S16);
    let left = parts.len().saturating_sub(shown);
    if left > 0 {
        let words = format!("{} to come", english::capital(&words::count_in_words(left, "part")));
        label(ui, &words, Size::Label, Cut::Regular, p.ink_second);
    }
}
