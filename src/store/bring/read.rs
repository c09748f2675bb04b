//! Reading a profile's file, line by line, with its digest. A file may come from anywhere: how long it is, how long a line
//! and how many there are is bounded, and nothing of it counts before its digest has been found right.

use std::fs::{self, File};
use std::io::{BufRead, BufReader, Read};
use std::path::{Path, PathBuf};

use sha2::{Digest, Sha256};

use super::line::{FORM, Head, Line, MARK};
use crate::store::error::StoreError;

/// The longest file, in bytes.
const MOST_BYTES: u64 = 2 << 30;
/// The longest line, in bytes.
const LONGEST_LINE: u64 = 16 << 20;
/// So many lines a file may have.
const MOST_LINES: u64 = 10_000_000;
/// What the last line begins with.
const LAST: &[u8] = b"{\"sha256\":";

pub(super) const READ: &str = "read the profile’s file";

/// What stands on a line.
pub(super) enum Item {
    /// On the first.
    Head(Head),
    /// On another.
    Line(Line),
}

/// An open file, and how far it has been read.
pub(super) struct Reader {
    input: BufReader<File>,
    file: PathBuf,
    hash: Sha256,
    at: u64,
    buffer: Vec<u8>,
}

/// The last line with this digest.
pub(super) fn last_line(sha256: &str) -> String {
    format!("{{\"sha256\":\"{sha256}\"}}\n")
}

/// A digest in letters and digits.
pub(super) fn in_words(hash: Sha256) -> String {
    hash.finalize().iter().map(|byte| format!("{byte:02x}")).collect()
}

/// The file is refused.
pub(super) fn refused(file: &Path, why: impl Into<String>) -> StoreError {
    StoreError::FileRefused { file: file.to_owned(), why: why.into() }
}

impl Reader {
    /// Opens the file.
    fn open(file: &Path) -> Result<Self, StoreError> {
        let io = |e: std::io::Error| StoreError::from_io(READ, file, &e);
        let meta = fs::metadata(file).map_err(io)?;
        if !meta.is_file() {
            return Err(refused(file, "it is no ordinary file"));
        }
        if meta.len() > MOST_BYTES {
            return Err(refused(file, "it is longer than any profile’s file may be"));
        }
        // Should it grow meanwhile, what is beyond is not read, and its digest is wrong.
        let input = BufReader::with_capacity(1 << 16, File::open(file).map_err(io)?);
        Ok(Self { input, file: file.to_owned(), hash: Sha256::new(), at: 0, buffer: Vec::new() })
    }

    /// The next line, its end left out; none after the last one, which is held against all before it.
    fn next(&mut self) -> Result<Option<&[u8]>, StoreError> {
        self.buffer.clear();
        let mut input = (&mut self.input).take(LONGEST_LINE);
        input.read_until(b'\n', &mut self.buffer).map_err(|e| StoreError::from_io(READ, &self.file, &e))?;
        self.at += 1;
        if self.at > MOST_LINES {
            return Err(refused(&self.file, "it has too many lines"));
        }
        if self.buffer.last() != Some(&b'\n') {
            let why = if self.buffer.len() as u64 == LONGEST_LINE { "a line is too long" } else { "it is cut short" };
            return Err(refused(&self.file, why));
        }
        if !self.buffer.starts_with(LAST) {
            self.hash.update(&self.buffer);
            self.buffer.pop();
            return Ok(Some(&self.buffer));
        }
        let end = last_line(&self.digest());
        let is_over = self.input.fill_buf().map_err(|e| StoreError::from_io(READ, &self.file, &e))?.is_empty();
        if self.buffer != end.as_bytes() || !is_over {
            return Err(refused(&self.file, "it is damaged: its digest does not fit what it holds"));
        }
        Ok(None)
    }

    /// The digest of what was read so far.
    fn digest(&self) -> String {
        in_words(self.hash.clone())
    }
}

/// The digest of a sound file, whatever its lines say.
pub(super) fn digest(file: &Path) -> Result<String, StoreError> {
    let mut reader = Reader::open(file)?;
    let first = reader.next()?.unwrap_or_default();
    if !first.starts_with(MARK.as_bytes()) {
        return Err(refused(file, "it is no profile’s file"));
    }
    let form = first[MARK.len()..].iter().take_while(|b| b.is_ascii_digit()).take(9);
    let form = form.fold(0, |all, digit| all * 10 + u32::from(digit - b'0'));
    while reader.next()?.is_some() {}
    if form > FORM {
        return Err(refused(file, "a later version of the program wrote it; install that version here"));
    }
    Ok(reader.digest())
}

/// Goes through a file's lines. Where it is another file than the one with this digest, it is refused at its end, so that
/// what was made of the lines must not be kept before.
pub(super) fn each(
    file: &Path,
    sha256: &str,
    mut visit: impl FnMut(Item) -> Result<(), StoreError>,
) -> Result<(), StoreError> {
    let mut reader = Reader::open(file)?;
    let wrong = |at: u64, why: String| refused(file, format!("line {at} makes no sense: {why}"));
    let mut has_begun = false;
    while let Some(line) = reader.next()? {
        let line = line.to_owned();
        let makes_no_sense = |e: serde_json::Error| wrong(reader.at, e.to_string());
        let item = if has_begun {
            let line: Line = serde_json::from_slice(&line).map_err(makes_no_sense)?;
            line.check().map_err(|why| wrong(reader.at, why))?;
            Item::Line(line)
        } else {
            let head: Head = serde_json::from_slice(&line).map_err(makes_no_sense)?;
            head.check().map_err(|why| wrong(reader.at, why))?;
            Item::Head(head)
        };
        has_begun = true;
        visit(item)?;
    }
    if !has_begun || reader.digest() != sha256 {
        return Err(refused(file, "it was changed while it was read"));
    }
    Ok(())
}

/// The file's first bytes.
pub(super) fn beginning(file: &Path, bytes: usize) -> std::io::Result<Vec<u8>> {
    let mut begins = Vec::with_capacity(bytes);
    if fs::metadata(file)?.is_file() {
        File::open(file)?.take(bytes as u64).read_to_end(&mut begins)?;
    }
    Ok(begins)
}
