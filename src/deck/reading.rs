//! Reading a deck's folder: every file, every card, every problem, in one pass.

use std::collections::BTreeMap;
use std::path::Path;
use std::time::{Duration, Instant};

use toml::Spanned;
use toml::de::DeValue;

use super::check::Site;
use super::checks;
use super::decode;
use super::draft::DeckDraft;
use super::fields::{Context, Table, tables_of};
use super::files::{self, Bytes, Entry, Files, MOST_DECK_BYTES, MOST_FILE_BYTES, MOST_FILES};
use super::head;
use super::kinds::{self, DeckKind, Draft};
use super::problem::{Collector, Problem};
use super::signs::{self, BadSign};
use super::source_text::SourceText;
use super::syntax::{self, Piece};
use super::whole;
use super::written::{self, Written};
use crate::domain::card::Card;
use crate::domain::deck::Deck;
use crate::domain::ids::DeckId;
use crate::domain::marking::Marker;

/// A deck may have this many cards.
pub(crate) const MOST_CARDS: usize = 20_000;

/// A deck as read, with all that is wrong with it.
#[derive(Debug)]
pub struct Reading {
    /// The deck with its sound cards only; none where `deck.toml` gives no sound id.
    pub deck: Option<Deck>,
    /// In the order of file, line and column.
    pub problems: Vec<Problem>,
    /// How many cards of each kind are written, sound or not, by the kind's word.
    pub counts: BTreeMap<String, usize>,
    /// The texts of the files, in the order of their names, for showing lines.
    pub texts: Vec<SourceText>,
    /// Cards that could be read and that have errors, so that they are not in the deck: such as a sequence that no
    /// order solves, which can still be looked into.
    pub unsound: Vec<Card>,
    /// Every card as it is written, sound or not, in the order of files and lines.
    pub written: Vec<Written>,
    /// Files that could not be understood as a whole, by name: cards may be lacking.
    pub broken: Vec<String>,
    /// So many cards point at drawings for whose reading there was no time; they are not in the deck yet.
    pub put_off: usize,
    /// Whether there was a deck to read at all.
    pub readable: bool,
}

/// What a deck is read for, from all that its writer wants to know to the least that is safe.
#[derive(Clone, Copy, PartialEq)]
enum Purpose {
    Check,
    Ask,
    AskVouched,
}

/// Reads the deck in the folder `path` and finds all that is wrong with it; its samples are marked by words alone.
pub fn read_deck(path: &Path) -> Reading {
    read_deck_by(path, Marker::default())
}

/// Reads the deck in the folder `path` and finds all that is wrong with it; its samples are marked by `marker`.
pub fn read_deck_by(path: &Path, marker: Marker<'_>) -> Reading {
    read(Files::In(path), Purpose::Check, None, marker)
}

/// Reads the deck in the folder `path` as it would be if the files of these names, new ones and others, held these bytes.
pub fn read_deck_with(path: &Path, instead: &BTreeMap<String, Vec<u8>>, marker: Marker<'_>) -> Reading {
    read_with(Files::In(path), Purpose::Check, None, marker, instead)
}

/// Reads the deck in the folder `path` to ask its cards: what is wrong with its samples, which concerns its writer alone,
/// is not looked for.
pub fn read_deck_to_ask(path: &Path) -> Reading {
    read(Files::In(path), Purpose::Ask, None, Marker::default())
}

/// Reads a deck that is held in memory, such as the files of a sealed deck by their paths, and finds all that is wrong
/// with it; its samples are marked by `marker`.
pub fn read_sealed_by(files: &BTreeMap<String, Vec<u8>>, marker: Marker<'_>) -> Reading {
    read(Files::Held(files), Purpose::Check, None, marker)
}

/// Reads a deck that is held in memory to ask its cards; as [`read_deck_to_ask`].
pub fn read_sealed_to_ask(files: &BTreeMap<String, Vec<u8>>) -> Reading {
    read(Files::Held(files), Purpose::Ask, None, Marker::default())
}

