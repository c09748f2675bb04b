//! How orals are shared and passed: looked at and changed, since administrations differ.

use eframe::egui::{Align2, Sense, Ui, WidgetInfo, WidgetType, vec2};

use crate::app::program::command::{Command, SettingsCommand};
use crate::domain::oral::{Blueprint, Length};
use crate::present::BlueprintView;
use crate::present::oral::CompetenceCards;
use crate::ui::keys::{self, Held};
use crate::ui::kit::{self, Act, Sheet, heading, label_in, paint, paint_in, ring_focus};
use crate::ui::theme::measure::{LIST_ROW, READING, S4, S8, S12, S16, S24, S40};
use crate::ui::theme::{self, Cut, Size};

/// The blueprint as it is being changed.
#[derive(Default)]
pub struct BlueprintLocal {
    kept: Option<Blueprint>,
    draft: Option<Blueprint>,
    at: usize,
}

/// Rows before those of the competences.
const RULES: usize = 4;
const MOST_WEIGHT: f64 = 30.0;

/// Draws the blueprint.
pub fn blueprint_ui(ui: &mut Ui, view: &BlueprintView, local: &mut BlueprintLocal) -> Option<Command> {
    if local.kept.as_ref() != Some(&view.blueprint) {
        *local =
            BlueprintLocal { kept: Some(view.blueprint.clone()), draft: Some(view.blueprint.clone()), at: local.at };
    }
    let mut draft = local.draft.clone().unwrap_or_else(|| view.blueprint.clone());
    let rows = RULES + draft.shares.len();
    if keys::take_repeated(ui, keys::DOWN) {
        local.at = (local.at + 1) % rows;
    }
    if keys::take_repeated(ui, keys::UP) {
        local.at = (local.at + rows - 1) % rows;
    }
    if keys::take_repeated(ui, keys::RIGHT) {
        step(&mut draft, local.at, 1);
    }
    if keys::take_repeated(ui, keys::TO_LEFT) {
        step(&mut draft, local.at, -1);
    }
    let keep = Command::Settings(SettingsCommand::SetBlueprint(Box::new(draft.clone())));
    let ours = Command::Settings(SettingsCommand::SetBlueprint(Box::new(view.standard.clone())));
    let acts = [
        Act::primary("Keep it", keys::ENTER, keep).when(draft != view.blueprint),
        Act::other("Back to ours", keys::letter('O'), ours).when(view.blueprint != view.standard),
    ];
    let sheet = Sheet { framed: false, block: None, folded: false, scroll: "blueprint" };
    let ((), act) = sheet.show(ui, &acts, |ui| content_ui(ui, view, &mut draft, &mut local.at));
    local.draft = Some(draft);
    act
}

/// Less or more of a row.
fn step(draft: &mut Blueprint, at: usize, by: i32) {
    let percent = |share: f64| ((share * 100.0).round() + 5.0 * f64::from(by)).clamp(0.0, 100.0) / 100.0;
    match at {
        0 => {
            draft.length = match draft.length {
                Length::Questions(n) => Length::Questions(n.saturating_add_signed(by as isize).clamp(1, 60)),
                Length::Minutes(n) => Length::Minutes(n.saturating_add_signed(5 * by).clamp(5, 240)),
            }
        }
        1 => draft.rules.overall = percent(draft.rules.overall),
        2 => draft.rules.each_function = percent(draft.rules.each_function),
        3 => draft.rules.critical_fails = by > 0,
        _ => {
            if let Some(share) = draft.shares.get_mut(at - RULES) {
                share.weight = (share.weight + f64::from(by)).clamp(0.0, MOST_WEIGHT);
            }
        }
    }
}

