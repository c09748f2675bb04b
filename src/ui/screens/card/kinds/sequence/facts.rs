//! The facts of the plant: a strip while the list is made, a column while it is run. A dot holds, a ring does not.

use eframe::egui::{Align2, Rect, Sense, Ui, WidgetInfo, WidgetType, pos2, vec2};

use crate::present::kinds::sequence::{FactView, SequenceRunView};
use crate::ui::kit::{self, Mark, heading, mark, paint};
use crate::ui::theme::measure::{FACT_CELL, FACT_CELL_WIDTH, LINE, RUN_ROW, S4, S8, S12, S16, S24};
use crate::ui::theme::{self, Cut, Size};

/// The dot or the ring of a fact, around a centre.
fn fact_mark(ui: &Ui, center: eframe::egui::Pos2, state: State) {
    let p = theme::palette(ui);
    match state {
        State::Holds => mark(ui.painter(), center, Mark::Disc, p.sea),
        State::Not => mark(ui.painter(), center, Mark::Circle, p.line),
        State::Missing | State::InTheWay => mark(ui.painter(), center, Mark::WedgeDown, p.red_lead),
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum State {
    Holds,
    Not,
    /// The fact was needed.
    Missing,
    /// The fact must not have held.
    InTheWay,
}

impl State {
    /// The word of what went wrong.
    fn trouble(self) -> Option<&'static str> {
        match self {
            State::Missing => Some("missing"),
            State::InTheWay => Some("in the way"),
            State::Holds | State::Not => None,
        }
    }
}

fn words_of(holds: bool) -> &'static str {
    if holds { "holds" } else { "does not hold" }
}

fn cells_across(facts: usize, width: f32) -> usize {
    let most = ((width / FACT_CELL_WIDTH).floor() as usize).max(1);
    facts.clamp(1, most)
}

fn name_of(ui: &Ui, fact: &FactView, cell: f32) -> std::sync::Arc<eframe::egui::Galley> {
    let ink = theme::palette(ui).ink;
    kit::lines(ui, &fact.name, cell - S24 - S12, 2, Size::Label, Cut::Regular, ink)
}

fn row_height(ui: &Ui, row: &[FactView], cell: f32) -> f32 {
    let name = row.iter().map(|f| name_of(ui, f, cell).size().y).fold(0.0, f32::max);
    FACT_CELL - theme::line_height(Size::Label) + name.max(theme::line_height(Size::Label))
}

/// The strip: cells in a row, or in rows where they are many.
pub(super) fn strip_ui(ui: &mut Ui, facts: &[FactView]) {
    let width = ui.available_width();
    let across = cells_across(facts.len(), width);
    let cell = width / across as f32;
    for row in facts.chunks(across) {
        let height = row_height(ui, row, cell);
        let (_, rect) = ui.allocate_space(vec2(width, height));
        for y in [rect.top(), rect.bottom() - LINE] {
            ui.painter().hline(rect.x_range(), ui.painter().round_to_pixel_center(y), theme::hairline(ui));
        }
        for (n, fact) in row.iter().enumerate() {
            let left = rect.left() + n as f32 * cell;
            let place = Rect::from_min_size(pos2(left, rect.top()), vec2(cell, height));
            cell_ui(ui, place, fact, n > 0);
        }
    }
}

fn cell_ui(ui: &Ui, place: Rect, fact: &FactView, ruled: bool) {
    let p = theme::palette(ui);
    let response = ui.interact(place, ui.id().with(("fact", &fact.key)), Sense::hover());
    let said = format!("{}: {}", fact.name, words_of(fact.holds));
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &said));
    if ruled {
        let x = ui.painter().round_to_pixel_center(place.left());
        ui.painter().vline(x, place.y_range(), theme::hairline(ui));
    }
    let left = place.left() + if ruled { S12 } else { 0.0 };
    let at = pos2(left, place.top() + S4);
    paint(ui.painter(), at, Align2::LEFT_TOP, words_of(fact.holds), Size::Small, Cut::Regular, p.ink_second);
    let top = place.top() + S4 + theme::line_height(Size::Small);
    let center = pos2(left + S8 - 2.0, top + theme::line_height(Size::Label) / 2.0);
    fact_mark(ui, center, if fact.holds { State::Holds } else { State::Not });
    ui.painter().galley(pos2(left + S16 + S4, top), name_of(ui, fact, place.width()), p.ink);
}

