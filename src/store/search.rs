//! Search over the cards of the decks, as one types. A word counts as found where a word of the card begins
//! with it ("lub pre" finds "lubrication pressure") or has the same stem ("pressures" finds "pressure"); all
//! words must be found. What the learner types is never read as a query language.

use std::collections::HashMap;
use std::ops::Range;

use rusqlite::{Connection, Transaction, params};

use super::db::Db;
use super::error::StoreError;
use super::index::Index;
use crate::domain::ids::{CardKey, DeckId};

/// A deck's cards for the index.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SearchDoc {
    /// The deck.
    pub deck: DeckId,
    /// The deck's title for people.
    pub title: String,
    /// Changes whenever the deck's text does: the index is only built anew when it differs.
    pub digest: String,
    /// The cards of the deck.
    pub cards: Vec<SearchCard>,
}

/// A card's text for the index.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SearchCard {
    /// The card's id in its deck.
    pub card: String,
    /// What it asks. Counts four times as much as the rest.
    pub title: String,
    /// All other text to be found by.
    pub body: String,
}

/// A card found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hit {
    /// Which card.
    pub key: CardKey,
    /// The title of the card's deck.
    pub deck_title: String,
    /// What it asks, with the words found.
    pub title: Marked,
    /// The piece of its other text that holds the most words found; its beginning where it holds none.
    pub extract: Marked,
}

/// Text with the pieces to be marked.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Marked {
    /// The text.
    pub text: String,
    /// Byte ranges in it, in order, apart.
    pub marks: Vec<Range<usize>>,
}

const INDEX: &str = "make the decks ready for search";
const SEARCH: &str = "search the decks";
/// Longer queries are cut: words, and letters of each.
const MOST_WORDS: usize = 12;
const MOST_LETTERS: usize = 64;
/// Words of an extract.
const EXTRACT_WORDS: usize = 20;
/// Marks in what SQLite gives back; taken out of the text beforehand.
const OPEN: char = '\u{1}';
const CLOSE: char = '\u{2}';

/// Makes the index hold these decks and no others; how many had to be read in anew. An index of no use is made anew
/// on the way.
pub(super) fn index(db: &mut Db, decks: &[SearchDoc]) -> Result<usize, StoreError> {
    let dir = db.dir().to_owned();
    let once = |index: &mut Index| {
        index.on(&dir, INDEX, |conn| {
            let tx = conn.transaction()?;
            let count = bring_in(&tx, decks)?;
            tx.commit()?;
            Ok(count)
        })
    };
    match once(&mut db.search) {
        Err(StoreError::SearchLost) => {
            db.search.anew(&dir)?;
            once(&mut db.search)
        }
        done => done,
    }
}

fn bring_in(tx: &Transaction<'_>, decks: &[SearchDoc]) -> rusqlite::Result<usize> {
    let mut kept: HashMap<String, String> = tx
        .prepare("SELECT id, digest FROM search_deck")?
        .query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?
        .collect::<rusqlite::Result<_>>()?;
    let mut count = 0;
    for deck in decks {
        let old = kept.remove(&deck.deck.0);
        if old.as_ref() == Some(&deck.digest) {
            continue;
        }
        if old.is_some() {
            take_out(tx, &deck.deck.0)?;
        }
        tx.prepare_cached("INSERT INTO search_deck (id, title, digest) VALUES (?1, ?2, ?3)")?.execute(params![
            deck.deck.0,
            deck.title,
            deck.digest
        ])?;
        let mut add = tx.prepare_cached("INSERT INTO search_card (deck, card, title, body) VALUES (?1, ?2, ?3, ?4)")?;
        for card in &deck.cards {
            add.execute(params![deck.deck.0, card.card, clean(&card.title), clean(&card.body)])?;
        }
        count += 1;
    }
    for gone in kept.keys() {
        take_out(tx, gone)?;
    }
    Ok(count)
}

/// Takes a deck's cards out, then the deck.
fn take_out(tx: &Transaction<'_>, deck: &str) -> rusqlite::Result<()> {
    tx.execute("DELETE FROM search_card WHERE deck = ?1", [deck])?;
    tx.execute("DELETE FROM search_deck WHERE id = ?1", [deck]).map(|_| ())
}

/// Without control characters: they are nothing to read, and two of them are our marks.
fn clean(text: &str) -> String {
    text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect()
}

/// The best hits first; none for a query without a letter or digit. [`StoreError::SearchLost`] where the decks have
/// to be read in again first.
pub(super) fn search(db: &mut Db, query: &str, limit: usize) -> Result<Vec<Hit>, StoreError> {
    let words = words(query);
    let dir = db.dir().to_owned();
    let found = db.search.on(&dir, SEARCH, |conn| find(conn, &words, limit));
    if found == Err(StoreError::SearchLost) {
        db.search.anew(&dir)?;
    }
    found
}

fn find(conn: &Connection, words: &[String], limit: usize) -> rusqlite::Result<Vec<Hit>> {
    let mut best: Vec<(i64, f64)> = scores(conn, words)?.into_iter().collect();
    // SQLite's figure is the lower the better; equal ones stay in the decks' order.
    best.sort_by(|a, b| a.1.total_cmp(&b.1).then(a.0.cmp(&b.0)));
    best.truncate(limit);
    let numbers: Vec<i64> = best.into_iter().map(|(nr, _)| nr).collect();
    hits(conn, words, &numbers)
}

