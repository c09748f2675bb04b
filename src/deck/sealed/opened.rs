//! Reading a sealed deck: the zip, its list, the signature, and every file held against the list.

use std::collections::BTreeMap;

use super::archive::{self, Entry, Limits};
use super::keys::PublicKey;
use super::list::{self, Listed, SealHead, contents_digest, sha256};
use super::paths;
use super::refusal::Refusal;
use super::signature;
use crate::deck::files::{MOST_DECK_BYTES, MOST_FILE_BYTES, MOST_FILES};

/// What stands before the paths of the deck's files.
pub(super) const BELOW: &str = "deck/";
/// The list may have this many bytes: a thousand files at their longest.
const MOST_LIST_BYTES: usize = 1024 * 1024;
const MOST_SIGNATURE_BYTES: usize = 8 * 1024;
/// A sealed deck has at most so many bytes: what a deck may hold, and the zip around it.
pub const MOST_SEALED_BYTES: u64 = MOST_DECK_BYTES + 2 * 1024 * 1024;

/// What the signature of a sealed deck says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Signed {
    /// There is none.
    No,
    /// It is by this key, which nobody has said yet whether it is trusted.
    By(PublicKey),
    /// There is one that does not hold, or a key without a signature, or a signature without a key.
    Badly(Refusal),
}

/// A sealed deck that has been read: every file is what the list says, and nothing else is in it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SealedDeck {
    /// Which deck it is.
    pub head: SealHead,
    /// The files as the list has them.
    pub listed: Vec<Listed>,
    /// The deck's files by their paths below its folder.
    pub files: BTreeMap<String, Vec<u8>>,
    /// What its signature says. A deck that is signed badly is read so that it can be told whose it claims to be; it is
    /// never to be used.
    pub signed: Signed,
    /// The list as it stands in the file.
    pub list: Vec<u8>,
    /// The signature as it stands in the file.
    pub signature: Option<Vec<u8>>,
}

impl SealedDeck {
    /// A digest over all its files; see [`contents_digest`].
    pub fn contents(&self) -> String {
        contents_digest(&self.listed)
    }
}

/// Whether these bytes mean to be a sealed deck: a zip whose first entry is its list. Nothing else is said of them.
pub fn is_sealed(bytes: &[u8]) -> bool {
    let name = list::NAME.as_bytes();
    bytes.starts_with(b"PK\x03\x04") && bytes.get(30..30 + name.len()) == Some(name) && !is_longer(bytes, name.len())
}

fn is_longer(bytes: &[u8], length: usize) -> bool {
    bytes.get(26..28) != Some(&(length as u16).to_le_bytes()[..])
}

/// Reads a sealed deck.
///
/// # Errors
/// With the rule that the file breaks. A signature that does not hold is none of these: it stands in
/// [`SealedDeck::signed`].
pub fn open(bytes: &[u8]) -> Result<SealedDeck, Refusal> {
    if bytes.len() as u64 > MOST_SEALED_BYTES {
        let text = format!("the file has more than {MOST_SEALED_BYTES} bytes, which no sealed deck has");
        return Err(Refusal::rule("too-large", text));
    }
    let limits = Limits {
        files: MOST_FILES + 2,
        of_one: MOST_FILE_BYTES as usize,
        of_all: MOST_DECK_BYTES as usize + MOST_LIST_BYTES + MOST_SIGNATURE_BYTES,
    };
    let mut entries = archive::read(bytes, &limits)?;
    let mut take = |name: &str| {
        let at = entries.iter().position(|entry| entry.name == name)?;
        Some(entries.remove(at).bytes)
    };
    let (list, signature) = (take(list::NAME), take(signature::NAME));
    let list = list.ok_or_else(|| {
        Refusal::unreadable("no-seal", format!("the file has no `{}`, so it is no sealed deck", list::NAME))
    })?;
    let sizes =
        [(list::NAME, Some(&list), MOST_LIST_BYTES), (signature::NAME, signature.as_ref(), MOST_SIGNATURE_BYTES)];
    for (name, bytes, most) in sizes {
        if bytes.is_some_and(|bytes| bytes.len() > most) {
            return Err(Refusal::rule("file-too-large", format!("`{name}` has more than {most} bytes")));
        }
    }
    let files = files(entries)?;
    within_limits(files.iter().map(|(path, bytes)| (path.as_str(), bytes.len())))?;
    let (head, listed) = list::read(&list)?;
    as_listed(&files, &listed)?;
    let signed = signed(&head, &list, signature.as_deref());
    Ok(SealedDeck { head, listed, files, signed, list, signature })
}