/// The name of the column.
pub(super) const COLUMN: &str = "What holds in the plant now";

/// The name over a column at the left.
pub(super) fn head_ui(ui: &mut Ui, name: &str) {
    ui.horizontal(|ui| heading(ui, name, Size::Label, Cut::Semi));
    ui.add_space(S8);
    kit::list_rule(ui);
}

/// The column, as it stands after so many lines were played. What the first failure missed is marked at its end.
pub(super) fn column_ui(ui: &mut Ui, run: &SequenceRunView, shown: usize) {
    kit::list(ui, COLUMN, run.facts.len());
    let failure = run.failures.first().filter(|f| shown >= f.line);
    let mut states = vec![State::Holds, State::Not];
    for (n, fact) in run.facts.iter().enumerate() {
        let missing = failure.and_then(|f| f.missing.iter().find(|m| m.key == fact.key));
        let state = match (missing.map(|m| m.must_not), run.holds(n, shown)) {
            (Some(false), _) => State::Missing,
            (Some(true), _) => State::InTheWay,
            (None, true) => State::Holds,
            (None, false) => State::Not,
        };
        if !states.contains(&state) {
            states.push(state);
        }
        row_ui(ui, fact, run.holds(n, shown), state);
    }
    ui.add_space(S8);
    legend_ui(ui, &states);
}

fn row_ui(ui: &mut Ui, fact: &FactView, holds: bool, state: State) {
    let p = theme::palette(ui);
    let width = ui.available_width();
    let word = state.trouble().map_or(0.0, |word| kit::width_of(ui, word, Size::Label, Cut::Regular) + S8);
    let text = kit::lines(ui, &fact.name, width - S24 - word, 3, Size::Label, Cut::Regular, p.ink);
    let height = RUN_ROW.max(text.size().y + S12);
    let (id, rect) = ui.allocate_space(vec2(width, height));
    let response = ui.interact(rect, id, Sense::hover());
    let said = match state.trouble() {
        Some(trouble) => format!("{}: {}, {trouble}", fact.name, words_of(holds)),
        None => format!("{}: {}", fact.name, words_of(holds)),
    };
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &said));
    let top = rect.center().y - text.size().y / 2.0;
    ui.painter().galley(pos2(rect.left(), top), text, p.ink);
    fact_mark(ui, pos2(rect.right() - S8 + 2.0, rect.center().y), state);
    if let Some(word) = state.trouble() {
        let at = pos2(rect.right() - S16 - S4, rect.center().y);
        paint(ui.painter(), at, Align2::RIGHT_CENTER, word, Size::Label, Cut::Regular, p.red_lead);
    }
    ui.painter().hline(rect.x_range(), ui.painter().round_to_pixel_center(rect.bottom() - LINE), theme::hairline(ui));
}

fn legend_ui(ui: &mut Ui, states: &[State]) {
    let p = theme::palette(ui);
    ui.horizontal_wrapped(|ui| {
        for state in states.iter().copied() {
            let word = state.trouble().unwrap_or(words_of(state == State::Holds));
            let width = kit::width_of(ui, word, Size::Small, Cut::Regular).ceil();
            let (_, place) = ui.allocate_space(vec2(S16 + width + S12, theme::line_height(Size::Small)));
            fact_mark(ui, pos2(place.left() + S8 - 2.0, place.center().y), state);
            let at = pos2(place.left() + S16, place.center().y);
            paint(ui.painter(), at, Align2::LEFT_CENTER, word, Size::Small, Cut::Regular, p.ink_second);
        }
    });
}