/// The words typed, each quoted so that SQLite takes it for a word and nothing else.
fn words(query: &str) -> Vec<String> {
    query
        .split_whitespace()
        .map(|word| word.chars().filter(|c| !c.is_control() && *c != '"').take(MOST_LETTERS).collect::<String>())
        .filter(|word| word.chars().any(char::is_alphanumeric))
        .take(MOST_WORDS)
        .map(|word| format!("\"{word}\""))
        .collect()
}

/// Cards in which all words are found, with their figure: for each word the better of the two indexes.
fn scores(conn: &Connection, words: &[String]) -> rusqlite::Result<HashMap<i64, f64>> {
    let mut all: Option<HashMap<i64, f64>> = None;
    for word in words {
        let mut found: HashMap<i64, f64> = HashMap::new();
        for (table, query) in [("search_word", format!("{word}*")), ("search_stem", word.clone())] {
            let sql = format!("SELECT rowid, bm25({table}, 4.0, 1.0) FROM {table} WHERE {table} MATCH ?1");
            let mut statement = conn.prepare_cached(&sql)?;
            let mut rows = statement.query([query])?;
            while let Some(row) = rows.next()? {
                let (nr, figure): (i64, f64) = (row.get(0)?, row.get(1)?);
                let kept = found.entry(nr).or_insert(figure);
                *kept = kept.min(figure);
            }
        }
        all = Some(match all {
            None => found,
            Some(before) => {
                before.into_iter().filter_map(|(nr, sum)| found.get(&nr).map(|figure| (nr, sum + figure))).collect()
            }
        });
    }
    Ok(all.unwrap_or_default())
}

/// The cards with their marks, in the order of `numbers`.
fn hits(conn: &Connection, words: &[String], numbers: &[i64]) -> rusqlite::Result<Vec<Hit>> {
    if numbers.is_empty() {
        return Ok(Vec::new());
    }
    let begun = words.iter().map(|word| format!("{word}*")).collect::<Vec<_>>().join(" OR ");
    let by_word = marked_by(conn, "search_word", &begun, numbers)?;
    let by_stem = marked_by(conn, "search_stem", &words.join(" OR "), numbers)?;
    let mut found = Vec::new();
    for nr in numbers {
        let Some(mut hit) = card(conn, *nr)? else { continue };
        for (title, extract) in [by_word.get(nr), by_stem.get(nr)].into_iter().flatten() {
            hit.title.marks.extend(title.marks.iter().cloned());
            if extract.marks.len() > hit.extract.marks.len() {
                hit.extract = extract.clone();
            }
        }
        hit.title.marks = apart(std::mem::take(&mut hit.title.marks));
        found.push(hit);
    }
    Ok(found)
}

/// A card without marks, its extract the beginning of its text; `None` where its key is no key.
fn card(conn: &Connection, nr: i64) -> rusqlite::Result<Option<Hit>> {
    let (deck, card, deck_title, title, body): (String, String, String, String, String) = conn
        .prepare_cached(
            "SELECT c.deck, c.card, d.title, c.title, c.body
             FROM search_card c JOIN search_deck d ON d.id = c.deck WHERE c.nr = ?1",
        )?
        .query_row([nr], |r| Ok((r.get(0)?, r.get(1)?, r.get(2)?, r.get(3)?, r.get(4)?)))?;
    let mut begins: String = body.split_inclusive(' ').take(EXTRACT_WORDS).collect();
    if begins.len() < body.len() {
        begins.push('…');
    }
    Ok(CardKey::parse(&format!("{deck}/{card}")).map(|key| Hit {
        key,
        deck_title,
        title: Marked { text: title, marks: Vec::new() },
        extract: Marked { text: begins, marks: Vec::new() },
    }))
}

/// Titles and extracts as one index marks them, by the cards' numbers; not those in which it finds nothing.
fn marked_by(
    conn: &Connection,
    table: &str,
    query: &str,
    numbers: &[i64],
) -> rusqlite::Result<HashMap<i64, (Marked, Marked)>> {
    // The plus keeps SQLite from looking the query up anew for each card.
    let sql = format!(
        "SELECT rowid, highlight({table}, 0, ?3, ?4), snippet({table}, 1, ?3, ?4, '…', {EXTRACT_WORDS})
         FROM {table} WHERE {table} MATCH ?1 AND +rowid IN (SELECT value FROM json_each(?2))"
    );
    let list = serde_json::to_string(numbers).map_err(|e| rusqlite::Error::ToSqlConversionFailure(Box::new(e)))?;
    let mut statement = conn.prepare_cached(&sql)?;
    let rows = statement.query_map(params![query, list, OPEN.to_string(), CLOSE.to_string()], |row| {
        Ok((row.get(0)?, (marked(&row.get::<_, String>(1)?), marked(&row.get::<_, String>(2)?))))
    })?;
    rows.collect()
}

/// Takes the marks out of the text and notes where they stood.
fn marked(text: &str) -> Marked {
    let mut out = Marked::default();
    let mut from = 0;
    for c in text.chars() {
        match c {
            OPEN => from = out.text.len(),
            CLOSE => out.marks.push(from..out.text.len()),
            c => out.text.push(c),
        }
    }
    out
}

/// Ranges in order, those that touch made one.
fn apart(mut ranges: Vec<Range<usize>>) -> Vec<Range<usize>> {
    ranges.sort_by_key(|r| (r.start, r.end));
    let mut out: Vec<Range<usize>> = Vec::new();
    for range in ranges {
        match out.last_mut() {
            Some(last) if range.start <= last.end => last.end = last.end.max(range.end),
            _ => out.push(range),
        }
    }
    out
}
