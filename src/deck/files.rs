//! The files of a deck: which there are, and their bytes, in a folder or in a sealed deck that was read. Links are not
//! followed, nothing outside the folder is read, and no more than the limits allow.

use std::collections::BTreeMap;
use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

/// One file may be this large, in bytes.
pub const MOST_FILE_BYTES: u64 = 8 * 1024 * 1024;
/// All files of a deck together may be this large, in bytes.
pub const MOST_DECK_BYTES: u64 = 64 * 1024 * 1024;
/// At most so many files that are not read are told of.
const MOST_UNREAD: usize = 100;
/// A deck may have this many files.
pub const MOST_FILES: usize = 1_000;

/// Where a deck's files lie.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Files<'a> {
    /// In this folder.
    In(&'a Path),
    /// In memory, by their paths below the deck's folder.
    Held(&'a BTreeMap<String, Vec<u8>>),
}

/// What lies at a path of a deck.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Presence {
    File,
    Link,
    Missing,
}

/// Why a deck's folder could not be read at all.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
pub(crate) struct NoDeck {
    pub(crate) message: String,
    pub(crate) mend: &'static str,
}

/// A file that belongs to the deck.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Entry {
    /// Relative to the deck's folder, with `/`.
    pub(crate) name: String,
    pub(crate) path: PathBuf,
    pub(crate) is_link: bool,
}

/// What the folder holds.
#[derive(Debug, Default)]
pub(crate) struct Listing {
    /// In the order of their names; at most [`MOST_FILES`].
    pub(crate) entries: Vec<Entry>,
    /// There were more.
    pub(crate) too_many: bool,
    /// Files and folders that look like the deck's and are not read, with the names that they should have.
    pub(crate) unread: Vec<(String, String)>,
}

impl Files<'_> {
    /// Lists `deck.toml` and the card files: `*.toml` beside it and in `cards/`. Names that begin with a dot are
    /// passed over (editors leave such files).
    ///
    /// # Errors
    /// Where there is no `deck.toml`.
    pub(crate) fn list(self) -> Result<Listing, NoDeck> {
        match self {
            Self::In(folder) => list(folder),
            Self::Held(files) => list_held(files),
        }
    }

    /// Reads an entry of at most `most` bytes.
    pub(crate) fn read(self, entry: &Entry, most: u64) -> Bytes {
        match self {
            Self::In(_) => read(&entry.path, most),
            Self::Held(files) => held(files, &entry.name, most),
        }
    }

    /// Reads what lies at a path of at most `most` bytes.
    pub(crate) fn read_at(self, path: &str, most: u64) -> Bytes {
        match self {
            Self::In(folder) => read(&path.split('/').fold(folder.to_path_buf(), |at, part| at.join(part)), most),
            Self::Held(files) => held(files, path, most),
        }
    }

    /// What lies at a path.
    pub(crate) fn presence(self, path: &str) -> Presence {
        match self {
            Self::In(folder) => presence(folder, path),
            Self::Held(files) if files.contains_key(path) => Presence::File,
            Self::Held(_) => Presence::Missing,
        }
    }
}

fn held(files: &BTreeMap<String, Vec<u8>>, path: &str, most: u64) -> Bytes {
    match files.get(path) {
        Some(bytes) if bytes.len() as u64 > most => Bytes::TooLarge,
        Some(bytes) => Bytes::Read(bytes.clone()),
        None => Bytes::Unreadable("there is no such file".to_owned()),
    }
}

fn list_held(files: &BTreeMap<String, Vec<u8>>) -> Result<Listing, NoDeck> {
    if !files.contains_key("deck.toml") {
        return Err(no_deck_file("the sealed deck has no deck.toml"));
    }
    let is_text = |name: &str| {
        let name = name.strip_prefix("cards/").unwrap_or(name);
        name.ends_with(".toml") && !name.starts_with('.') && !name.contains('/')
    };
    let names = files.keys().filter(|name| is_text(name));
    let entries = names.map(|name| Entry { name: name.clone(), path: PathBuf::new(), is_link: false });
    let mut listing = Listing { entries: entries.collect(), ..Listing::default() };
    listing.too_many = listing.entries.len() > MOST_FILES;
    listing.entries.truncate(MOST_FILES);
    Ok(listing)
}

fn presence(folder: &Path, path: &str) -> Presence {
    let mut at = folder.to_path_buf();
    for part in path.split('/') {
        at.push(part);
        match fs::symlink_metadata(&at) {
            Ok(meta) if meta.is_symlink() => return Presence::Link,
            Ok(_) => {}
            Err(_) => return Presence::Missing,
        }
    }
    if fs::metadata(&at).is_ok_and(|meta| meta.is_file()) { Presence::File } else { Presence::Missing }
}

