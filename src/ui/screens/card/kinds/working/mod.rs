//! A working: the question and the worksheet at the left, what is given at the right, as on the drawing; one below the
//! other where there is no room. After the marking a second try, the model working, and fresh figures.

mod givens;
mod marked;

use eframe::egui::{Rect, Ui, UiBuilder, pos2, vec2};

use crate::app::program::command::{CardCommand, Command};
use crate::domain::answer::{Given, Worked};
use crate::present::kinds::working::{GivenRow, Round, WorkingAskedView, WorkingMarkedView};
use crate::ui::keys::{self, KeyLine};
use crate::ui::kit::{self, Act, Room};
use crate::ui::screens::card::act::{self, CardAct, Moment, Own};
use crate::ui::screens::card::face::{Canvas, CardFace, Layout};
use crate::ui::screens::card::kinds::working::marked::New;
use crate::ui::screens::card::outcome::result_ui;
use crate::ui::screens::card::prompt::{Prompt, picture_ui, prompt_ui};
use crate::ui::screens::card::typed::Typed;
use crate::ui::screens::worksheet::lines::{self, WorksheetLocal};
use crate::ui::screens::worksheet::worksheet_ui;
use crate::ui::theme::measure::{BLOCK_WIDE, GIVEN_FOLDED, PROMPT, READING, S8, S12, S16, S24};
use crate::ui::theme::{self, Cut, Size};

pub(crate) use givens::table_ui as givens_ui;

/// Drafts on the card.
#[derive(Default)]
pub(super) struct Local {
    sheet: WorksheetLocal,
    /// The model working is put away again.
    hidden: bool,
    /// How high what stands beside the worksheet is.
    beside: f32,
    /// Whether it was shown in the frame before; none before the marking.
    method_shown: Option<bool>,
    /// What has come last, and in which frame.
    new: Option<(New, u64)>,
}

/// The face of a card of this kind that is asked.
pub(super) fn asked<'a>(
    view: &'a WorkingAskedView,
    _typed: &'a mut Typed,
    local: &'a mut Local,
) -> Box<dyn CardFace + 'a> {
    Box::new(Asked { view, local })
}

/// The face of a card of this kind that is marked.
pub(super) fn marked<'a>(view: &'a WorkingMarkedView, local: &'a mut Local) -> Box<dyn CardFace + 'a> {
    Box::new(Marked { view, local })
}

/// A working that is worked on: asked, at its second try, or as practice.
struct Asked<'a> {
    view: &'a WorkingAskedView,
    local: &'a mut Local,
}

/// A working that is marked.
struct Marked<'a> {
    view: &'a WorkingMarkedView,
    local: &'a mut Local,
}

impl CardFace for Asked<'_> {
    fn layout(&self, ui: &Ui) -> Layout {
        Layout { own_question: true, ..Layout::plain(ui) }
    }

    fn acts(&self, _moment: Moment) -> Vec<Act<CardAct>> {
        let ready = !self.local.sheet.answer.trim().is_empty();
        let mut acts = vec![Act::primary("Mark it", keys::CTRL_ENTER, CardAct::Own(Own::HandIn)).when(ready)];
        if self.view.round != Round::First {
            acts.push(back_to_marking());
        }
        acts
    }

    fn keys(&self) -> Vec<KeyLine> {
        let mut keys = lines::KEYS.to_vec();
        keys.push(KeyLine::of("CTRL T", "Take the line’s value as the answer, or the last one’s"));
        keys
    }

    /// Escape leads out of a second try or of practice before it leaves the watch.
    fn takes_escape(&self) -> bool {
        self.view.round != Round::First
    }

    fn body_ui(&mut self, ui: &mut Ui, canvas: &mut Canvas<'_>) -> Option<Command> {
        let Local { sheet, beside, .. } = &mut *self.local;
        card_ui(ui, canvas, &self.view.givens, beside, |ui| asked_ui(ui, self.view, sheet))
    }

    fn run(&mut self, _ui: &Ui, act: Own) -> Option<Command> {
        (act == Own::HandIn).then(|| hand_in(&self.local.sheet))
    }
}

impl CardFace for Marked<'_> {
    fn layout(&self, ui: &Ui) -> Layout {
        Layout { own_question: true, ..Layout::plain(ui) }
    }

    fn acts(&self, moment: Moment) -> Vec<Act<CardAct>> {
        let mut acts = vec![act::accept(moment)];
        if self.view.may_try_again {
            acts.push(Act::outlined(
                "Try again",
                keys::letter('T'),
                CardAct::Run(Command::Card(CardCommand::TryAgain)),
            ));
        }
        let method = if self.is_method_shown() { "Hide the model working" } else { "Show a model working" };
        acts.push(Act::other(method, keys::letter('M'), CardAct::Own(Own::ShowRight)));
        let fresh = CardAct::Run(Command::Card(CardCommand::FreshFigures));
        acts.push(Act::other("Another with fresh figures", keys::letter('N'), fresh));
        if self.view.practice {
            acts.push(back_to_marking());
        } else {
            acts.extend(act::aside());
        }
        acts
    }

    /// Escape leads out of practice before it leaves the watch.
    fn takes_escape(&self) -> bool {
        self.view.practice
    }

    fn body_ui(&mut self, ui: &mut Ui, canvas: &mut Canvas<'_>) -> Option<Command> {
        let (result, at) = (canvas.result?, canvas.at);
        let shown = self.is_method_shown();
        let Local { beside, method_shown, new, .. } = &mut *self.local;
        card_ui(ui, canvas, &self.view.givens, beside, |ui| {
            let new = what_came(ui, shown, method_shown, new);
            marked::marked_ui(ui, self.view, shown, new);
            result_ui(ui, result, at)
        })
    }

    fn run(&mut self, _ui: &Ui, act: Own) -> Option<Command> {
        if act != Own::ShowRight {
            return None;
        }
        if self.view.method.is_none() {
            self.local.hidden = false;
            return Some(Command::Card(CardCommand::ShowMethod));
        }
        self.local.hidden = !self.local.hidden;
        None
    }
}

