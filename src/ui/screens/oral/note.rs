//! The note of a second person who hears the answers.

use eframe::egui::{Id, Ui};

use crate::app::program::command::{Command, OralCommand};
use crate::present::OralView;
use crate::ui::kit::{Field, field};
use crate::ui::theme::measure::S16;

/// The field of the note.
pub(super) fn note_id() -> Id {
    Id::new("oral-note")
}

/// Draws the field; the note is kept as it is typed.
pub(super) fn note_ui(ui: &mut Ui, view: &OralView) -> Option<Command> {
    ui.add_space(S16);
    let mut note = view.note.clone();
    let width = ui.available_width();
    let spec = Field { hint: "A note for the debrief", ..Field::line(note_id(), "Note of the second person", width) };
    field(ui, &spec, &mut note);
    (note != view.note).then_some(Command::Oral(OralCommand::SetNote(note)))
}
