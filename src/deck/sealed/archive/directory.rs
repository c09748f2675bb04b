//! The directory at the end of a zip file: what it says of each entry, and what is refused already by that.

use super::bytes::{four, many, two};
use crate::deck::sealed::refusal::Refusal;

/// The end record's length; a comment behind it is not allowed.
const END: usize = 22;
const END_SIGN: u32 = 0x0605_4b50;
const WIDE_END_SIGN: u32 = 0x0706_4b50;
const LINE_SIGN: u32 = 0x0201_4b50;
const LINE: usize = 46;

/// Bits of an entry's flags: a name in UTF-8, and two hints of how hard it was packed.
const HARMLESS_FLAGS: u16 = 0x0800 | 0x0006;
const ENCRYPTED_FLAGS: u16 = 0x0001 | 0x0040 | 0x2000;
const BEHIND_FLAG: u16 = 0x0008;
const UTF8_FLAG: u16 = 0x0800;

/// Packed not at all.
pub(super) const STORED: u16 = 0;
/// Packed by deflate.
pub(super) const DEFLATED: u16 = 8;

/// What the directory says of an entry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Line {
    pub(super) name: String,
    pub(super) flags: u16,
    pub(super) method: u16,
    pub(super) checksum: u32,
    pub(super) packed: usize,
    pub(super) size: usize,
    /// Where its header stands.
    pub(super) at: usize,
}

/// The directory of a zip file.
#[derive(Debug)]
pub(super) struct Directory {
    pub(super) lines: Vec<Line>,
    /// Where it begins, which is where the last entry ends.
    pub(super) at: usize,
}

fn cut_off(what: &str) -> Refusal {
    Refusal::unreadable("damaged-zip", format!("the file's list of entries is damaged: {what}"))
}

/// Reads the directory, of at most so many entries.
pub(super) fn read(bytes: &[u8], most: usize) -> Result<Directory, Refusal> {
    let end = end_record(bytes)?;
    let at_end = |at: usize| two(bytes, end + at).map_or(0, usize::from);
    let (here, of, count_here, count) = (at_end(4), at_end(6), at_end(8), at_end(10));
    let length = four(bytes, end + 12).unwrap_or_default();
    let at = four(bytes, end + 16).unwrap_or_default();
    let is_wide = count == 0xFFFF
        || length == u32::MAX
        || at == u32::MAX
        || end.checked_sub(20).and_then(|at| four(bytes, at)) == Some(WIDE_END_SIGN);
    if is_wide {
        return Err(Refusal::rule("zip64", "the file is a zip for sizes beyond any deck (zip64)"));
    }
    if here != 0 || of != 0 {
        return Err(Refusal::rule("several-disks", "the file says that it is one of several disks"));
    }
    if count_here != count {
        return Err(Refusal::rule("entry-count", format!("the file says {count_here} entries and {count} entries")));
    }
    if count > most {
        return Err(Refusal::rule("too-many-files", format!("the file has {count} entries; at most {most} are taken")));
    }
    let (length, start) = (length as usize, at as usize);
    match start.checked_add(length) {
        Some(stop) if stop == end => {}
        Some(stop) if stop < end => {
            return Err(Refusal::rule("gap", "there are bytes between the list of entries and its end record"));
        }
        _ => return Err(cut_off("it does not lie where the file says")),
    }
    let mut lines = Vec::new();
    let mut place = start;
    while place < end {
        if lines.len() == count {
            let code_text = format!("the file says {count} entries and lists more");
            return Err(Refusal::rule("entry-count", code_text));
        }
        let (line, next) = line(bytes, place, end)?;
        lines.push(line);
        place = next;
    }
    if lines.len() != count {
        let text = format!("the file says {count} entries and lists {}", lines.len());
        return Err(Refusal::rule("entry-count", text));
    }
    Ok(Directory { lines, at: start })
}

/// Where the end record stands: at the very end, without a comment.
fn end_record(bytes: &[u8]) -> Result<usize, Refusal> {
    let at = bytes.len().checked_sub(END);
    if let Some(at) = at.filter(|at| four(bytes, *at) == Some(END_SIGN)) {
        return match two(bytes, at + 20) {
            Some(0) => Ok(at),
            _ => Err(cut_off("it is cut short")),
        };
    }
    // With a comment, or other bytes, behind it.
    let from = bytes.len().saturating_sub(END + 0xFFFF);
    let sign = END_SIGN.to_le_bytes();
    let last = bytes.get(from..).and_then(|tail| tail.windows(4).rposition(|four| four == sign));
    match last.is_some_and(|last| from + last + END <= bytes.len()) {
        true => Err(Refusal::rule("trailing-bytes", "there are bytes behind the end of the zip")),
        false => Err(Refusal::unreadable("not-a-zip", "this is no zip file, or its end is missing")),
    }
}

