//! Writing a zip file: the same entries give the same bytes, on every computer and at every time.

use std::io::Write;

use flate2::Compression;
use flate2::write::DeflateEncoder;

use super::directory::{DEFLATED, STORED};
use super::entry::Entry;

/// Midnight of 1 January 1980, the first time that a zip can say: entries carry none of their own.
const TIME: [u8; 4] = [0, 0, 0x21, 0];
/// A regular file that everybody may read, by Unix.
const RIGHTS: u32 = 0o100_644 << 16;
/// Version 2.0 of the format, written on Unix.
const MADE_BY: u16 = (3 << 8) | 20;
const NEEDS: u16 = 20;

/// What stands in front of an entry and again in the directory.
fn described(entry: &Entry, method: u16, packed: usize) -> Vec<u8> {
    let flags: u16 = if entry.name.is_ascii() { 0 } else { 0x0800 };
    let mut out = Vec::with_capacity(26);
    for small in [NEEDS, flags, method] {
        out.extend(small.to_le_bytes());
    }
    out.extend(TIME);
    for large in [crc32fast::hash(&entry.bytes), small(packed), small(entry.bytes.len())] {
        out.extend(large.to_le_bytes());
    }
    out.extend((entry.name.len() as u16).to_le_bytes());
    // No further fields.
    out.extend([0, 0]);
    out
}

/// Sizes that are written are far below the format's end: decks and what carries them are limited to megabytes.
fn small(size: usize) -> u32 {
    u32::try_from(size).unwrap_or(u32::MAX)
}

/// The bytes of a zip file with these entries, in this order; each is packed where that makes it smaller.
pub fn write(entries: &[Entry]) -> Vec<u8> {
    let (mut out, mut directory) = (Vec::new(), Vec::new());
    for entry in entries {
        let deflated = deflate(&entry.bytes);
        let (method, packed) = match &deflated {
            Some(deflated) if deflated.len() < entry.bytes.len() => (DEFLATED, deflated.as_slice()),
            _ => (STORED, entry.bytes.as_slice()),
        };
        let described = described(entry, method, packed.len());
        directory.extend(*b"PK\x01\x02");
        directory.extend(MADE_BY.to_le_bytes());
        directory.extend(&described);
        // No note, the first disk, no kind of content.
        directory.extend([0; 6]);
        directory.extend(RIGHTS.to_le_bytes());
        directory.extend(small(out.len()).to_le_bytes());
        directory.extend(entry.name.as_bytes());
        out.extend(*b"PK\x03\x04");
        out.extend(&described);
        out.extend(entry.name.as_bytes());
        out.extend(packed);
    }
    let (at, count) = (small(out.len()), entries.len() as u16);
    out.extend(&directory);
    out.extend(*b"PK\x05\x06");
    out.extend([0; 4]);
    out.extend(count.to_le_bytes());
    out.extend(count.to_le_bytes());
    out.extend(small(directory.len()).to_le_bytes());
    out.extend(at.to_le_bytes());
    out.extend([0, 0]);
    out
}

/// Writing into memory does not fail; where it should, the entry is stored as it is.
fn deflate(bytes: &[u8]) -> Option<Vec<u8>> {
    let mut packer = DeflateEncoder::new(Vec::new(), Compression::best());
    packer.write_all(bytes).ok()?;
    packer.finish().ok()
}
