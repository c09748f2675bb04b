//! A sequence: the steps of a procedure are put in order, run against the plant, mended and run again.
//!
//! This file holds what is kept between frames and what may be done; the lists are drawn in `sequence_sheet`, a run
//! in `sequence_run`, the facts in `sequence_facts`.

use eframe::egui::{Rect, Ui, Vec2, vec2};

use crate::app::command::Command;
use crate::domain::answer::Given;
use crate::present::sequence::{SequenceAskedView, SequenceRunView};
use crate::present::watch::Stage;
use crate::ui::keys;
use crate::ui::kit::{self, Act, Room, panes};
use crate::ui::screens::parts::AsideAct;
use crate::ui::screens::sequence_draft::Draft;
use crate::ui::screens::watch_card::CardAct;
use crate::ui::screens::{sequence_run, sequence_sheet};
use crate::ui::theme::measure::{FACTS, S8, S16, S40};

/// What is kept between frames.
#[derive(Default)]
pub(crate) struct SequenceLocal {
    board: Board,
    /// The list of the last run is being mended.
    mending: bool,
    /// The run whose playing is over.
    played: Option<usize>,
    /// The run that is playing, and since when, in seconds.
    playing: Option<(usize, f64)>,
    /// How many lines are shown as played in this frame.
    pub(super) shown: usize,
    /// The size of the window, as last drawn.
    size: Vec2,
    /// The right order stands in the place of the facts.
    pub(super) right_shown: bool,
    /// The line to bring into sight once, from 0; after the last line: what stands under it.
    pub(super) look_at: Option<usize>,
}

/// Both lists while they are made.
#[derive(Default)]
pub(super) struct Board {
    pub(super) draft: Draft,
    /// The key of what is dragged.
    pub(super) dragged: Option<String>,
    /// Before which line it falls, from 0; `None` off the sheet.
    pub(super) drop_at: Option<usize>,
    /// Where the lines stood when they were last drawn.
    pub(super) lines: Vec<Rect>,
    /// Something was chosen or moved: it is brought into sight.
    pub(super) moved: bool,
}

impl Board {
    /// Whether the slot shows what goes there, and so takes a number.
    pub(super) fn shows_next(&self) -> bool {
        self.dragged.is_some() || self.draft.chosen_ashore()
    }
}

/// What may be done on a sequence.
#[derive(Clone, PartialEq)]
pub(super) enum SequenceAct {
    Run,
    Undo,
    Clear,
    ToTheEnd,
    Mend,
    BackToRun,
    RightOrder,
}

impl SequenceLocal {
    /// Escape lets go of what is dragged, and leaves mending, before it leaves the watch.
    pub(super) fn takes_escape(&self) -> bool {
        self.mending || self.board.dragged.is_some()
    }

    /// Whether the outcome may be seen: the run is played and its list is not being mended.
    pub(super) fn settled(&self, run: &SequenceRunView) -> bool {
        !self.mending && self.played == Some(run.run)
    }

    /// Works out how much of the run is played by now. With no motion it is played at once.
    pub(super) fn follow(&mut self, ui: &Ui, run: &SequenceRunView) {
        let total = run.played();
        let size = ui.ctx().content_rect().size();
        let resized = std::mem::replace(&mut self.size, size) != size;
        if self.played == Some(run.run) {
            self.shown = total;
            // In a window of another size, what happened may have gone out of sight.
            self.look_at = self.look_at.or(resized.then(|| outcome_line(run)));
            return;
        }
        let now = ui.input(|i| i.time);
        let seconds_a_line = f64::from(ui.ctx().global_style().animation_time);
        let begun = match self.playing {
            Some((number, begun)) if number == run.run => begun,
            _ => now,
        };
        self.playing = Some((run.run, begun));
        let before = self.shown;
        self.shown = if seconds_a_line > 0.0 { ((now - begun) / seconds_a_line) as usize } else { total }.min(total);
        if self.shown == total {
            self.played = Some(run.run);
            self.playing = None;
            self.look_at = Some(outcome_line(run));
        } else {
            let next = begun + (self.shown + 1) as f64 * seconds_a_line - now;
            ui.ctx().request_repaint_after(std::time::Duration::from_secs_f64(next.max(0.001)));
            self.look_at = (self.shown != before).then(|| self.shown.saturating_sub(1));
        }
    }

