//! One card outside the watch, with its answer, its sources and its story.

use eframe::egui::{Align2, Ui, pos2, vec2};

use crate::app::program::command::Command;
use crate::domain::english;
use crate::domain::ids::CardKey;
use crate::present::library::{AnswerView, MethodView, Standing};
use crate::present::{CardPageView, words};
use crate::ui::keys;
use crate::ui::kit::{self, Act, Sheet, heading, label, label_in, mark, paint, rich, wedge_in_margin};
use crate::ui::screens::card::aside::{AsideAct, AsideLocal};
use crate::ui::screens::card::kinds::givens_ui;
use crate::ui::screens::card::outcome::reason_ui;
use crate::ui::screens::card::prompt::{Prompt, prompt_ui};
use crate::ui::screens::library::deck::{sources_ui, standing_mark};
use crate::ui::theme::measure::{READING, S4, S8, S12, S16, S24, S40};
use crate::ui::theme::{self, Cut, Size};

/// Drafts of setting aside and reporting.
#[derive(Default)]
pub struct CardPageLocal {
    card: Option<CardKey>,
    aside: AsideLocal,
    picture: kit::PictureLocal,
    drawing: kit::DrawingLocal,
}

impl CardPageLocal {
    /// On another page the picture is not drawn any more.
    pub fn put_picture_away(&mut self) {
        self.picture.clear();
        self.drawing.clear();
    }

    /// Escape closes a line or a choice on the card first.
    pub fn takes_escape(&self) -> bool {
        self.aside.open()
    }
}

/// Draws one card.
pub fn card_page_ui(ui: &mut Ui, view: &CardPageView, local: &mut CardPageLocal) -> Option<Command> {
    if local.card.as_ref() != Some(&view.key) {
        *local = CardPageLocal { card: Some(view.key.clone()), ..CardPageLocal::default() };
    }
    let acts = if local.aside.open() {
        local.aside.acts()
    } else {
        let first = if view.standing == Standing::SetAside {
            Act::primary("Bring back", keys::letter('B'), AsideAct::Bring)
        } else {
            Act::other("Set aside", keys::letter('A'), AsideAct::Choose)
        };
        vec![first, Act::other("Report a fault", keys::letter('F'), AsideAct::Report)]
    };
    // Each card begins at its top, however far down the one before was left.
    let scroll = format!("card-page {}/{}", view.key.deck.0, view.key.card);
    let sheet = Sheet { framed: true, block: Some(&view.block), folded: false, scroll: &scroll };
    let (drawn_for, act) = sheet.show(ui, &acts, |ui| {
        let prompt = Prompt {
            kind: view.kind,
            place: &view.place,
            changed: None,
            clock: None,
            limit: None,
            ask: &view.ask,
            caution: view.caution.as_deref(),
            picture: view.picture.as_ref(),
            pinned: false,
            answered: false,
        };
        prompt_ui(ui, &prompt, &mut local.picture);
        let drawn_for = view.shown.as_ref().and_then(|shown| {
            let command = kit::part_shown(ui, shown, &mut local.drawing);
            ui.add_space(S16);
            command
        });
        answer_ui(ui, &view.answer);
        reason_ui(ui, view.because.as_deref());
        sources_ui(ui, &view.sources);
        story_ui(ui, view);
        local.aside.content_ui(ui);
        drawn_for
    });
    act.and_then(|act| local.aside.run(&act, &view.key, view.today)).or(drawn_for)
}

/// The answer of a card, to be read.
pub(crate) fn answer_ui(ui: &mut Ui, answer: &AnswerView) {
    let p = theme::palette(ui);
    match answer {
        AnswerView::Points(points) => {
            heading(ui, "Key points", Size::Label, Cut::Semi);
            for (i, point) in points.iter().enumerate() {
                point_ui(ui, &(i + 1).to_string(), &point.text, point.critical);
            }
        }
        AnswerView::Figure { value, within } => {
            label(ui, &words::signs(value), Size::Head, Cut::MonoMedium, p.ink);
            if !within.is_empty() {
                ui.add_space(S4);
                label(ui, &words::signs(within), Size::Label, Cut::Regular, p.ink_second);
            }
        }
        AnswerView::Links { links, false_links } => {
            heading(ui, "In order", Size::Label, Cut::Semi);
            for (i, text) in links.iter().enumerate() {
                point_ui(ui, &(i + 1).to_string(), text, false);
            }
            if !false_links.is_empty() {
                ui.add_space(S16);
                heading(ui, "Belong nowhere", Size::Label, Cut::Semi);
                for text in false_links {
                    point_ui(ui, "–", text, false);
                }
            }
        }
        AnswerView::Part { name, detail } => {
            label(ui, name, Size::Head, Cut::Semi, p.ink);
            if !detail.is_empty() {
                ui.add_space(S4);
                label_in(ui, READING, detail, Size::Label, Cut::Regular, p.ink_second);
            }
        }
        AnswerView::Method(method) => method_ui(ui, method),
    }
}

