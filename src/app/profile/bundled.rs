//! The decks that come with the program: carried in the binary, laid out once in the home folder, and held against the
//! binary at every start.

use std::collections::{BTreeMap, HashMap};
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::OnceLock;
use std::time::Duration;

use sha2::{Digest, Sha256};

include!(concat!(env!("OUT_DIR"), "/bundled.rs"));

/// Where files go that lay in a deck of the program without belonging to it.
const SET_ASIDE: &str = "set-aside";
/// The beginning of the name of a laying-out that is not whole yet.
const DRAFT: &str = "draft-";
/// The ending of a file that is being written.
const UNFINISHED: &str = ".unfinished";
/// A draft that has not been touched for so long is nobody's any more.
const FORSAKEN: Duration = Duration::from_secs(24 * 3_600);

/// The decks as they lie in the home folder.
#[derive(Debug, Default)]
pub struct LaidOut {
    /// Folders of the decks, in order of name.
    pub folders: Vec<PathBuf>,
    /// So many files were gone, cut or changed, and have been written anew.
    pub mended: usize,
    /// So many files were not the program's, and were moved out of its decks.
    pub moved: usize,
    /// Where those lie now.
    pub moved_to: PathBuf,
}

/// Lays the decks out under `<home>/bundled/<digest>` where they are not there yet. Those that are there are compared
/// with what the binary carries, byte by byte (some two megabytes), and mended. Layings-out of other versions of the
/// program are left alone.
///
/// # Errors
/// Where the home folder cannot be read or written.
pub fn lay_out(home: &Path) -> io::Result<LaidOut> {
    let base = home.join("bundled");
    let folder = base.join(digest());
    let is_new = !folder.is_dir();
    if is_new {
        sweep(&base);
        // Written beside and renamed, so that a crash half-way leaves nothing that looks whole.
        let draft = base.join(format!("{DRAFT}{}", std::process::id()));
        let laid = write_all(&draft).and_then(|()| match fs::rename(&draft, &folder) {
            // Another program was faster.
            Err(_) if folder.is_dir() => Ok(()),
            renamed => renamed,
        });
        let _ = fs::remove_dir_all(&draft);
        laid?;
        sync_folder(&base);
    }
    let mut laid_out = LaidOut { moved_to: base.join(SET_ASIDE), ..LaidOut::default() };
    let ours: HashMap<PathBuf, &[u8]> = FILES.iter().map(|(name, bytes)| (folder.join(name), *bytes)).collect();
    clear(&folder, &folder, &ours, &mut laid_out)?;
    for (path, bytes) in &ours {
        if !holds(path, bytes) {
            mend(path, bytes)?;
            laid_out.mended += 1;
        }
    }
    let mut folders: Vec<PathBuf> =
        FILES.iter().filter_map(|(name, _)| Some(folder.join(name.split('/').next()?))).collect();
    folders.dedup();
    laid_out.folders = folders;
    Ok(laid_out)
}

/// The decks as the binary carries them: the files of each by their paths below its folder.
pub fn held_decks() -> Vec<BTreeMap<String, Vec<u8>>> {
    let mut decks: BTreeMap<&str, BTreeMap<String, Vec<u8>>> = BTreeMap::new();
    for (name, bytes) in FILES {
        if let Some((folder, path)) = name.split_once('/') {
            decks.entry(folder).or_default().insert(path.to_owned(), bytes.to_vec());
        }
    }
    decks.into_values().collect()
}

/// The folders that hold a `deck.toml` directly under `base`, in order of name; none where `base` is not there.
pub fn deck_folders(base: &Path) -> Vec<PathBuf> {
    let mut folders: Vec<PathBuf> = fs::read_dir(base)
        .map(|entries| entries.flatten().map(|e| e.path()).filter(|p| p.is_dir()).collect())
        .unwrap_or_default();
    folders.sort();
    folders
}

fn write_all(draft: &Path) -> io::Result<()> {
    let _ = fs::remove_dir_all(draft);
    fs::create_dir_all(draft)?;
    for (name, bytes) in FILES {
        let path = draft.join(name);
        if let Some(parent) = path.parent() {
            fs::create_dir_all(parent)?;
        }
        write_synced(&path, bytes)?;
    }
    Ok(())
}

