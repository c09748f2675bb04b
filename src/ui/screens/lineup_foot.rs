//! What stands under a schematic: what the line-up must do with what the check found of it, the legend, the outcome.

use eframe::egui::{Align2, Rect, ScrollArea, Sense, Ui, UiBuilder, WidgetInfo, WidgetType, accesskit, pos2, vec2};

use crate::app::command::Command;
use crate::present::lineup::{DemandView, LineupCheckedView, RightSetting};
use crate::present::watch::Stage;
use crate::present::words;
use crate::ui::kit::{self, Mark, Room, heading, label, label_in, mark, paint, rich};
use crate::ui::schematic::{Legend, legend};
use crate::ui::screens::lineup::{LineupLocal, asked};
use crate::ui::screens::lineup_board::partial_hint;
use crate::ui::screens::parts::outcome_ui;
use crate::ui::theme::measure::{DEMAND_ROW, FOOT_LEAST, FOOT_MOST, FOOT_SIDE, READING, S4, S8, S12, S16, S24};
use crate::ui::theme::{self, Cut, Size};

/// The place under the schematic: the demands, and beside them the legend and the outcome.
pub(super) struct Place {
    /// Where the demands stand; the legend too where there is no other place.
    pub(super) strip: Rect,
    /// Beside them, over the title block.
    pub(super) beside: Option<Rect>,
}

/// How high the place under the schematic is.
pub(super) fn height(stage: &Stage) -> f32 {
    let rows = asked(stage).map_or(0, |a| a.demands.len());
    (HEAD + rows as f32 * DEMAND_ROW).clamp(FOOT_LEAST, FOOT_MOST)
}

/// The heading over the demands.
const HEAD: f32 = S24 + S4;

/// Draws it where the sheet keeps a place for it. Returns the notch asked for.
pub(super) fn foot_ui(
    ui: &mut Ui,
    stage: &Stage,
    source: Option<&str>,
    local: &mut LineupLocal,
    place: &Place,
) -> Option<Command> {
    let (left, right) = match place.beside {
        Some(beside) => (place.strip, beside),
        None => {
            let at = place.strip.right() - FOOT_SIDE;
            (place.strip.with_max_x(at - S24), place.strip.with_min_x(at))
        }
    };
    let mut child = ui.new_child(UiBuilder::new().id_salt("line-up foot").max_rect(left));
    let page = std::mem::take(&mut local.page) * (left.height() - DEMAND_ROW);
    let out = ScrollArea::vertical().id_salt("line-up foot").auto_shrink(false).max_height(left.height()).show(
        &mut child,
        |ui| {
            if page != 0.0 {
                ui.scroll_with_delta(vec2(0.0, -page));
            }
            demands_ui(ui, stage, local);
            after_ui(ui, stage, source, local);
        },
    );
    if out.content_size.y > left.height() + 1.0 {
        let y = ui.painter().round_to_pixel_center(left.bottom());
        ui.painter().hline(left.x_range(), y, theme::hairline(ui));
    }
    let mut child = ui.new_child(UiBuilder::new().id_salt("line-up side").max_rect(right));
    side_ui(&mut child, stage, local)
}

/// The same in the text, where there is little room.
pub(super) fn in_text_ui(ui: &mut Ui, stage: &Stage, local: &LineupLocal) {
    ui.add_space(S8);
    legend_ui(ui, stage, local);
    ui.add_space(S8);
    demands_ui(ui, stage, local);
    after_ui(ui, stage, None, local);
}

/// What the line-up must do, each with its state once it was checked; or a setting that works.
fn demands_ui(ui: &mut Ui, stage: &Stage, local: &LineupLocal) {
    let checked = match stage {
        Stage::LineupChecked(checked) => Some(checked.as_ref()),
        _ => None,
    };
    if let Some(right) = checked.and_then(|c| local.right(c)) {
        right_ui(ui, right);
        return;
    }
    let p = theme::palette(ui);
    ui.horizontal(|ui| {
        heading(ui, "What the line-up must do", Size::Label, Cut::Semi);
        let note = match checked {
            Some(_) if local.is_mending() => "as last checked".to_owned(),
            Some(c) if c.check > 1 => format!("check {}; the first one counts", words::number(c.check)),
            _ => String::new(),
        };
        ui.add_space(S8);
        if !note.is_empty() {
            label(ui, &note, Size::Label, Cut::Regular, p.ink_second);
        }
    });
    ui.add_space(S4);
    let found = checked.filter(|c| local.is_mending() || local.settled(c));
    let names = asked(stage).map_or(&[][..], |a| &a.demands);
    kit::list(ui, "What the line-up must do", names.len());
    for (n, name) in names.iter().enumerate() {
        demand_ui(ui, name, found.and_then(|c| c.demands.get(n)), (n, names.len()));
    }
    kit::list_rule(ui);
}

