//! A figure card: a field, then the right value, the error, and the slip where one is known.

use eframe::egui::{Id, Key, Ui};

use crate::app::command::Command;
use crate::present::watch::ResultView;
use crate::present::{Tone, words};
use crate::ui::kit::{Cell, Column, Field, Mark, Room, field, field_height, label, label_in, room, row};
use crate::ui::screens::parts::{ResultAt, result_ui};
use crate::ui::screens::watch_card::CardLocal;
use crate::ui::theme::measure::{BLOCK_WIDE, PROMPT, READING, S8, S12, TABLE_ROW};
use crate::ui::theme::{self, Cut, Size};

/// A marked figure.
pub(super) struct Marked<'a> {
    pub(super) given: &'a str,
    pub(super) expected: &'a str,
    pub(super) error: &'a str,
    pub(super) tell: Option<&'a str>,
    pub(super) tone: Tone,
}

/// The field, which has the focus from the start.
pub(super) fn asked_ui(ui: &mut Ui, hint: &str, local: &mut CardLocal) {
    let p = theme::palette(ui);
    label(ui, "Your figure, with its unit", Size::Label, Cut::Semi, p.ink);
    ui.add_space(S8);
    let id = Id::new("figure-typed");
    let spec = Field { mono: true, ..Field::line(id, "Your figure, with its unit", BLOCK_WIDE) };
    let response = field(ui, &spec, &mut local.typed);
    local.take_field(ui, &response);
    if response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter)) {
        // With nothing typed Enter hands nothing in, and does not lead out of the field.
        response.request_focus();
    }
    if !hint.is_empty() {
        ui.add_space(S8);
        label_in(ui, PROMPT, hint, Size::Label, Cut::Regular, p.ink_second);
    }
}

/// The height of [`asked_ui`] without its hint.
pub(super) fn height(ui: &Ui) -> f32 {
    theme::line_height(Size::Label) + S8 + field_height(ui, 1, true) + S8 + theme::line_height(Size::Label)
}

/// The figure beside the right one.
pub(super) fn marked_ui(ui: &mut Ui, marked: &Marked<'_>, (result, at): (&ResultView, ResultAt)) -> Option<Command> {
    let p = theme::palette(ui);
    let columns = match room(ui.ctx()) {
        Room::Tiny => [Column::Text(80.0), Column::Share(1.0), Column::Share(1.6)],
        _ => [Column::Text(112.0), Column::Text(BLOCK_WIDE), Column::Share(1.0)],
    };
    let (shape, word) = match marked.tone {
        Tone::Good => (Mark::Tick, "right"),
        Tone::Weak => (Mark::WedgeDown, "right but for the unit"),
        _ => (Mark::Cross, "wrong"),
    };
    let verdict = if marked.error.is_empty() || marked.error == word {
        word.to_owned()
    } else {
        format!("{word}, {}", marked.error)
    };
    let expected = words::signs(marked.expected);
    let rows = [
        ("You typed", marked.given, Cell::text(verdict).toned(marked.tone).marked(Some(shape))),
        ("The figure", expected.as_str(), Cell::text("")),
    ];
    for (name, value, last) in rows {
        let said = format!("{name}: {value} {}", last.text);
        let value = Cell { strong: true, ..Cell::figure(value) };
        row(ui, &columns, &[Cell::quiet(name), value, last], TABLE_ROW, (false, false), said.trim());
    }
    if let Some(tell) = marked.tell {
        ui.add_space(S12);
        label_in(ui, READING, tell, Size::Body, Cut::Regular, p.ink);
    }
    result_ui(ui, result, at)
}
