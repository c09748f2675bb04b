//! The keys of a home: one's own pairs, and those of others that are trusted.

use std::path::{Path, PathBuf};

use crate::deck::sealed::{KeyTrouble, PublicKey, SecretKey, new_pair, wants_passphrase};
use crate::domain::taking_in::Standing;
use crate::store::{StoreError, keys};

/// Keys whose editions replace a deck that came with the program without a question. The program has not published
/// any such key yet, so every key is a foreign one.
const PROGRAMS: &[&str] = &[];

/// Why something could not be done with a key.
#[derive(Debug, thiserror::Error)]
pub enum KeysTrouble {
    /// Its text is none of a key, or its passphrase another.
    #[error("{place}: {trouble}")]
    Key {
        /// Which file.
        place: String,
        /// What is wrong with it.
        trouble: KeyTrouble,
    },
    /// The home could not be read or written.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// No name for a file.
    #[error(
        "`{0}` is no name for a key: use letters, digits, `-` and `_`, at most 60 of them, and another than `trusted`"
    )]
    Name(String),
}

/// A key that is known in a home.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KnownKey {
    /// What it is called here.
    pub name: String,
    /// The key.
    pub key: PublicKey,
}

/// A pair that was made.
#[derive(Debug)]
pub struct MadePair {
    /// The public key.
    pub key: PublicKey,
    /// Where the public key lies.
    pub public_at: PathBuf,
    /// Where the secret key lies.
    pub secret_at: PathBuf,
}

fn of_file(place: &Path) -> impl Fn(KeyTrouble) -> KeysTrouble {
    move |trouble| KeysTrouble::Key { place: place.display().to_string(), trouble }
}

/// Makes a pair of one's own in the home; with a passphrase the secret key cannot be used without it.
///
/// # Errors
/// Where the name is none or is taken, or the home cannot be written.
pub fn make(home: &Path, name: &str, passphrase: Option<&str>) -> Result<MadePair, KeysTrouble> {
    if !keys::is_name(name) {
        return Err(KeysTrouble::Name(name.to_owned()));
    }
    let (public_at, secret_at) = (keys::public_path(home, name), keys::secret_path(home, name));
    let pair = new_pair(passphrase).map_err(of_file(&secret_at))?;
    keys::keep_own(home, name, &pair.public.file(), &pair.secret_file)?;
    Ok(MadePair { key: pair.public, public_at, secret_at })
}

/// One's own keys.
///
/// # Errors
/// Where the home cannot be read, or a file in it is no key.
pub fn own(home: &Path) -> Result<Vec<KnownKey>, KeysTrouble> {
    keys::list_own(home)?.into_iter().map(known).collect()
}

/// The keys of others that are trusted.
///
/// # Errors
/// Where the home cannot be read, or a file in it is no key.
pub fn trusted(home: &Path) -> Result<Vec<KnownKey>, KeysTrouble> {
    keys::list_trusted(home)?.into_iter().map(known).collect()
}

fn known(file: keys::KeyFile) -> Result<KnownKey, KeysTrouble> {
    let key = PublicKey::from_file(&file.text).map_err(of_file(Path::new(&file.name)))?;
    Ok(KnownKey { name: file.name, key })
}

/// Reads a public key from a file, wherever it lies.
///
/// # Errors
/// Where the file cannot be read, or is no public key.
pub fn read_public(path: &Path) -> Result<PublicKey, KeysTrouble> {
    PublicKey::from_file(&keys::read(path)?).map_err(of_file(path))
}

/// Trusts the key of a file under the file's own name; whether that is new. A key that is trusted stays under the name
/// that it has.
///
/// # Errors
/// Where the file is no public key, its name cannot be one of a key or is that of another, or the home cannot be
/// written.
pub fn trust_file(home: &Path, path: &Path) -> Result<(KnownKey, bool), KeysTrouble> {
    let key = read_public(path)?;
    if let Some(known) = trusted(home)?.into_iter().find(|known| known.key == key) {
        return Ok((known, false));
    }
    let stem = path.file_stem().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    let plain = |c: char| if c.is_ascii_alphanumeric() || c == '_' { c } else { '-' };
    let name: String = stem.chars().map(plain).collect();
    if !keys::is_name(&name) {
        return Err(KeysTrouble::Name(stem));
    }
    keys::keep_trusted_as(home, &name, &key.file())?;
    Ok((KnownKey { name, key }, true))
}

/// Trusts a key that a deck was signed by, under the deck's name; nothing is done where it is trusted already.
pub(super) fn trust_for(home: &Path, deck: &str, key: &PublicKey) -> Result<(), KeysTrouble> {
    if trusted(home)?.iter().any(|known| known.key == *key) {
        return Ok(());
    }
    let name = if keys::is_name(deck) { deck } else { "deck" };
    keys::keep_trusted(home, name, &key.file())?;
    Ok(())
}

/// How a key stands in a home.
pub(super) fn standing(home: &Path, key: Option<&PublicKey>) -> Result<Standing, KeysTrouble> {
    let Some(key) = key else { return Ok(Standing::Unknown) };
    if PROGRAMS.contains(&key.line()) {
        return Ok(Standing::Programs);
    }
    let is_trusted = trusted(home)?.iter().any(|known| known.key == *key);
    Ok(if is_trusted { Standing::Trusted } else { Standing::Unknown })
}

/// A secret key on its way to be opened.
#[derive(Debug)]
pub struct ClosedKey {
    place: PathBuf,
    text: String,
    /// It cannot be opened without a passphrase.
    pub wants_passphrase: bool,
}

impl ClosedKey {
    /// Reads a secret key: from this file, or that of one's own key of this name.
    ///
    /// # Errors
    /// Where there is no such file, or it is no secret key.
    pub fn read(home: &Path, named: &Path) -> Result<Self, KeysTrouble> {
        let own = named.to_str().filter(|name| keys::is_name(name)).map(|name| keys::secret_path(home, name));
        let place = own.filter(|own| !named.exists() && own.exists()).unwrap_or_else(|| named.to_owned());
        let text = keys::read(&place)?;
        let wants_passphrase = wants_passphrase(&text).map_err(of_file(&place))?;
        Ok(Self { place, text, wants_passphrase })
    }

    /// Opens it.
    ///
    /// # Errors
    /// Where the passphrase does not fit.
    pub fn open(&self, passphrase: Option<&str>) -> Result<SecretKey, KeysTrouble> {
        SecretKey::open(&self.text, passphrase).map_err(of_file(&self.place))
    }
}