    fn steps(&self) -> Vec<String> {
        self.board.draft.placed().to_vec()
    }
}

/// Where a played run is to be looked at, from 0: the line that failed, or what stands under the last one.
fn outcome_line(run: &SequenceRunView) -> usize {
    run.failures.first().map_or(run.lines.len(), |f| f.line.saturating_sub(1))
}

/// What may be done while the list is made.
fn arranging_acts(local: &SequenceLocal) -> Vec<Act<CardAct>> {
    let draft = &local.board.draft;
    let placed = draft.placed().len();
    let run = CardAct::Sequence(SequenceAct::Run);
    let r = keys::letter('R');
    // Primary as soon as there is something to run: to wait until nothing is left ashore would ask for the traps too,
    // and any other count would give away how many there are.
    let run = if placed > 0 { Act::primary("Run it", r, run) } else { Act::outlined("Run it", r, run) };
    let mut acts = vec![run.when(placed > 0)];
    if local.mending {
        acts.push(Act::other("Back to the run", keys::ESC, CardAct::Sequence(SequenceAct::BackToRun)));
    }
    if draft.can_undo() {
        acts.push(Act::other("Undo", keys::letter('U'), CardAct::Sequence(SequenceAct::Undo)));
    }
    if placed > 0 {
        acts.push(Act::other("Clear the sheet", keys::letter('C'), CardAct::Sequence(SequenceAct::Clear)));
    }
    acts
}

/// What may be done on a sequence at any stage.
pub(super) fn acts(stage: &Stage, local: &SequenceLocal, keeping: bool) -> Vec<Act<CardAct>> {
    match stage {
        Stage::SequenceAsked(_) => arranging_acts(local),
        Stage::SequenceRun(_) if local.mending => arranging_acts(local),
        Stage::SequenceRun(run) if !local.settled(run) => {
            vec![Act::primary("Skip to the result", keys::letter('S'), CardAct::Sequence(SequenceAct::ToTheEnd))]
        }
        Stage::SequenceRun(run) => {
            let right =
                if local.right_shown && run.right_order.is_some() { "Show the facts" } else { "Show a right order" };
            let mut acts = vec![
                Act::primary("Accept", keys::SPACE, CardAct::Run(Command::Accept)).when(!keeping),
                Act::other("Correct it", keys::letter('M'), CardAct::Sequence(SequenceAct::Mend)),
                Act::other(right, keys::letter('W'), CardAct::Sequence(SequenceAct::RightOrder)),
            ];
            if run.explain {
                acts.push(Act::other("Explain it", keys::letter('X'), CardAct::Run(Command::Explain)));
            }
            acts.push(Act::other("Set aside", keys::letter('A'), CardAct::Aside(AsideAct::Choose)));
            acts.push(Act::other("Report a fault", keys::letter('F'), CardAct::Aside(AsideAct::Report)));
            acts
        }
        _ => Vec::new(),
    }
}

/// Draws it. `used` is how high the question above it is. Returns what was asked for by keys that are no action's.
pub(super) fn sequence_ui(ui: &mut Ui, stage: &Stage, local: &mut SequenceLocal, used: f32) -> Option<Command> {
    // Two lists need the room that one column of text on other cards has to spare.
    let spare = if kit::room(ui.ctx()) == Room::Full { S16 } else { 0.0 };
    ui.add_space(-spare);
    let used = used - spare;
    match stage {
        Stage::SequenceAsked(view) => arranging_ui(ui, view, None, local, used),
        Stage::SequenceRun(run) if local.mending => arranging_ui(ui, &run.asked, Some(run), local, used),
        Stage::SequenceRun(run) => {
            let panes = kit::flowing(ui, FACTS, S40);
            sequence_run::run_ui(ui, run, local, &panes);
            None
        }
        _ => None,
    }
}

