//! A line-up: the valves of a schematic are set, checked, mended and checked again.
//!
//! This file holds what is kept between frames and what may be done; the schematic with its valves is drawn in
//! `lineup_board`, what stands under it in `lineup_foot`.

use std::sync::Arc;

use eframe::egui::{Ui, Vec2};

use crate::app::command::Command;
use crate::domain::answer::Given;
use crate::domain::piping::Setting;
use crate::present::lineup::{FloodedPipe, LineupAskedView, LineupCheckedView, SchematicView};
use crate::present::watch::Stage;
use crate::ui::keys;
use crate::ui::kit::{self, Act, Room};
use crate::ui::schematic::{Camera, Layout, Model};
use crate::ui::screens::parts::AsideAct;
use crate::ui::screens::watch_card::CardAct;
use crate::ui::screens::{KeyLine, lineup_board, lineup_foot};
use crate::ui::theme::measure::{S12, S16};

/// What is kept between frames.
#[derive(Default)]
pub(crate) struct LineupLocal {
    /// How the learner has set it; none until something was turned.
    set: Option<Setting>,
    /// It was checked and is being mended.
    mending: bool,
    /// A setting that works stands in the place of the learner's.
    right_shown: bool,
    /// The check whose flooding is over.
    played: Option<usize>,
    /// The check that is being flooded, and since when, in seconds.
    playing: Option<(usize, f64)>,
    /// So many steps are flooded in this frame.
    steps: f32,
    /// Where the keyboard's focus was after the last frame.
    pub(super) focus: Focus,
    /// The node that was last chosen.
    pub(super) chosen: Option<usize>,
    /// A node whose focus is to be asked for.
    pub(super) wanted: Option<usize>,
    /// The drawing, laid out for a place of this size.
    pub(super) laid: Option<Laid>,
    /// Which part of it is seen.
    pub(super) camera: Camera,
    /// What is asked of the pane under it by Page Up (-1) and Page Down (1).
    pub(super) page: f32,
}

/// A drawing that was laid out.
pub(super) struct Laid {
    pub(super) view: Arc<SchematicView>,
    pub(super) place: Vec2,
    pub(super) model: Model,
    pub(super) layout: Layout,
    /// What can be turned, in the order in which Tab goes through it.
    pub(super) order: Vec<usize>,
}

/// Where the keyboard's focus is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum Focus {
    #[default]
    Nowhere,
    Valve,
    Elsewhere,
}

/// What may be done on a line-up.
#[derive(Clone, PartialEq)]
pub(super) enum LineupAct {
    Check,
    Turn,
    Next,
    AsFound,
    ToTheEnd,
    Mend,
    BackToCheck,
    Right,
}

/// What the board shows.
pub(super) struct Shown<'a> {
    pub(super) schematic: &'a Arc<SchematicView>,
    pub(super) set: Setting,
    pub(super) flooded: &'a [FloodedPipe],
    pub(super) steps: f32,
    /// Nodes that stand otherwise than the learner had them.
    pub(super) differ: Vec<usize>,
    /// Valves can be turned.
    pub(super) turns: bool,
}

impl LineupLocal {
    /// Escape leaves mending, and the setting that works, before it leaves the watch.
    pub(super) fn takes_escape(&self) -> bool {
        self.mending || self.right_shown
    }

    /// Whether the outcome may be seen: the check is flooded and nothing is being mended.
    pub(super) fn settled(&self, checked: &LineupCheckedView) -> bool {
        !self.mending && self.played == Some(checked.check)
    }

    /// Works out how much is flooded by now. With no motion all of it is at once.
    pub(super) fn follow(&mut self, ui: &Ui, checked: &LineupCheckedView) {
        /// The whole of it takes no longer than this, in seconds.
        const LONGEST: f64 = 1.5;
        let total = checked.steps() as f32;
        self.right_shown &= checked.right.is_some();
        if self.played == Some(checked.check) {
            self.steps = total;
            return;
        }
        let now = ui.input(|i| i.time);
        let a_step = f64::from(ui.ctx().global_style().animation_time).min(LONGEST / f64::from(total.max(1.0)));
        let begun = match self.playing {
            Some((number, begun)) if number == checked.check => begun,
            _ => now,
        };
        self.playing = Some((checked.check, begun));
        self.steps = if a_step > 0.0 { ((now - begun) / a_step) as f32 } else { total }.min(total);
        if self.steps >= total {
            self.played = Some(checked.check);
            self.playing = None;
        } else {
            ui.ctx().request_repaint();
        }
    }

    /// Before anything else on the card: Page Up and Page Down scroll what stands under the drawing.
    pub(super) fn take_pages(&mut self, ui: &Ui) {
        let (up, down) = (keys::take_repeated(ui, keys::PAGE_UP), keys::take_repeated(ui, keys::PAGE_DOWN));
        self.page = f32::from(i8::from(down) - i8::from(up));
    }

