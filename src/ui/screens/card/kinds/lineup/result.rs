//! What stands under a schematic: what the line-up must do with what the check found of it, the legend, the outcome.

use eframe::egui::{Align2, Rect, ScrollArea, Sense, Ui, UiBuilder, WidgetInfo, WidgetType, pos2, vec2};

use crate::app::program::command::Command;
use crate::present::kinds::lineup::{LineupCheckedView, RightSetting};
use crate::present::result::ResultView;
use crate::present::words;
use crate::ui::keys;
use crate::ui::kit::{self, Room, heading, label, label_in, paint, rich};
use crate::ui::schematic::{Legend, legend};
use crate::ui::screens::card::face::Foot;
use crate::ui::screens::card::kinds::lineup::board::partial_hint;
use crate::ui::screens::card::kinds::lineup::demands::{self, Found};
use crate::ui::screens::card::kinds::lineup::local::{Lined, Local};
use crate::ui::screens::card::outcome::{outcome_at_ui, outcome_line_ui};
use crate::ui::theme::measure::{
    DEMAND_ROW, FOOT_LEAST, FOOT_MOST, FOOT_STRIP, FRAME_INSET, READING, S4, S8, S12, S16, S24, S40,
};
use crate::ui::theme::{self, Cut, Size};

/// The heading over the demands.
const HEAD: f32 = S24 + S4;

/// How high the place under the schematic is: all demands with their reasons, within limits.
pub(super) fn height(ui: &Ui, lined: Lined<'_>) -> f32 {
    let full = kit::room(ui.ctx()) == Room::Full;
    let width = if full { FOOT_STRIP } else { ui.available_width() - 2.0 * (FRAME_INSET + S24) };
    let rows = demands::height(ui, &found(lined, lined.checked), width);
    (HEAD + rows).clamp(if full { FOOT_LEAST } else { 0.0 }, FOOT_MOST)
}

fn found<'a>(lined: Lined<'a>, checked: Option<&'a LineupCheckedView>) -> Found<'a> {
    let names = lined.asked.demands.iter().enumerate();
    names.map(|(n, name)| (name.as_str(), checked.and_then(|c| c.demands.get(n)))).collect()
}

/// The check whose findings are shown: once it is flooded, and while it is mended.
fn told<'a>(lined: Lined<'a>, local: &Local) -> Option<&'a LineupCheckedView> {
    lined.checked.filter(|c| local.is_mending() || local.settled(c))
}

/// A setting that works, where it stands in the place of the demands.
fn right<'a>(lined: Lined<'a>, local: &Local) -> Option<&'a RightSetting> {
    lined.checked.and_then(|checked| local.right(checked))
}

/// Draws it where the sheet keeps a place for it. Returns the notch asked for.
pub(super) fn foot_ui(ui: &mut Ui, lined: Lined<'_>, local: &mut Local, place: &Foot<'_>) -> Option<Command> {
    let head = Rect::from_min_size(place.strip.min, vec2(place.strip.width(), S24));
    let rows = place.strip.with_min_y(place.strip.top() + HEAD);
    let mut child = ui.new_child(UiBuilder::new().id_salt("line-up head").max_rect(head));
    head_ui(&mut child, lined, local);
    let mut used = child.min_rect().right() + S24;
    let mut child = ui.new_child(UiBuilder::new().id_salt("line-up foot").max_rect(rows));
    let page = std::mem::take(&mut local.page) * (rows.height() - DEMAND_ROW);
    let scroll = ScrollArea::vertical().id_salt("line-up foot").auto_shrink(false).max_height(rows.height());
    let out = scroll.show(&mut child, |ui| {
        if page != 0.0 {
            ui.scroll_with_delta(vec2(0.0, -page));
        }
        rows_ui(ui, lined, (place.result, place.source), local);
    });
    if out.content_size.y > rows.height() + 1.0 {
        let y = ui.painter().round_to_pixel_center(rows.bottom());
        ui.painter().hline(rows.x_range(), y, theme::hairline(ui));
        used += more_ui(ui, pos2(used, head.center().y), out.state.offset.y < 1.0, local) + S24;
    }
    let side = place.beside.unwrap_or(head.with_min_x(used));
    let mut child = ui.new_child(UiBuilder::new().id_salt("line-up side").max_rect(side));
    side_ui(&mut child, lined, place.result, local, place.beside.is_some())
}

/// That there is more under the demands, with the key that brings it; returns its width.
fn more_ui(ui: &Ui, left_center: eframe::egui::Pos2, at_top: bool, local: &mut Local) -> f32 {
    let (word, hot, page) = if at_top { ("More", keys::PAGE_DOWN, 1.0) } else { ("Back", keys::PAGE_UP, -1.0) };
    const WIDE: f32 = 116.0;
    let right = pos2(left_center.x + WIDE, left_center.y);
    let name = if at_top { "More of this, below" } else { "Back to the demands" };
    let (response, _) = kit::key_button(ui, right, word, hot, name, true);
    if response.clicked() {
        local.page = page;
        ui.ctx().request_repaint();
    }
    WIDE
}

/// Draws demands and legend in the text, where there is little room.
pub(super) fn in_text_ui(ui: &mut Ui, lined: Lined<'_>, result: Option<&ResultView>, local: &Local) {
    ui.add_space(S8);
    legend_ui(ui, lined, local);
    ui.add_space(S8);
    head_ui(ui, lined, local);
    ui.add_space(S4);
    rows_ui(ui, lined, (result, None), local);
}

