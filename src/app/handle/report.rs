//! After a sitting: study what was missed, write a report of it.

use crate::app::command::ReportAs;
use crate::app::route::Route;
use crate::app::session::Session;
use crate::app::state::App;
use crate::app::views;
use crate::domain::ids::CardKey;
use crate::domain::memory::order::{Item, Order, Reason};
use crate::domain::memory::watch::Watch;
use crate::present::{Notice, report};

/// The folder of reports under the profile's folder.
const REPORTS: &str = "reports";

impl App {
    /// Begins a watch of exactly these cards.
    pub(super) fn study(&mut self, cards: &[CardKey]) {
        let Some(open) = self.open() else { return };
        let pace = open.profile.learner.pace(&open.shelf);
        let items: Vec<Item> = cards
            .iter()
            .filter_map(|key| open.shelf.card(key))
            .map(|(_, card)| Item {
                key: card.key.clone(),
                reason: Reason::Slipped,
                seconds: pace.seconds(card.kind()),
            })
            .collect();
        if items.is_empty() {
            self.notice = Some(Notice::failed("None of these cards is in a deck any more."));
            return;
        }
        let memory = &open.profile.learner.memory;
        let order = Order { items, ..Order::default() };
        let watch = Watch::begin(&order, |key| memory.get(key).map_or(0, |m| m.misses_in_a_row));
        self.route = Route::Watch;
        self.session = Some(Session::begin(watch));
        self.lay_next();
    }

    /// Writes a report of the sitting in front into the profile's folder.
    pub(super) fn write_report(&mut self, form: ReportAs) {
        let Route::Debrief(id) = self.route.clone() else { return };
        let now = self.now();
        let Some(open) = self.open() else { return };
        let learner = &open.profile.learner;
        let Some(at) = learner.sittings.iter().position(|kept| kept.id == id) else { return };
        let view = views::debrief::view(learner, &open.shelf, (at + 1, &learner.sittings[at]), learner.day(now));
        let (text, ending) = match form {
            ReportAs::Markdown => (report::markdown(&view), "md"),
            ReportAs::Csv => (report::csv(&view), "csv"),
        };
        let folder = open.profile.dir.join(REPORTS);
        let file = folder.join(format!("sitting-{}.{ending}", view.number));
        let written = std::fs::create_dir_all(&folder).and_then(|()| std::fs::write(&file, text));
        self.notice = Some(match written {
            Ok(()) => Notice::done(format!("Written to {}.", file.display())),
            Err(why) => Notice::failed(format!(
                "The report could not be written to {} ({why}). Free the disk or allow writing there, and try again.",
                file.display()
            )),
        });
    }
}