impl Marked<'_> {
    fn is_method_shown(&self) -> bool {
        self.view.method.is_some() && !self.local.hidden
    }
}

fn back_to_marking() -> Act<CardAct> {
    Act::other("Back to the marking", keys::ESC, CardAct::Run(Command::Card(CardCommand::BackToMarking)))
}

/// The figures are the program's to add.
fn hand_in(sheet: &WorksheetLocal) -> Command {
    let text = sheet.answer.trim().to_owned();
    Command::Card(CardCommand::Submit(Given::Worked(Worked { text, lines: sheet.written(), ..Worked::default() })))
}

/// What has just come and is to be looked at. It is looked at in the frame after: until then the outcome has not found its
/// place.
fn what_came(ui: &Ui, shown: bool, was_shown: &mut Option<bool>, new: &mut Option<(New, u64)>) -> New {
    let frame = ui.ctx().cumulative_frame_nr();
    let came = match was_shown.replace(shown) {
        None => Some(New::Verdict),
        Some(false) if shown => Some(New::Method),
        Some(_) => None,
    };
    if let Some(came) = came {
        *new = Some((came, frame));
        ui.ctx().request_repaint();
    }
    new.take_if(|n| n.1 < frame).map_or(New::Nothing, |n| n.0)
}

/// Draws the whole card: the question too, because what is given stands beside it.
fn card_ui(
    ui: &mut Ui,
    canvas: &mut Canvas<'_>,
    givens: &[GivenRow],
    beside_high: &mut f32,
    work_ui: impl FnOnce(&mut Ui) -> Option<Command>,
) -> Option<Command> {
    let room = kit::room(ui.ctx());
    let view = canvas.prompt.picture;
    let prompt = Prompt { picture: None, ..canvas.prompt };
    if room == Room::Tiny {
        prompt_ui(ui, &canvas.prompt, canvas.picture);
        givens::run_ui(ui, givens);
        return work_ui(ui);
    }
    let (beside, gap) = if room == Room::Full { (BLOCK_WIDE, S24) } else { (GIVEN_FOLDED, S16) };
    let top = ui.cursor().min;
    let width = ui.available_width();
    let left = Rect::from_min_size(top, vec2((width - beside - 2.0 * gap).min(PROMPT), f32::INFINITY));
    let right = Rect::from_min_size(pos2(top.x + width - beside, top.y), vec2(beside, f32::INFINITY));
    let mut child = ui.new_child(UiBuilder::new().id_salt("work").max_rect(left));
    prompt_ui(&mut child, &prompt, &mut kit::PictureLocal::default());
    let command = work_ui(&mut child);
    // What is given stays in sight while the lines scroll by, where it fits.
    let clip = ui.clip_rect();
    let fits = *beside_high > 0.0 && *beside_high < clip.height();
    let right = if fits { right.with_min_y(right.top().max(clip.top())) } else { right };
    let mut other = ui.new_child(UiBuilder::new().id_salt("given").max_rect(right));
    if room == Room::Full {
        other.add_space(S8);
    }
    givens::table_ui(&mut other, givens);
    other.add_space(S16);
    picture_ui(&mut other, view, canvas.picture, 0.42);
    *beside_high = other.min_rect().height() + S8;
    let below = if fits { top.y + *beside_high } else { other.min_rect().bottom() };
    let bottom = child.min_rect().bottom().max(below);
    let x = ui.painter().round_to_pixel_center((left.right() + right.left()) / 2.0);
    let from = top.y + if room == Room::Full { S8 } else { 0.0 };
    ui.painter().vline(x, from..=bottom.max(clip.bottom() - S12), theme::hairline(ui));
    ui.allocate_space(vec2(width, bottom - ui.cursor().top()));
    command
}

fn asked_ui(ui: &mut Ui, view: &WorkingAskedView, sheet: &mut WorksheetLocal) -> Option<Command> {
    let p = theme::palette(ui);
    for one in &view.before {
        marked::try_ui(ui, one);
    }
    let note = match view.round {
        Round::First => "",
        Round::Second => "The second try, on the same figures. A right answer now counts as prompted.",
        Round::Practice => "Fresh figures, for practice: what you answer here changes no outcome.",
    };
    if !note.is_empty() {
        kit::label_in(ui, READING, note, Size::Label, Cut::Regular, p.ink_second);
        ui.add_space(S8);
    }
    sheet.follow(&view.sheet, &view.answer);
    let out = worksheet_ui(ui, &view.sheet, sheet, Some(&view.hint));
    if out.hand_in && !sheet.answer.trim().is_empty() {
        return Some(hand_in(sheet));
    }
    out.work.map(Command::EditWorksheet)
}