/// What stands over the rows.
fn head_ui(ui: &mut Ui, lined: Lined<'_>, local: &Local) {
    let (title, note) = match (right(lined, local), told(lined, local)) {
        (Some(right), _) => ("One that works", right.note.clone()),
        (_, Some(_)) if local.is_mending() => (demands::NAME, "as last checked".to_owned()),
        (_, Some(c)) if c.check > 1 => (demands::NAME, format!("check {}; the first counts", words::number(c.check))),
        _ => (demands::NAME, String::new()),
    };
    let quiet = theme::palette(ui).ink_second;
    ui.horizontal(|ui| {
        heading(ui, title, Size::Label, Cut::Semi);
        if !note.is_empty() {
            ui.add_space(S8);
            label(ui, &note, Size::Label, Cut::Regular, quiet);
        }
    });
}

fn rows_ui(ui: &mut Ui, lined: Lined<'_>, (result, source): (Option<&ResultView>, Option<&str>), local: &Local) {
    match right(lined, local) {
        Some(right) => right_ui(ui, right),
        None => demands::rows_ui(ui, &found(lined, told(lined, local))),
    }
    if let Some(result) = result.filter(|_| lined.checked.is_some_and(|checked| local.settled(checked))) {
        after_ui(ui, result, source);
    }
}

/// A setting that works, in words.
fn right_ui(ui: &mut Ui, right: &RightSetting) {
    let p = theme::palette(ui);
    for words in &right.words {
        let top = ui.cursor().top();
        let y = ui.painter().round_to_pixel_center(top);
        ui.painter().hline(ui.max_rect().x_range(), y, theme::hairline(ui));
        ui.add_space(S4 / 2.0);
        label(ui, words, Size::Label, Cut::Regular, p.ink);
        ui.add_space(S4 / 2.0);
    }
}

/// Under the demands: the reason of the card, and its sources where they are long.
fn after_ui(ui: &mut Ui, result: &ResultView, source: Option<&str>) {
    let p = theme::palette(ui);
    if let Some(because) = &result.because {
        ui.add_space(S12);
        heading(ui, "Because", Size::Label, Cut::Semi);
        ui.add_space(S4);
        rich(ui, because, READING, Size::Label, p.ink);
    }
    if let Some(source) = source {
        ui.add_space(S12);
        label_in(ui, READING, &format!("Source: {source}"), Size::Label, Cut::Regular, p.ink_second);
    }
}

/// Beside the demands: the legend and the outcome, one under the other where there is room for both.
fn side_ui(ui: &mut Ui, lined: Lined<'_>, result: Option<&ResultView>, local: &Local, both: bool) -> Option<Command> {
    let result = result.filter(|_| lined.checked.is_some_and(|checked| local.settled(checked)));
    match result {
        Some(result) if both => {
            // Over a high title block there is room for the outcome alone; every valve says in words how it stands.
            if ui.max_rect().height() >= 2.0 * S40 {
                legend_ui(ui, lined, local);
                ui.add_space(S4);
            }
            outcome_at_ui(ui, result, Size::Label)
        }
        Some(result) => outcome_line_ui(ui, result),
        None => {
            legend_ui(ui, lined, local);
            None
        }
    }
}

/// What open, shut and flooded look like; that only a part of the drawing is seen.
fn legend_ui(ui: &mut Ui, lined: Lined<'_>, local: &Local) {
    let p = theme::palette(ui);
    let (id, row) = ui.allocate_space(vec2(ui.available_width(), S24));
    let mut x = row.left();
    let mut said = vec!["A valve in outline is open, a filled one shut."];
    let mut entry = |ui: &Ui, what: Legend, word: &str| {
        x += legend(ui, pos2(x, row.center().y), what) + S8;
        let at = pos2(x, row.center().y);
        x = paint(ui.painter(), at, Align2::LEFT_CENTER, word, Size::Small, Cut::Regular, p.ink_second).right() + S16;
    };
    entry(ui, Legend::Valve(true), "open");
    entry(ui, Legend::Valve(false), "shut");
    let place = local.laid.as_ref().map(|laid| laid.place);
    if let Some(hint) = place.and_then(|place| partial_hint(local, place)) {
        paint(
            ui.painter(),
            pos2(x, row.center().y),
            Align2::LEFT_CENTER,
            hint,
            Size::Small,
            Cut::Regular,
            p.ink_second,
        );
        said.push(hint);
    } else if let Some(checked) = flooded(lined, local) {
        let medium = checked.flooded.iter().find(|f| !f.leak);
        let medium = medium.and_then(|f| checked.asked.schematic.media.pipes.get(f.pipe).copied().flatten());
        let color = medium.map_or(p.ink_second, |medium| theme::media::pipe(ui, medium).0);
        entry(ui, Legend::Flooded(color), "flooded");
        if checked.flooded.iter().any(|f| f.leak) {
            entry(ui, Legend::Flooded(p.red_lead), "must not flow");
            said.push("Red: it flows where nothing may.");
        }
    }
    let response = ui.interact(row, id, Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, said.join(" ")));
}

/// The check whose flood is on the drawing.
fn flooded<'a>(lined: Lined<'a>, local: &Local) -> Option<&'a LineupCheckedView> {
    lined.checked.filter(|checked| !local.is_mending() && local.right(checked).is_none())
}

/// Whether this sheet keeps a place under the schematic.
pub(super) fn has_place(ui: &Ui) -> bool {
    kit::room(ui.ctx()) > Room::Tiny
}
