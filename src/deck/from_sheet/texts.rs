//! The files of a deck as they stand, and where each card of them stands.

use std::collections::HashMap;
use std::path::Path;

use toml_edit::{Document, Item, TableLike, Value};

use super::edits::{Change, Edit, spliced};
use super::error::DraftError;
use super::rows::RowCard;
use crate::deck::files::{Bytes, Files, MOST_FILE_BYTES};
use crate::deck::folding::folded;
use crate::deck::kinds;

const MARK: &str = "\u{FEFF}";

/// A file of the deck.
pub(super) struct DeckText {
    /// Relative to the deck's folder, with `/`.
    pub(super) name: String,
    /// Without a byte order mark.
    pub(super) text: String,
    /// It begins with a byte order mark.
    has_mark: bool,
}

/// Reads every file of a deck.
///
/// # Errors
/// Where there is no deck, or a file of it cannot be read.
pub(super) fn read(folder: &Path) -> Result<Vec<DeckText>, DraftError> {
    let listing = Files::In(folder).list().map_err(|no_deck| DraftError::NoDeck(no_deck.message, no_deck.mend))?;
    let mut texts = Vec::new();
    for entry in listing.entries {
        let unsound = || DraftError::Unsound(entry.name.clone());
        let Bytes::Read(bytes) = Files::In(folder).read(&entry, MOST_FILE_BYTES) else { return Err(unsound()) };
        let text = String::from_utf8(bytes).map_err(|_| unsound())?;
        let has_mark = text.starts_with(MARK);
        let text = text.strip_prefix(MARK).map(str::to_owned).unwrap_or(text);
        texts.push(DeckText { name: entry.name, text, has_mark });
    }
    Ok(texts)
}

/// Where a card stands.
#[derive(Clone, Copy)]
struct Standing {
    file: usize,
    kind: &'static str,
    /// Which of its kind in the file.
    nth: usize,
    /// The id stands more than once.
    is_double: bool,
}

/// The cards of a deck, found by their ids.
pub(super) struct Cards<'t> {
    texts: &'t [DeckText],
    documents: Vec<Document<&'t str>>,
    by_id: HashMap<String, Standing>,
    /// What each card asks, folded, with its id.
    asks: HashMap<String, String>,
}

/// What becomes of a card of the sheet.
pub(super) enum Becomes {
    /// It is new.
    New,
    /// It stands in this file; what is changed, and what its writer may want to know.
    Changed(usize, Vec<Edit>, Vec<String>),
    /// It cannot be: what is the matter, and how to mend it; about this key where one is meant.
    Refused(Option<&'static str>, String, String),
}

impl<'t> Cards<'t> {
    /// Finds the cards in the files.
    ///
    /// # Errors
    /// Where a file is no TOML, so that nobody knows which cards stand in it.
    pub(super) fn find(texts: &'t [DeckText]) -> Result<Self, DraftError> {
        let mut cards = Self { texts, documents: Vec::new(), by_id: HashMap::new(), asks: HashMap::new() };
        for (file, text) in texts.iter().enumerate() {
            let document = Document::parse(text.text.as_str()).map_err(|_| DraftError::Unsound(text.name.clone()))?;
            for kind in kinds::words() {
                for (nth, table) in tables(&document, kind) {
                    let Some(id) = table.get("id").and_then(Item::as_str) else { continue };
                    let standing = Standing { file, kind, nth, is_double: false };
                    cards.by_id.entry(id.to_owned()).and_modify(|first| first.is_double = true).or_insert(standing);
                    if let Some(ask) = table.get("ask").and_then(Item::as_str) {
                        cards.asks.insert(folded(ask), id.to_owned());
                    }
                }
            }
            cards.documents.push(document);
        }
        Ok(cards)
    }

    /// The card of the deck, another one, that asks the same.
    pub(super) fn asking_the_same(&self, card: &RowCard) -> Option<&str> {
        let other = self.asks.get(&folded(card.text("ask")?))?;
        (*other != card.id).then_some(other)
    }

    /// What becomes of a card.
    pub(super) fn becomes(&self, card: &RowCard) -> Becomes {
        let Some(standing) = self.by_id.get(&card.id) else { return Becomes::New };
        let file = &self.texts[standing.file].name;
        if standing.is_double {
            let message = format!("the deck has the id `{}` twice, so nobody knows which is meant", card.id);
            return Becomes::Refused(
                Some("id"),
                message,
                format!("give one of them another id, in {file} or the other file"),
            );
        }
        if standing.kind != card.kind.word {
            let message = format!("the card `{}` stands in {file} and is of the kind {}", card.id, standing.kind);
            return Becomes::Refused(None, message, "a card keeps its kind; give this one another id".to_owned());
        }
        let found = table(&self.documents[standing.file], standing.kind, standing.nth);
        let Some((table, is_inline)) = found else { return Becomes::New };
        let text = &self.texts[standing.file].text;
        let mut change = Change { text, table, is_inline, edits: Vec::new(), notes: Vec::new() };
        match change.gather(&card.wanted) {
            Ok(()) => Becomes::Changed(standing.file, change.edits, change.notes),
            Err((message, mend)) => {
                Becomes::Refused(None, format!("`{}` in {file}: {message}", card.id), mend.to_owned())
            }
        }
    }
}

/// The tables of a kind in a file.
fn tables<'d>(document: &'d Document<&str>, kind: &str) -> Vec<(usize, &'d dyn TableLike)> {
    match document.as_table().get(kind) {
        Some(Item::ArrayOfTables(list)) => (0..).zip(list.iter().map(|table| table as &dyn TableLike)).collect(),
        Some(Item::Value(Value::Array(list))) => {
            let entries = (0..).zip(list.iter());
            entries.filter_map(|(nth, entry)| Some((nth, entry.as_inline_table()? as &dyn TableLike))).collect()
        }
        _ => Vec::new(),
    }
}

/// One of the tables of a kind, with whether it stands in braces.
fn table<'d>(document: &'d Document<&str>, kind: &str, nth: usize) -> Option<(&'d dyn TableLike, bool)> {
    match document.as_table().get(kind)? {
        Item::ArrayOfTables(list) => Some((list.get(nth)?, false)),
        Item::Value(Value::Array(list)) => Some((list.get(nth)?.as_inline_table()?, true)),
        _ => None,
    }
}

impl DeckText {
    /// A text under a name.
    pub(super) fn of(name: &str, text: &str) -> Self {
        Self { name: name.to_owned(), text: text.to_owned(), has_mark: false }
    }

    /// The whole text with changes and, behind it, new cards.
    pub(super) fn with(&self, edits: Vec<Edit>, added: &str) -> String {
        let text = spliced(&self.text, 0..self.text.len(), edits);
        if added.is_empty() {
            return text;
        }
        let end = if self.text.contains("\r\n") { "\r\n" } else { "\n" };
        let gap = if text.is_empty() || text.ends_with(&format!("{end}{end}")) {
            ""
        } else if text.ends_with('\n') {
            end
        } else {
            &format!("{end}{end}")
        };
        format!("{text}{gap}{}", added.replace('\n', end))
    }

    /// The bytes to write of a text of this file.
    pub(super) fn bytes(&self, text: &str) -> Vec<u8> {
        let mark = if self.has_mark { MARK } else { "" };
        format!("{mark}{text}").into_bytes()
    }
}
