//! The decks that come with the program: carried in the binary, laid out once in the home folder.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use sha2::{Digest, Sha256};

include!(concat!(env!("OUT_DIR"), "/bundled.rs"));

/// Lays the decks out under `<home>/bundled/<digest>` where they are not there yet, and gives their folders in
/// order of name. Layings-out of other versions of the program are left alone.
///
/// # Errors
/// Where the home folder cannot be written.
pub fn lay_out(home: &Path) -> io::Result<Vec<PathBuf>> {
    let base = home.join("bundled");
    let folder = base.join(digest());
    if !folder.is_dir() {
        // Written beside and renamed, so that a crash half-way leaves nothing that looks whole.
        let draft = base.join(format!("draft-{}", std::process::id()));
        let _ = fs::remove_dir_all(&draft);
        for (name, bytes) in FILES {
            let path = draft.join(name);
            if let Some(parent) = path.parent() {
                fs::create_dir_all(parent)?;
            }
            fs::write(&path, bytes)?;
        }
        fs::create_dir_all(&draft)?;
        if let Err(error) = fs::rename(&draft, &folder)
            && !folder.is_dir()
        {
            return Err(error);
        }
    }
    Ok(deck_folders(&folder))
}

/// The folders that hold a `deck.toml` directly under `base`, in order of name; none where `base` is not there.
pub fn deck_folders(base: &Path) -> Vec<PathBuf> {
    let mut folders: Vec<PathBuf> = fs::read_dir(base)
        .map(|entries| entries.flatten().map(|e| e.path()).filter(|p| p.is_dir()).collect())
        .unwrap_or_default();
    folders.sort();
    folders
}

fn digest() -> String {
    let mut hash = Sha256::new();
    for (name, bytes) in FILES {
        hash.update((name.len() as u64).to_le_bytes());
        hash.update(name.as_bytes());
        hash.update((bytes.len() as u64).to_le_bytes());
        hash.update(bytes);
    }
    hash.finalize().iter().take(8).map(|b| format!("{b:02x}")).collect()
}
