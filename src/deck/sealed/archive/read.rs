//! Reading a zip file out of its bytes: the directory first, then each entry where it must lie, and no more of it than is
//! allowed.

use std::io::Read;

use flate2::{Decompress, FlushDecompress, Status};

use super::bytes::{four, many, two};
use super::directory::{self, DEFLATED, Line};
use super::entry::Entry;
use crate::deck::sealed::refusal::Refusal;

const HEADER_SIGN: u32 = 0x0403_4b50;
const HEADER: usize = 30;

/// How much is taken.
#[derive(Debug, Clone, Copy)]
pub struct Limits {
    /// Entries.
    pub files: usize,
    /// Bytes of one, unpacked.
    pub of_one: usize,
    /// Bytes of all together, unpacked.
    pub of_all: usize,
}

/// Reads a zip file: its entries in the order in which they lie in it. Every name is UTF-8, and none stands twice.
///
/// # Errors
/// With the rule that it breaks. What is unpacked never is more than the limits say, whatever the file promises.
pub fn read(bytes: &[u8], limits: &Limits) -> Result<Vec<Entry>, Refusal> {
    let mut directory = directory::read(bytes, limits.files)?;
    directory.lines.sort_by_key(|line| line.at);
    let mut entries: Vec<Entry> = Vec::new();
    let (mut end, mut left) = (0, limits.of_all);
    for line in directory.lines {
        let name = &line.name;
        if line.at < end {
            return Err(Refusal::rule("overlap", format!("`{name}` lies over another entry")));
        }
        if line.at > end {
            return Err(Refusal::rule("gap", format!("there are bytes in front of `{name}` that belong to no entry")));
        }
        let packed = packed(bytes, &line, directory.at)?;
        end = packed.end;
        let most = limits.of_one.min(left);
        if line.size > most {
            return Err(too_large(name, limits, left));
        }
        let unpacked = unpack(&line, packed.bytes, most).map_err(|trouble| trouble.of(name, limits, left))?;
        left -= unpacked.len();
        if entries.iter().any(|entry| entry.name == *name) {
            return Err(Refusal::rule("double-name", format!("`{name}` stands twice in the file")));
        }
        entries.push(Entry { name: line.name, bytes: unpacked });
    }
    match end == directory.at {
        true => Ok(entries),
        false => Err(Refusal::rule("gap", "there are bytes in front of the list of entries that belong to no entry")),
    }
}

struct Packed<'a> {
    bytes: &'a [u8],
    /// Where the next entry must begin.
    end: usize,
}

/// The packed bytes of an entry behind its header, which must say what the directory says.
fn packed<'a>(bytes: &'a [u8], line: &Line, most: usize) -> Result<Packed<'a>, Refusal> {
    let (name, at) = (&line.name, line.at);
    let differs = |what: &str| {
        let text = format!("`{name}`: the {what} in front of the entry is another than in the list of entries");
        Refusal::rule("header-differs", text)
    };
    let is_header = at.checked_add(HEADER).is_some_and(|end| end <= most) && four(bytes, at) == Some(HEADER_SIGN);
    if !is_header {
        return Err(differs("header"));
    }
    let small = |of: usize| two(bytes, at + of).unwrap_or_default();
    let large = |of: usize| four(bytes, at + of).unwrap_or_default();
    let (name_length, extra_length) = (small(26) as usize, small(28) as usize);
    if many(bytes, at + HEADER, name_length) != Some(name.as_bytes()) {
        return Err(differs("name"));
    }
    if small(6) != line.flags {
        return Err(differs("kind"));
    }
    if small(8) != line.method {
        return Err(differs("method"));
    }
    if large(14) != line.checksum {
        return Err(differs("checksum"));
    }
    if large(18) as usize != line.packed || large(22) as usize != line.size {
        return Err(differs("size"));
    }
    let start = at + HEADER + name_length + extra_length;
    match start.checked_add(line.packed).filter(|end| *end <= most) {
        Some(end) => Ok(Packed { bytes: &bytes[start..end], end }),
        None => Err(Refusal::rule("overlap", format!("`{name}` reaches into the list of entries"))),
    }
}

