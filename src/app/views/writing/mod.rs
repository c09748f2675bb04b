//! The pages on which a deck is written.

mod desk;
mod told;

use std::path::Path;

use crate::app::profile::learner::Learner;
use crate::app::profile::shelf::{OWN_DECKS, Shelf};
use crate::app::sheet::AnswerSheet;
use crate::app::views::card::{CardContext, laid};
use crate::app::writing::{AtWriting, OpenForm, Trial};
use crate::deck;
use crate::domain::card::Card;
use crate::domain::day::Instant;
use crate::domain::deck::Deck;
use crate::domain::ids::DeckId;
use crate::present::writing::{OwnDeckRow, WriteFormView, WriteFrontView};
use crate::present::{TitleBlock, WatchCardView, words};

pub use desk::desk;
pub use told::told;

/// Where a deck is chosen or begun.
pub fn front(learner: &Learner, shelf: &Shelf, home: &Path) -> WriteFrontView {
    let own = shelf.decks.iter().filter(|shelved| !shelved.bundled);
    let row = |shelved: &crate::app::profile::shelf::Shelved| {
        let deck = shelved.reading.deck.as_ref();
        let cards = words::count(deck.map_or(0, |deck| deck.cards.len()), "card");
        let problems = words::count(shelved.reading.problems.len(), "problem");
        OwnDeckRow {
            folder: shelved.folder.clone(),
            title: deck.map_or_else(|| shelved.id().0, |deck| deck.title.clone()),
            detail: format!("{cards}, {problems}"),
        }
    };
    WriteFrontView {
        decks: own.map(row).collect(),
        folder: home.join(OWN_DECKS).display().to_string(),
        topics: topics(),
        publisher: learner.settings.learner.clone(),
    }
}

/// Topics by key, with their titles.
fn topics() -> Vec<(String, String)> {
    deck::competences().all().map(|one| (one.key.clone(), one.title.clone())).collect()
}

/// What stands beside the title of the page: `Marram Light, our own plant: edition 2, read 20:41`.
pub fn context(learner: &Learner, writing: &AtWriting) -> String {
    let name = writing.folder.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
    let title = writing.deck.as_ref().map_or(name, |deck| format!("{}: edition {}", deck.title, deck.edition));
    match writing.read_at {
        Some(at) => format!("{title}, as saved {}", words::time_of_day(at, learner.settings.ship)),
        None => title,
    }
}

/// The deck as it was last read with a head; one without a name where it never was.
fn deck_of(writing: &AtWriting) -> Deck {
    writing.deck.clone().unwrap_or_else(|| Deck {
        id: DeckId(String::new()),
        title: String::new(),
        edition: 1,
        language: String::new(),
        publisher: String::new(),
        licence: String::new(),
        about: None,
        caution: None,
        sources: std::collections::BTreeMap::new(),
        cards: Vec::new(),
    })
}

/// The card that is answered, as a learner sees it.
pub fn card(
    learner: &Learner,
    writing: &AtWriting,
    trial: &Trial,
    context: CardContext,
    now: Instant,
) -> WatchCardView {
    let deck = deck_of(writing);
    let (card, sheet): (&Card, &AnswerSheet) = (&trial.card, &trial.sheet);
    let of = writing.cards.len();
    let place = writing.cards.iter().position(|seen| seen.written.id.as_deref() == Some(&card.key.card));
    let number = format!("{} of {of}", place.unwrap_or(writing.chosen) + 1);
    let block = TitleBlock::of([
        ["Deck", &deck.title, "Card", &number],
        ["Topic", card.heading.as_deref().unwrap_or(&card.topic), "Edition", &deck.edition.to_string()],
        ["Source", &deck.source_titles(card).join("; "), "Seen", "as writer"],
    ]);
    laid(learner, block, (&deck, card), sheet, context, now)
}

/// A card in its form.
pub fn form(writing: &AtWriting, open: &OpenForm) -> WriteFormView {
    let place = open.place.as_ref();
    let seen = writing.cards.iter().find(|seen| {
        place.is_some_and(|place| seen.written.id.as_deref() == Some(&place.id)) && seen.written.file == open.file
    });
    let written = match (seen, place) {
        (Some(seen), _) => format!("{}, line {}", open.file, seen.written.line),
        (None, Some(_)) => open.file.clone(),
        (None, None) => format!("goes to the end of {}", open.file),
    };
    let sources = writing.deck.iter().flat_map(|deck| &deck.sources);
    WriteFormView {
        form: open.form.clone(),
        is_new: open.place.is_none(),
        written,
        opened: writing.opened,
        trouble: open.trouble.clone(),
        topics: topics(),
        sources: sources.map(|(key, source)| (key.clone(), source.title.clone())).collect(),
        problems: seen.map(|seen| desk::problems_of(writing, seen)).unwrap_or_default(),
    }
}
