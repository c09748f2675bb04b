//! The page that is in front, as view data.

use std::sync::Arc;

use crate::app::jobs::class::has_classes;
use crate::app::program::app::{App, Open, Stage};
use crate::app::program::route::{Route, WritePage};
use crate::app::views::card::CardContext;
use crate::app::views::{self, Pictured};
use crate::devices::Doing;
use crate::domain::card::Card;
use crate::domain::day::Instant;
use crate::domain::english;
use crate::domain::ids::CardKey;
use crate::domain::oral::{Place, Way};
use crate::present::oral::SoundView;
use crate::present::pages::ProfileRow;
use crate::present::shell::RailView;
use crate::present::worksheet::WorksheetView;
use crate::present::{Notice, OralView, ProfilesView, ShellView, View, words};
use crate::store::profiles;

impl App {
    pub(super) fn draw(&self, now: Instant) -> ShellView {
        match &self.stage {
            Stage::Opening(_) | Stage::Closed => bare("Bedplate", View::Opening),
            Stage::Trouble(..) if self.route == Route::Profiles => ShellView {
                notice: self.notices.shown.clone(),
                context: "On this computer".to_owned(),
                ..bare("Profiles", View::Profiles(Box::new(self.profiles(None))))
            },
            Stage::Trouble(trouble, _) => ShellView {
                notice: self.notices.shown.clone(),
                ..bare("Bedplate", View::StoreTrouble(Box::new(trouble.view.clone())))
            },
            Stage::Open(open) => self.draw_open(open, now),
        }
    }

    fn draw_open(&self, open: &Open, now: Instant) -> ShellView {
        let learner = &open.profile.learner;
        if let Some(view) = self.clock_view(now) {
            return ShellView { notice: self.notices.shown.clone(), ..bare("Bedplate", View::Clock(Box::new(view))) };
        }
        let (title, context, view, progress) = match &self.route {
            Route::FirstRun | Route::StoreTrouble => page(
                "Bedplate",
                "First run",
                View::FirstRun(Box::new(views::pages::first_run(learner, &open.shelf, now))),
            ),
            Route::Watch => self.draw_watch(open, now),
            Route::OralFront => oral_front(open, now, "Mock oral"),
            Route::Oral => self.draw_oral(open, now),
            Route::Blueprint => {
                page("Oral", "Blueprint", View::Blueprint(Box::new(views::oral::blueprint(learner, &open.shelf))))
            }
            Route::Debrief(id) => debrief(open, id, now),
            Route::Competence => {
                let certificate = learner.settings.certificate;
                let context = format!("{}, STCW {}", certificate.title(), certificate.table());
                let view = views::competence::view(learner, &open.shelf, self.jobs.outlook.so_far(), now);
                page("Competence", &context, View::Competence(Box::new(view)))
            }
            Route::Knowing => {
                let view = views::knowing::view(learner, self.jobs.outlook.so_far(), self.jobs.training.progress());
                page("Competence", "How well this program knows you", View::Knowing(Box::new(view)))
            }
            Route::Plan => {
                let context = learner.settings.certificate.title();
                let view = views::plan::view(learner, &open.shelf, &self.jobs.plan, now);
                page("Plan", context, View::Plan(Box::new(view)))
            }
            Route::Class(at) => {
                let view = self.jobs.class.view(*at);
                let context = view.classes.get(view.at).cloned().unwrap_or_default();
                page("Class", &context, View::Class(Box::new(view)))
            }
            Route::Library => self.draw_library(open),
            Route::Deck(id) => match open.shelf.deck(id) {
                Some(shelved) => {
                    let gone = open.withdrawn.as_ref().filter(|(deck, _)| deck == id);
                    let gone = gone.map_or_else(Vec::new, |(_, rows)| rows.clone());
                    let back = open.shelf.before.get(id).copied();
                    let view = views::library::deck(learner, shelved, (gone, back), now);
                    page("Library", &view.title.clone(), View::Deck(Box::new(view)))
                }
                None => self.gone(open),
            },
            Route::Edition(deck, place) => match &open.update {
                Some((news, view)) if news.deck == *deck && news.place == *place => {
                    page("Library", &view.title.clone(), View::Edition(Box::new(view.clone())))
                }
                _ => self.gone(open),
            },
            Route::TakeIn => {
                let view = views::taking_in::view(self.jobs.taking_in.state());
                page("Library", "Take in a deck", View::TakeIn(Box::new(view)))
            }
            Route::Card(key) => self.draw_card(open, key, now),
            Route::Write(page) => self.draw_writing(open, *page, now),
            Route::Worksheet => page(
                "Worksheet",
                "Outside of any card",
                View::Worksheet(Box::new(views::kinds::worksheet_page(self.lines()))),
            ),
            Route::Profiles => {
                page("Profiles", "On this computer", View::Profiles(Box::new(self.profiles(Some(open)))))
            }
            Route::Settings => {
                page("Settings", "", View::Settings(Box::new(views::pages::settings(learner, &open.shelf, now))))
            }
            Route::BringOver => {
                let view = views::bring_over::view(&self.jobs.bring, learner, &self.setup.home, now);
                page("Settings", "Bring over", View::BringOver(Box::new(view)))
            }
            Route::About => {
                page("About", "", View::About(Box::new(views::pages::about(&open.shelf, &open.profile.dir))))
            }
        };
        ShellView {
            rail: views::shell::rail(learner, &self.route, has_classes(&self.setup.home), now),
            title,
            context,
            notice: self.notices.shown.clone(),
            progress,
            view,
        }
    }

