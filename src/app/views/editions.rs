//! Editions of decks: what one brought, which there were, what was changed of a card, what is withdrawn.

use std::collections::BTreeMap;

use crate::app::profile::editions::{ChangedCard, News};
use crate::app::profile::learner::Learner;
use crate::app::profile::shelf::{Shelf, Shelved};
use crate::app::views::kinds;
use crate::domain::editions::{Difference, Line, Update, What};
use crate::domain::english;
use crate::domain::ids::CardKey;
use crate::present::editions::{
    ChangedLine, ChangedPart, ChangedView, EditionGroup, EditionRow, EditionView, TakenRow, WithdrawnRow,
};
use crate::present::{TitleBlock, words};

/// What a change does to memory.
const CHANGED: &str = "What you have answered is kept. A card that you have answered before comes first in the next \
    watch, and its recall counts as unknown until you have answered it; old and new are shown after the answer.";

/// So many cards of a sort are listed.
const MOST_LISTED: usize = 60;

/// What an edition brought. `asks` has questions of cards that are in no deck any more.
pub fn edition(
    learner: &Learner,
    shelf: &Shelf,
    (news, update): (&News, &Update),
    asks: &BTreeMap<CardKey, String>,
    (fresh, more): (bool, usize),
) -> EditionView {
    let key = |id: &str| CardKey { deck: update.deck.clone(), card: id.to_owned() };
    let row = |id: &str, what: String| {
        let key = key(id);
        let card = shelf.card(&key).map(|(_, card)| words::plain(&kinds::blank(card)));
        let ask = card.or_else(|| asks.get(&key).map(|ask| words::plain(ask)));
        EditionRow { ask: ask.unwrap_or_else(|| id.to_owned()), what }
    };
    let mut groups = Vec::new();
    let mut group = |mut cards: Vec<EditionRow>, what: &str, [one, several]: [&str; 2]| {
        if !cards.is_empty() {
            let are = if cards.len() == 1 { "is" } else { "are" };
            let heading = format!("{} {are} {what}", words::count_in_words(cards.len(), "card"));
            let more = cards.len().checked_sub(MOST_LISTED).filter(|more| *more > 0);
            let more = more.map(|more| format!("and {} more", words::figure(more)));
            cards.truncate(MOST_LISTED);
            let heading = english::capital(&heading);
            let sentence = if cards.len() == 1 && more.is_none() { one } else { several };
            groups.push(EditionGroup { heading, sentence: sentence.to_owned(), cards, more });
        }
    };
    let parts = |differences: &[Difference]| {
        let parts: Vec<&str> = differences.iter().map(|difference| difference.what.words()).collect();
        english::capital(&parts.join(", "))
    };
    group(
        update.changed.iter().map(|changed| row(&changed.id, parts(&changed.differences))).collect(),
        "changed",
        [CHANGED, CHANGED],
    );
    group(
        update.new.iter().map(|id| row(id, String::new())).collect(),
        "new",
        ["It comes as a card that was not yet asked.", "They come as cards that were not yet asked."],
    );
    group(
        update.renamed.iter().map(|renamed| row(&renamed.to, format!("It was {}", renamed.from))).collect(),
        "renamed",
        ["What you have answered goes on with the card.", "What you have answered goes on with the cards."],
    );
    group(
        update.withdrawn.iter().map(|id| row(id, String::new())).collect(),
        "withdrawn",
        [
            "It is not asked and not counted any more. What you have answered is kept, and counts again if the card comes \
             back.",
            "They are not asked and not counted any more. What you have answered is kept, and counts again if a card comes \
             back.",
        ],
    );
    let title = shelf.deck(&update.deck).and_then(|shelved| shelved.deck()).map(|deck| (&deck.title, &deck.publisher));
    let (title, publisher) = title.map_or((update.deck.0.clone(), String::new()), |(t, p)| (t.clone(), p.clone()));
    let before = update.was_edition.map_or_else(|| "–".to_owned(), |number| number.to_string());
    let at = learner.editions.ledger.takings(&news.deck).get(news.place).map(|taking| taking.at);
    let day = at.map_or_else(String::new, |at| words::day(learner.day(at)));
    EditionView {
        deck: update.deck.clone(),
        place: news.place,
        headline: format!("What is new in edition {}", update.edition),
        sentence: sentence(update),
        groups,
        more,
        fresh,
        block: TitleBlock::of([
            ["Deck", &title, "Edition", &update.edition.to_string()],
            ["Publisher", &publisher, "Before", &before],
            ["Taken in", &day, "Same", &update.same.to_string()],
        ]),
        title,
    }
}

