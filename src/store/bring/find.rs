//! Profiles' files on this computer: where one that was carried here is likely to lie.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use super::look::is_profile_file;

/// How the name of a profile's file ends.
pub const ENDING: &str = "profile";
/// Where systems put the folders of sticks, and how many folders lie between.
const STICKS: [(&str, usize); 3] = [("/media", 2), ("/run/media", 2), ("/Volumes", 1)];
/// More of a folder is not looked at.
const MOST_ENTRIES: usize = 500;
/// More are not told.
const MOST_FOUND: usize = 6;

/// Folders of sticks and other disks that were put in.
pub fn sticks() -> Vec<PathBuf> {
    let mut all: Vec<PathBuf> = STICKS.into_iter().flat_map(|(above, depth)| below(Path::new(above), depth)).collect();
    if cfg!(windows) {
        all.extend(('D'..='Z').map(|letter| PathBuf::from(format!("{letter}:\\"))).filter(|disk| disk.is_dir()));
    }
    all
}

/// Folders so many steps below one.
fn below(dir: &Path, depth: usize) -> Vec<PathBuf> {
    let folders = entries(dir).into_iter().filter(|path| path.is_dir());
    if depth <= 1 { folders.collect() } else { folders.flat_map(|folder| below(&folder, depth - 1)).collect() }
}

fn entries(dir: &Path) -> Vec<PathBuf> {
    fs::read_dir(dir).into_iter().flatten().flatten().take(MOST_ENTRIES).map(|entry| entry.path()).collect()
}

/// Profiles' files in these folders, the newest first.
pub fn files_in(folders: &[PathBuf]) -> Vec<PathBuf> {
    let mut found: Vec<(SystemTime, PathBuf)> = folders
        .iter()
        .flat_map(|folder| entries(folder))
        .filter(|path| path.extension().is_some_and(|ending| ending == ENDING) && is_profile_file(path))
        .map(|path| {
            let changed = fs::metadata(&path).and_then(|meta| meta.modified());
            (changed.unwrap_or(SystemTime::UNIX_EPOCH), path)
        })
        .collect();
    found.sort_by(|a, b| b.cmp(a));
    found.truncate(MOST_FOUND);
    found.into_iter().map(|(_, path)| path).collect()
}
