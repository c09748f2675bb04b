//! The files of keys in the home folder: one's own pairs in `keys`, and the public keys of those who are trusted in
//! `keys/trusted`. Which text a key has is not this file's business; that no name is written over is.

use std::fs::{self, OpenOptions};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

use super::error::StoreError;
use super::{files, rights};

const FOLDER: &str = "keys";
const TRUSTED: &str = "trusted";
const PUBLIC: &str = "pub";
const SECRET: &str = "key";
/// A file of a key may have so many bytes.
const MOST_BYTES: u64 = 16 * 1024;

/// A file of a public key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KeyFile {
    /// The name that the key has here.
    pub name: String,
    /// What the file holds.
    pub text: String,
}

/// Whether a key may have this name: it becomes the name of a file.
pub fn is_name(name: &str) -> bool {
    let is_plain = |b: u8| b.is_ascii_alphanumeric() || matches!(b, b'-' | b'_');
    !name.is_empty() && name.len() <= 60 && name.bytes().all(is_plain) && !name.eq_ignore_ascii_case(TRUSTED)
}

fn own(home: &Path) -> PathBuf {
    home.join(FOLDER)
}

fn trusted(home: &Path) -> PathBuf {
    own(home).join(TRUSTED)
}

/// Where the secret key of this name lies, whether there is one or not.
pub fn secret_path(home: &Path, name: &str) -> PathBuf {
    own(home).join(format!("{name}.{SECRET}"))
}

/// Where the public key of this name lies, whether there is one or not.
pub fn public_path(home: &Path, name: &str) -> PathBuf {
    own(home).join(format!("{name}.{PUBLIC}"))
}

/// One's own public keys, in the order of their names.
///
/// # Errors
/// Where the folder, or a key in it, cannot be read.
pub fn list_own(home: &Path) -> Result<Vec<KeyFile>, StoreError> {
    list(&own(home))
}

/// The public keys of those who are trusted, in the order of their names.
///
/// # Errors
/// Where the folder, or a key in it, cannot be read.
pub fn list_trusted(home: &Path) -> Result<Vec<KeyFile>, StoreError> {
    list(&trusted(home))
}

fn list(folder: &Path) -> Result<Vec<KeyFile>, StoreError> {
    let fail = |path: &Path, e: &io::Error| StoreError::from_io("read the keys", path, e);
    let entries = match fs::read_dir(folder) {
        Err(e) if e.kind() == ErrorKind::NotFound => return Ok(Vec::new()),
        other => other.map_err(|e| fail(folder, &e))?,
    };
    let mut keys = Vec::new();
    for entry in entries {
        let path = entry.map_err(|e| fail(folder, &e))?.path();
        let name = path.file_stem().and_then(|name| name.to_str()).map(str::to_owned);
        let is_key = path.extension().is_some_and(|ending| ending == PUBLIC) && path.is_file();
        if let Some(name) = name.filter(|_| is_key) {
            let text = read(&path)?;
            keys.push(KeyFile { name, text });
        }
    }
    keys.sort_by(|a, b| a.name.cmp(&b.name));
    Ok(keys)
}

/// Reads the file of a key, wherever it lies.
///
/// # Errors
/// Where it cannot be read, or is no small file of text.
pub fn read(path: &Path) -> Result<String, StoreError> {
    let read = || {
        let meta = fs::metadata(path)?;
        if !meta.is_file() || meta.len() > MOST_BYTES {
            return Err(io::Error::new(ErrorKind::InvalidData, "this is no file of a key"));
        }
        fs::read_to_string(path)
    };
    read().map_err(|e| StoreError::from_io("read the key", path, &e))
}

/// Keeps a pair of one's own; the secret key is its owner's alone.
///
/// # Errors
/// `Refused` where there is a key of that name; others where the disk does not take it.
pub fn keep_own(home: &Path, name: &str, public: &str, secret: &str) -> Result<(), StoreError> {
    let (public_at, secret_at) = (public_path(home, name), secret_path(home, name));
    let doing = "keep the key";
    rights::create_dir(&own(home)).map_err(|e| StoreError::from_io(doing, &own(home), &e))?;
    if fs::symlink_metadata(&public_at).is_ok() {
        return Err(taken(name));
    }
    keep(&secret_at, secret, 0o600).map_err(|e| of_name(name, doing, &secret_at, &e))?;
    keep(&public_at, public, 0o644).map_err(|e| {
        // A secret key alone is of no use to anybody.
        let _ = fs::remove_file(&secret_at);
        of_name(name, doing, &public_at, &e)
    })
}

/// Keeps the public key of somebody who is trusted; of names that are taken, the next: `name-2`. Gives the name.
///
/// # Errors
/// Where the disk does not take it.
pub fn keep_trusted(home: &Path, name: &str, public: &str) -> Result<String, StoreError> {
    let free = (1u32..).map(|n| if n == 1 { name.to_owned() } else { format!("{name}-{n}") });
    let is_free = |name: &String| fs::symlink_metadata(trusted(home).join(format!("{name}.{PUBLIC}"))).is_err();
    let name = free.into_iter().find(is_free).unwrap_or_else(|| name.to_owned());
    keep_trusted_as(home, &name, public).map(|()| name)
}

/// Keeps the public key of somebody who is trusted under this very name.
///
/// # Errors
/// `Refused` where there is one of that name; others where the disk does not take it.
pub fn keep_trusted_as(home: &Path, name: &str, public: &str) -> Result<(), StoreError> {
    let (folder, doing) = (trusted(home), "keep the key");
    rights::create_dir(&own(home)).map_err(|e| StoreError::from_io(doing, &own(home), &e))?;
    rights::create_dir(&folder).map_err(|e| StoreError::from_io(doing, &folder, &e))?;
    let path = folder.join(format!("{name}.{PUBLIC}"));
    keep(&path, public, 0o644).map_err(|e| of_name(name, doing, &path, &e))
}

fn of_name(name: &str, doing: &str, path: &Path, error: &io::Error) -> StoreError {
    match error.kind() {
        ErrorKind::AlreadyExists => taken(name),
        _ => StoreError::from_io(doing, path, error),
    }
}

fn taken(name: &str) -> StoreError {
    let why = "there is a key of that name, and keys are never written over. Choose another name".to_owned();
    StoreError::Refused { what: format!("the key `{name}`"), why }
}

/// Writes a new file onto the disk; one that is there stays as it is.
fn keep(path: &Path, text: &str, mode: u32) -> io::Result<()> {
    let mut file = with_mode(OpenOptions::new().write(true).create_new(true), mode).open(path)?;
    let written = file.write_all(text.as_bytes()).and_then(|()| file.sync_all());
    if written.is_err() {
        let _ = fs::remove_file(path);
    }
    written?;
    files::sync_dir(path.parent().unwrap_or(path))
}

#[cfg(unix)]
fn with_mode(options: &mut OpenOptions, mode: u32) -> &mut OpenOptions {
    use std::os::unix::fs::OpenOptionsExt;
    options.mode(mode)
}

#[cfg(not(unix))]
fn with_mode(options: &mut OpenOptions, _mode: u32) -> &mut OpenOptions {
    options
}
