//! A sequence: the steps of a procedure are put in order, run against the plant, mended and run again.
//!
//! This file holds what may be done; what is kept between frames stands in `local`, the lists are drawn in `board`, a run
//! in `run`, the facts in `facts`.

mod board;
mod draft;
mod facts;
mod local;
mod run;

use eframe::egui::Ui;

use crate::app::program::command::{CardCommand, Command};
use crate::domain::answer::Given;
use crate::present::kinds::sequence::{SequenceAskedView, SequenceRunView};
use crate::ui::keys::{self, KeyLine};
use crate::ui::kit::{self, Act, Room, panes};
use crate::ui::screens::card::act::{self, CardAct, Moment, Own};
use crate::ui::screens::card::face::{Canvas, CardFace, Layout};
use crate::ui::screens::card::typed::Typed;
use crate::ui::theme::measure::{FACTS, S8, S16, S40};

pub(super) use local::Local;

/// The face of a card of this kind that is asked.
pub(super) fn asked<'a>(
    view: &'a SequenceAskedView,
    _typed: &'a mut Typed,
    local: &'a mut Local,
) -> Box<dyn CardFace + 'a> {
    Box::new(Asked { view, local })
}

/// The face of a card of this kind that is marked.
pub(super) fn marked<'a>(view: &'a SequenceRunView, local: &'a mut Local) -> Box<dyn CardFace + 'a> {
    Box::new(Ran { run: view, local })
}

/// A sequence that is asked.
struct Asked<'a> {
    view: &'a SequenceAskedView,
    local: &'a mut Local,
}

/// A sequence that was run.
struct Ran<'a> {
    run: &'a SequenceRunView,
    local: &'a mut Local,
}

impl CardFace for Asked<'_> {
    fn layout(&self, ui: &Ui) -> Layout {
        layout(ui)
    }

    fn acts(&self, _moment: Moment) -> Vec<Act<CardAct>> {
        arranging_acts(self.local)
    }

    fn keys(&self) -> Vec<KeyLine> {
        arranging_keys()
    }

    fn takes_escape(&self) -> bool {
        self.local.board.dragged.is_some()
    }

    fn body_ui(&mut self, ui: &mut Ui, canvas: &mut Canvas<'_>) -> Option<Command> {
        let used = canvas.used(ui) - draw_closer(ui);
        arranging_ui(ui, self.view, self.local, used).then(|| self.hand_in())
    }

    fn run(&mut self, _ui: &Ui, act: Own) -> Option<Command> {
        match act {
            Own::HandIn => return Some(self.hand_in()),
            Own::Undo => self.local.board.draft.undo(),
            Own::Clear => self.local.board.draft.clear(),
            _ => {}
        }
        None
    }
}

impl Asked<'_> {
    fn hand_in(&self) -> Command {
        Command::Card(CardCommand::Submit(Given::Steps(self.local.board.draft.placed().to_vec())))
    }
}

impl CardFace for Ran<'_> {
    fn follow(&mut self, ui: &Ui) {
        self.local.follow(ui, self.run);
    }

    fn layout(&self, ui: &Ui) -> Layout {
        layout(ui)
    }

    fn acts(&self, moment: Moment) -> Vec<Act<CardAct>> {
        if self.local.mending {
            return arranging_acts(self.local);
        }
        if !self.is_settled() {
            return vec![Act::primary("Skip to the result", keys::letter('S'), CardAct::Own(Own::ToTheEnd))];
        }
        let is_right_shown = self.local.right_shown && self.run.right_order.is_some();
        let right = if is_right_shown { "Show the facts" } else { "Show a right order" };
        let mut acts = vec![
            act::accept(moment),
            Act::other("Correct it", keys::letter('M'), CardAct::Own(Own::Mend)),
            Act::other(right, keys::letter('W'), CardAct::Own(Own::ShowRight)),
        ];
        if self.run.explain {
            acts.push(Act::other("Explain it", keys::letter('X'), CardAct::Run(Command::Card(CardCommand::Explain))));
        }
        acts.extend(act::aside());
        acts
    }

    fn keys(&self) -> Vec<KeyLine> {
        if self.local.mending { arranging_keys() } else { Vec::new() }
    }

    /// Escape lets go of what is dragged, and leaves mending, before it leaves the watch.
    fn takes_escape(&self) -> bool {
        self.local.mending || self.local.board.dragged.is_some()
    }

    fn is_settled(&self) -> bool {
        self.local.settled(self.run)
    }

    fn body_ui(&mut self, ui: &mut Ui, canvas: &mut Canvas<'_>) -> Option<Command> {
        let used = canvas.used(ui) - draw_closer(ui);
        if self.local.mending {
            return arranging_ui(ui, &self.run.asked, self.local, used).then(|| self.run_again());
        }
        let panes = kit::flowing(ui, FACTS, S40);
        run::run_ui(ui, (self.run, canvas.result?), self.local, &panes);
        None
    }

    fn run(&mut self, _ui: &Ui, act: Own) -> Option<Command> {
        match act {
            Own::HandIn => return Some(self.run_again()),
            Own::Undo => self.local.board.draft.undo(),
            Own::Clear => self.local.board.draft.clear(),
            Own::ToTheEnd => self.local.play_to_the_end(self.run),
            Own::Mend => self.local.mend(self.run),
            Own::BackToMarked => self.local.mending = false,
            Own::ShowRight => {
                self.local.right_shown = !self.local.right_shown || self.run.right_order.is_none();
                return self.run.right_order.is_none().then_some(Command::Card(CardCommand::ShowRightOrder));
            }
            _ => {}
        }
        None
    }
}