    fn draw_library(&self, open: &Open) -> Page {
        let decks = open.shelf.usable().count();
        let context = format!(
            "{}, {}",
            english::capital(&words::count_in_words(decks, "deck")),
            words::count(open.shelf.cards().count(), "card")
        );
        let view = views::library::library(&open.shelf, &self.setup.home, self.jobs.search.view(&open.shelf));
        page("Library", &context, View::Library(Box::new(view)))
    }

    fn draw_card(&self, open: &Open, key: &CardKey, now: Instant) -> Page {
        let Some((deck, card)) = open.shelf.card(key) else { return self.gone(open) };
        let history = open.history.as_ref().filter(|h| h.0 == *key).map_or(&[][..], |h| &h.1);
        let pictured = self.pictured(card);
        let view = views::library::card(&open.profile.learner, &open.shelf, (deck, card), pictured, history, now);
        page("Library", &deck.title, View::Card(Box::new(view)))
    }

    /// A page of writing; where no deck is being written, that on which one is chosen.
    fn draw_writing(&self, open: &Open, at: WritePage, now: Instant) -> Page {
        let learner = &open.profile.learner;
        let Some(writing) = open.writing.as_deref().filter(|_| at != WritePage::Front) else {
            let view = views::writing::front(learner, &open.shelf, &self.setup.home);
            return page("Write", "Choose a deck, or begin one", View::WriteFront(Box::new(view)));
        };
        let context = views::writing::context(learner, writing);
        let view = match (at, &writing.trial, &writing.form) {
            (WritePage::Card, Some(trial), _) => {
                let context = CardContext {
                    pictured: self.pictured(&trial.card),
                    worksheet: self.lines(),
                    keeping: false,
                    can_take_back: false,
                    place: Place::Watch,
                    question: Some(format!("{}#{}", trial.card.key.card, writing.opened)),
                    clock_stands: false,
                    outcome: None,
                    tried: true,
                };
                let card = views::writing::card(learner, writing, trial, context, now);
                View::WriteCard(Box::new(card))
            }
            (WritePage::Told, Some(trial), _) if trial.marked().is_some() => {
                View::WriteTold(Box::new(views::writing::told(trial)))
            }
            (WritePage::Form, _, Some(form)) => View::WriteForm(Box::new(views::writing::form(writing, form))),
            _ => {
                let pictured = writing.card().map(|card| self.pictured(card));
                let study = writing.card().and_then(|card| self.jobs.study.of(card));
                let view = views::writing::desk(learner, writing, pictured, study);
                View::WriteDesk(Box::new(view))
            }
        };
        page("Write", &context, view)
    }

    fn draw_watch(&self, open: &Open, now: Instant) -> Page {
        let learner = &open.profile.learner;
        if let Some(session) = &self.session {
            if let Some(sheet) = &session.sheet
                && let Some(found) = open.shelf.card(&sheet.key)
            {
                let (done, of) = session.watch.progress();
                let context = CardContext {
                    pictured: self.pictured(found.1),
                    worksheet: self.lines(),
                    keeping: self.is_keeping(),
                    can_take_back: self.can_take_back(),
                    place: Place::Watch,
                    question: None,
                    clock_stands: false,
                    outcome: None,
                    tried: false,
                };
                let view = views::card::card(learner, &open.shelf, found, sheet, context, now);
                let progress = if of > 0 { Some(done as f32 / of as f32) } else { None };
                let context = match (session.watch.answered_cards(), session.watch.returning()) {
                    (answered, 0) => format!("{answered} of {of} cards answered"),
                    (answered, 1) => format!("{answered} of {of} cards answered, 1 comes again"),
                    (answered, back) => format!("{answered} of {of} cards answered, {back} come again"),
                };
                return ("Watch".to_owned(), context, View::WatchCard(Box::new(view)), progress);
            }
            if session.watch.left() == 0 {
                let view = views::end::end(learner, &open.shelf, session, self.can_take_back(), now);
                return page("Watch", "Finished", View::WatchEnd(Box::new(view)));
            }
        }
        let view = views::front::front(learner, &open.shelf, self.session.as_ref(), now);
        page("Watch", "Today", View::WatchFront(Box::new(view)))
    }