/// The deck's files below its folder; each with a name that may be written everywhere.
fn files(entries: Vec<Entry>) -> Result<BTreeMap<String, Vec<u8>>, Refusal> {
    let mut met = paths::Met::default();
    let mut files = BTreeMap::new();
    for Entry { name, bytes } in entries {
        let Some(path) = name.strip_prefix(BELOW) else {
            // Whatever leads out of the folder is called that first.
            paths::check(&name, &name)?;
            let text = format!("`{name}` is no part of a sealed deck: it does not lie in `{BELOW}`");
            return Err(Refusal::rule("stranger", text));
        };
        paths::check(path, &name)?;
        met.add(path)?;
        files.insert(path.to_owned(), bytes);
    }
    Ok(files)
}

/// Refuses more than a deck may hold.
pub(super) fn within_limits<'a>(files: impl Iterator<Item = (&'a str, usize)>) -> Result<(), Refusal> {
    let (mut count, mut all) = (0, 0);
    for (path, size) in files {
        count += 1;
        all += size as u64;
        if size as u64 > MOST_FILE_BYTES {
            return Err(Refusal::rule("file-too-large", format!("`{path}` has more than {MOST_FILE_BYTES} bytes")));
        }
        if all > MOST_DECK_BYTES {
            let text = format!("with `{path}` the deck has more than {MOST_DECK_BYTES} bytes");
            return Err(Refusal::rule("deck-too-large", text));
        }
        if count > MOST_FILES {
            return Err(Refusal::rule(
                "too-many-files",
                format!("with `{path}` the deck has more than {MOST_FILES} files"),
            ));
        }
    }
    Ok(())
}

/// Holds the files against the list: each is named in it, and is what it says.
fn as_listed(files: &BTreeMap<String, Vec<u8>>, listed: &[Listed]) -> Result<(), Refusal> {
    for line in listed {
        let path = &line.path;
        let Some(bytes) = files.get(path) else {
            return Err(Refusal::rule("not-there", format!("`{path}` is in the list of files and not in the file")));
        };
        if bytes.len() as u64 != line.size {
            return Err(Refusal::rule("other-size", format!("`{path}` has another size than the list of files says")));
        }
        if sha256(bytes) != line.sha256 {
            return Err(Refusal::rule("other-digest", format!("`{path}` is not the file that was sealed")));
        }
    }
    match files.keys().find(|path| !listed.iter().any(|line| line.path == **path)) {
        Some(path) => Err(Refusal::rule("not-listed", format!("`{path}` is not in the list of files"))),
        None => Ok(()),
    }
}

fn signed(head: &SealHead, list: &[u8], signature: Option<&[u8]>) -> Signed {
    let badly = |code, text: &str| Signed::Badly(Refusal::rule(code, text));
    match (&head.key, signature) {
        (None, None) => Signed::No,
        (None, Some(_)) => badly("key-missing", "the deck is signed, and `seal.toml` does not say by which key"),
        (Some(_), None) => badly("signature-missing", "`seal.toml` says that the deck is signed, and it is not"),
        (Some(key), Some(signature)) => match PublicKey::from_line(key) {
            Err(_) => badly("bad-key", "`key` in `seal.toml` is no public key as minisign writes it"),
            Ok(key) => match signature::verify(list, signature, &key) {
                Ok(()) => Signed::By(key),
                Err(refusal) => Signed::Badly(refusal),
            },
        },
    }
}