fn line(bytes: &[u8], at: usize, end: usize) -> Result<(Line, usize), Refusal> {
    let is_line = at + LINE <= end && four(bytes, at) == Some(LINE_SIGN);
    if !is_line {
        return Err(cut_off("an entry of it cannot be read"));
    }
    let small = |of: usize| two(bytes, at + of).unwrap_or_default();
    let large = |of: usize| four(bytes, at + of).unwrap_or_default();
    let (name_length, extra_length, note_length) = (small(28) as usize, small(30) as usize, small(32) as usize);
    let next = at + LINE + name_length + extra_length + note_length;
    let name = many(bytes, at + LINE, name_length).filter(|_| next <= end);
    let name = name.ok_or_else(|| cut_off("an entry of it is cut short"))?;
    let extra = many(bytes, at + LINE + name_length, extra_length).unwrap_or_default();
    let (flags, method) = (small(8), small(10));
    let name = name_of(name, flags)?;
    flags_are_plain(&name, flags, method)?;
    extra_is_plain(&name, extra)?;
    if large(20) == u32::MAX || large(24) == u32::MAX || large(42) == u32::MAX {
        return Err(Refusal::rule("zip64", format!("`{name}` is of a size beyond any deck (zip64)")));
    }
    if small(34) != 0 {
        return Err(Refusal::rule("several-disks", format!("`{name}` is said to lie on another disk")));
    }
    is_file(&name, large(38))?;
    let line = Line {
        flags,
        method,
        checksum: large(16),
        packed: large(20) as usize,
        size: large(24) as usize,
        at: large(42) as usize,
        name,
    };
    Ok((line, next))
}

/// The name in UTF-8; without the flag that says so it is plain ASCII.
fn name_of(bytes: &[u8], flags: u16) -> Result<String, Refusal> {
    let name = str::from_utf8(bytes).ok().filter(|name| name.is_ascii() || flags & UTF8_FLAG != 0);
    name.map(str::to_owned).ok_or_else(|| {
        let shown = String::from_utf8_lossy(bytes);
        Refusal::rule("name-not-utf8", format!("`{shown}`: the entry's name is not said to be UTF-8, or is not"))
    })
}

fn flags_are_plain(name: &str, flags: u16, method: u16) -> Result<(), Refusal> {
    if flags & ENCRYPTED_FLAGS != 0 {
        return Err(Refusal::rule("encrypted", format!("`{name}` is encrypted")));
    }
    if flags & BEHIND_FLAG != 0 {
        let text = format!("`{name}`: its size and checksum are said only behind it");
        return Err(Refusal::rule("size-behind", text));
    }
    if flags & !HARMLESS_FLAGS != 0 {
        return Err(Refusal::rule("flags", format!("`{name}` asks for what no deck needs (flags {flags:#06x})")));
    }
    if method != STORED && method != DEFLATED {
        let text = format!("`{name}` is packed by method {method}; only stored and deflated are taken");
        return Err(Refusal::rule("method", text));
    }
    Ok(())
}

/// Refuses fields that would give an entry another size, another name or a lock; the others say nothing that is used.
fn extra_is_plain(name: &str, extra: &[u8]) -> Result<(), Refusal> {
    let mut at = 0;
    while at < extra.len() {
        let (Some(id), Some(length)) = (two(extra, at), two(extra, at + 2)) else {
            return Err(Refusal::rule("extra-field", format!("`{name}`: what is said of it besides is cut short")));
        };
        at += 4 + length as usize;
        if at > extra.len() {
            return Err(Refusal::rule("extra-field", format!("`{name}`: what is said of it besides is cut short")));
        }
        match id {
            0x0001 => return Err(Refusal::rule("zip64", format!("`{name}` is of a size beyond any deck (zip64)"))),
            0x7075 => return Err(Refusal::rule("second-name", format!("`{name}` has a second name"))),
            0x9901 | 0x0017 => return Err(Refusal::rule("encrypted", format!("`{name}` is encrypted"))),
            _ => {}
        }
    }
    Ok(())
}

/// Refuses what is no regular file, by the rights that Unix and DOS give it.
fn is_file(name: &str, attributes: u32) -> Result<(), Refusal> {
    const DOS_LABEL: u32 = 0x08;
    const DOS_FOLDER: u32 = 0x10;
    let sort = (attributes >> 16) & 0o170_000;
    if sort == 0o120_000 {
        return Err(Refusal::rule("link", format!("`{name}` is a link")));
    }
    if name.ends_with('/') || sort == 0o040_000 || attributes & DOS_FOLDER != 0 {
        return Err(Refusal::rule("folder-entry", format!("`{name}` is an entry for a folder")));
    }
    if (sort != 0 && sort != 0o100_000) || attributes & DOS_LABEL != 0 {
        return Err(Refusal::rule("device", format!("`{name}` is a device, a pipe or the like")));
    }
    Ok(())
}
