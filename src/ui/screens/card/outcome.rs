//! What an answer comes to: the outcome with its notch, the rule by which it was weighed, the card's reason.

use eframe::egui::{Align2, Sense, Ui, WidgetInfo, WidgetType, pos2, vec2};

use crate::app::program::command::{CardCommand, Command};
use crate::present::result::ResultView;
use crate::ui::keys::{self, Hot};
use crate::ui::kit::{self, heading, label, paint, rich};
use crate::ui::theme::measure::{READING, S4, S8, S12, S24, S40};
use crate::ui::theme::{self, Cut, Size};

/// The rule by which the answer was weighed, and the reason of the card.
pub(crate) fn because_ui(ui: &mut Ui, result: &ResultView) {
    let p = theme::palette(ui);
    if !result.rule.is_empty() {
        ui.add_space(S12);
        let mut job = kit::job("Rule", Size::Label, Cut::Semi, p.ink);
        job.append(&result.rule, S12, theme::format(Size::Label, Cut::Regular, p.ink_second));
        ui.add(eframe::egui::Label::new(job).wrap());
    }
    reason_ui(ui, result.because.as_deref());
}

/// The reason of a card.
pub(crate) fn reason_ui(ui: &mut Ui, because: Option<&str>) {
    let Some(because) = because else { return };
    let p = theme::palette(ui);
    ui.add_space(S12);
    heading(ui, "Because", Size::Label, Cut::Semi);
    ui.add_space(S4);
    rich(ui, because, READING, Size::Body, p.ink);
}

/// The height of the outcome with its notch line.
pub(crate) const RESULT: f32 = S24 + S24 + S4 + S24;

/// The height of the outcome in one line.
pub(crate) const RESULT_LINE: f32 = S24 + S4;

/// Where the outcome stands: under the answer as on the drawing or, where that would be out of sight, in a
/// strip above the actions.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) enum ResultAt {
    /// Under the answer.
    #[default]
    Answer,
    /// In the strip.
    Strip,
}

/// The outcome under the answer, unless it stands in the strip, and the reason. Returns the notch asked for.
pub(crate) fn result_ui(ui: &mut Ui, result: &ResultView, at: ResultAt) -> Option<Command> {
    let command = if at == ResultAt::Answer {
        ui.add_space(S24);
        outcome_ui(ui, result)
    } else {
        None
    };
    because_ui(ui, result);
    command
}

/// What an answer comes to, and the notch.
pub(crate) fn outcome_ui(ui: &mut Ui, result: &ResultView) -> Option<Command> {
    outcome_at_ui(ui, result, Size::Body)
}

/// What an answer comes to, and the notch, in words of a size: for a narrower place.
pub(crate) fn outcome_at_ui(ui: &mut Ui, result: &ResultView, size: Size) -> Option<Command> {
    let p = theme::palette(ui);
    let words = format!("{}: {}", result.outcome.word(), result.detail);
    // Words that do not fit into the line are set smaller, in two.
    let fits = kit::width_of(ui, &words, size, Cut::Semi) <= ui.available_width();
    let size = if fits { size } else { Size::Label };
    let mut job = eframe::egui::text::LayoutJob::default();
    job.append(&format!("{}:", result.outcome.word()), 0.0, theme::format(size, Cut::Semi, p.ink));
    job.append(&format!(" {}", result.detail), 0.0, theme::format(size, Cut::Regular, p.ink));
    let label = eframe::egui::Label::new(job);
    let response = ui.add(if fits { label.truncate() } else { label.wrap() });
    ui.ctx().accesskit_node_builder(response.id, |node| {
        node.set_value(words);
        node.set_live(eframe::egui::accesskit::Live::Polite);
    });
    ui.add_space(S4);
    notch_ui(ui, result)
}

/// What an answer comes to, and the notch, in one line: for a low window.
pub(crate) fn outcome_line_ui(ui: &mut Ui, result: &ResultView) -> Option<Command> {
    let p = theme::palette(ui);
    let width = ui.available_width();
    let mut command = None;
    ui.horizontal(|ui| {
        ui.scope(|ui| {
            ui.set_max_width(width - S40 * 2.0);
            let words = format!("{}: {}", result.outcome.word(), result.detail);
            ui.add(eframe::egui::Label::new(kit::job(&words, Size::Label, Cut::Semi, p.ink)).truncate());
        });
        ui.add_space(S8);
        for (hot, step) in [(keys::MINUS, result.down()), (keys::PLUS, result.up())] {
            let Some((notch, outcome)) = step else { continue };
            let name = format!("to {}", outcome.word());
            if notch_button(ui, hot, &name, false) || keys::take(ui, hot) {
                command = Some(Command::Card(CardCommand::SetNotch(notch)));
            }
        }
    });
    command
}

fn notch_ui(ui: &mut Ui, result: &ResultView) -> Option<Command> {
    if result.down().is_none() && result.up().is_none() {
        // As on the day: the examiner's marking stands.
        return None;
    }
    let p = theme::palette(ui);
    let said = match result.notch {
        crate::domain::outcome::Notch::None => "Adjust the result:".to_owned(),
        _ => format!("Worked out as {}; you moved it:", result.worked_out.word()),
    };
    let mut command = None;
    ui.horizontal(|ui| {
        label(ui, &said, Size::Label, Cut::Regular, p.ink);
        ui.add_space(S8);
        for (hot, step) in [(keys::MINUS, result.down()), (keys::PLUS, result.up())] {
            let Some((notch, outcome)) = step else { continue };
            let name = format!("to {}", outcome.word());
            if notch_button(ui, hot, &name, true) || keys::take(ui, hot) {
                command = Some(Command::Card(CardCommand::SetNotch(notch)));
            }
            ui.add_space(S24);
        }
    });
    command
}

fn notch_button(ui: &mut Ui, hot: Hot, name: &str, named: bool) -> bool {
    let p = theme::palette(ui);
    let words = if named { name } else { "" };
    let width = S24 + S4 + kit::width_of(ui, words, Size::Label, Cut::Regular);
    let (id, rect) = ui.allocate_space(vec2(width, S24));
    let response = ui.interact(rect, id, Sense::click());
    let said = format!("Adjust the result {name}");
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, &said));
    if response.has_focus() {
        keys::note(ui.ctx(), id, keys::Held::Button);
    }
    let ink = if response.hovered() { p.bronze } else { p.ink };
    kit::key_box(ui, rect.left_center(), hot.face, p.ink_second, p.line);
    paint(
        ui.painter(),
        pos2(rect.left() + S24 + S4, rect.center().y),
        Align2::LEFT_CENTER,
        words,
        Size::Label,
        Cut::Regular,
        ink,
    );
    kit::ring_focus(ui, &response, rect.expand2(vec2(S4, 0.0)));
    response.on_hover_cursor(eframe::egui::CursorIcon::PointingHand).clicked()
}