    fn set<'a>(&'a self, asked: &'a LineupAskedView) -> &'a Setting {
        self.set.as_ref().unwrap_or(&asked.schematic.found)
    }

    fn is_changed(&self, asked: &LineupAskedView) -> bool {
        self.set.as_ref().is_some_and(|set| *set != asked.schematic.found)
    }

    /// Turns a node; after a check that begins mending.
    pub(super) fn turn(&mut self, stage: &Stage, node: usize) {
        let Some(asked) = asked(stage) else { return };
        if let Stage::LineupChecked(checked) = stage
            && !self.mending
        {
            self.begin_mending(checked);
        }
        let mut set = self.set(asked).clone();
        asked.schematic.turn(node, &mut set);
        self.set = Some(set);
        self.chosen = Some(node);
    }

    fn begin_mending(&mut self, checked: &LineupCheckedView) {
        self.wanted = self.chosen;
        self.set = Some(checked.set.clone());
        self.mending = true;
        self.right_shown = false;
        self.played = Some(checked.check);
        self.playing = None;
    }

    /// What the board shows at this stage.
    pub(super) fn shown<'a>(&self, stage: &'a Stage) -> Option<Shown<'a>> {
        let asked = asked(stage)?;
        let plain = |set: Setting, turns| Shown {
            schematic: &asked.schematic,
            set,
            flooded: &[],
            steps: 0.0,
            differ: Vec::new(),
            turns,
        };
        Some(match stage {
            Stage::LineupChecked(checked) if !self.mending => match self.right(checked) {
                Some(right) => {
                    let view = &asked.schematic;
                    let other = |node: &usize| view.state(*node, &right.set) != view.state(*node, &checked.set);
                    let differ = view.network.turnable().into_iter().filter(other).collect();
                    Shown { differ, ..plain(right.set.clone(), false) }
                }
                None => Shown { flooded: &checked.flooded, steps: self.steps, ..plain(checked.set.clone(), true) },
            },
            _ => plain(self.set(asked).clone(), true),
        })
    }

    /// The setting that works, where it is shown.
    pub(super) fn right<'a>(&self, checked: &'a LineupCheckedView) -> Option<&'a crate::present::lineup::RightSetting> {
        checked.right.as_ref().filter(|_| self.right_shown && !self.mending)
    }

    /// Whether the last check is being mended.
    pub(super) fn is_mending(&self) -> bool {
        self.mending
    }

    fn check(&mut self, stage: &Stage) -> Option<Command> {
        let asked = asked(stage)?;
        let answer = asked.schematic.answer(self.set(asked));
        self.mending = false;
        Some(match stage {
            Stage::LineupChecked(_) => Command::CheckAgain(answer),
            _ => Command::Submit(Given::LinedUp(answer)),
        })
    }
}

/// The line-up as it is asked, at any stage.
pub(super) fn asked(stage: &Stage) -> Option<&LineupAskedView> {
    match stage {
        Stage::LineupAsked(asked) => Some(asked),
        Stage::LineupChecked(checked) => Some(&checked.asked),
        _ => None,
    }
}

fn act(act: LineupAct) -> CardAct {
    CardAct::Lineup(act)
}

/// What may be done while valves are set.
fn setting_acts(asked: &LineupAskedView, local: &LineupLocal, tiny: bool) -> Vec<Act<CardAct>> {
    let check = if local.mending { "Check again" } else { "Check" };
    let mut acts = vec![Act::primary(check, keys::ENTER, act(LineupAct::Check))];
    if local.mending {
        acts.push(Act::other("Back to the check", keys::ESC, act(LineupAct::BackToCheck)));
    }
    let anything = !asked.schematic.network.turnable().is_empty();
    if tiny {
        // Their keys do the same without a place of their own.
        return acts;
    }
    acts.push(Act::other("Turn", keys::SPACE, act(LineupAct::Turn)).when(anything));
    acts.push(Act::other("Next valve", keys::TAB_SHOWN, act(LineupAct::Next)).when(anything));
    if local.is_changed(asked) {
        acts.push(Act::other("As found", keys::letter('R'), act(LineupAct::AsFound)));
    }
    acts
}

