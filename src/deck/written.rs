//! Cards as they are written, sound or not: what whoever writes a deck has in sight.

use super::check::Site;
use super::draft::DeckDraft;
use super::kinds;
use super::scan;
use crate::domain::card::Card;
use crate::domain::kinds::Kind;

/// A card as it is written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Written {
    /// Its kind.
    pub kind: Kind,
    /// Its id, where it has one; it may stand twice.
    pub id: Option<String>,
    /// Its question; empty where it has none.
    pub ask: String,
    /// Its section.
    pub heading: Option<String>,
    /// The file, relative to the deck's folder, with `/`.
    pub file: String,
    /// The how-manieth of its kind in the file, from 0.
    pub nth: usize,
    /// The line on which it begins, from 1.
    pub line: usize,
    /// The byte at which it begins.
    pub start: usize,
    /// The byte at which the next card of the file begins; none for the last one.
    pub end: Option<usize>,
    /// It can be asked.
    pub sound: bool,
}

impl Written {
    /// Whether a byte of a file is in this card.
    pub fn holds(&self, file: &str, at: usize) -> bool {
        self.file == file && self.start <= at && self.end.is_none_or(|end| at < end)
    }
}

/// The cards of a deck that has been read.
pub(super) fn of(deck: &DeckDraft) -> Vec<Written> {
    let mut written: Vec<(usize, Written)> = Vec::new();
    let mut line = Counted { file: usize::MAX, at: 0, line: 1 };
    for draft in &deck.drafts {
        let Some(kind) = kinds::kind_of(draft.word) else { continue };
        let Site { file, start, .. } = draft.site;
        let Some(text) = deck.texts.get(file) else { continue };
        if let Some((_, before)) = written.last_mut().filter(|(of, _)| *of == file) {
            before.end = Some(start);
        }
        let nth = written.iter().rev().take_while(|(of, _)| *of == file).filter(|(_, card)| card.kind == kind).count();
        let card = Written {
            kind,
            id: draft.id.as_ref().map(|id| id.text.clone()),
            ask: draft.ask.as_ref().map(|ask| ask.text.clone()).unwrap_or_default(),
            heading: draft.heading.clone(),
            file: text.name.clone(),
            nth,
            line: line.at(file, &text.text, start),
            start,
            end: None,
            sound: draft.card.is_some(),
        };
        written.push((file, card));
    }
    // Between two cards that can be read there may be one that cannot.
    for (file, card) in &mut written {
        if deck.broken.contains(file)
            && let Some(text) = deck.texts.get(*file)
        {
            let next = scan::cuts(&text.text, &kinds::words()).into_iter().find(|cut| *cut > card.start);
            card.end = [card.end, next].into_iter().flatten().min();
        }
    }
    written.into_iter().map(|(_, card)| card).collect()
}

/// Where a card stands in a text that cannot be read as a whole: from where it begins up to the next one.
pub(super) fn looked_for(text: &str, id: &str) -> Option<(usize, usize)> {
    let said = [format!("id = \"{id}\""), format!("id=\"{id}\"")];
    let cuts = scan::cuts(text, &kinds::words());
    let is_it =
        |cut: &&[usize]| text.get(cut[0]..cut[1]).is_some_and(|piece| said.iter().any(|said| piece.contains(said)));
    cuts.windows(2).find(is_it).map(|cut| (cut[0], cut[1]))
}

/// Counts the lines of a file while its cards are gone through in their order.
struct Counted {
    file: usize,
    at: usize,
    line: usize,
}

impl Counted {
    fn at(&mut self, file: usize, text: &str, start: usize) -> usize {
        let start = start.min(text.len());
        if self.file != file || start < self.at {
            *self = Self { file, at: 0, line: 1 };
        }
        self.line += text.as_bytes()[self.at..start].iter().filter(|byte| **byte == b'\n').count();
        self.at = start;
        self.line
    }
}

/// A card in its writer's sight: as it is written, and as it was last read well.
#[derive(Debug, Clone, PartialEq)]
pub struct InSight {
    /// As it is written, or was before its file could not be read any more.
    pub written: Written,
    /// The card, where it can be read, or could be before.
    pub card: Option<Card>,
    /// Its text cannot be read as it stands; what is here is what was read before.
    pub stale: bool,
    /// Its text is not among what could be read at all: where it says to stand, it stood.
    pub gone: bool,
}