fn sentence(update: &Update) -> String {
    let same = match update.same {
        0 => "No card is as it was.".to_owned(),
        1 => "One card is as it was.".to_owned(),
        n => format!("{} cards are as they were.", english::capital(&words::number(n))),
    };
    match update.was_edition {
        None => "The first edition that was taken in here.".to_owned(),
        Some(_) if update.is_empty() => "Nothing that is asked is another than before.".to_owned(),
        Some(before) if before > update.edition => format!("In place of edition {before}, which is later. {same}"),
        Some(before) => format!("In place of edition {before}. {same}"),
    }
}

/// The editions of a deck that were taken in, the newest first.
pub fn taken(learner: &Learner, shelved: &Shelved) -> Vec<TakenRow> {
    let Some(deck) = shelved.deck() else { return Vec::new() };
    let ledger = &learner.editions.ledger;
    let rows = ledger.takings(&deck.id).iter().enumerate().map(|(place, taking)| TakenRow {
        place,
        edition: format!("Edition {}", taking.number),
        day: words::day(learner.day(taking.at)),
        brought: ledger.update(&deck.id, place, &BTreeMap::new()).map_or_else(String::new, |update| brought(&update)),
    });
    let mut rows: Vec<TakenRow> = rows.collect();
    rows.reverse();
    rows
}

fn brought(update: &Update) -> String {
    if update.was_edition.is_none() {
        return format!("the first here, {}", words::count(update.new.len(), "card"));
    }
    let counts = [
        (update.changed.len(), "changed"),
        (update.new.len(), "new"),
        (update.renamed.len(), "renamed"),
        (update.withdrawn.len(), "withdrawn"),
    ];
    let said: Vec<String> =
        counts.iter().filter(|(n, _)| *n > 0).map(|(n, what)| format!("{} {what}", words::figure(*n))).collect();
    if said.is_empty() { "nothing that is asked".to_owned() } else { said.join(", ") }
}

/// A card that is no longer in its deck. `ask` is its question, where that is known.
pub fn withdrawn(learner: &Learner, key: &CardKey, ask: Option<&str>) -> WithdrawnRow {
    let answered = match learner.memory.get(key) {
        None => "Never asked".to_owned(),
        Some(memory) => {
            let times = words::count(memory.seen as usize, "time");
            format!("Asked {times}, last on {}", words::day(memory.last_day))
        }
    };
    WithdrawnRow { key: key.clone(), ask: ask.map_or_else(|| key.card.clone(), words::plain), answered }
}

/// What was changed of a card; the parts once it is answered.
pub fn changed(changed: &ChangedCard, answered: bool) -> ChangedView {
    ChangedView {
        heading: format!("Changed in edition {}", changed.edition),
        parts: answered.then(|| changed.differences.iter().map(part).collect()),
    }
}

fn part(difference: &Difference) -> ChangedPart {
    let lines = |of: &[Line], other: &[Line]| {
        let line = |line: &Line| ChangedLine {
            text: line.text.clone(),
            critical: line.critical,
            differs: !other.contains(line),
        };
        of.iter().map(line).collect::<Vec<ChangedLine>>()
    };
    let (mut was, mut is) = (lines(&difference.was, &difference.is), lines(&difference.is, &difference.was));
    if difference.what == What::Drawing {
        // The names of a drawing's parts say little of what is another on it.
        (was, is) = (Vec::new(), Vec::new());
    } else if was.len() + is.len() > LONG {
        was.retain(|line| line.differs);
        is.retain(|line| line.differs);
    }
    ChangedPart { what: english::capital(difference.what.words()), was, is }
}

/// With more lines than this on both sides together, those that are on both are left out.
const LONG: usize = 12;