/// What may be done on a line-up at any stage.
pub(super) fn acts(stage: &Stage, local: &LineupLocal, keeping: bool, tiny: bool) -> Vec<Act<CardAct>> {
    match stage {
        Stage::LineupAsked(asked) => setting_acts(asked, local, tiny),
        Stage::LineupChecked(checked) if local.mending => setting_acts(&checked.asked, local, tiny),
        Stage::LineupChecked(checked) if !local.settled(checked) => {
            vec![Act::primary("Skip to the result", keys::letter('S'), act(LineupAct::ToTheEnd))]
        }
        Stage::LineupChecked(checked) => {
            let mut acts = vec![Act::primary("Accept", keys::SPACE, CardAct::Run(Command::Accept)).when(!keeping)];
            if !checked.works() {
                acts.push(Act::other("Correct it", keys::letter('M'), act(LineupAct::Mend)));
            }
            let right = if local.right(checked).is_some() { "Show my own" } else { "Show one that works" };
            acts.push(Act::other(right, keys::letter('W'), act(LineupAct::Right)));
            acts.push(Act::other("Set aside", keys::letter('A'), CardAct::Aside(AsideAct::Choose)));
            acts.push(Act::other("Report a fault", keys::letter('F'), CardAct::Aside(AsideAct::Report)));
            acts
        }
        _ => Vec::new(),
    }
}

/// Carries out an action.
pub(super) fn run(act: &LineupAct, stage: &Stage, local: &mut LineupLocal) -> Option<Command> {
    match (act, stage) {
        (LineupAct::Check, _) => return local.check(stage),
        (LineupAct::Turn, _) => match local.chosen {
            Some(node) => {
                local.turn(stage, node);
                local.wanted = Some(node);
            }
            None => local.wanted = local.next(),
        },
        (LineupAct::Next, _) => local.wanted = local.next(),
        (LineupAct::AsFound, _) => local.set = None,
        (LineupAct::ToTheEnd, Stage::LineupChecked(checked)) => {
            local.played = Some(checked.check);
            local.playing = None;
        }
        (LineupAct::Mend, Stage::LineupChecked(checked)) => local.begin_mending(checked),
        (LineupAct::BackToCheck, _) => {
            local.mending = false;
            local.set = None;
        }
        (LineupAct::Right, Stage::LineupChecked(checked)) => {
            local.right_shown = !local.right_shown || checked.right.is_none();
            return checked.right.is_none().then_some(Command::ShowRightSetting);
        }
        _ => {}
    }
    None
}

impl LineupLocal {
    /// The valve after the chosen one, in the order of Tab; after the last one the first.
    pub(super) fn next(&self) -> Option<usize> {
        let order = &self.laid.as_ref()?.order;
        let at = self.chosen.and_then(|chosen| order.iter().position(|n| *n == chosen));
        order.get(at.map_or(0, |at| at + 1)).or(order.first()).copied()
    }
}

/// Draws the card below its question; `used` is the height that the question took.
pub(super) fn lineup_ui(ui: &mut Ui, stage: &Stage, local: &mut LineupLocal, used: f32) -> Option<Command> {
    // A drawing needs the room that one column of text on other cards has to spare.
    let room = kit::room(ui.ctx());
    let spare = match room {
        Room::Full => S16,
        Room::Folded => S12,
        Room::Tiny => 0.0,
    };
    ui.add_space(-spare);
    lineup_board::board_ui(ui, stage, local, used - spare + kit::margins(ui.ctx()));
    if room == Room::Tiny {
        lineup_foot::in_text_ui(ui, stage, local);
    }
    None
}

/// The outcome is seen once the check is flooded.
pub(super) fn shows_outcome(stage: &Stage, local: &LineupLocal) -> bool {
    match stage {
        Stage::LineupChecked(checked) => local.settled(checked),
        _ => true,
    }
}

/// Whether the stage belongs to a line-up.
pub(super) fn is_lineup(stage: &Stage) -> bool {
    asked(stage).is_some()
}

/// The keys of the card.
pub(super) fn key_lines(stage: &Stage) -> Vec<KeyLine> {
    let mut lines = vec![];
    if matches!(stage, Stage::LineupChecked(_)) {
        lines.extend([
            ("SPACE", "Accept"),
            ("S", "While it floods: skip to the result"),
            ("ENTER", "While it is corrected: check again"),
            ("−, +", "Adjust the result by one"),
            ("M", "Correct it and check again; Escape leads back"),
            ("W", "Show a setting that works, or your own again"),
            ("A", "Set aside"),
            ("F", "Report a fault"),
        ]);
    } else {
        lines.push(("ENTER", "Check the line-up"));
    }
    lines.extend([
        ("TAB, SHIFT TAB", "To the next valve, to the one before"),
        ("SPACE", "Turn the valve: open or shut, or to its other way"),
        ("↑, ↓, ←, →", "To the valve on that side; a drawing larger than its place moves"),
        ("R", "Everything as found"),
        ("Z, SHIFT Z", "The drawing closer, or further off; the wheel does it too"),
        ("0", "All of the drawing"),
    ]);
    if matches!(stage, Stage::LineupAsked(_)) {
        lines.push(("+, −", "Closer, further off, as Z"));
    }
    lines
}
