//! What every page has: the rail and the head.

use crate::app::profile::learner::Learner;
use crate::app::program::route::Route;
use crate::domain::day::Instant;
use crate::domain::english;
use crate::present::shell::{Place, RailView};
use crate::present::words;

/// The rail; `class` says whether the home has one.
pub fn rail(learner: &Learner, route: &Route, class: bool, now: Instant) -> RailView {
    let settings = &learner.settings;
    RailView {
        place: match route {
            Route::Watch => Some(Place::Watch),
            Route::OralFront | Route::Oral | Route::Blueprint | Route::Debrief(_) => Some(Place::Oral),
            Route::Competence | Route::Knowing => Some(Place::Competence),
            Route::Plan => Some(Place::Plan),
            Route::Class(_) => Some(Place::Class),
            Route::Library | Route::Deck(_) | Route::Edition(..) | Route::TakeIn | Route::Card(_) | Route::Write(_) => {
                Some(Place::Library)
            }
            Route::Worksheet => Some(Place::Worksheet),
            Route::Settings | Route::BringOver => Some(Place::Settings),
            Route::About => Some(Place::About),
            Route::Profiles => Some(Place::Profiles),
            Route::FirstRun | Route::StoreTrouble => None,
        },
        learner: english::capital(words::named(&settings.learner)),
        clock: words::time_of_day(now, settings.ship),
        offset: settings.ship.label(),
        oral: settings.oral.map(|day| words::oral_line(day, learner.day(now))),
        class,
    }
}
