//! A figure card: a field, then the right value, the error, and the slip where one is known.

use eframe::egui::{Id, Key, Ui};

use crate::app::program::command::{CardCommand, Command};
use crate::domain::answer::Given;
use crate::present::kinds::figure::{FigureAskedView, FigureMarkedView};
use crate::present::result::ResultView;
use crate::present::{Tone, words};
use crate::ui::keys;
use crate::ui::kit::{Act, Cell, Column, Field, Mark, Room, field, field_height, label, label_in, room, row};
use crate::ui::screens::card::act::{self, CardAct, Moment, Own};
use crate::ui::screens::card::face::{Canvas, CardFace};
use crate::ui::screens::card::outcome::{ResultAt, result_ui};
use crate::ui::screens::card::typed::Typed;
use crate::ui::theme::measure::{BLOCK_WIDE, PROMPT, READING, S8, S12, TABLE_ROW};
use crate::ui::theme::{self, Cut, Size};

/// Nothing but what is typed is kept of a draft.
pub(super) type Local = ();

/// The face of a card of this kind that is asked.
pub(super) fn asked<'a>(
    view: &'a FigureAskedView,
    typed: &'a mut Typed,
    _local: &'a mut Local,
) -> Box<dyn CardFace + 'a> {
    Box::new(Asked { view, typed })
}

/// The face of a card of this kind that is marked.
pub(super) fn marked<'a>(view: &'a FigureMarkedView, _local: &'a mut Local) -> Box<dyn CardFace + 'a> {
    Box::new(Marked { view })
}

/// A figure that is asked.
struct Asked<'a> {
    view: &'a FigureAskedView,
    typed: &'a mut Typed,
}

impl CardFace for Asked<'_> {
    fn acts(&self, _moment: Moment) -> Vec<Act<CardAct>> {
        let ready = !self.typed.is_empty();
        vec![Act::primary("Mark it", keys::ENTER, CardAct::Own(Own::HandIn)).when(ready)]
    }

    fn body_ui(&mut self, ui: &mut Ui, _canvas: &mut Canvas<'_>) -> Option<Command> {
        asked_ui(ui, &self.view.hint, self.typed);
        None
    }

    fn run(&mut self, _ui: &Ui, act: Own) -> Option<Command> {
        (act == Own::HandIn).then(|| Command::Card(CardCommand::Submit(Given::Text(self.typed.text.trim().to_owned()))))
    }
}

/// A figure that is marked.
struct Marked<'a> {
    view: &'a FigureMarkedView,
}

impl CardFace for Marked<'_> {
    fn acts(&self, moment: Moment) -> Vec<Act<CardAct>> {
        act::marked(moment)
    }

    fn body_ui(&mut self, ui: &mut Ui, canvas: &mut Canvas<'_>) -> Option<Command> {
        marked_ui(ui, self.view, (canvas.result?, canvas.at))
    }
}

/// The field, which has the focus from the start.
pub(crate) fn asked_ui(ui: &mut Ui, hint: &str, typed: &mut Typed) {
    let p = theme::palette(ui);
    label(ui, "Your figure, with its unit", Size::Label, Cut::Semi, p.ink);
    ui.add_space(S8);
    let id = Id::new("figure-typed");
    let spec = Field { mono: true, ..Field::line(id, "Your figure, with its unit", BLOCK_WIDE) };
    let response = field(ui, &spec, &mut typed.text);
    typed.take_field(ui, &response);
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
pub(crate) fn height(ui: &Ui) -> f32 {
    theme::line_height(Size::Label) + S8 + field_height(ui, 1, true) + S8 + theme::line_height(Size::Label)
}

/// The figure beside the right one.
pub(crate) fn marked_ui(
    ui: &mut Ui,
    marked: &FigureMarkedView,
    (result, at): (&ResultView, ResultAt),
) -> Option<Command> {
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
    let expected = words::signs(&marked.expected);
    let rows = [
        ("You typed", marked.given.as_str(), Cell::text(verdict).toned(marked.tone).marked(Some(shape))),
        ("The figure", expected.as_str(), Cell::text("")),
    ];
    for (name, value, last) in rows {
        let said = format!("{name}: {value} {}", last.text);
        let value = Cell { strong: true, ..Cell::figure(value) };
        row(ui, &columns, &[Cell::quiet(name), value, last], TABLE_ROW, (false, false), said.trim());
    }
    if let Some(tell) = &marked.tell {
        ui.add_space(S12);
        label_in(ui, READING, tell, Size::Body, Cut::Regular, p.ink);
    }
    result_ui(ui, result, at)
}
