//! A point of which it is not sure whether the typed answer says it: whoever typed it is asked, and answers yes or no.

use eframe::egui::{Align, Layout, Rect, Response, Ui, UiBuilder, accesskit, pos2, vec2};

use super::rows::{WORDS, head_ui, row_height};
use crate::app::program::command::{CardCommand, Command};
use crate::present::kinds::recall::PointRow;
use crate::ui::keys::{self, Hot};
use crate::ui::kit::{self, Mark, Room, dotted_under, label, mark, number_box, room, wedge_in_margin};
use crate::ui::theme::measure::{ITEM, POINT_ROW, S4, S8, S12, S16};
use crate::ui::theme::{self, Cut, Size};

/// The question, as it stands at each of them.
const ASKED: &str = "Not sure: did you say this?";

/// The points that are not sure, each with its question. The keys answer the first.
pub(super) fn not_sure_ui(ui: &mut Ui, points: &[PointRow], of: usize) -> Option<Command> {
    let open: Vec<&PointRow> = points.iter().filter(|point| point.unsure).collect();
    let first = open.first()?;
    ui.add_space(S12);
    head_ui(ui, "Not sure", &format!("{} of {of}", open.len()), None);
    let mut settled = None;
    for point in &open {
        let keys = (point.number == first.number).then(|| (keys::letter('Y'), keys::letter('N')));
        settled = settled.or(point_ui(ui, point, row_height(points), keys));
    }
    settled.map(|(point, said)| Command::Card(CardCommand::Settle { point, said }))
}

/// One of them; its number and whether it was said, once that is answered.
fn point_ui(ui: &mut Ui, point: &PointRow, row: f32, keys: Option<(Hot, Hot)>) -> Option<(usize, bool)> {
    let p = theme::palette(ui);
    let top = ui.cursor().min;
    let width = ui.available_width();
    let place = Rect::from_min_size(top, vec2(width, row));
    let critical = if point.critical { kit::width_of(ui, CRITICAL, Size::Label, Cut::Regular) + S16 } else { 0.0 };
    let text = kit::lines(ui, &point.text, width - WORDS - critical, 8, Size::Body, Cut::Regular, p.ink);
    number_box(ui, place.left_center(), point.number, p.amber);
    mark(ui.painter(), pos2(place.left() + POINT_ROW, place.center().y), Mark::Query, p.amber);
    if point.critical {
        wedge_in_margin(ui, place);
        let at = place.right_center();
        kit::paint(
            ui.painter(),
            at,
            eframe::egui::Align2::RIGHT_CENTER,
            CRITICAL,
            Size::Label,
            Cut::Regular,
            p.red_lead,
        );
    }
    let first = top.y + (row - theme::line_height(Size::Body)) / 2.0;
    let mut height = (first - top.y + text.size().y).max(row - S8);
    let name =
        format!("{}. {}{}, not sure", point.number, point.text, if point.critical { ", safety-critical" } else { "" });
    let named = Rect::from_min_size(top, vec2(width, height));
    let id = ui.id().with(("not-sure", point.number));
    let response = ui.interact(named, id, eframe::egui::Sense::hover());
    response.widget_info(|| eframe::egui::WidgetInfo::labeled(eframe::egui::WidgetType::Label, true, &name));
    ui.painter().galley(pos2(place.left() + WORDS, first), text, p.ink);
    if let Some(words) = &point.evidence {
        let words = format!("You wrote: “{words}”");
        let words = kit::lines(ui, &words, width - WORDS, 3, Size::Label, Cut::Italic, p.ink_second);
        let at = pos2(place.left() + WORDS, top.y + height);
        dotted_under(ui, at, &words, p.amber);
        height += words.size().y + S4;
        ui.painter().galley(at, words, p.ink_second);
    }
    ui.allocate_space(vec2(width, height));
    let (_, line) = ui.allocate_space(vec2(width, ITEM));
    let line = line.with_min_x(line.left() + WORDS);
    let builder = UiBuilder::new().id_salt(("settle", point.number)).max_rect(line);
    let mut child = ui.new_child(builder.layout(Layout::left_to_right(Align::Center)));
    let said = answers_ui(&mut child, point, keys);
    let y = ui.painter().round_to_pixel_center(line.bottom() - 1.0);
    ui.painter().hline(place.x_range(), y, theme::hairline(ui));
    said.map(|said| (point.number, said))
}

const CRITICAL: &str = "safety-critical";

/// The question in words with its two answers.
fn answers_ui(ui: &mut Ui, point: &PointRow, keys: Option<(Hot, Hot)>) -> Option<bool> {
    let p = theme::palette(ui);
    label(ui, ASKED, Size::Label, Cut::Semi, p.amber);
    ui.add_space(S16);
    let (said, not_said) = match room(ui.ctx()) {
        Room::Tiny => ("Yes", "No"),
        _ => ("Yes, I said it", "No, I did not"),
    };
    let yes = kit::button(ui, said, keys.map(|(yes, _)| yes), false, true);
    name(ui, &yes, format!("Yes, I said point {}: {}", point.number, point.text));
    ui.add_space(S16);
    let no = kit::button(ui, not_said, keys.map(|(_, no)| no), false, true);
    name(ui, &no, format!("No, I did not say point {}: {}", point.number, point.text));
    let pressed =
        |response: &Response, hot: Option<Hot>| response.clicked() || hot.is_some_and(|hot| keys::take(ui, hot));
    if pressed(&yes, keys.map(|(yes, _)| yes)) {
        return Some(true);
    }
    pressed(&no, keys.map(|(_, no)| no)).then_some(false)
}

/// The name by which assistive technology tells it from the same answer to another point.
fn name(ui: &Ui, response: &Response, name: String) {
    ui.ctx().accesskit_node_builder(response.id, |node: &mut accesskit::Node| node.set_label(name));
}