/// Reads the deck in the folder `path` within a time for all its drawings, from which what was used is taken: cards whose
/// drawings could not be read in that time are put off, and the deck is to be read again without a haste. Samples are as
/// with [`read_deck_to_ask`].
pub fn read_deck_within(path: &Path, time: &mut Duration) -> Reading {
    let begun = Instant::now();
    let reading = read(Files::In(path), Purpose::Ask, Some(*time), Marker::default());
    // Only drawings take long; a deck without them uses none of it.
    if reading.has_drawings() {
        *time = time.saturating_sub(begun.elapsed());
    }
    reading
}

impl Reading {
    /// What reading gives where there is no deck at all: why, and what would do.
    pub fn nothing(message: &str, mend: &'static str) -> Self {
        unreadable(&files::NoDeck { message: message.to_owned(), mend })
    }

    fn has_drawings(&self) -> bool {
        self.counts.contains_key("point")
    }
}

/// What a deck is called, without its cards.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DeckHead {
    /// Its id.
    pub id: DeckId,
    /// Publication number.
    pub edition: u32,
}

/// Reads only what the deck in the folder `path` is called; none where it has no sound id.
pub fn read_deck_head(path: &Path) -> Option<DeckHead> {
    read_head(Files::In(path))
}

/// Reads only what a deck that is held in memory is called; none where it has no sound id.
pub fn read_sealed_head(files: &BTreeMap<String, Vec<u8>>) -> Option<DeckHead> {
    read_head(Files::Held(files))
}

fn read_head(from: Files<'_>) -> Option<DeckHead> {
    let listing = from.list().ok()?;
    let entry = listing.entries.iter().find(|entry| entry.name == "deck.toml")?;
    let mut draft = DeckDraft { bytes_left: MOST_DECK_BYTES, ..DeckDraft::default() };
    draft.read_file(0, from, entry, None);
    let head = draft.head?;
    Some(DeckHead { id: DeckId(head.id?), edition: head.edition.unwrap_or(1) })
}

/// Reads a deck that came with the program, which its tests have found to be without fault: what is costly to try is not
/// tried again at every start.
pub fn read_vouched_deck(path: &Path) -> Reading {
    read(Files::In(path), Purpose::AskVouched, None, Marker::default())
}

fn read(from: Files<'_>, purpose: Purpose, time_for_drawings: Option<Duration>, marker: Marker<'_>) -> Reading {
    read_with(from, purpose, time_for_drawings, marker, &BTreeMap::new())
}

fn read_with(
    from: Files<'_>,
    purpose: Purpose,
    time_for_drawings: Option<Duration>,
    marker: Marker<'_>,
    instead: &BTreeMap<String, Vec<u8>>,
) -> Reading {
    let mut listing = match from.list() {
        Ok(listing) => listing,
        Err(no_deck) => return unreadable(&no_deck),
    };
    listing.add(instead.keys());
    let mut draft = DeckDraft { bytes_left: MOST_DECK_BYTES, time_for_drawings, ..DeckDraft::default() };
    draft.problems.vouched_for = purpose == Purpose::AskVouched;
    draft.problems.only_to_ask = purpose != Purpose::Check;
    for (file, entry) in listing.entries.iter().enumerate() {
        let text = draft.read_file(file, from, entry, instead.get(&entry.name));
        draft.texts.push(SourceText { name: entry.name.clone(), text });
    }
    let head = listing.entries.iter().position(|entry| entry.name == "deck.toml").unwrap_or(0);
    for (name, meant) in &listing.unread {
        draft.problems.report(checks::file::unread_file(Site::top(head), name, meant));
    }
    if listing.too_many {
        draft.cards_are_damaged = true;
        let last = listing.entries.len().saturating_sub(1);
        draft.problems.report(checks::file::too_many(Site::top(last), "files in the deck", MOST_FILES));
    }
    whole::check(&mut draft, from, marker);
    draft.into_reading()
}

fn unreadable(no_deck: &files::NoDeck) -> Reading {
    let mut problems = Collector::default();
    problems.report(checks::deck::unreadable_deck(Site::top(0), &no_deck.message, no_deck.mend));
    Reading {
        deck: None,
        problems: problems.into_problems(&[]),
        counts: BTreeMap::new(),
        texts: Vec::new(),
        unsound: Vec::new(),
        written: Vec::new(),
        broken: Vec::new(),
        put_off: 0,
        readable: false,
    }
}

