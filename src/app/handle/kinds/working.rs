//! Worksheets: what is written on them, second tries, the method, fresh figures.

use std::sync::Arc;
use std::time::Duration;

use crate::app::program::app::App;
use crate::app::program::route::Route;
use crate::app::sheet::EditWorksheet;
use crate::domain::day::Instant;
use crate::domain::settings::bounded_lines;

/// So many earlier lines are remembered.
const MOST_EARLIER: usize = 60;
/// The standing worksheet is kept after so many milliseconds of rest.
const REST_MS: i64 = 2_000;

impl App {
    /// The worksheet in front now reads so.
    pub(in crate::app::handle) fn work(&mut self, work: EditWorksheet) {
        self.remember(work.entered.clone());
        if self.route != Route::Worksheet {
            self.with_sheet(|_, sheet| sheet.write(work));
            return;
        }
        let now = self.now();
        let Some(open) = self.open_mut() else { return };
        let kept = &mut open.profile.learner.settings.worksheet;
        let lines = bounded_lines(work.lines);
        if *kept != lines {
            *kept = lines;
            self.worksheets.unsaved = Some(now);
        }
    }

    /// Remembers lines, to be recalled on any worksheet of this session; each once, the newest first.
    pub(in crate::app::handle) fn remember(&mut self, lines: impl IntoIterator<Item = String>) {
        let earlier = Arc::make_mut(&mut self.worksheets.earlier);
        for line in bounded_lines(lines.into_iter().collect()) {
            let line = line.trim();
            if !line.is_empty() {
                earlier.retain(|e| e != line);
                earlier.insert(0, line.to_owned());
            }
        }
        earlier.truncate(MOST_EARLIER);
    }

    /// Keeps the standing worksheet with the profile, if it has changed.
    pub(crate) fn save_worksheet(&mut self) {
        let now = self.now();
        if self.worksheets.unsaved.take().is_some()
            && let Some(open) = self.open()
        {
            let ticket = open.profile.store.save_settings(&open.profile.learner.settings, now);
            self.keeping.changes.push(ticket);
        }
    }

    /// Keeps the standing worksheet once nothing has been written for a while; says when that will be.
    pub(crate) fn save_in_time(&mut self, now: Instant) -> Option<Duration> {
        let left = self.worksheets.unsaved?.0 + REST_MS - now.0;
        if left <= 0 {
            self.save_worksheet();
            return None;
        }
        Some(Duration::from_millis(left.unsigned_abs()))
    }

    pub(in crate::app::handle) fn try_again(&mut self) {
        let now = self.now();
        self.with_sheet(|_, sheet| sheet.try_again(now));
    }

    pub(in crate::app::handle) fn show_method(&mut self) {
        self.with_sheet(|_, sheet| sheet.show_method());
    }

    pub(in crate::app::handle) fn fresh_figures(&mut self) {
        let seed = self.fresh_seed();
        self.with_sheet(|card, sheet| sheet.practise(card, seed));
    }

    pub(in crate::app::handle) fn back_to_marking(&mut self) {
        self.with_sheet(|_, sheet| sheet.back_to_marking());
    }
}