enum Trouble {
    TooLarge,
    OtherSize,
    OtherChecksum,
    Unpackable,
}

impl Trouble {
    fn of(self, name: &str, limits: &Limits, left: usize) -> Refusal {
        match self {
            Trouble::TooLarge => too_large(name, limits, left),
            Trouble::OtherSize => {
                let text = format!("`{name}` unpacks to another size than the file says");
                Refusal::rule("size-differs", text)
            }
            Trouble::OtherChecksum => {
                Refusal::rule("checksum-differs", format!("`{name}` has another checksum than the file says"))
            }
            Trouble::Unpackable => {
                Refusal::unreadable("damaged-entry", format!("`{name}` cannot be unpacked; the file is damaged"))
            }
        }
    }
}

fn too_large(name: &str, limits: &Limits, left: usize) -> Refusal {
    match limits.of_one <= left {
        true => Refusal::rule("file-too-large", format!("`{name}` has more than {} bytes", limits.of_one)),
        false => {
            let text = format!("with `{name}` the files have more than {} bytes together", limits.of_all);
            Refusal::rule("deck-too-large", text)
        }
    }
}

/// Unpacks an entry, at most one byte further than it may go.
fn unpack(line: &Line, packed: &[u8], most: usize) -> Result<Vec<u8>, Trouble> {
    let unpacked = if line.method == DEFLATED {
        inflate(packed, line.size, most)?
    } else if packed.len() > most {
        return Err(Trouble::TooLarge);
    } else {
        packed.to_vec()
    };
    if unpacked.len() != line.size {
        return Err(Trouble::OtherSize);
    }
    match crc32fast::hash(&unpacked) == line.checksum {
        true => Ok(unpacked),
        false => Err(Trouble::OtherChecksum),
    }
}

/// Inflates all of `packed`, which must be one stream and nothing behind it.
fn inflate(packed: &[u8], promised: usize, most: usize) -> Result<Vec<u8>, Trouble> {
    let mut out = Vec::new();
    let mut reader = Inflating { engine: Decompress::new(false), rest: packed, is_over: false };
    let read = Read::by_ref(&mut reader).take(most as u64 + 1).read_to_end(&mut out);
    if out.len() > most {
        return Err(Trouble::TooLarge);
    }
    read.map_err(|_| Trouble::Unpackable)?;
    if out.len() > promised {
        return Err(Trouble::OtherSize);
    }
    match (reader.is_over, reader.rest.is_empty()) {
        (false, _) => Err(Trouble::Unpackable),
        (true, false) => Err(Trouble::OtherSize),
        (true, true) => Ok(out),
    }
}

struct Inflating<'a> {
    engine: Decompress,
    rest: &'a [u8],
    is_over: bool,
}

impl Read for Inflating<'_> {
    fn read(&mut self, buffer: &mut [u8]) -> std::io::Result<usize> {
        if self.is_over || buffer.is_empty() {
            return Ok(0);
        }
        let (taken, given) = (self.engine.total_in(), self.engine.total_out());
        let status = self.engine.decompress(self.rest, buffer, FlushDecompress::None).map_err(std::io::Error::other)?;
        let taken = usize::try_from(self.engine.total_in() - taken).unwrap_or(usize::MAX);
        self.rest = self.rest.get(taken..).unwrap_or_default();
        self.is_over = status == Status::StreamEnd;
        let given = usize::try_from(self.engine.total_out() - given).unwrap_or(usize::MAX);
        match given == 0 && taken == 0 && !self.is_over {
            true => Err(std::io::ErrorKind::UnexpectedEof.into()),
            false if given == 0 && !self.is_over => self.read(buffer),
            false => Ok(given),
        }
    }
}