impl DeckDraft {
    /// Reads a file of the deck, or what it would hold `instead`.
    fn read_file(&mut self, file: usize, from: Files<'_>, entry: &Entry, instead: Option<&Vec<u8>>) -> String {
        let is_head = entry.name == "deck.toml";
        let Some(bytes) = self.bytes_of(file, from, entry, instead) else {
            self.damage(is_head);
            self.broken.push(file);
            return String::new();
        };
        let decoded = decode::decode(&bytes, file, &mut self.problems);
        drop(bytes);
        if !decoded.is_text {
            self.damage(is_head);
            self.broken.push(file);
            return decoded.text;
        }
        let mut bad_places = decoded.bad;
        if !bad_places.is_empty() {
            self.damage(is_head);
        }
        for (at, sign) in signs::bad_signs(&decoded.text) {
            bad_places.push(at);
            let site = Site { file, start: at, end: at + sign.len_utf8() };
            self.problems.report(match signs::bad_sign(sign) {
                Some(sort @ (BadSign::Direction | BadSign::Invisible)) => {
                    checks::text::hidden_character(site, sign, sort)
                }
                _ => checks::text::control_character(site, sign),
            });
        }
        let first_draft = self.drafts.len();
        let pieces = syntax::pieces(&decoded.text, file, &bad_places, &mut self.problems);
        if pieces.is_empty() {
            self.damage(is_head);
        }
        if pieces.len() != 1 || pieces.iter().any(|piece| piece.table.is_none()) {
            self.broken.push(file);
        }
        for (n, piece) in pieces.iter().enumerate() {
            self.read_piece(file, piece, is_head, n == 0);
        }
        let drafts = &mut self.drafts[first_draft..];
        drafts.sort_by_key(|draft| draft.site.start);
        unsettle(drafts, &bad_places);
        decoded.text
    }

    fn damage(&mut self, is_head: bool) {
        self.head_is_damaged |= is_head;
        self.cards_are_damaged = true;
    }

    fn bytes_of(&mut self, file: usize, from: Files<'_>, entry: &Entry, instead: Option<&Vec<u8>>) -> Option<Vec<u8>> {
        let top = Site::top(file);
        if entry.is_link {
            self.problems.report(checks::file::symbolic_link(top, &entry.name));
            return None;
        }
        let most = MOST_FILE_BYTES.min(self.bytes_left);
        let bytes = match instead {
            Some(bytes) if bytes.len() as u64 > most => Bytes::TooLarge,
            Some(bytes) => Bytes::Read(bytes.clone()),
            None => from.read(entry, most),
        };
        match bytes {
            Bytes::Read(bytes) => {
                self.bytes_left -= bytes.len() as u64;
                return Some(bytes);
            }
            Bytes::TooLarge if self.bytes_left < MOST_FILE_BYTES => {
                self.problems.report(checks::file::too_large_deck(top, MOST_DECK_BYTES));
            }
            Bytes::TooLarge => self.problems.report(checks::file::too_large_file(top, MOST_FILE_BYTES)),
            Bytes::Unreadable(why) => self.problems.report(checks::file::unreadable_file(top, &why)),
        }
        None
    }

    fn read_piece(&mut self, file: usize, piece: &Piece<'_>, is_head: bool, is_first: bool) {
        let Some(table) = &piece.table else {
            self.damage(is_head);
            if let Some(kind) = kind_of_header(piece.text) {
                self.count(kind);
            }
            return;
        };
        if is_head && is_first {
            let mut context = Context { file, base: piece.base, text: piece.text, problems: &mut self.problems };
            let whole = Table { table: table.get_ref(), site: context.site(0..0), what: "deck.toml" };
            self.head = Some(head::read(&mut context, whole));
        }
        for (key, value) in table.get_ref().iter() {
            let word: &str = key.get_ref();
            if let Some(kind) = kinds::of_word(word) {
                self.read_cards(file, piece, kind, value);
                continue;
            }
            let mut context = Context { file, base: piece.base, text: piece.text, problems: &mut self.problems };
            if is_head && word == "source" {
                head::read_sources(&mut context, value, &mut self.sources);
            } else if !(is_head && head::KEYS.contains(&word)) {
                stranger(&mut context, key, value, is_head);
            }
        }
    }

