//! The field into which an answer is typed: its draft, and when it is given the focus.

use eframe::egui::{Response, Ui};

use crate::ui::kit::{Field, field, field_read};

/// A typed answer before it is handed in.
#[derive(Default)]
pub(crate) struct Typed {
    /// As typed so far.
    pub(crate) text: String,
    /// The field is to have the focus: a new question stands.
    wants_focus: bool,
    /// In which pass the field was last drawn.
    field_pass: u64,
    /// What is typed was being read when it was last drawn.
    was_read: bool,
}

impl Typed {
    /// An empty draft, whose field is to have the focus.
    pub(crate) fn fresh() -> Self {
        Self { wants_focus: true, ..Self::default() }
    }

    /// Whether nothing is typed.
    pub(crate) fn is_empty(&self) -> bool {
        self.text.trim().is_empty()
    }

    /// Draws the field. While what is typed is being read nothing can be typed; afterwards, where the answer was taken
    /// back, it has the focus again.
    pub(crate) fn field_ui(&mut self, ui: &mut Ui, spec: &Field<'_>, reading: bool) -> Option<Response> {
        let was_read = std::mem::replace(&mut self.was_read, reading);
        if reading {
            field_read(ui, spec, &self.text);
            return None;
        }
        let response = field(ui, spec, &mut self.text);
        if was_read {
            response.request_focus();
        }
        Some(response)
    }

    /// Gives the field the focus once: when a new question stands, and when it comes back from behind another sheet. Who
    /// leaves it by Escape is not put into it again.
    pub(crate) fn take_field(&mut self, ui: &Ui, field: &Response) {
        let pass = ui.ctx().cumulative_pass_nr();
        let was_away = self.field_pass + 1 < pass;
        self.field_pass = pass;
        if std::mem::take(&mut self.wants_focus) || was_away {
            field.request_focus();
        }
    }
}
