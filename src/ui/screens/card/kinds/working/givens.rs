//! What is given for a working: a small table beside the worksheet or, where there is no room beside it, one run of
//! text above.

use eframe::egui::text::LayoutJob;
use eframe::egui::{Align2, Label, Ui, pos2, vec2};

use crate::present::kinds::working::GivenRow;
use crate::ui::kit::{self, heading};
use crate::ui::screens::worksheet::rows::{named, rule};
use crate::ui::theme::measure::{BLOCK_WIDE, GIVEN_ROW, S4, S8, S12, S16, S24};
use crate::ui::theme::{self, Cut, Size};

/// The table: name, symbol, number right-aligned, unit.
pub(crate) fn table_ui(ui: &mut Ui, givens: &[GivenRow]) {
    let p = theme::palette(ui);
    let (_, rect) = ui.allocate_space(vec2(ui.available_width(), GIVEN_ROW));
    let mut child = ui.new_child(eframe::egui::UiBuilder::new().id_salt("given").max_rect(rect));
    heading(&mut child, "Given", Size::Label, Cut::Semi);
    rule(ui, rect, false);
    let widest = |text: fn(&GivenRow) -> &str, cut| {
        givens.iter().map(|g| kit::width_of(ui, text(g), Size::Label, cut)).fold(0.0, f32::max).ceil()
    };
    let width = ui.available_width();
    let least = if width < BLOCK_WIDE { S24 } else { S24 * 2.0 };
    let units = widest(|g| &g.unit, Cut::Regular).clamp(least, width * 0.25);
    let numbers = widest(|g| &g.number, Cut::Mono).clamp(least, width * 0.3);
    let symbols = widest(|g| &g.symbol, Cut::Mono).min(width * 0.35);
    let unit = width - units;
    let number = unit - S8;
    let free = number - numbers - S16;
    let symbol = free - symbols;
    for given in givens {
        // A name and a symbol that are too long for one line stand one below the other.
        let own = kit::width_of(ui, &given.symbol, Size::Label, Cut::Mono);
        let one = kit::width_of(ui, &given.name, Size::Label, Cut::Regular) + S12 <= symbol.min(free - own);
        let name = kit::lines(ui, &given.name, free, 3, Size::Label, Cut::Regular, p.ink);
        let line = theme::line_height(Size::Label);
        let below = if one { 0.0 } else { name.size().y };
        let (id, row) = ui.allocate_space(vec2(width, GIVEN_ROW.max(below + line + S8)));
        named(ui, row, id, &given.spoken(), false);
        let first = row.top() + GIVEN_ROW / 2.0;
        let top = first - theme::line_height(Size::Label) / 2.0;
        ui.painter().galley(pos2(row.left(), top), name, p.ink);
        let cell = |text: &str, wide: f32, at: f32, y: f32, anchor: Align2, cut, color| {
            let galley = kit::lines(ui, text, wide, 1, Size::Label, cut, color);
            let place = anchor.anchor_size(pos2(row.left() + at, y), galley.size());
            ui.painter().galley(place.min, galley, color);
        };
        let (at, wide) = if one { (symbol, symbols) } else { (0.0, free) };
        cell(&given.symbol, wide, at, first + below, Align2::LEFT_CENTER, Cut::Mono, p.ink_second);
        cell(&given.number, numbers, number, first, Align2::RIGHT_CENTER, Cut::Mono, p.ink);
        cell(&given.unit, units, unit, first, Align2::LEFT_CENTER, Cut::Regular, p.ink_second);
        rule(ui, row, false);
    }
}

/// What is given as one run of text: `bore = 320 mm, stroke = 400 mm`.
pub(super) fn run_ui(ui: &mut Ui, givens: &[GivenRow]) {
    let p = theme::palette(ui);
    let mut job = LayoutJob::default();
    job.append("Given: ", 0.0, theme::format(Size::Label, Cut::Semi, p.ink));
    for (n, given) in givens.iter().enumerate() {
        let end = if n + 1 < givens.len() { ", " } else { "" };
        let mono = theme::format(Size::Label, Cut::Mono, p.ink);
        job.append(&given.symbol, 0.0, mono.clone());
        job.append("\u{a0}=\u{a0}", 0.0, theme::format(Size::Label, Cut::Regular, p.ink_second));
        job.append(&given.number, 0.0, mono);
        let unit = if given.unit.is_empty() { String::new() } else { format!("\u{a0}{}", given.unit) };
        job.append(&format!("{unit}{end}"), 0.0, theme::format(Size::Label, Cut::Regular, p.ink_second));
    }
    let said = givens.iter().map(GivenRow::spoken).collect::<Vec<_>>().join("; ");
    let response = ui.add(Label::new(job).wrap());
    ui.ctx().accesskit_node_builder(response.id, |node| node.set_value(format!("Given: {said}")));
    ui.add_space(S4);
}