    fn draw_oral(&self, open: &Open, now: Instant) -> Page {
        match self.oral_view(open, now) {
            Some(view) => {
                let context = format!("Sitting {}, in progress", view.block.rows[0].side_value);
                page("Oral", &context, View::Oral(Box::new(view)))
            }
            None => oral_front(open, now, ""),
        }
    }

    /// The sitting with the question that stands; none while none stands.
    fn oral_view(&self, open: &Open, now: Instant) -> Option<OralView> {
        let (learner, oral) = (&open.profile.learner, self.oral.as_ref()?);
        let asked = oral.asked.as_ref()?;
        let context = CardContext {
            pictured: self.pictured(&asked.lead),
            worksheet: self.lines(),
            keeping: self.keeping.turn.is_some(),
            can_take_back: false,
            place: oral.place(learner)?,
            question: Some(asked.id_on_sheet()),
            clock_stands: !oral.clock_runs(),
            outcome: asked.outcome().filter(|_| asked.way == Way::Second),
            tried: false,
        };
        let (reading, doing) = self.sound.was;
        let sound = SoundView {
            reading,
            recording: doing == Doing::Recording,
            playing: doing == Doing::Playing,
            ..SoundView::default()
        };
        views::oral::sitting(learner, &open.shelf, (oral, asked), context, sound, now)
    }

    /// The worksheet that is in front, as far as it is worked out.
    fn lines(&self) -> WorksheetView {
        let lines = self.worksheet().map(|question| self.jobs.worksheet.lines(&question)).unwrap_or_default();
        WorksheetView { lines, earlier: Arc::clone(&self.worksheets.earlier) }
    }

    fn pictured(&self, card: &Card) -> Pictured {
        Pictured {
            picture: card.picture.as_ref().map(|name| self.jobs.picture.view(name)),
            drawing: card.body.as_kind().pointing().map(|pointing| self.jobs.picture.drawing_view(pointing)),
        }
    }

    /// The deck or card has gone from the shelf: the library stands in its place.
    fn gone(&self, open: &Open) -> Page {
        let view = views::library::library(&open.shelf, &self.setup.home, None);
        page("Library", "It is no longer in any deck", View::Library(Box::new(view)))
    }

    /// The learners of this computer; the open one is known better than the rest.
    fn profiles(&self, open: Option<&Open>) -> ProfilesView {
        let here = open.and_then(|o| o.profile.dir.file_name()).map(|n| n.to_string_lossy().into_owned());
        let settings = open.map(|o| &o.profile.learner.settings);
        let ship = settings.map_or(self.setup.ship, |s| s.ship);
        let rows = profiles::list(&self.setup.home).unwrap_or_default().into_iter().map(|info| {
            let open = settings.filter(|_| here.as_ref() == Some(&info.folder));
            ProfileRow {
                open: open.is_some(),
                learner: open.map_or(info.learner, |s| english::capital(words::named(&s.learner))),
                certificate: open.map_or_else(String::new, |s| s.certificate.title().to_owned()),
                last: match info.last_used {
                    _ if open.is_some() => "Open now".to_owned(),
                    Some(at) => format!("Last opened on {}", words::day(at.study_day(ship))),
                    None => "Not opened yet".to_owned(),
                },
                folder: info.folder,
            }
        });
        ProfilesView { profiles: rows.collect() }
    }
}

type Page = (String, String, View, Option<f32>);

/// The page on which a sitting is begun.
fn oral_front(open: &Open, now: Instant, context: &str) -> Page {
    let learner = &open.profile.learner;
    page("Oral", context, View::OralFront(Box::new(views::oral::front(learner, &open.shelf, learner.day(now)))))
}

/// What the sitting of this id came to.
fn debrief(open: &Open, id: &str, now: Instant) -> Page {
    let learner = &open.profile.learner;
    let Some(kept) = learner.sitting(id) else { return oral_front(open, now, "") };
    let view = views::debrief::view(learner, &open.shelf, kept, learner.day(now));
    page("Debrief", &format!("Sitting {}", kept.0), View::Debrief(Box::new(view)))
}

fn page(title: &str, context: &str, view: View) -> Page {
    (title.to_owned(), context.to_owned(), view, None)
}

fn bare(title: &str, view: View) -> ShellView {
    ShellView {
        rail: RailView::default(),
        title: title.to_owned(),
        context: String::new(),
        notice: None::<Notice>,
        progress: None,
        view,
    }
}