fn arranging_ui(
    ui: &mut Ui,
    view: &SequenceAskedView,
    mended: Option<&SequenceRunView>,
    local: &mut SequenceLocal,
    used: f32,
) -> Option<Command> {
    let by_key = keys::take(ui, keys::CTRL_ENTER);
    let width = ui.available_width();
    let used = used + kit::margins(ui.ctx());
    let places = panes(ui, sequence_sheet::ashore_width(width), S40, S8, used);
    sequence_sheet::board_ui(ui, view, &mut local.board, &places);
    (by_key && !local.board.draft.placed().is_empty()).then(|| run_it(local, mended.is_some()))
}

fn run_it(local: &mut SequenceLocal, again: bool) -> Command {
    local.mending = false;
    let steps = local.steps();
    if again { Command::RunAgain(steps) } else { Command::Submit(Given::Steps(steps)) }
}

/// Carries out what was chosen.
pub(super) fn run(act: &SequenceAct, stage: &Stage, local: &mut SequenceLocal) -> Option<Command> {
    match (act, stage) {
        (SequenceAct::Run, _) => return Some(run_it(local, matches!(stage, Stage::SequenceRun(_)))),
        (SequenceAct::Undo, _) => local.board.draft.undo(),
        (SequenceAct::Clear, _) => local.board.draft.clear(),
        (SequenceAct::ToTheEnd, Stage::SequenceRun(run)) => {
            local.played = Some(run.run);
            local.look_at = Some(outcome_line(run));
        }
        (SequenceAct::Mend, Stage::SequenceRun(run)) => {
            let steps = run.lines.iter().map(|l| l.key.clone()).collect();
            let at = run.failures.first().map_or(0, |f| f.line.saturating_sub(1));
            local.board = Board { draft: Draft::of(steps, Some(at)), moved: true, ..Board::default() };
            local.mending = true;
        }
        (SequenceAct::BackToRun, _) => local.mending = false,
        (SequenceAct::RightOrder, Stage::SequenceRun(run)) => {
            local.right_shown = !local.right_shown || run.right_order.is_none();
            return run.right_order.is_none().then_some(Command::ShowRightOrder);
        }
        _ => {}
    }
    None
}

/// The height that a run keeps free for its outcome is used only once it is played.
pub(super) fn shows_outcome(stage: &Stage, local: &SequenceLocal) -> bool {
    match stage {
        Stage::SequenceRun(run) => local.settled(run),
        _ => true,
    }
}

/// Whether the stage belongs to a sequence.
pub(super) fn is_sequence(stage: &Stage) -> bool {
    matches!(stage, Stage::SequenceAsked(_) | Stage::SequenceRun(_))
}

/// The keys of a sequence.
pub(super) fn key_lines(stage: &Stage) -> Vec<crate::ui::screens::KeyLine> {
    let mut lines = vec![];
    if matches!(stage, Stage::SequenceRun(_)) {
        lines.extend([
            ("SPACE", "Accept"),
            ("S", "While it plays: skip to the result"),
            ("−, +", "Adjust the result by one"),
            ("M", "Correct the list and run it again; Escape leads back"),
            ("W", "Show a right order, or the facts again"),
            ("X", "Explain it, where that is offered"),
            ("A", "Set aside"),
            ("F", "Report a fault"),
        ]);
    }
    lines.extend([
        ("↑, ↓", "Choose a step"),
        ("←, →", "To the steps ashore, to the procedure"),
        ("ENTER", "Put the step into the slot; on a line: the slot goes after it"),
        ("BACKSPACE", "Lift the line out"),
        ("SHIFT ↑, SHIFT ↓", "Move the line; with a step ashore chosen, the slot"),
        ("U, CTRL Z", "Undo"),
        ("CTRL Y", "Do again what was undone"),
        ("C", "Clear the sheet"),
        ("R, CTRL ENTER", "Run it"),
    ]);
    lines
}

/// A child as wide as a column with nothing in it: keeps the flow below the panes.
pub(super) fn end_of_panes(ui: &mut Ui, bottom: f32) {
    let height = bottom - ui.cursor().top();
    ui.allocate_space(vec2(ui.available_width(), height.max(0.0)));
}
