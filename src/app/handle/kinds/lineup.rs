//! After the first check of a line-up: mend it and check again, a setting that works.

use crate::app::program::app::App;
use crate::domain::answer::LinedUp;
use crate::domain::kinds::Body;
use crate::domain::piping::{TooComplex, prove};
use crate::present::kinds::lineup::RightSetting;

impl App {
    /// Checks a mended setting. The first check's outcome stands.
    pub(in crate::app::handle) fn check_again(&mut self, set: LinedUp) {
        if let Some(Err(error)) = self.with_sheet(|card, sheet| sheet.check_again(card, set)) {
            self.fail(&error);
        }
    }

    /// Shows a setting that works, after the first check.
    pub(in crate::app::handle) fn show_right_setting(&mut self) {
        let found = self.with_sheet(|card, sheet| {
            let Body::Lineup(network) = &card.body else { return Ok(()) };
            if sheet.lineup.checks > 0 && sheet.lineup.right.is_none() {
                sheet.lineup.right = Some(RightSetting::of(network, prove(network)?));
            }
            Ok::<(), TooComplex>(())
        });
        if let Some(Err(error)) = found {
            self.fail(&error);
        }
    }
}
