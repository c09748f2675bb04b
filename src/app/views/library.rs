//! The library: decks, one deck, one card, and what a search found.

use std::path::Path;

use crate::app::profile::learner::Learner;
use crate::app::profile::shelf::{OWN_DECKS, Shelf, Shelved};
use crate::app::views::card::block;
use crate::app::views::{Pictured, editions, kinds};
use crate::deck::{Problem, Severity as Found};
use crate::domain::attempt::Attempt;
use crate::domain::card::Card;
use crate::domain::day::{Instant, StudyDay};
use crate::domain::deck::{Deck, Source, SourceKind};
use crate::domain::memory::standing;
use crate::domain::outcome::{Notch, Outcome};
use crate::present::drawing::PartShown;
use crate::present::editions::WithdrawnRow;
use crate::present::library::{
    CardPageView, CardRow, DeckRow, DeckView, FaultRow, HistoryRow, LibraryView, ProblemRow, SearchView, Severity,
    SourceRow, Standing,
};
use crate::present::{Labelled, words};

/// All decks.
pub fn library(shelf: &Shelf, home: &Path, search: Option<SearchView>) -> LibraryView {
    LibraryView {
        decks: shelf.decks.iter().map(deck_row).collect(),
        folders: vec![home.join(OWN_DECKS).display().to_string()],
        search,
    }
}

fn deck_row(shelved: &Shelved) -> DeckRow {
    let deck = shelved.reading.deck.as_ref();
    let problems = &shelved.reading.problems;
    DeckRow {
        id: shelved.id(),
        title: deck.map_or_else(|| shelved.id().0, |d| d.title.clone()),
        edition: deck.map_or_else(|| "–".to_owned(), |d| d.edition.to_string()),
        publisher: match deck {
            Some(_) if shelved.shadowed => "not used: another deck has its id".to_owned(),
            Some(deck) if shelved.bundled => format!("{}, with the program", deck.publisher),
            Some(deck) => deck.publisher.clone(),
            None => "could not be read".to_owned(),
        },
        cards: if shelved.shadowed { 0 } else { deck.map_or(0, |d| d.cards.len()) },
        problems: problems.len(),
        worst: problems.iter().map(|p| severity(p.severity)).min(),
    }
}

pub(super) fn severity(found: Found) -> Severity {
    match found {
        Found::Error => Severity::Error,
        Found::Warning => Severity::Warning,
        Found::Advice => Severity::Advice,
    }
}

/// One deck.
/// `withdrawn` are cards that it no longer has, `back` is the edition that was in use before.
pub fn deck(
    learner: &Learner,
    shelved: &Shelved,
    (withdrawn, back): (Vec<WithdrawnRow>, Option<u32>),
    now: Instant,
) -> DeckView {
    let deck = shelved.reading.deck.as_ref();
    let day = learner.day(now);
    let mut facts = Vec::new();
    if let Some(deck) = deck {
        facts.push(Labelled::of("Edition", deck.edition.to_string()));
        facts.push(Labelled::of("Publisher", deck.publisher.clone()));
        facts.push(Labelled::of("Licence", deck.licence.clone()));
        facts.push(Labelled::of("Language", deck.language.clone()));
    }
    if let Some(taken_in) = shelved.taken_in {
        let signed = if taken_in.is_signed { "From a signed file" } else { "From a file without a signature" };
        facts.push(Labelled::of("Taken in", signed));
    }
    facts.push(Labelled::of("Folder", shelved.folder.display().to_string()));
    DeckView {
        id: shelved.id(),
        title: deck.map_or_else(|| shelved.id().0, |d| d.title.clone()),
        facts,
        about: deck.and_then(|d| d.about.clone()),
        caution: deck.and_then(|d| d.caution.clone()),
        sources: deck.into_iter().flat_map(|d| d.sources.values()).map(source).collect(),
        cards: shelved.deck().into_iter().flat_map(|d| &d.cards).map(|c| card_row(learner, c, day)).collect(),
        problems: shelved.reading.problems.iter().map(problem).collect(),
        editions: editions::taken(learner, shelved),
        withdrawn,
        back,
        own: (!shelved.bundled).then(|| shelved.folder.clone()),
    }
}

fn problem(problem: &Problem) -> ProblemRow {
    ProblemRow {
        code: problem.code.to_string(),
        severity: severity(problem.severity),
        place: format!("{}:{}:{}", problem.file, problem.line, problem.column),
        message: problem.message.clone(),
        mend: problem.mend.clone(),
    }
}

