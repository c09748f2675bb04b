//! Settings, profiles, about, and trouble with the store.

use std::path::Path;

use crate::app::profile::learner::Learner;
use crate::app::profile::shelf::Shelf;
use crate::domain::day::Instant;
use crate::domain::english;
use crate::present::pages::LicenceRow;
use crate::present::{AboutView, FirstRunView, SettingsView, TitleBlock, words};

/// The three questions.
pub fn first_run(learner: &Learner, shelf: &Shelf, now: Instant) -> FirstRunView {
    let day = learner.day(now);
    let decks = shelf.usable().count();
    let cards = shelf.cards().count();
    FirstRunView {
        today: day,
        name: learner.settings.learner.clone(),
        certificate: learner.settings.certificate,
        minutes: learner.settings.minutes,
        seconds_a_card: learner.seconds_a_card(shelf),
        block: TitleBlock::of([
            ["Profile", &on_this_computer(&learner.settings.learner), "Theme", theme(learner)],
            ["Decks", &english::capital(&words::count_in_words(decks, "deck")), "Program", env!("CARGO_PKG_VERSION")],
            ["In them", &format!("{}, none of them due yet", words::count(cards, "card")), "Watches", "none"],
        ]),
    }
}

fn on_this_computer(name: &str) -> String {
    if name.is_empty() { "On this computer only".to_owned() } else { format!("{name}, this computer only") }
}

fn theme(learner: &Learner) -> &'static str {
    use crate::domain::settings::ThemeChoice;
    match learner.settings.theme {
        ThemeChoice::System => "as system",
        ThemeChoice::Sheet => "Sheet",
        ThemeChoice::Night => "Night",
    }
}

/// The learner's choices.
pub fn settings(learner: &Learner, shelf: &Shelf, now: Instant) -> SettingsView {
    let s = &learner.settings;
    SettingsView {
        learner: s.learner.clone(),
        certificate: s.certificate,
        oral: s.oral,
        today: learner.day(now),
        minutes: s.minutes,
        seconds_a_card: learner.seconds_a_card(shelf),
        recall_target: s.recall_target,
        ship: s.ship,
        clock: words::time_of_day(now, s.ship),
        theme: s.theme,
        scale_percent: s.scale_percent,
        still: s.still,
        second_reader: s.second_reader,
        keep_recordings_days: s.keep_recordings_days,
    }
}

/// What the program is.
pub fn about(shelf: &Shelf, folder: &Path) -> AboutView {
    let row = |what: &str, licence: &str, whose: &str| LicenceRow {
        what: what.to_owned(),
        licence: licence.to_owned(),
        whose: whose.to_owned(),
    };
    let mut licences = vec![
        row("Bedplate", "MIT OR Apache-2.0", "Bedplate contributors"),
        row("Source Sans 3 and Source Code Pro", "OFL-1.1", "Adobe"),
    ];
    licences.extend(shelf.usable().map(|deck| row(&deck.title, &deck.licence, &deck.publisher)));
    AboutView {
        version: env!("CARGO_PKG_VERSION").to_owned(),
        what: vec![
            "Bedplate trains marine engineering officers for the oral examination: it asks as an examiner does, marks \
             what was really said, and brings each card back before it is forgotten."
                .to_owned(),
            "It works offline. Nothing leaves this computer.".to_owned(),
        ],
        folder: folder.display().to_string(),
        licences,
    }
}