    fn read_cards(&mut self, file: usize, piece: &Piece<'_>, kind: &'static DeckKind, value: &Spanned<DeValue<'_>>) {
        let mut context = Context { file, base: piece.base, text: piece.text, problems: &mut self.problems };
        let sample = format!("[[{}]] with two brackets above each card", kind.word);
        let Some(tables) = tables_of(&mut context, value, kind.word, kind.one, &sample) else {
            self.cards_are_damaged = true;
            return;
        };
        for table in tables {
            self.count(kind);
            if self.drafts.len() >= MOST_CARDS {
                self.cards_are_damaged = true;
                if !self.too_many_told {
                    self.too_many_told = true;
                    self.problems.report(checks::file::too_many(table.site, "cards in the deck", MOST_CARDS));
                }
                continue;
            }
            let mut context = Context { file, base: piece.base, text: piece.text, problems: &mut self.problems };
            let draft = kinds::read(&mut context, table, kind);
            self.drafts.push(draft);
        }
    }

    fn count(&mut self, kind: &DeckKind) {
        match self.counts.get_mut(kind.word) {
            Some(count) => *count += 1,
            None => {
                self.counts.insert(kind.word.to_owned(), 1);
            }
        }
    }

    fn into_reading(mut self) -> Reading {
        let written = written::of(&self);
        let broken = self.broken.iter().filter_map(|file| Some(self.texts.get(*file)?.name.clone())).collect();
        let unsound = whole::unsound(self.head.as_ref(), &mut self.drafts);
        let deck = self.head.and_then(|head| whole::deck(head, self.sources, self.drafts));
        let problems = self.problems.into_problems(&self.texts);
        let (counts, texts, put_off) = (self.counts, self.texts, self.put_off);
        Reading { deck, problems, counts, texts, unsound, written, broken, put_off, readable: true }
    }
}

/// A key at the top of a file that does not belong there.
fn stranger(
    context: &mut Context<'_>,
    key: &Spanned<std::borrow::Cow<'_, str>>,
    value: &Spanned<DeValue<'_>>,
    is_head: bool,
) {
    let word: &str = key.get_ref();
    let site = context.site(key.span());
    let mut known = kinds::words();
    let is_table = match value.get_ref() {
        DeValue::Table(_) => true,
        DeValue::Array(entries) => entries.iter().any(|entry| entry.get_ref().as_table().is_some()),
        _ => false,
    };
    if !is_table {
        context.problems.report_with(&checks::key::UNKNOWN_KEY, site, || match is_head {
            true => checks::key::unknown_key(site, word, "deck.toml", head::KEYS),
            false => checks::key::key_outside_cards(site, word),
        });
        return;
    }
    if is_head {
        known.push("source");
    } else if word == "source" {
        context.report(checks::key::source_in_card_file(site));
        return;
    }
    context.problems.report_with(&checks::key::UNKNOWN_KIND, site, || checks::key::unknown_kind(site, word, &known));
}

/// The kind that a piece which is not TOML was meant to be.
fn kind_of_header(text: &str) -> Option<&'static DeckKind> {
    let inner = text.trim_start().strip_prefix("[[")?;
    let word = inner.split(|c: char| !(c.is_ascii_alphanumeric() || c == '-' || c == '_' || c == ' ')).next()?;
    kinds::of_word(word.trim())
}

/// Cards in which a sign stands that may not stand anywhere are not sound.
fn unsettle(drafts: &mut [Draft], bad_places: &[usize]) {
    for &at in bad_places {
        let after = drafts.partition_point(|draft| draft.site.start <= at);
        if let Some(draft) = after.checked_sub(1).and_then(|n| drafts.get_mut(n)) {
            draft.card = None;
        }
    }
}