fn content_ui(ui: &mut Ui, view: &BlueprintView, draft: &mut Blueprint, at: &mut usize) {
    let p = theme::palette(ui);
    ui.add_space(S8);
    heading(ui, "How an oral is shared, and what passes it", Size::Head, Cut::Semi);
    let words = "Ours is common practice, with no published source: marine engineering and safety take most of an oral, and half of the points in \
                 each function with six tenths over all pass. Your administration may do otherwise; set it as its notice says.";
    label_in(ui, READING + S40 * 4.0, words, Size::Label, Cut::Regular, p.ink_second);
    for notice in &view.notices {
        label_in(ui, READING + S40 * 4.0, notice, Size::Small, Cut::Regular, p.ink_second);
    }
    label_in(
        ui,
        READING + S40 * 4.0,
        "Notices change: read the current one before you book.",
        Size::Small,
        Cut::Regular,
        p.ink_second,
    );
    ui.add_space(S16);
    let length = match draft.length {
        Length::Questions(n) => n.to_string(),
        Length::Minutes(n) => format!("{n} min"),
    };
    let per_cent = |share: f64| format!("{:.0} %", share * 100.0);
    let critical = if draft.rules.critical_fails { "yes" } else { "no" };
    let rules = [
        ("Lead questions".to_owned(), length, "how long the oral is"),
        ("Points over all".to_owned(), per_cent(draft.rules.overall), "the least share that passes"),
        ("Points in each function".to_owned(), per_cent(draft.rules.each_function), "the least share in every one"),
        (
            "A safety-critical miss fails".to_owned(),
            critical.to_owned(),
            "a point on which safety hangs, missing even after a prompt",
        ),
    ];
    for (n, (name, value, note)) in rules.into_iter().enumerate() {
        row_ui(ui, (n, &name, &value, note), draft, at);
    }
    ui.add_space(S16);
    heading(ui, "Weights", Size::Label, Cut::Semi);
    let all: f64 = draft.shares.iter().map(|share| share.weight).sum();
    let shares: Vec<(String, String, String)> = draft
        .shares
        .iter()
        .zip(&view.names)
        .map(|(share, CompetenceCards { name, cards })| {
            let part = if all > 0.0 { share.weight / all * 100.0 } else { 0.0 };
            let cards = if *cards == 1 { "1 card".to_owned() } else { format!("{cards} cards") };
            (format!("{}, {name}", share.competence), format!("{:.0}", share.weight), format!("{part:.0} %, {cards}"))
        })
        .collect();
    for (n, (name, value, note)) in shares.iter().enumerate() {
        row_ui(ui, (RULES + n, name, value, note), draft, at);
    }
    ui.add_space(S12);
    let functions: Vec<String> = view.functions.iter().map(|of| format!("{} {}", of.name, of.leads)).collect();
    let words = format!("Lead questions as it is kept now: {}.", functions.join(", "));
    label_in(ui, READING + S40 * 4.0, &words, Size::Label, Cut::Regular, p.ink_second);
    ui.add_space(S24);
}

fn row_ui(ui: &mut Ui, (n, name, value, note): (usize, &str, &str, &str), draft: &mut Blueprint, at: &mut usize) {
    let p = theme::palette(ui);
    let current = *at == n;
    let (id, rect) = ui.allocate_space(vec2(ui.available_width(), LIST_ROW));
    let response = ui.interact(rect, id, Sense::click());
    let said = format!("{name}: {value}; {note}");
    response.widget_info(|| WidgetInfo::selected(WidgetType::SelectableLabel, true, current, &said));
    if response.has_focus() {
        keys::note(ui.ctx(), id, Held::Choice);
    }
    if response.clicked() {
        *at = n;
    }
    if current {
        ui.painter().rect_filled(rect.expand2(vec2(S8, 0.0)), 0, p.raised);
        if !ui.clip_rect().contains_rect(rect) {
            ui.scroll_to_rect(rect, None);
        }
    }
    let note_width = rect.width() * 0.34;
    let name_place = rect.with_max_x(rect.right() - note_width - S40 * 5.0);
    let galley = kit::lines(ui, name, name_place.width(), 1, Size::Label, Cut::Regular, p.ink);
    ui.painter().galley(Align2::LEFT_CENTER.align_size_within_rect(galley.size(), name_place).min, galley, p.ink);
    let value_at = eframe::egui::pos2(rect.right() - note_width - S40 * 2.0, rect.center().y);
    paint(ui.painter(), value_at, Align2::CENTER_CENTER, value, Size::Label, Cut::Mono, p.ink);
    for (by, hot, dx) in [(-1, keys::TO_LEFT, -S40 - S16), (1, keys::RIGHT, S40 - S4)] {
        let key = kit::key_box(
            ui,
            value_at + vec2(dx, 0.0),
            hot.face,
            if current { p.ink } else { p.ink_second },
            if current { p.line } else { p.hairline },
        );
        let step_response = ui.interact(key, id.with(by), Sense::click());
        let word = if by < 0 { "less" } else { "more" };
        step_response.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, format!("{name}: {word}")));
        if step_response.has_focus() {
            keys::note(ui.ctx(), id.with(by), Held::Button);
        }
        ring_focus(ui, &step_response, key);
        if step_response.clicked() {
            *at = n;
            step(draft, n, by);
        }
    }
    let note_place = rect.with_min_x(rect.right() - note_width);
    paint_in(ui, note_place, Align2::LEFT_CENTER, note, Size::Small, Cut::Regular, p.ink_second);
    let y = ui.painter().round_to_pixel_center(rect.bottom() - 1.0);
    ui.painter().hline(rect.x_range(), y, theme::hairline(ui));
    ring_focus(ui, &response, rect);
}
