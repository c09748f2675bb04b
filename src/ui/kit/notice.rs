//! The line that says what just happened.

use eframe::egui::{CornerRadius, Rect, Stroke, StrokeKind, Ui, UiBuilder, accesskit, pos2, vec2};

use crate::present::{Notice, Tone};
use crate::ui::keys;
use crate::ui::kit::mark::{Mark, mark};
use crate::ui::kit::{act, text};
use crate::ui::theme::measure::{CORNER, LINE, S8, S12, S16, S24, S40};
use crate::ui::theme::{self, Cut, Size};

/// Draws a notice at the top of a rectangle; returns the height it takes and whether it was put away.
pub fn notice(ui: &mut Ui, within: Rect, notice: &Notice) -> (f32, bool) {
    let p = theme::palette(ui);
    let color = theme::tone(ui, notice.tone);
    let put_away = 120.0;
    let width = within.width() - S40 - S24 - put_away;
    let galley = text::lines(ui, &notice.text, width, 3, Size::Label, Cut::Regular, p.ink);
    let height = galley.size().y + S16;
    let rect = Rect::from_min_size(within.min, vec2(within.width(), height));
    ui.painter().rect(rect, CornerRadius::same(CORNER), p.raised, Stroke::new(LINE, color), StrokeKind::Inside);
    let shape = match notice.tone {
        Tone::Good => Mark::Tick,
        Tone::Weak => Mark::WedgeUp,
        Tone::Bad => Mark::Cross,
        Tone::Plain | Tone::Quiet => Mark::Dot,
    };
    mark(ui.painter(), pos2(rect.left() + S12 + S8, rect.center().y), shape, color);
    let builder = UiBuilder::new().id_salt("notice").max_rect(Rect::from_min_max(
        pos2(rect.left() + S40, rect.top() + S8),
        pos2(rect.left() + S40 + width, rect.bottom()),
    ));
    let mut child = ui.new_child(builder);
    let response = text::label(&mut child, &notice.text, Size::Label, Cut::Regular, p.ink);
    ui.ctx().accesskit_node_builder(response.id, |node| node.set_live(accesskit::Live::Polite));
    let hot = keys::letter('X');
    let (response, _) = act::link(ui, pos2(rect.right() - S12, rect.center().y), "Put away", hot);
    let away = response.clicked() || keys::take(ui, hot);
    (height, away)
}