fn list(folder: &Path) -> Result<Listing, NoDeck> {
    let shown = folder.display();
    let meta = fs::metadata(folder).map_err(|error| NoDeck {
        message: format!("`{shown}` could not be read: {error}"),
        mend: "name the folder that holds the deck's deck.toml",
    })?;
    if !meta.is_dir() {
        return Err(NoDeck {
            message: format!("`{shown}` is not a folder"),
            mend: "name the folder that holds the deck's deck.toml",
        });
    }
    let deck_file = folder.join("deck.toml");
    let is_link = fs::symlink_metadata(&deck_file).is_ok_and(|meta| meta.is_symlink());
    match fs::metadata(&deck_file) {
        Ok(meta) if meta.is_file() => {}
        Ok(_) => return Err(no_deck_file(&format!("`deck.toml` in `{shown}` is not a file"))),
        Err(error) => {
            return Err(misnamed(folder)
                .unwrap_or_else(|| no_deck_file(&format!("`{shown}` has no readable deck.toml: {error}"))));
        }
    }
    if !is_link {
        File::open(&deck_file)
            .map_err(|error| no_deck_file(&format!("`{shown}` has no readable deck.toml: {error}")))?;
    }
    let mut listing = Listing::default();
    let unread = |error: io::Error| no_deck_file(&format!("`{shown}` could not be read: {error}"));
    add_folder(&mut listing, folder, "").map_err(unread)?;
    add_cards_folder(&mut listing, folder);
    listing.entries.sort_by(|a, b| a.name.cmp(&b.name));
    if !listing.entries.iter().any(|entry| entry.name == "deck.toml") {
        listing.entries.push(Entry { name: "deck.toml".to_owned(), path: deck_file, is_link });
        listing.entries.sort_by(|a, b| a.name.cmp(&b.name));
    }
    Ok(listing)
}

impl Listing {
    /// Adds files that are not there yet and will not be read from where they lie, by their names.
    pub(crate) fn add<'n>(&mut self, names: impl Iterator<Item = &'n String>) {
        for name in names {
            if !self.entries.iter().any(|entry| entry.name == *name) {
                self.entries.push(Entry { name: name.clone(), path: PathBuf::new(), is_link: false });
            }
        }
        self.entries.sort_by(|a, b| a.name.cmp(&b.name));
    }
}

/// The name that a file or a folder which is passed over was probably meant to have. Systems hide endings and do not tell
/// small letters from capital ones.
fn meant(name: &str, is_folder: bool, prefix: &str) -> Option<String> {
    let lower = name.to_lowercase();
    if name.starts_with('.') {
        return None;
    }
    if is_folder {
        return (prefix.is_empty() && name != "cards" && ["cards", "card"].contains(&lower.as_str()))
            .then(|| "cards".to_owned());
    }
    let stem =
        lower.strip_suffix(".toml.txt").or_else(|| lower.strip_suffix(".toml").filter(|_| !name.ends_with(".toml")))?;
    // The letters of its own name stay as they are.
    let own = name.get(..stem.len()).unwrap_or(stem);
    Some(if stem == "deck" { "deck.toml".to_owned() } else { format!("{own}.toml") })
}

/// A folder whose `deck.toml` has another name.
fn misnamed(folder: &Path) -> Option<NoDeck> {
    let names = fs::read_dir(folder).ok()?.flatten().map(|entry| entry.file_name().to_string_lossy().into_owned());
    let found =
        names.into_iter().find(|name| ["deck.toml", "deck.toml.txt"].contains(&name.to_lowercase().as_str()))?;
    Some(NoDeck {
        message: format!("`{}` has no deck.toml, but a file `{found}`", folder.display()),
        mend: "name that file deck.toml, in small letters and with nothing behind it; your system may hide the ending .txt",
    })
}

fn no_deck_file(message: &str) -> NoDeck {
    NoDeck { message: message.to_owned(), mend: "a deck is a folder with a file deck.toml in it that can be read" }
}

fn add_cards_folder(listing: &mut Listing, folder: &Path) {
    let cards = folder.join("cards");
    match fs::symlink_metadata(&cards) {
        Ok(meta) if meta.is_symlink() => {
            listing.entries.push(Entry { name: "cards".to_owned(), path: cards, is_link: true });
        }
        Ok(meta) if meta.is_dir() && add_folder(listing, &cards, "cards/").is_err() => {
            // Kept as an entry, so that reading it reports the trouble in its place.
            listing.entries.push(Entry { name: "cards".to_owned(), path: cards, is_link: false });
        }
        _ => {}
    }
}

fn add_folder(listing: &mut Listing, folder: &Path, prefix: &str) -> io::Result<()> {
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        let name = entry.file_name().to_string_lossy().into_owned();
        let kind = entry.file_type()?;
        if let Some(meant) = meant(&name, kind.is_dir(), prefix).filter(|_| listing.unread.len() < MOST_UNREAD) {
            listing.unread.push((format!("{prefix}{name}"), meant));
        }
        if name.starts_with('.') || !name.ends_with(".toml") || kind.is_dir() {
            continue;
        }
        if listing.entries.len() == MOST_FILES {
            listing.too_many = true;
            return Ok(());
        }
        listing.entries.push(Entry { name: format!("{prefix}{name}"), path: entry.path(), is_link: kind.is_symlink() });
    }
    Ok(())
}

/// What became of reading a file.
#[derive(Debug)]
pub(crate) enum Bytes {
    /// All bytes of the file.
    Read(Vec<u8>),
    /// The file is larger than a file may be, or than is left for the deck.
    TooLarge,
    /// This is no ordinary file, or the system refused it.
    Unreadable(String),
}

/// Reads a file of at most `most` bytes. Only ordinary files are opened, so that a pipe cannot hold the
/// program up.
fn read(path: &Path, most: u64) -> Bytes {
    let read = || -> io::Result<Bytes> {
        let meta = fs::symlink_metadata(path)?;
        if !meta.is_file() {
            return Ok(Bytes::Unreadable("it is not an ordinary file".to_owned()));
        }
        if meta.len() > most {
            return Ok(Bytes::TooLarge);
        }
        let mut bytes = Vec::with_capacity(usize::try_from(meta.len()).unwrap_or(0));
        File::open(path)?.take(most + 1).read_to_end(&mut bytes)?;
        Ok(if bytes.len() as u64 > most { Bytes::TooLarge } else { Bytes::Read(bytes) })
    };
    read().unwrap_or_else(|error| Bytes::Unreadable(error.to_string()))
}
