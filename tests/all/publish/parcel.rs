//! A sealed deck put together by the test, without the program: its files, its list, its signature.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs;
use std::path::Path;

use sha2::{Digest, Sha256};

use crate::support::decks;

use super::zip::{Item, Zip};

/// Three recall cards.
pub const CARDS: [(&str, &str); 3] = [
    ("air-starts", "What turns the engine over at the start?"),
    ("oil-first", "What must run before the engine is turned?"),
    ("water-out", "What is drained from the receiver each watch?"),
];

/// A recall card of one point.
pub fn card(id: &str, ask: &str, say: &str) -> String {
    format!(
        "[[recall]]\nid = \"{id}\"\ntopic = \"A-III/1.1.4\"\nask = \"{ask}\"\npoints = [{{ say = \"{say}\", accept = \
         [\"{say}\"] }}]\nbecause = \"Common practice on board.\"\nsources = [\"practice\"]\nseconds = 20\n\n"
    )
}

/// What a sealed deck is made of.
#[derive(Clone)]
pub struct Parcel {
    /// The lines above the files, by key, in TOML.
    pub head: Vec<(String, String)>,
    /// Path and bytes of each file of the deck.
    pub files: Vec<(String, Vec<u8>)>,
    /// Files that the list names besides, in TOML.
    pub more_listed: String,
    /// Paths that the list leaves out.
    pub unlisted: Vec<String>,
    /// The signature, where there is one.
    pub signature: Option<Vec<u8>>,
}

impl Parcel {
    /// The deck `marram-air` in an edition, with these cards.
    pub fn of(edition: u32, cards: &str) -> Self {
        Self::named("marram-air", edition, cards)
    }

    /// A deck by its id.
    pub fn named(id: &str, edition: u32, cards: &str) -> Self {
        let quoted = |text: &str| format!("\"{text}\"");
        let head = [
            ("format", "1".to_owned()),
            ("deck", quoted(id)),
            ("title", quoted("Marram Light, our own plant")),
            ("edition", edition.to_string()),
            ("publisher", quoted("E. Dunmore")),
            ("made", quoted("2026-11-25T08:00:00Z")),
        ];
        let files = [("cards.toml", cards.to_owned()), ("deck.toml", decks::head(id, edition))];
        Self {
            head: head.map(|(key, value)| (key.to_owned(), value)).to_vec(),
            files: files.map(|(path, text)| (path.to_owned(), text.into_bytes())).to_vec(),
            more_listed: String::new(),
            unlisted: Vec::new(),
            signature: None,
        }
    }

    /// An edition with the three cards.
    pub fn sound(edition: u32) -> Self {
        Self::of(edition, &CARDS.map(|(id, ask)| card(id, ask, "starting air")).concat())
    }

    /// With another value of a key of the list; none takes it out.
    pub fn with(mut self, key: &str, value: Option<&str>) -> Self {
        self.head.retain(|(of, _)| of != key);
        self.head.extend(value.map(|value| (key.to_owned(), value.to_owned())));
        self
    }

    /// With a file more.
    pub fn and(mut self, path: &str, bytes: &[u8]) -> Self {
        self.files.push((path.to_owned(), bytes.to_vec()));
        self
    }

    /// The list.
    pub fn list(&self) -> String {
        let mut out = String::new();
        for (key, value) in &self.head {
            let _ = writeln!(out, "{key} = {value}");
        }
        for (path, bytes) in self.files.iter().filter(|(path, _)| !self.unlisted.contains(path)) {
            out.push_str(&line(path, bytes.len(), &sha256(bytes)));
        }
        out + &self.more_listed
    }

    /// The zip, with this text as the list.
    pub fn zip_with(&self, list: &[u8]) -> Zip {
        let mut items = vec![Item::deflated("seal.toml", list)];
        items.extend(self.signature.iter().map(|signature| Item::stored("seal.toml.minisig", signature)));
        items.extend(self.files.iter().map(|(path, bytes)| Item::deflated(&format!("deck/{path}"), bytes)));
        Zip { items, ..Zip::default() }
    }

    /// The zip.
    pub fn zip(&self) -> Zip {
        self.zip_with(self.list().as_bytes())
    }

    /// The file.
    pub fn bytes(&self) -> Vec<u8> {
        self.zip().bytes()
    }
}

/// A line of the list.
pub fn line(path: &str, size: usize, digest: &str) -> String {
    format!("\n[[file]]\npath = \"{path}\"\nsize = {size}\nsha256 = \"{digest}\"\n")
}

/// A digest in hexadecimal digits.
pub fn sha256(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().fold(String::new(), |out, byte| out + &format!("{byte:02x}"))
}

/// Every file and folder below a folder, with what it holds: to see that nothing was touched.
pub fn snapshot(folder: &Path) -> BTreeMap<String, Option<Vec<u8>>> {
    fn add(at: &Path, base: &Path, out: &mut BTreeMap<String, Option<Vec<u8>>>) {
        for entry in fs::read_dir(at).into_iter().flatten().flatten() {
            let (path, is_folder) = (entry.path(), entry.path().is_dir());
            let name = path.strip_prefix(base).expect("below").display().to_string();
            out.insert(name, (!is_folder).then(|| fs::read(&path).expect("readable")));
            if is_folder {
                add(&path, base, out);
            }
        }
    }
    let mut out = BTreeMap::new();
    add(folder, folder, &mut out);
    out
}
