//! What is kept of a line-up between frames: how the learner has set it, how far a check is flooded, where the drawing is.

use std::sync::Arc;

use eframe::egui::{Ui, Vec2};

use crate::domain::piping::Setting;
use crate::present::kinds::lineup::{FloodedPipe, LineupAskedView, LineupCheckedView, RightSetting, SchematicView};
use crate::ui::keys;
use crate::ui::schematic::{Camera, Layout, Model};

/// What is kept between frames.
#[derive(Default)]
pub(crate) struct Local {
    /// How the learner has set it; none until something was turned.
    set: Option<Setting>,
    /// Whether the last check is being mended.
    pub(super) mending: bool,
    /// A setting that works stands in the place of the learner's.
    pub(super) right_shown: bool,
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

/// A line-up at either of its stages.
#[derive(Clone, Copy)]
pub(super) struct Lined<'a> {
    /// As it is asked.
    pub(super) asked: &'a LineupAskedView,
    /// What the last check found; none before the first.
    pub(super) checked: Option<&'a LineupCheckedView>,
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

impl Local {
    /// Whether the outcome of a check may be seen: it is flooded, and nothing is being mended.
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

    /// How the learner has set it.
    pub(super) fn set<'a>(&'a self, asked: &'a LineupAskedView) -> &'a Setting {
        self.set.as_ref().unwrap_or(&asked.schematic.found)
    }

    /// Whether anything stands otherwise than it was found.
    pub(super) fn is_changed(&self, asked: &LineupAskedView) -> bool {
        self.set.as_ref().is_some_and(|set| *set != asked.schematic.found)
    }

    /// Begins to mend what was checked.
    pub(super) fn begin_mending(&mut self, checked: &LineupCheckedView) {
        self.wanted = self.chosen;
        self.set = Some(checked.set.clone());
        self.mending = true;
        self.right_shown = false;
        self.played = Some(checked.check);
        self.playing = None;
    }

    /// The setting that works, where it is shown.
    pub(super) fn right<'a>(&self, checked: &'a LineupCheckedView) -> Option<&'a RightSetting> {
        checked.right.as_ref().filter(|_| self.right_shown && !self.mending)
    }

    /// Whether the last check is being mended.
    pub(super) fn is_mending(&self) -> bool {
        self.mending
    }

    /// Takes back what was mended.
    pub(super) fn back_to_check(&mut self) {
        self.mending = false;
        self.set = None;
    }

    /// Floods the rest of a check at once.
    pub(super) fn flood_to_the_end(&mut self, checked: &LineupCheckedView) {
        self.played = Some(checked.check);
        self.playing = None;
    }

    /// Puts everything back as it was found.
    pub(super) fn set_as_found(&mut self) {
        self.set = None;
    }

    /// Shows a setting that works, or the learner's own again; true where it has still to be asked for.
    pub(super) fn show_right(&mut self, checked: &LineupCheckedView) -> bool {
        self.right_shown = !self.right_shown || checked.right.is_none();
        checked.right.is_none()
    }

    /// Turns a node; after a check that begins mending.
    pub(super) fn turn(&mut self, lined: Lined<'_>, node: usize) {
        if let Some(checked) = lined.checked
            && !self.mending
        {
            self.begin_mending(checked);
        }
        let mut set = self.set(lined.asked).clone();
        lined.asked.schematic.turn(node, &mut set);
        self.set = Some(set);
        self.chosen = Some(node);
    }

    /// What the board shows.
    pub(super) fn shown<'a>(&self, lined: Lined<'a>) -> Shown<'a> {
        let schematic = &lined.asked.schematic;
        let plain = |set: Setting, turns| Shown { schematic, set, flooded: &[], steps: 0.0, differ: Vec::new(), turns };
        let Some(checked) = lined.checked.filter(|_| !self.mending) else {
            return plain(self.set(lined.asked).clone(), true);
        };
        match self.right(checked) {
            Some(right) => {
                let other = |node: &usize| schematic.state(*node, &right.set) != schematic.state(*node, &checked.set);
                let differ = schematic.network.turnable().into_iter().filter(other).collect();
                Shown { differ, ..plain(right.set.clone(), false) }
            }
            None => Shown { flooded: &checked.flooded, steps: self.steps, ..plain(checked.set.clone(), true) },
        }
    }

    /// The valve after the chosen one, in the order of Tab; after the last one the first.
    pub(super) fn next(&self) -> Option<usize> {
        let order = &self.laid.as_ref()?.order;
        let at = self.chosen.and_then(|chosen| order.iter().position(|n| *n == chosen));
        order.get(at.map_or(0, |at| at + 1)).or(order.first()).copied()
    }
}
