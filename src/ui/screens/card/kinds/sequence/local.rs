//! What is kept of a sequence between frames: both lists while they are made, and how far a run is played.

use eframe::egui::{Rect, Ui, Vec2};

use crate::present::kinds::sequence::SequenceRunView;
use crate::ui::screens::card::kinds::sequence::draft::Draft;

/// What is kept between frames.
#[derive(Default)]
pub(crate) struct Local {
    pub(super) board: Board,
    /// The list of the last run is being mended.
    pub(super) mending: bool,
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

impl Local {
    /// Whether the outcome of a run may be seen: it is played, and its list is not being mended.
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

    /// The whole of a run is shown from now on, and what it came to is looked at.
    pub(super) fn play_to_the_end(&mut self, run: &SequenceRunView) {
        self.played = Some(run.run);
        self.look_at = Some(outcome_line(run));
    }

    /// The list of a run is mended from now on, beginning at the line that failed.
    pub(super) fn mend(&mut self, run: &SequenceRunView) {
        let steps = run.lines.iter().map(|l| l.key.clone()).collect();
        let at = run.failures.first().map_or(0, |f| f.line.saturating_sub(1));
        self.board = Board { draft: Draft::of(steps, Some(at)), moved: true, ..Board::default() };
        self.mending = true;
    }
}

/// Where a played run is to be looked at, from 0: the line that failed, or what stands under the last one.
fn outcome_line(run: &SequenceRunView) -> usize {
    run.failures.first().map_or(run.lines.len(), |f| f.line.saturating_sub(1))
}
