//! The three ways to answer.

use eframe::egui::{Align2, Sense, Stroke, Ui, WidgetInfo, WidgetType, pos2, vec2};

use crate::app::program::command::{Command, OralCommand};
use crate::domain::oral::Way;
use crate::ui::keys::{self, Held};
use crate::ui::kit;
use crate::ui::theme::measure::{FOCUS, LINE, S8, S24, S40};
use crate::ui::theme::{self, Cut, Size};

/// The height of the ways to answer.
pub(super) const WAYS: f32 = S24 + S8;

/// The three ways to answer, the chosen one underlined.
pub(super) fn ways_ui(ui: &mut Ui, way: Way) -> Option<Command> {
    let p = theme::palette(ui);
    let mut command = None;
    ui.horizontal_wrapped(|ui| {
        for (name, hot, of) in [
            ("Speak", keys::SPEAK, Way::Speak),
            ("Type", keys::WRITE, Way::Write),
            ("Second person marks", keys::SECOND, Way::Second),
        ] {
            let chosen = way == of;
            let cut = if chosen { Cut::Semi } else { Cut::Regular };
            let words = kit::width_of(ui, name, Size::Label, cut);
            let (id, rect) = ui.allocate_space(vec2(words + S8 + S40, WAYS));
            let response = ui.interact(rect, id, Sense::click());
            response.widget_info(|| WidgetInfo::selected(WidgetType::RadioButton, true, chosen, name));
            if response.has_focus() {
                keys::note(ui.ctx(), id, Held::Choice);
            }
            let ink = if chosen || response.hovered() { p.ink } else { p.ink_second };
            let placed = kit::paint(ui.painter(), rect.left_center(), Align2::LEFT_CENTER, name, Size::Label, cut, ink);
            kit::key_box(ui, pos2(placed.right() + S8, rect.center().y), hot.face, p.ink_second, p.line);
            if chosen {
                let y = rect.bottom() - LINE;
                ui.painter().hline(placed.x_range(), y, Stroke::new(FOCUS, p.bronze));
            }
            kit::ring_focus(ui, &response, rect);
            if response.clicked() && !chosen {
                command = Some(Command::Oral(OralCommand::AnswerBy(of)));
            }
            ui.add_space(S8);
        }
    });
    command
}
