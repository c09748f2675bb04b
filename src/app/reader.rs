//! The trained reader's files: where they lie beside the program, and how they are loaded. It is slow (half a second on an
//! old computer), so that faces with frames do it on a thread of its own.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::{env, fs, io};

use sha2::{Digest, Sha256};

use crate::domain::marking::reader::{Reader, ReaderError};

/// The files' digests, as they were when the program was built.
const DIGESTS: &str = include_str!("../../assets/reader/SHA256SUMS");
const WEIGHTS: &str = "reader.onnx";
const WORDS: &str = "vocab.txt";
/// Where the files lie on the computer that the program was built on.
const BUILT_IN: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/assets/reader");

/// How a program comes by the reader: [`load`], or another in tests.
pub type Load = Arc<dyn Fn() -> Result<Arc<Reader>, NoReader> + Send + Sync>;

/// Why answers are marked by the matcher of words alone.
#[derive(Debug, thiserror::Error)]
pub enum NoReader {
    /// The files are not there.
    #[error(
        "the trained reader’s files are not beside the program (looked in {}); answers are marked by their words alone",
        listed(.0)
    )]
    Missing(Vec<PathBuf>),
    /// A file cannot be read.
    #[error("the trained reader’s file {} cannot be read ({error}); answers are marked by their words alone", path.display())]
    Unreadable {
        /// Which file.
        path: PathBuf,
        /// Why.
        error: io::Error,
    },
    /// A file is not the one that the program was built with.
    #[error(
        "the trained reader’s file {} is damaged or of another edition; install the program again. Until then answers are \
         marked by their words alone",
        .0.display()
    )]
    Damaged(PathBuf),
    /// The files are whole and of no use all the same.
    #[error("{0}; answers are marked by their words alone")]
    Unusable(#[from] ReaderError),
}

fn listed(folders: &[PathBuf]) -> String {
    let folders: Vec<String> = folders.iter().map(|folder| folder.display().to_string()).collect();
    folders.join(", ")
}

/// Loads the reader from where it lies beside the program.
///
/// # Errors
/// Where there is none, or it is damaged: one sentence for the learner.
pub fn load() -> Result<Reader, NoReader> {
    let folders = folders();
    let Some(folder) = folders.iter().find(|folder| folder.join(WEIGHTS).is_file()) else {
        return Err(NoReader::Missing(folders));
    };
    load_from(folder)
}

/// Loads the reader from a folder.
///
/// # Errors
/// Where a file is missing or damaged.
pub fn load_from(folder: &Path) -> Result<Reader, NoReader> {
    let weights = whole(folder, WEIGHTS)?;
    let words = whole(folder, WORDS)?;
    let words = String::from_utf8(words).map_err(|_| NoReader::Damaged(folder.join(WORDS)))?;
    Ok(Reader::load(weights, &words)?)
}

/// The folders in which the files may lie, in the order in which they are tried: beside the program, where packages put
/// shared files, and where the program was built.
fn folders() -> Vec<PathBuf> {
    let program = env::current_exe().and_then(fs::canonicalize).ok();
    let beside = program.as_deref().and_then(Path::parent);
    let shared = |folder: &Path| folder.parent().map(|up| up.join("share").join("bedplate").join("reader"));
    let mut folders: Vec<PathBuf> = beside.map(|folder| folder.join("reader")).into_iter().collect();
    folders.extend(beside.and_then(shared));
    folders.push(PathBuf::from(BUILT_IN));
    folders
}

/// A file's bytes, where they are those that the program was built with.
fn whole(folder: &Path, name: &str) -> Result<Vec<u8>, NoReader> {
    let path = folder.join(name);
    let bytes = match fs::read(&path) {
        Ok(bytes) => bytes,
        Err(error) => return Err(NoReader::Unreadable { path, error }),
    };
    let digest: String = Sha256::digest(&bytes).iter().map(|byte| format!("{byte:02x}")).collect();
    let is_ours =
        DIGESTS.lines().filter_map(|line| line.split_once("  ")).any(|(of, file)| file == name && of == digest);
    if is_ours { Ok(bytes) } else { Err(NoReader::Damaged(path)) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn missing_and_damaged_files_are_told_in_one_sentence() {
        let empty = tempfile::tempdir().expect("a folder");
        let missing = load_from(empty.path()).err().map(|error| error.to_string()).unwrap_or_default();
        assert!(missing.contains("cannot be read") && missing.ends_with("by their words alone"), "{missing}");
        fs::write(empty.path().join(WEIGHTS), b"cut").expect("written");
        let damaged = load_from(empty.path()).err().map(|error| error.to_string()).unwrap_or_default();
        assert!(
            damaged.contains("reader.onnx is damaged") && damaged.contains("install the program again"),
            "{damaged}"
        );
    }

    #[test]
    fn the_files_that_lie_here_are_whole() {
        for name in [WEIGHTS, WORDS] {
            assert!(whole(Path::new(BUILT_IN), name).is_ok(), "{name}");
        }
    }
}