/// Drafts of programs that were killed.
fn sweep(base: &Path) {
    for entry in fs::read_dir(base).into_iter().flatten().flatten() {
        let is_draft = entry.file_name().to_string_lossy().starts_with(DRAFT);
        if is_draft && is_forsaken(&entry) {
            // What cannot be removed only takes room.
            let _ = fs::remove_dir_all(entry.path());
        }
    }
}

fn is_forsaken(entry: &fs::DirEntry) -> bool {
    let touched = entry.metadata().and_then(|meta| meta.modified());
    touched.ok().and_then(|at| at.elapsed().ok()).is_some_and(|age| age > FORSAKEN)
}

/// Whether it is a file, no link, with these bytes.
fn holds(path: &Path, bytes: &[u8]) -> bool {
    let is_it = fs::symlink_metadata(path).is_ok_and(|meta| meta.is_file() && meta.len() == bytes.len() as u64);
    is_it && fs::read(path).is_ok_and(|read| read == bytes)
}

/// Writes a file anew: beside, onto the disk, and then in its place.
fn mend(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let Some((parent, name)) = path.parent().zip(path.file_name()) else { return Ok(()) };
    fs::create_dir_all(parent)?;
    let unfinished = parent.join(format!("{}-{}{UNFINISHED}", name.to_string_lossy(), std::process::id()));
    let written = write_synced(&unfinished, bytes).and_then(|()| fs::rename(&unfinished, path));
    if written.is_err() {
        let _ = fs::remove_file(&unfinished);
    }
    written?;
    sync_folder(parent);
    Ok(())
}

fn write_synced(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = File::create(path)?;
    file.write_all(bytes)?;
    file.sync_all()
}

/// So that a rename outlives a power cut, where the system can do that.
fn sync_folder(folder: &Path) {
    if cfg!(unix)
        && let Ok(folder) = File::open(folder)
    {
        // A file system that cannot sync a folder has done all that it can.
        let _ = folder.sync_all();
    }
}

/// Moves out of a folder what is not the program's: a deck that came with it is trusted in more than one of a learner's.
fn clear(folder: &Path, at: &Path, ours: &HashMap<PathBuf, &[u8]>, laid_out: &mut LaidOut) -> io::Result<()> {
    for entry in fs::read_dir(at)? {
        let entry = entry?;
        let (path, kind) = (entry.path(), entry.file_type()?);
        let holds_ours = || ours.keys().any(|file| file.starts_with(&path));
        if kind.is_dir() && !ours.contains_key(&path) && holds_ours() {
            clear(folder, &path, ours, laid_out)?;
        } else if kind.is_file() && path.to_string_lossy().ends_with(UNFINISHED) {
            // Another program may be at it in this moment.
            if is_forsaken(&entry) {
                fs::remove_file(&path)?;
            }
        } else if kind.is_dir() || !ours.contains_key(&path) {
            let within = path.strip_prefix(folder).unwrap_or(&path);
            set_aside(&path, &laid_out.moved_to.join(within))?;
            laid_out.moved += 1;
        } else if !kind.is_file() {
            // A link, or what is no file at all, in the place of one of ours.
            fs::remove_file(&path)?;
        }
    }
    Ok(())
}

fn set_aside(path: &Path, to: &Path) -> io::Result<()> {
    let Some((parent, name)) = to.parent().zip(to.file_name()) else { return Ok(()) };
    fs::create_dir_all(parent)?;
    let name = name.to_string_lossy();
    let free = (1..).map(|n| if n == 1 { to.to_owned() } else { parent.join(format!("{name}-{n}")) });
    match free.into_iter().find(|to| fs::symlink_metadata(to).is_err()) {
        Some(to) => fs::rename(path, to),
        None => Ok(()),
    }
}

/// Of all that the binary carries, worked out once.
fn digest() -> &'static str {
    static DIGEST: OnceLock<String> = OnceLock::new();
    DIGEST.get_or_init(|| {
        let mut hash = Sha256::new();
        for (name, bytes) in FILES {
            hash.update((name.len() as u64).to_le_bytes());
            hash.update(name.as_bytes());
            hash.update((bytes.len() as u64).to_le_bytes());
            hash.update(bytes);
        }
        hash.finalize().iter().take(8).map(|b| format!("{b:02x}")).collect()
    })
}
