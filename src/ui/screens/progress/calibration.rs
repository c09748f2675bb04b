//! How well the program knows the learner: forecasts against what came, and the learner's own memory.

use eframe::egui::{Sense, Ui, WidgetInfo, WidgetType, vec2};

use crate::app::program::command::{Command, TrainingCommand};
use crate::app::program::route::Route;
use crate::present::knowing::FitView;
use crate::present::{KnowingView, Labelled};
use crate::ui::keys;
use crate::ui::kit::{self, Act, Mark, Room, Sheet, heading, label, label_in, mark};
use crate::ui::theme::measure::{DIAGRAM, READING, S4, S8, S12, S16, S24, S40};
use crate::ui::theme::{self, Cut, Size};

/// Draws the page.
pub fn knowing_ui(ui: &mut Ui, view: &KnowingView) -> Option<Command> {
    let mut acts = Vec::new();
    match view.learning {
        Some(_) => acts.push(Act::other("Stop", keys::letter('S'), Command::Training(TrainingCommand::Stop))),
        None => {
            acts.push(Act::primary("Learn my memory", keys::letter('L'), Command::Training(TrainingCommand::Begin)))
        }
    }
    if view.own && view.learning.is_none() {
        acts.push(Act::other(
            "The published memory again",
            keys::letter('O'),
            Command::Training(TrainingCommand::Forget),
        ));
    }
    let back = keys::take(ui, keys::ESC).then_some(Command::Go(Route::Competence));
    let sheet = Sheet { framed: false, block: None, folded: false, scroll: "knowing" };
    let ((), act) = sheet.show(ui, &acts, |ui| content_ui(ui, view));
    act.or(back)
}

fn content_ui(ui: &mut Ui, view: &KnowingView) {
    let p = theme::palette(ui);
    ui.add_space(S8);
    let size = if kit::room(ui.ctx()) == Room::Full { Size::Big } else { Size::Prompt };
    heading(ui, "How well does this program know you?", size, Cut::Semi);
    ui.add_space(S4);
    let words = "Before each answer it predicts the chance that you recall the card. Here that is compared with what came. A dot \
                 on the diagonal was predicted right, a dot below it too high; the figure beside it is the number of answers.";
    label_in(ui, READING + S40 * 4.0, words, Size::Label, Cut::Regular, p.ink_second);
    ui.add_space(S16);
    match &view.fits {
        None => {
            let words = view.trouble.as_deref().unwrap_or("Looking through your answers …");
            label(ui, words, Size::Label, Cut::Regular, p.ink_second);
        }
        Some(fits) if kit::room(ui.ctx()) == Room::Tiny => {
            for fit in fits {
                fit_ui(ui, fit);
                ui.add_space(S24);
            }
        }
        Some(fits) => {
            let width = ui.available_width();
            ui.horizontal_top(|ui| {
                for fit in fits {
                    ui.vertical(|ui| {
                        ui.set_width(width / 2.0 - S24);
                        fit_ui(ui, fit);
                    });
                    ui.add_space(S24);
                }
            });
        }
    }
    ui.add_space(S16);
    heading(ui, "Your own memory", Size::Body, Cut::Semi);
    ui.add_space(S4);
    label_in(ui, READING + S40 * 4.0, &view.memory, Size::Label, Cut::Regular, p.ink_second);
    if let Some(share) = view.learning {
        ui.add_space(S8);
        let (id, rect) = ui.allocate_space(vec2(ui.available_width().min(READING), S24));
        let response = ui.interact(rect, id, Sense::hover());
        let said = format!("{:.0} per cent learned", share * 100.0);
        response.widget_info(|| WidgetInfo::labeled(WidgetType::ProgressIndicator, true, &said));
        kit::time_bar(ui, rect, share as f32);
        label(ui, &said, Size::Label, Cut::Regular, p.ink_second);
    }
    ui.add_space(S16);
}

fn fit_ui(ui: &mut Ui, fit: &FitView) {
    let p = theme::palette(ui);
    heading(ui, &fit.title, Size::Body, Cut::Semi);
    ui.add_space(S4);
    ui.horizontal_top(|ui| {
        let (_, place) = ui.allocate_space(vec2(S16, theme::line_height(Size::Label)));
        if let Some(off) = fit.off {
            let (shape, tone) = if off { (Mark::WedgeDown, p.amber) } else { (Mark::Tick, p.sea) };
            mark(ui.painter(), place.center(), shape, tone);
        }
        let width = ui.available_width();
        label_in(ui, width, &fit.sentence, Size::Label, Cut::Regular, p.ink);
    });
    if fit.bins.is_empty() {
        return;
    }
    ui.add_space(S8);
    let (id, rect) = ui.allocate_space(vec2(DIAGRAM.min(ui.available_width()), DIAGRAM));
    let rows = fit
        .bins
        .iter()
        .map(|bin| format!("predicted {:.0}, came {:.0} of {}", bin.forecast * 100.0, bin.share * 100.0, bin.count));
    let said = format!("{}: {}", fit.title, rows.collect::<Vec<_>>().join("; "));
    let response = ui.interact(rect, id, Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &said));
    kit::reliability(ui, rect, &fit.bins);
    ui.add_space(S12);
    for Labelled { label, words } in &fit.facts {
        let width = ui.available_width();
        label_in(ui, width, &format!("{label}: {words}"), Size::Small, Cut::Regular, p.ink_second);
    }
}
