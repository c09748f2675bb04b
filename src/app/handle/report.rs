//! After a sitting: study what was missed, write a report of it.

use std::path::Path;

use crate::app::program::app::App;
use crate::app::program::command::ReportAs;
use crate::app::program::route::Route;
use crate::app::sheet::Session;
use crate::app::views;
use crate::devices::pdf::{PdfError, pdf};
use crate::domain::ids::CardKey;
use crate::domain::memory::order::{Item, Order, Reason};
use crate::domain::memory::watch::Watch;
use crate::present::class_page::ClassState;
use crate::present::document::Document;
use crate::present::{Notice, document, progress, report};
use crate::store::profiles;

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
            self.say(Notice::failed("None of these cards is in a deck any more."));
            return;
        }
        let memory = &open.profile.learner.memory;
        let order = Order { items, ..Order::default() };
        let watch = Watch::begin(&order, |key| memory.get(key).map_or(0, |m| m.misses_in_a_row));
        self.route = Route::Watch;
        self.session = Some(Session::begin(watch));
        self.lay_next();
    }

    /// Begins a watch on one competence: what is recalled least first, then what is unseen by importance, within a
    /// day's minutes.
    pub(super) fn study_competence(&mut self, competence: &str) {
        let now = self.now();
        let Some(open) = self.open() else { return };
        let learner = &open.profile.learner;
        let day = learner.day(now);
        let pace = learner.pace(&open.shelf);
        let rank = |key: &CardKey, weight: u8| match (learner.memory.get(key), learner.recall(key, day)) {
            (Some(memory), Some(recall)) if recall < learner.model.target() => (0, memory.due.0, 0),
            (Some(memory), _) => (2, memory.due.0, 0),
            (None, _) => (1, 0, 3 - i32::from(weight.min(3))),
        };
        let of = open.shelf.cards().filter(|(_, c)| c.topic == competence && !learner.is_aside(&c.key, day));
        let mut cards: Vec<_> = of.map(|(_, card)| (rank(&card.key, card.weight), card)).collect();
        cards.sort_by(|a, b| a.0.cmp(&b.0).then_with(|| a.1.key.cmp(&b.1.key)));
        let mut left = f64::from(learner.settings.minutes) * 60.0;
        let within = cards.into_iter().take_while(|(_, card)| {
            let fits = left > 0.0;
            left -= pace.seconds(card.kind());
            fits
        });
        let keys: Vec<CardKey> = within.map(|(_, card)| card.key.clone()).collect();
        self.study(&keys);
    }

    /// Writes a report of the sitting in front into the profile's folder.
    pub(super) fn write_report(&mut self, form: ReportAs) {
        let Route::Debrief(id) = self.route.clone() else { return };
        let now = self.now();
        let Some(open) = self.open() else { return };
        let learner = &open.profile.learner;
        let Some(at) = learner.sittings.iter().position(|kept| kept.id == id) else { return };
        let view = views::debrief::view(learner, &open.shelf, (at + 1, &learner.sittings[at]), learner.day(now));
        let (bytes, ending) = match written(form, &report::document(&view), || report::csv(&view)) {
            Ok(written) => written,
            Err(error) => return self.fail(&error),
        };
        let folder = open.profile.dir.join(REPORTS);
        self.keep_report(&folder, &format!("sitting-{}.{ending}", view.number), &bytes);
    }

    /// Writes a progress report of the learner, where the outlook has been worked out.
    pub(super) fn write_progress(&mut self, form: ReportAs) {
        let (Some(open), Some(view)) = (self.open(), self.progress()) else {
            self.say(Notice::failed("The figures are still being worked out. Try again in a moment."));
            return;
        };
        let (bytes, ending) = match written(form, &progress::document(&view), || progress::csv(&view)) {
            Ok(written) => written,
            Err(error) => return self.fail(&error),
        };
        let folder = open.profile.dir.join(REPORTS);
        self.keep_report(&folder, &format!("progress.{ending}"), &bytes);
    }

    /// Writes a report of the class in front, as PDF, into the home folder: it is no learner's.
    pub(super) fn write_class(&mut self) {
        let Route::Class(at) = self.route else { return };
        let view = self.jobs.class.view(at);
        let (ClassState::Ready(document), Some(name)) = (&view.state, view.classes.get(view.at)) else { return };
        let folder = self.setup.home.join(REPORTS);
        match pdf(document) {
            Ok(bytes) => self.keep_report(&folder, &format!("class-{}.pdf", profiles::folder_name(name)), &bytes),
            Err(error) => self.fail(&error),
        }
    }

    /// What a progress report tells; none before the outlook has been worked out.
    pub fn progress(&self) -> Option<progress::Progress> {
        let open = self.open()?;
        let outlook = self.jobs.outlook.get()?;
        Some(views::progress::progress(&open.profile.learner, &open.shelf, outlook, self.now()))
    }

    /// Writes a report; a PDF is opened where it can be looked at and printed.
    fn keep_report(&mut self, folder: &Path, name: &str, bytes: &[u8]) {
        let file = folder.join(name);
        let written = std::fs::create_dir_all(folder).and_then(|()| std::fs::write(&file, bytes));
        self.say(match written {
            Ok(()) if name.ends_with(".pdf") && (self.sound.devices.open)(&file) => Notice::done(format!(
                "Written to {}. Where there is a PDF reader, it opens now, to look at it and print it.",
                file.display()
            )),
            Ok(()) => Notice::done(format!("Written to {}.", file.display())),
            Err(why) => Notice::failed(format!(
                "The report could not be written to {} ({why}). Free the disk or allow writing there, and try again.",
                file.display()
            )),
        });
    }
}

/// A report's bytes with the ending of its file.
///
/// # Errors
/// Where the PDF cannot be made.
pub fn written(
    form: ReportAs,
    document: &Document,
    csv: impl FnOnce() -> String,
) -> Result<(Vec<u8>, &'static str), PdfError> {
    Ok(match form {
        ReportAs::Markdown => (document::markdown(document).into_bytes(), "md"),
        ReportAs::Csv => (csv().into_bytes(), "csv"),
        ReportAs::Pdf => (pdf(document)?, "pdf"),
    })
}
