//! A recall in a sitting: it is typed, said aloud, or ticked by a second person who hears it.

use eframe::egui::{ScrollArea, Ui, vec2};

use crate::app::program::command::Command;
use crate::domain::oral::Way;
use crate::present::OralView;
use crate::present::kinds::recall::{RecallAskedView, RecallMarkedView};
use crate::present::result::ResultView;
use crate::ui::keys::{self, Hot};
use crate::ui::kit::{Field, Mark, field_height, label_in, mark};
use crate::ui::screens::card::kinds::recall;
use crate::ui::screens::card::outcome::ResultAt;
use crate::ui::screens::card::typed::Typed;
use crate::ui::screens::oral::kinds::{Heard, Spoken};
use crate::ui::screens::oral::note::note_ui;
use crate::ui::theme::measure::{POINT_ROW, PROMPT, S8, S16, S24};
use crate::ui::theme::{self, Cut, Size};

/// Rows of the field for a typed answer: at least, and at most.
const ROWS: (usize, usize) = (2, 8);
/// What the voice and the microphone do is said in one line.
const SOUND: f32 = S24 + S8;

impl Spoken for RecallAskedView {
    fn hand_in(&self) -> Hot {
        keys::CTRL_ENTER
    }

    fn least(&self, ui: &Ui, view: &OralView) -> f32 {
        match (view.way, &view.examiner) {
            (Way::Write, _) => field_height(ui, ROWS.0, false),
            (_, Some(_)) => SOUND + 2.0 * POINT_ROW,
            (_, None) => SOUND,
        }
    }

    fn answer_ui(&self, ui: &mut Ui, view: &OralView, typed: &mut Typed, free: f32) -> Option<Command> {
        if view.way == Way::Write {
            typed_ui(ui, typed, view.card.reading, free);
            return None;
        }
        sound_ui(ui, view);
        let points = view.examiner.as_ref()?;
        let area = ScrollArea::vertical().id_salt("second-person").max_height((free - SOUND).max(S24));
        area.show(ui, |ui| recall::points_ui(ui, points, "For the second person: tick what is said")).inner
    }
}

impl Heard for RecallMarkedView {
    fn marked_ui(&self, ui: &mut Ui, view: &OralView, result: &ResultView) -> Option<Command> {
        let (points, typed, outcome) = (&self.points, self.typed.as_deref(), (result, ResultAt::Answer));
        match view.way {
            Way::Write => recall::found_ui(ui, points, typed, outcome),
            Way::Speak => recall::shown_ui(ui, points, typed, outcome, false),
            Way::Second => {
                let command = recall::shown_ui(ui, points, typed, outcome, true);
                note_ui(ui, view).or(command)
            }
        }
    }
}

/// The field, with as many rows as there is room for.
fn typed_ui(ui: &mut Ui, typed: &mut Typed, reading: bool, free: f32) {
    let mut rows = ROWS.0;
    while rows < ROWS.1 && field_height(ui, rows + 1, false) <= free {
        rows += 1;
    }
    let width = ui.available_width();
    let spec = Field { hint: "Your answer", rows, ..Field::line(recall::field_id(), "Your answer", width) };
    if let Some(response) = typed.field_ui(ui, &spec, reading) {
        typed.take_field(ui, &response);
    }
}

/// What the voice and the microphone do while an answer is spoken.
fn sound_ui(ui: &mut Ui, view: &OralView) {
    let p = theme::palette(ui);
    let words = match (view.sound.reading, view.sound.recording, view.way) {
        (true, ..) => "The question is being read; its time begins after that.",
        (_, true, _) => "Recording. It stays on this computer.",
        (.., Way::Speak) => "Say your answer aloud, then finish it. Nothing is recorded.",
        _ => "",
    };
    if words.is_empty() {
        return;
    }
    ui.horizontal(|ui| {
        if view.sound.recording && !view.sound.reading {
            let (_, place) = ui.allocate_space(vec2(S16, theme::line_height(Size::Label)));
            mark(ui.painter(), place.center(), Mark::Dot, p.bronze);
        }
        label_in(ui, PROMPT, words, Size::Label, Cut::Regular, p.ink_second);
    });
    ui.add_space(S8);
}
