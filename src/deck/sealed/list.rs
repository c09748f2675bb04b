//! `seal.toml`: which deck it is, and every file of it with its size and digest.

use std::fmt::Write as _;

use sha2::{Digest, Sha256};
use toml::value::Datetime;
use toml::{Table, Value};

use super::archive::Entry;
use super::paths::{self, Met};
use super::refusal::Refusal;
use crate::domain::deck::Deck;
use crate::domain::ids::is_id;

/// What the list is called in a sealed deck.
pub const NAME: &str = "seal.toml";
const FORMAT: i64 = 1;

/// What stands above the files.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SealHead {
    /// The deck's id.
    pub deck: String,
    /// For people.
    pub title: String,
    /// Publication number, from 1.
    pub edition: u32,
    /// Who publishes it; empty where the deck does not say.
    pub publisher: String,
    /// When it was sealed, in UTC, such as `2026-11-25T08:00:00Z`.
    pub made: String,
    /// The public key that it is signed by, as minisign writes it; none where it is not signed.
    pub key: Option<String>,
}

impl SealHead {
    /// Of a deck, sealed at that time and signed by that public key.
    pub fn of(deck: &Deck, made: &str, key: Option<&str>) -> Self {
        Self {
            deck: deck.id.0.clone(),
            title: deck.title.clone(),
            edition: deck.edition,
            publisher: deck.publisher.clone(),
            made: made.to_owned(),
            key: key.map(str::to_owned),
        }
    }
}

/// A file of the deck, as the list has it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Listed {
    /// Below the deck's folder, with `/` between the parts.
    pub path: String,
    /// In bytes.
    pub size: u64,
    /// SHA-256, in lower-case hexadecimal digits.
    pub sha256: String,
}

impl Listed {
    /// The line of a file.
    pub fn of(file: &Entry) -> Self {
        Self { path: file.name.clone(), size: file.bytes.len() as u64, sha256: sha256(&file.bytes) }
    }
}

/// A digest in lower-case hexadecimal digits.
pub(super) fn sha256(bytes: &[u8]) -> String {
    hex(&Sha256::digest(bytes))
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().fold(String::new(), |mut out, byte| {
        let _ = write!(out, "{byte:02x}");
        out
    })
}

/// A digest over all files and nothing else: equal where two decks have the same contents, whenever and by whomever
/// they were sealed.
pub fn contents_digest(files: &[Listed]) -> String {
    let mut files: Vec<&Listed> = files.iter().collect();
    files.sort_by(|a, b| a.path.cmp(&b.path));
    let mut hash = Sha256::new();
    for file in files {
        hash.update(format!("{}\n{}\n{}\n", file.path, file.size, file.sha256));
    }
    hex(&hash.finalize())
}

/// The text of the list, always the same for the same.
pub(super) fn text(head: &SealHead, files: &[Listed]) -> String {
    let quoted = |text: &str| Value::from(text).to_string();
    let mut out = format!(
        "format = {FORMAT}\ndeck = {}\ntitle = {}\nedition = {}\npublisher = {}\nmade = {}\n",
        quoted(&head.deck),
        quoted(&head.title),
        head.edition,
        quoted(&head.publisher),
        quoted(&head.made)
    );
    if let Some(key) = &head.key {
        let _ = writeln!(out, "key = {}", quoted(key));
    }
    for Listed { path, size, sha256 } in files {
        let _ = write!(out, "\n[[file]]\npath = {}\nsize = {size}\nsha256 = {}\n", quoted(path), quoted(sha256));
    }
    out
}

