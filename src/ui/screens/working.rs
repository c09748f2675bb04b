//! A working: the question and the worksheet at the left, what is given at the right, as on the drawing; one below the
//! other where there is no room. After the marking a second try, the model working, and fresh figures.

use eframe::egui::{Rect, Ui, UiBuilder, pos2, vec2};

use crate::app::command::Command;
use crate::domain::answer::{Given, Worked};
use crate::present::PictureView;
use crate::present::watch::Stage;
use crate::present::working::{GivenRow, Round, WorkingAskedView, WorkingMarkedView};
use crate::ui::keys;
use crate::ui::kit::{self, Act, Room};
use crate::ui::screens::parts::{AsideAct, Prompt, ResultAt, picture_ui, prompt_ui, result_ui};
use crate::ui::screens::watch_card::CardAct;
use crate::ui::screens::working_marked::New;
use crate::ui::screens::worksheet::{self, WorksheetLocal, worksheet_ui};
use crate::ui::screens::{working_givens, working_marked};
use crate::ui::theme::measure::{BLOCK_WIDE, GIVEN_FOLDED, PROMPT, READING, S8, S12, S16, S24};
use crate::ui::theme::{self, Cut, Size};

/// Drafts on the card.
#[derive(Default)]
pub(super) struct WorkingLocal {
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

/// What may be done on the card.
#[derive(Clone, PartialEq)]
pub(super) enum WorkingAct {
    HandIn,
    Method,
}

/// Whether the stage belongs to a working.
pub(super) fn is_working(stage: &Stage) -> bool {
    matches!(stage, Stage::WorkingAsked(_) | Stage::WorkingMarked(_))
}

/// What may be done on the card at any stage.
pub(super) fn acts(stage: &Stage, local: &WorkingLocal, keeping: bool) -> Vec<Act<CardAct>> {
    match stage {
        Stage::WorkingAsked(view) => {
            let hand_in = CardAct::Working(WorkingAct::HandIn);
            let ready = !local.sheet.answer.trim().is_empty();
            let mut acts = vec![Act::primary("Mark it", keys::CTRL_ENTER, hand_in).when(ready)];
            if view.round != Round::First {
                acts.push(Act::other("Back to the marking", keys::ESC, CardAct::Run(Command::BackToMarking)));
            }
            acts
        }
        Stage::WorkingMarked(view) => marked_acts(view, local, keeping),
        _ => Vec::new(),
    }
}

fn marked_acts(view: &WorkingMarkedView, local: &WorkingLocal, keeping: bool) -> Vec<Act<CardAct>> {
    let mut acts = vec![Act::primary("Accept", keys::SPACE, CardAct::Run(Command::Accept)).when(!keeping)];
    if view.may_try_again {
        acts.push(Act::outlined("Try again", keys::letter('T'), CardAct::Run(Command::TryAgain)));
    }
    let shown = view.method.is_some() && !local.hidden;
    let method = if shown { "Hide the model working" } else { "Show a model working" };
    acts.push(Act::other(method, keys::letter('M'), CardAct::Working(WorkingAct::Method)));
    acts.push(Act::other("Another with fresh figures", keys::letter('N'), CardAct::Run(Command::FreshFigures)));
    if view.practice {
        acts.push(Act::other("Back to the marking", keys::ESC, CardAct::Run(Command::BackToMarking)));
    } else {
        acts.push(Act::other("Set aside", keys::letter('A'), CardAct::Aside(AsideAct::Choose)));
        acts.push(Act::other("Report a fault", keys::letter('F'), CardAct::Aside(AsideAct::Report)));
    }
    acts
}

/// Carries out an action.
pub(super) fn run(act: &WorkingAct, stage: &Stage, local: &mut WorkingLocal) -> Option<Command> {
    match (act, stage) {
        (WorkingAct::HandIn, _) => Some(hand_in(&local.sheet)),
        (WorkingAct::Method, Stage::WorkingMarked(view)) if view.method.is_none() => {
            local.hidden = false;
            Some(Command::ShowMethod)
        }
        (WorkingAct::Method, _) => {
            local.hidden = !local.hidden;
            None
        }
    }
}

/// The figures are the program's to add.
fn hand_in(sheet: &WorksheetLocal) -> Command {
    let text = sheet.answer.trim().to_owned();
    Command::Submit(Given::Worked(Worked { text, lines: sheet.written(), ..Worked::default() }))
}

/// Escape leads out of a second try or of practice before it leaves the watch.
pub(super) fn takes_escape(stage: &Stage) -> bool {
    match stage {
        Stage::WorkingAsked(view) => view.round != Round::First,
        Stage::WorkingMarked(view) => view.practice,
        _ => false,
    }
}

fn givens(stage: &Stage) -> &[GivenRow] {
    match stage {
        Stage::WorkingAsked(view) => &view.givens,
        Stage::WorkingMarked(view) => &view.givens,
        _ => &[],
    }
}

/// Draws the whole card: the question too, because what is given stands beside it.
pub(super) fn card_ui(
    ui: &mut Ui,
    prompt: &Prompt<'_>,
    picture: (Option<&PictureView>, &mut kit::PictureLocal),
    stage: &Stage,
    local: &mut WorkingLocal,
    at: ResultAt,
) -> Option<Command> {
    let room = kit::room(ui.ctx());
    let (view, shown) = picture;
    if room == Room::Tiny {
        prompt_ui(ui, &Prompt { picture: view, ..*prompt }, shown);
        working_givens::run_ui(ui, givens(stage));
        return stage_ui(ui, stage, local, at);
    }
    let (beside, gap) = if room == Room::Full { (BLOCK_WIDE, S24) } else { (GIVEN_FOLDED, S16) };
    let top = ui.cursor().min;
    let width = ui.available_width();
    let left = Rect::from_min_size(top, vec2((width - beside - 2.0 * gap).min(PROMPT), f32::INFINITY));
    let right = Rect::from_min_size(pos2(top.x + width - beside, top.y), vec2(beside, f32::INFINITY));
    let mut child = ui.new_child(UiBuilder::new().id_salt("work").max_rect(left));
    prompt_ui(&mut child, prompt, &mut kit::PictureLocal::default());
    let command = stage_ui(&mut child, stage, local, at);
    // What is given stays in sight while the lines scroll by, where it fits.
    let clip = ui.clip_rect();
    let fits = local.beside > 0.0 && local.beside < clip.height();
    let right = if fits { right.with_min_y(right.top().max(clip.top())) } else { right };
    let mut other = ui.new_child(UiBuilder::new().id_salt("given").max_rect(right));
    if room == Room::Full {
        other.add_space(S8);
    }
    working_givens::table_ui(&mut other, givens(stage));
    other.add_space(S16);
    picture_ui(&mut other, view, shown, 0.42);
    local.beside = other.min_rect().height() + S8;
    let below = if fits { top.y + local.beside } else { other.min_rect().bottom() };
    let bottom = child.min_rect().bottom().max(below);
    let x = ui.painter().round_to_pixel_center((left.right() + right.left()) / 2.0);
    let from = top.y + if room == Room::Full { S8 } else { 0.0 };
    ui.painter().vline(x, from..=bottom.max(clip.bottom() - S12), theme::hairline(ui));
    ui.allocate_space(vec2(width, bottom - ui.cursor().top()));
    command
}

fn stage_ui(ui: &mut Ui, stage: &Stage, local: &mut WorkingLocal, at: ResultAt) -> Option<Command> {
    match stage {
        Stage::WorkingAsked(view) => asked_ui(ui, view, local),
        Stage::WorkingMarked(view) => {
            let shown = view.method.is_some() && !local.hidden;
            // It is looked at in the frame after: until then the outcome has not found its place.
            let frame = ui.ctx().cumulative_frame_nr();
            let came = match local.method_shown.replace(shown) {
                None => Some(New::Verdict),
                Some(false) if shown => Some(New::Method),
                Some(_) => None,
            };
            if let Some(came) = came {
                local.new = Some((came, frame));
                ui.ctx().request_repaint();
            }
            let new = local.new.take_if(|n| n.1 < frame).map_or(New::Nothing, |n| n.0);
            working_marked::marked_ui(ui, view, shown, new);
            result_ui(ui, &view.result, at)
        }
        _ => None,
    }
}

fn asked_ui(ui: &mut Ui, view: &WorkingAskedView, local: &mut WorkingLocal) -> Option<Command> {
    let p = theme::palette(ui);
    for one in &view.before {
        working_marked::try_ui(ui, one);
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
    local.sheet.follow(&view.sheet, &view.answer);
    let out = worksheet_ui(ui, &view.sheet, &mut local.sheet, Some(&view.hint));
    if out.hand_in && !local.sheet.answer.trim().is_empty() {
        return Some(hand_in(&local.sheet));
    }
    out.work.map(Command::Work)
}

/// The keys of the card.
pub(super) fn key_lines(stage: &Stage) -> Vec<crate::ui::screens::KeyLine> {
    match stage {
        Stage::WorkingMarked(_) => vec![
            ("SPACE", "Accept"),
            ("−, +", "Adjust the result by one"),
            ("T", "Try again on the same figures, while the method has not been shown"),
            ("M", "Show a model working, or put it away"),
            ("N", "Another with fresh figures, as practice"),
            ("A", "Set aside"),
            ("F", "Report a fault"),
        ],
        _ => {
            let mut lines = vec![("CTRL ENTER", "Mark it; in the answer Enter alone will do")];
            lines.extend(worksheet::KEYS);
            lines.push(("CTRL T", "Take the line’s value as the answer, or the last one’s"));
            lines
        }
    }
}