/// A working's method: what is given and in which range, the lines, the answer, and slips that are known.
fn method_ui(ui: &mut Ui, method: &MethodView) {
    let p = theme::palette(ui);
    ui.scope(|ui| {
        ui.set_max_width(READING.min(ui.available_width()));
        givens_ui(ui, &method.givens);
        ui.add_space(S16);
        heading(ui, "Method", Size::Label, Cut::Semi);
        for (i, line) in method.lines.iter().enumerate() {
            ui.add_space(S8);
            ui.horizontal_top(|ui| {
                let (_, place) = ui.allocate_space(vec2(S24 + S4, theme::line_height(Size::Body)));
                let number = (i + 1).to_string();
                let at = place.left_center();
                paint(ui.painter(), at, Align2::LEFT_CENTER, &number, Size::Label, Cut::Mono, p.ink_second);
                let job = kit::expression_job(line, Size::Body, p.ink, false);
                let response = ui.add(eframe::egui::Label::new(job).wrap());
                ui.ctx().accesskit_node_builder(response.id, |node| node.set_value(line.clone()));
            });
        }
        ui.add_space(S12);
        label(ui, &format!("The answer: {}.", method.answer), Size::Body, Cut::Regular, p.ink);
        if !method.slips.is_empty() {
            ui.add_space(S16);
            heading(ui, "Slips that are known", Size::Label, Cut::Semi);
            for slip in &method.slips {
                point_ui(ui, "–", slip, false);
            }
        }
    });
}

fn point_ui(ui: &mut Ui, number: &str, text: &str, critical: bool) {
    let p = theme::palette(ui);
    ui.add_space(S8);
    let top = ui.cursor().min;
    ui.horizontal_top(|ui| {
        let (_, place) = ui.allocate_space(vec2(S24 + S4, theme::line_height(Size::Body)));
        paint(ui.painter(), place.left_center(), Align2::LEFT_CENTER, number, Size::Label, Cut::Mono, p.ink_second);
        ui.vertical(|ui| {
            let said = if critical { format!("{text} (safety-critical)") } else { text.to_owned() };
            rich(ui, &said, READING, Size::Body, p.ink);
        });
    });
    if critical {
        let row = eframe::egui::Rect::from_min_size(top, vec2(READING, theme::line_height(Size::Body)));
        wedge_in_margin(ui, row);
    }
}

fn story_ui(ui: &mut Ui, view: &CardPageView) {
    let p = theme::palette(ui);
    heading(ui, "Where it stands", Size::Body, Cut::Semi);
    ui.add_space(S4);
    ui.horizontal_top(|ui| {
        let (_, place) = ui.allocate_space(vec2(S24, theme::line_height(Size::Label)));
        let tone = theme::tone(ui, view.standing.tone());
        mark(ui.painter(), pos2(place.left() + S8, place.center().y), standing_mark(view.standing), tone);
        let words = english::capital(view.standing.word());
        let words = format!("{words}. {}", view.standing_detail);
        label_in(ui, READING, words.trim(), Size::Label, Cut::Regular, p.ink);
    });
    for row in &view.history {
        ui.add_space(S4);
        let words = format!("{}: {}. {}", row.day, row.outcome.word(), row.detail);
        ui.horizontal_top(|ui| {
            ui.add_space(S24);
            kit::label(ui, &words, Size::Label, Cut::Regular, p.ink_second);
        });
    }
    if !view.faults.is_empty() {
        ui.add_space(S24);
        heading(ui, "Faults you reported", Size::Body, Cut::Semi);
        for fault in &view.faults {
            ui.add_space(S4);
            let words = format!("{}: {}", fault.day, fault.note);
            label_in(ui, READING + S40, &words, Size::Label, Cut::Regular, p.ink);
        }
    }
}
