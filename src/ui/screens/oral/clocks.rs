//! The clocks of a sitting: of this answer, of the whole, and the questions so far.

use eframe::egui::{Align2, Rect, Sense, Ui, WidgetInfo, WidgetType, vec2};

use crate::present::oral::{ClockView, FunctionAsked};
use crate::present::{OralView, words};
use crate::ui::kit::{self, Mark, heading, label, lines, mark, paint_in};
use crate::ui::theme::measure::{LINE, LIST_ROW, S4, S8, S16, S24};
use crate::ui::theme::{self, Cut, Size};

/// Both clocks and the questions so far, under each other.
pub(super) fn clocks_ui(ui: &mut Ui, view: &OralView) {
    let p = theme::palette(ui);
    heading(ui, "This answer", Size::Label, Cut::Semi);
    clock_ui(ui, view.answer, Size::Big, "This answer");
    ui.add_space(S24);
    heading(ui, "This sitting", Size::Label, Cut::Semi);
    clock_ui(ui, view.sitting, Size::Head, "This sitting");
    ui.add_space(S24);
    heading(ui, "Questions so far", Size::Label, Cut::Semi);
    ui.add_space(S4);
    let top = ui.cursor().top();
    ui.painter().hline(ui.max_rect().x_range(), ui.painter().round_to_pixel_center(top), theme::hairline(ui));
    for FunctionAsked { name, asked, of } in &view.functions {
        let (id, rect) = ui.allocate_space(vec2(ui.available_width(), LIST_ROW));
        let response = ui.interact(rect, id, Sense::hover());
        let said = format!("{name}: {asked} of {of}");
        response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &said));
        let count = format!("{asked} of {of}");
        let right =
            kit::paint(ui.painter(), rect.right_center(), Align2::RIGHT_CENTER, &count, Size::Label, Cut::Mono, p.ink);
        let galley = lines(ui, name, right.left() - rect.left() - S8, 1, Size::Label, Cut::Regular, p.ink);
        ui.painter().galley(Align2::LEFT_CENTER.align_size_within_rect(galley.size(), rect).min, galley, p.ink);
        let y = ui.painter().round_to_pixel_center(rect.bottom() - LINE);
        ui.painter().hline(rect.x_range(), y, theme::hairline(ui));
    }
}

fn clock_ui(ui: &mut Ui, ClockView { seconds, of }: ClockView, size: Size, name: &str) {
    let p = theme::palette(ui);
    let over = seconds > of;
    let color = if over { p.amber } else { p.ink };
    label(ui, &words::clock(seconds), size, Cut::Mono, color);
    let words_ = if over {
        format!("{} over {}", words::clock(seconds - of), words::clock(of))
    } else {
        format!("of {}", words::clock(of))
    };
    ui.horizontal(|ui| {
        if over {
            let (_, place) = ui.allocate_space(vec2(S16, theme::line_height(Size::Label)));
            mark(ui.painter(), place.center(), Mark::WedgeUp, p.amber);
        }
        label(ui, &words_, Size::Label, Cut::Mono, p.ink_second);
    });
    let (id, rect) = ui.allocate_space(vec2(ui.available_width(), S24));
    let response = ui.interact(rect, id.with(name), Sense::hover());
    let said = format!("{name}: {} {words_}", words::clock(seconds));
    response.widget_info(|| WidgetInfo::labeled(WidgetType::ProgressIndicator, true, &said));
    kit::time_bar(ui, rect, seconds as f32 / of.max(1) as f32);
}

/// Question, clocks and lead-in in one line.
pub(super) fn clocks_line_ui(ui: &Ui, band: Rect, view: &OralView) {
    let p = theme::palette(ui);
    let time = |ClockView { seconds, of }: ClockView| format!("{} of {}", words::clock(seconds), words::clock(of));
    let over = view.answer.seconds > view.answer.of;
    let clocks = if kit::room(ui.ctx()) == kit::Room::Tiny {
        format!("{} · {} of {} min", time(view.answer), view.sitting.seconds / 60, view.sitting.of / 60)
    } else {
        format!("{}  ·  sitting {}", time(view.answer), time(view.sitting))
    };
    let color = if over { p.amber } else { p.ink };
    let placed = paint_in(ui, band, Align2::RIGHT_CENTER, &clocks, Size::Label, Cut::Mono, color);
    let left = band.with_max_x(placed.left() - S16);
    let word = paint_in(ui, left, Align2::LEFT_CENTER, &view.asked, Size::Label, Cut::Semi, p.ink);
    let rest = left.with_min_x(word.right() + S8);
    let over = if over { " · over the time" } else { "" };
    let more = format!("· {}{over} {}", view.number, view.lead_in);
    paint_in(ui, rest, Align2::LEFT_CENTER, &more, Size::Label, Cut::Regular, p.ink_second);
}