/// A demand: its mark, its name, why it is not met, its state.
fn demand_ui(ui: &mut Ui, name: &str, found: Option<&DemandView>, (n, of): (usize, usize)) {
    let p = theme::palette(ui);
    let (shape, word, color) = match found {
        None => (None, "", p.ink_second),
        Some(found) if found.met => (Some(Mark::Tick), "met", p.sea),
        Some(_) => (Some(Mark::Cross), "not met", p.red_lead),
    };
    let reason = found.map_or("", |f| f.reason.as_str());
    let width = ui.available_width();
    let indent = S24 + S4;
    let state = kit::width_of(ui, word, Size::Label, Cut::Regular);
    let room = width - indent - state - S16;
    let wide = kit::width_of(ui, name, Size::Label, Cut::Regular);
    let beside = wide + S24 + kit::width_of(ui, reason, Size::Label, Cut::Regular) <= room;
    let words = kit::lines(ui, name, room, 3, Size::Label, Cut::Regular, p.ink);
    let below = (!beside && !reason.is_empty())
        .then(|| kit::lines(ui, reason, width - indent, 4, Size::Label, Cut::Regular, p.ink_second));
    let text = words.size().y + below.as_ref().map_or(0.0, |g| g.size().y);
    let (id, rect) = ui.allocate_space(vec2(width, DEMAND_ROW.max(text + S4)));
    let response = ui.interact(rect, id, Sense::hover());
    let said = match (word, reason) {
        ("", _) => name.to_owned(),
        (word, "") => format!("{name}: {word}"),
        (word, reason) => format!("{name}: {word}, {reason}"),
    };
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &said));
    ui.ctx().accesskit_node_builder(response.id, |node| {
        node.set_position_in_set(n + 1);
        node.set_size_of_set(of);
        node.set_live(accesskit::Live::Polite);
    });
    let y = ui.painter().round_to_pixel_center(rect.top());
    ui.painter().hline(rect.x_range(), y, theme::hairline(ui));
    let first = rect.top() + DEMAND_ROW / 2.0;
    if let Some(shape) = shape {
        mark(ui.painter(), pos2(rect.left() + S8, first), shape, color);
    }
    paint(ui.painter(), pos2(rect.right(), first), Align2::RIGHT_CENTER, word, Size::Label, Cut::Regular, color);
    let top = first - theme::line_height(Size::Label) / 2.0;
    let name_height = words.size().y;
    let reason_at = rect.left() + indent + wide.max(REASON - indent) + S24;
    let reason_at = reason_at.min(rect.left() + indent + room - kit::width_of(ui, reason, Size::Label, Cut::Regular));
    ui.painter().galley(pos2(rect.left() + indent, top), words, p.ink);
    match below {
        Some(below) => {
            ui.painter().galley(pos2(rect.left() + indent, top + name_height), below, p.ink_second);
        }
        None => {
            let at = pos2(reason_at.max(rect.left() + indent + wide + S16), first);
            paint(ui.painter(), at, Align2::LEFT_CENTER, reason, Size::Label, Cut::Regular, p.ink_second);
        }
    }
}

/// Reasons stand under one another from here, where names leave the room.
const REASON: f32 = 224.0;

/// A setting that works, in words.
fn right_ui(ui: &mut Ui, right: &RightSetting) {
    let p = theme::palette(ui);
    ui.horizontal(|ui| {
        heading(ui, "One that works", Size::Label, Cut::Semi);
        ui.add_space(S8);
        label(ui, &right.note, Size::Label, Cut::Regular, p.ink_second);
    });
    ui.add_space(S4);
    for words in &right.words {
        let top = ui.cursor().top();
        let y = ui.painter().round_to_pixel_center(top);
        ui.painter().hline(ui.max_rect().x_range(), y, theme::hairline(ui));
        ui.add_space(2.0);
        label(ui, words, Size::Label, Cut::Regular, p.ink);
        ui.add_space(2.0);
    }
}

/// Under the demands: the reason of the card, and its sources where they are long.
fn after_ui(ui: &mut Ui, stage: &Stage, source: Option<&str>, local: &LineupLocal) {
    let Stage::LineupChecked(checked) = stage else { return };
    if !local.settled(checked) {
        return;
    }
    let p = theme::palette(ui);
    if let Some(because) = &checked.result.because {
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

/// Beside the demands: the legend, and under it the outcome.
fn side_ui(ui: &mut Ui, stage: &Stage, local: &LineupLocal) -> Option<Command> {
    legend_ui(ui, stage, local);
    match stage {
        Stage::LineupChecked(checked) if local.settled(checked) => {
            ui.add_space(S4);
            outcome_ui(ui, &checked.result)
        }
        _ => None,
    }
}

/// What open, shut and flooded look like; that only a part of the drawing is seen.
fn legend_ui(ui: &mut Ui, stage: &Stage, local: &LineupLocal) {
    let p = theme::palette(ui);
    let (id, row) = ui.allocate_space(vec2(ui.available_width(), DEMAND_ROW));
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
    } else if let Some(checked) = flooded(stage, local) {
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
fn flooded<'a>(stage: &'a Stage, local: &LineupLocal) -> Option<&'a LineupCheckedView> {
    match stage {
        Stage::LineupChecked(checked) if !local.is_mending() && local.right(checked).is_none() => Some(checked),
        _ => None,
    }
}

/// Whether this sheet keeps a place under the schematic.
pub(super) fn has_place(ui: &Ui) -> bool {
    kit::room(ui.ctx()) > Room::Tiny
}