/// Reads the list. Its files have names that may be written on every system, each once.
pub(super) fn read(bytes: &[u8]) -> Result<(SealHead, Vec<Listed>), Refusal> {
    let unreadable = |why: &str| Refusal::unreadable("seal-unreadable", format!("`{NAME}` cannot be read: {why}"));
    let text = str::from_utf8(bytes).map_err(|_| unreadable("it is not UTF-8"))?;
    let table: Table = text.parse().map_err(|error: toml::de::Error| unreadable(error.message()))?;
    if whole(&table, "format")? != FORMAT {
        let text = format!("`{NAME}` is of a format that this version does not know; it knows {FORMAT}");
        return Err(Refusal::rule("seal-format", text));
    }
    only(&table, &["format", "deck", "title", "edition", "publisher", "made", "key", "file"])?;
    let edition = whole(&table, "edition")?;
    let edition = u32::try_from(edition).ok().filter(|edition| *edition >= 1);
    let head = SealHead {
        deck: words(&table, "deck")?,
        title: words(&table, "title")?,
        edition: edition.ok_or_else(|| odd("edition", "is no whole number from 1"))?,
        publisher: words(&table, "publisher")?,
        made: time(&table)?,
        key: table.contains_key("key").then(|| words(&table, "key")).transpose()?,
    };
    if !is_id(&head.deck) {
        return Err(odd("deck", "is no id of lower-case letters, digits and hyphens"));
    }
    let files = match table.get("file") {
        Some(Value::Array(files)) => files,
        _ => return Err(wrong("file", "is not a list of tables")),
    };
    let mut met = Met::default();
    let files = files.iter().map(|file| {
        let file = listed(file)?;
        paths::check(&file.path, &file.path)?;
        met.add(&file.path)?;
        Ok(file)
    });
    Ok((head, files.collect::<Result<_, _>>()?))
}

fn listed(file: &Value) -> Result<Listed, Refusal> {
    let file = file.as_table().ok_or_else(|| wrong("file", "is not a list of tables"))?;
    only(file, &["path", "size", "sha256"])?;
    let size = u64::try_from(whole(file, "size")?).map_err(|_| odd("size", "is less than nothing"))?;
    let (path, sha256) = (words(file, "path")?, words(file, "sha256")?);
    let is_digest = sha256.len() == 64 && sha256.bytes().all(|b| b.is_ascii_digit() || (b'a'..=b'f').contains(&b));
    match is_digest {
        true => Ok(Listed { path, size, sha256 }),
        false => Err(odd("sha256", "is not 64 lower-case hexadecimal digits")),
    }
}

/// Something is missing or of another type, so that the list cannot be read.
fn wrong(key: &str, why: &str) -> Refusal {
    Refusal::unreadable("seal-unreadable", format!("`{key}` in `{NAME}` is missing or {why}"))
}

/// Something can be read, and is nothing that may stand there.
fn odd(key: &str, why: &str) -> Refusal {
    Refusal::rule("seal-value", format!("`{key}` in `{NAME}` {why}"))
}

fn words(table: &Table, key: &str) -> Result<String, Refusal> {
    table.get(key).and_then(Value::as_str).map(str::to_owned).ok_or_else(|| wrong(key, "is no text"))
}

fn whole(table: &Table, key: &str) -> Result<i64, Refusal> {
    table.get(key).and_then(Value::as_integer).ok_or_else(|| wrong(key, "is no whole number"))
}

/// A time in UTC, as a text or as a time of TOML.
fn time(table: &Table) -> Result<String, Refusal> {
    let time = match table.get("made") {
        Some(Value::String(text)) => text.parse::<Datetime>().ok(),
        Some(Value::Datetime(time)) => Some(*time),
        _ => None,
    };
    let is_utc = |time: &Datetime| {
        let offset = match time.offset {
            Some(toml::value::Offset::Z) => true,
            Some(toml::value::Offset::Custom { minutes }) => minutes == 0,
            None => false,
        };
        offset && time.date.is_some() && time.time.is_some()
    };
    match time {
        None => Err(wrong("made", "is no time")),
        Some(time) if is_utc(&time) => Ok(time.to_string()),
        Some(_) => Err(odd("made", "is no time in UTC such as 2026-11-25T08:00:00Z")),
    }
}

fn only(table: &Table, known: &[&str]) -> Result<(), Refusal> {
    match table.keys().find(|key| !known.contains(&key.as_str())) {
        Some(key) => Err(Refusal::rule("seal-key", format!("`{NAME}` has a key `{key}` that it may not have"))),
        None => Ok(()),
    }
}
