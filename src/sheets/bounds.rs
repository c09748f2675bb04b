//! What is packed in a file is unpacked once to be measured, before anything takes it apart.

use std::io::{Cursor, Read};

use zip::ZipArchive;
use zip::result::ZipError;

use super::error::SheetError;

/// All parts of a file may have so many bytes together.
const MOST_UNPACKED: u64 = 256 * 1024 * 1024;
/// A file may have so many parts.
const MOST_PARTS: usize = 2_000;

/// Measures every part of a packed file, and gives one of them whole where it is asked for.
///
/// # Errors
/// Where the file is damaged, or holds more than is read.
pub(super) fn measure(bytes: &[u8], wanted: Option<&str>) -> Result<Option<Vec<u8>>, SheetError> {
    measure_within(bytes, wanted, MOST_UNPACKED)
}

fn measure_within(bytes: &[u8], wanted: Option<&str>, most: u64) -> Result<Option<Vec<u8>>, SheetError> {
    let mut packed = ZipArchive::new(Cursor::new(bytes)).map_err(|error| damaged(&error))?;
    if packed.len() > MOST_PARTS {
        return Err(SheetError::Damaged(format!("it has more than {MOST_PARTS} parts")));
    }
    let mut left = most;
    let mut found = None;
    for at in 0..packed.len() {
        let part = packed.by_index(at).map_err(|error| damaged(&error))?;
        let is_wanted = wanted.is_some_and(|wanted| part.name().is_ok_and(|name| name == wanted));
        let mut part = part.take(left + 1);
        let unpacked = if is_wanted {
            let mut whole = Vec::new();
            let length = part.read_to_end(&mut whole).map_err(|error| broken(&error))?;
            found = Some(whole);
            length as u64
        } else {
            std::io::copy(&mut part, &mut std::io::sink()).map_err(|error| broken(&error))?
        };
        left = left.checked_sub(unpacked).ok_or(SheetError::Swollen(most))?;
    }
    Ok(found)
}

fn damaged(error: &ZipError) -> SheetError {
    match error {
        ZipError::UnsupportedArchive(why) if why.contains("assword") => SheetError::Locked,
        other => SheetError::Damaged(other.to_string()),
    }
}

fn broken(error: &std::io::Error) -> SheetError {
    SheetError::Damaged(error.to_string())
}

#[cfg(test)]
mod tests {
    use std::io::Write;

    use zip::ZipWriter;
    use zip::write::SimpleFileOptions;

    use super::*;

    fn packed(parts: &[(&str, usize)]) -> Vec<u8> {
        let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
        for (name, length) in parts {
            zip.start_file(*name, SimpleFileOptions::default()).expect("begun");
            zip.write_all(&vec![b'a'; *length]).expect("written");
        }
        zip.finish().expect("ended").into_inner()
    }

    #[test]
    fn parts_are_measured_together_and_as_they_are_read() {
        let bytes = packed(&[("a", 600), ("b", 600)]);
        assert!(matches!(measure_within(&bytes, None, 1_199), Err(SheetError::Swollen(1_199))));
        let part = measure_within(&bytes, Some("b"), 1_200).expect("it fits").expect("it is there");
        assert_eq!(part.len(), 600);
        // The promise of a part's size is made small in both of its headers; what is read is what counts.
        let mut lying = packed(&[("a", 100_000)]);
        let promise = 100_000_u32.to_le_bytes();
        for at in 0..lying.len() - 4 {
            if lying[at..at + 4] == promise {
                lying[at..at + 4].copy_from_slice(&10_u32.to_le_bytes());
            }
        }
        assert!(measure_within(&lying, None, 5_000).is_err());
    }
}