pub(super) fn source(source: &Source) -> SourceRow {
    let kind = match source.kind {
        SourceKind::Convention => "Convention",
        SourceKind::Standard => "Standard",
        SourceKind::ClassRule => "Class rule",
        SourceKind::Textbook => "Textbook",
        SourceKind::Practice => "Common practice",
    };
    SourceRow { title: source.title.clone(), kind: kind.to_owned() }
}

fn card_row(learner: &Learner, card: &Card, day: StudyDay) -> CardRow {
    let memory = learner.memory.get(&card.key);
    let standing = standing_of(learner, card, day);
    CardRow {
        key: card.key.clone(),
        kind: card.kind(),
        ask: words::plain(&kinds::blank(card)),
        heading: card.heading.clone().unwrap_or_default(),
        standing,
        next: match memory {
            Some(_) if standing != Standing::SetAside && learner.is_changed(&card.key) => "changed".to_owned(),
            Some(m) if standing != Standing::SetAside => words::in_days(m.due.days_since(day)),
            _ => String::new(),
        },
    }
}

fn standing_of(learner: &Learner, card: &Card, day: StudyDay) -> Standing {
    if learner.is_aside(&card.key, day) {
        return Standing::SetAside;
    }
    match standing::Standing::of(learner.memory.get(&card.key)) {
        standing::Standing::Unseen => Standing::Unseen,
        standing::Standing::WorkingUp => Standing::WorkingUp,
        standing::Standing::Holding => Standing::Holding,
        standing::Standing::Slipped => Standing::Slipped,
    }
}

/// One card outside the watch.
pub fn card(
    learner: &Learner,
    shelf: &Shelf,
    (deck, card): (&Deck, &Card),
    pictured: Pictured,
    history: &[Attempt],
    now: Instant,
) -> CardPageView {
    let day = learner.day(now);
    CardPageView {
        key: card.key.clone(),
        kind: card.kind(),
        place: Learner::place(card),
        ask: kinds::blank(card),
        shown: pictured.drawing.zip(kinds::of(card).part()).map(|(drawing, part)| PartShown { drawing, part }),
        picture: pictured.picture,
        answer: kinds::of(card).answer(card),
        because: card.because.clone(),
        caution: card.caution.clone(),
        sources: card.sources.iter().filter_map(|key| deck.sources.get(key)).map(source).collect(),
        standing: standing_of(learner, card, day),
        standing_detail: standing_detail(learner, card, day),
        history: history.iter().rev().map(history_row).collect(),
        faults: learner
            .faults
            .iter()
            .filter(|f| f.card == card.key)
            .map(|f| FaultRow { day: words::day(learner.day(f.at)), note: f.note.clone() })
            .collect(),
        today: day,
        block: block(learner, shelf, deck, card),
    }
}

fn standing_detail(learner: &Learner, card: &Card, day: StudyDay) -> String {
    use crate::domain::attempt::Until;
    if learner.is_aside(&card.key, day) {
        return match learner.aside.get(&card.key).map(|a| a.until) {
            Some(Until::Day(until)) => format!("Left out of the watch until {}.", words::day(until)),
            _ => "Left out of the watch for good.".to_owned(),
        };
    }
    match learner.memory.get(&card.key) {
        None => "Never asked yet.".to_owned(),
        Some(memory) => {
            let asked = words::count(memory.seen as usize, "time");
            if let Some(changed) = learner.editions.changed(&card.key) {
                return format!(
                    "Changed in edition {}: it comes first in the next watch, and its recall is unknown until you have \
                     answered it. Asked {asked}.",
                    changed.edition
                );
            }
            let recall = (learner.recall(&card.key, day).unwrap_or(0.0) * 100.0).round();
            let due = if memory.due <= day { "today".to_owned() } else { format!("on {}", words::day(memory.due)) };
            let recall = match memory.last {
                Outcome::Missed => "Missed the last time: recall counts as 0 % until you have answered it.".to_owned(),
                _ => format!("Recall today {recall} %."),
            };
            format!("Next {due}. {recall} Asked {asked}.")
        }
    }
}

fn history_row(attempt: &Attempt) -> HistoryRow {
    let evidence = &attempt.evidence;
    let all = evidence.points_said.len() + evidence.points_missed.len();
    let points = if all > 0 {
        format!("{} of {}, ", evidence.points_said.len(), words::count(all, "point"))
    } else {
        String::new()
    };
    let notch = match attempt.notch {
        Notch::None => String::new(),
        Notch::Down => format!("; moved down from {}", attempt.outcome.word()),
        Notch::Up => format!("; moved up from {}", attempt.outcome.word()),
    };
    HistoryRow {
        day: words::day(attempt.day()),
        outcome: attempt.final_outcome(),
        detail: format!("{points}{}{notch}", words::duration(attempt.seconds)),
    }
}
