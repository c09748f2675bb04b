//! The remedy for a stubborn card: its parts one by one.

use eframe::egui::{Ui, pos2, vec2};

use crate::present::watch::RemedyPart;
use crate::ui::kit::{heading, label, label_in, rich, wedge_in_margin};
use crate::ui::theme::measure::{READING, S4, S8, S12, S16};
use crate::ui::theme::{self, Cut, Size};

/// Draws the parts uncovered so far; the newest stands last and is scrolled to.
pub(super) fn remedy_ui(ui: &mut Ui, intro: &str, parts: &[RemedyPart], shown: usize) {
    let p = theme::palette(ui);
    label_in(ui, READING, intro, Size::Body, Cut::Regular, p.ink_second);
    ui.add_space(S8);
    for (index, part) in parts.iter().take(shown.max(1)).enumerate() {
        ui.add_space(S12);
        let top = ui.cursor().min;
        let response = heading(ui, &part.label, Size::Label, Cut::Semi);
        if part.critical {
            let row = eframe::egui::Rect::from_min_size(top, vec2(READING, theme::line_height(Size::Label)));
            wedge_in_margin(ui, row);
            let at = pos2(response.rect.right() + S8, response.rect.center().y);
            let anchor = eframe::egui::Align2::LEFT_CENTER;
            crate::ui::kit::paint(ui.painter(), at, anchor, "safety-critical", Size::Label, Cut::Regular, p.red_lead);
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
        let words =
            format!("{} to come", crate::present::words::capital(&crate::present::words::count_in_words(left, "part")));
        label(ui, &words, Size::Label, Cut::Regular, p.ink_second);
    }
}