impl Ran<'_> {
    fn run_again(&mut self) -> Command {
        self.local.mending = false;
        Command::Card(CardCommand::RunAgain(self.local.board.draft.placed().to_vec()))
    }
}

/// Two lists need the height, and keep the outcome in sight above the actions.
fn layout(ui: &Ui) -> Layout {
    Layout { scroll: "sequence", folded: true, is_board: true, ..Layout::plain(ui) }
}

/// Two lists need the room that one column of text on other cards has to spare; returns how much closer they stand.
fn draw_closer(ui: &mut Ui) -> f32 {
    let spare = if kit::room(ui.ctx()) == Room::Full { S16 } else { 0.0 };
    ui.add_space(-spare);
    spare
}

/// What may be done while the list is made.
fn arranging_acts(local: &Local) -> Vec<Act<CardAct>> {
    let draft = &local.board.draft;
    let placed = draft.placed().len();
    let run = CardAct::Own(Own::HandIn);
    let r = keys::letter('R');
    // Primary as soon as there is something to run: to wait until nothing is left ashore would ask for the traps too,
    // and any other count would give away how many there are.
    let run = if placed > 0 { Act::primary("Run it", r, run) } else { Act::outlined("Run it", r, run) };
    let mut acts = vec![run.when(placed > 0)];
    if local.mending {
        acts.push(Act::other("Back to the run", keys::ESC, CardAct::Own(Own::BackToMarked)));
    }
    if draft.can_undo() {
        acts.push(Act::other("Undo", keys::letter('U'), CardAct::Own(Own::Undo)));
    }
    if placed > 0 {
        acts.push(Act::other("Clear the sheet", keys::letter('C'), CardAct::Own(Own::Clear)));
    }
    acts
}

/// The keys by which the list is made.
fn arranging_keys() -> Vec<KeyLine> {
    vec![
        KeyLine::of("↑, ↓", "Choose a step"),
        KeyLine::of("←, →", "To the steps ashore, to the procedure"),
        KeyLine::of("ENTER", "Put the step into the slot; on a line: the slot goes after it"),
        KeyLine::of("BACKSPACE", "Lift the line out"),
        KeyLine::of("SHIFT ↑, SHIFT ↓", "Move the line; with a step ashore chosen, the slot"),
        KeyLine::of("CTRL Z", "Undo"),
        KeyLine::of("CTRL Y", "Do again what was undone"),
        KeyLine::of("CTRL ENTER", "Run it"),
    ]
}

/// Draws both lists while they are made; true where the key asks for the list to be run.
fn arranging_ui(ui: &mut Ui, view: &SequenceAskedView, local: &mut Local, used: f32) -> bool {
    let by_key = keys::take(ui, keys::CTRL_ENTER);
    let width = ui.available_width();
    let used = used + kit::margins(ui.ctx());
    let places = panes(ui, board::ashore_width(width), S40, S8, used);
    board::board_ui(ui, view, &mut local.board, &places);
    by_key && !local.board.draft.placed().is_empty()
}
