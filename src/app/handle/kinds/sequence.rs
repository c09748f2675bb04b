//! After the first run of a sequence: mend and run again, a right order, a question about what happened.

use crate::app::program::app::App;
use crate::domain::kinds::Body;
use crate::domain::plant::prove;
use crate::present::kinds::sequence::RightOrder;

impl App {
    /// Runs a mended list on the plant. The first run's outcome stands.
    pub(in crate::app::handle) fn run_again(&mut self, steps: Vec<String>) {
        self.with_sheet(|card, sheet| {
            if let Body::Sequence(procedure) = &card.body {
                sheet.run_again(procedure, steps);
            }
        });
    }

    /// Shows an order that works, after the first run.
    pub(in crate::app::handle) fn show_right_order(&mut self) {
        let found = self.with_sheet(|card, sheet| {
            let Body::Sequence(procedure) = &card.body else { return Ok(()) };
            if sheet.sequence.runs == 0 || sheet.sequence.right.is_some() {
                return Ok(());
            }
            sheet.sequence.right = Some(RightOrder::of(procedure, prove(procedure)?));
            Ok::<(), crate::domain::plant::TooComplex>(())
        });
        if let Some(Err(error)) = found {
            self.fail(&error);
        }
    }

    /// Asks why the plant did what it did in the last run.
    pub(in crate::app::handle) fn explain(&mut self) {
        let now = self.now();
        let shuffle = self.shuffle();
        self.with_sheet(|card, sheet| sheet.explain(card, now, shuffle));
    }
}
