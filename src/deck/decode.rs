//! Bytes of a file to text: UTF-8, and a plain word about anything else.

use super::check::Site;
use super::checks;
use super::problem::Collector;

/// The text of a file.
#[derive(Debug, Default)]
pub(crate) struct Decoded {
    /// With U+FFFD where the bytes were no UTF-8, and without a byte order mark.
    pub(crate) text: String,
    /// Bytes of `text` at which the file was no UTF-8.
    pub(crate) bad: Vec<usize>,
    /// Whether there is any use in reading on.
    pub(crate) is_text: bool,
}

/// Beyond this many bad lines a file is taken for no text at all.
const MOST_BAD_LINES: usize = 20;

/// Decodes a file, reporting the first bad byte of each line.
pub(crate) fn decode(bytes: &[u8], file: usize, problems: &mut Collector) -> Decoded {
    if bytes.starts_with(&[0xFF, 0xFE]) || bytes.starts_with(&[0xFE, 0xFF]) {
        problems.report(checks::file::not_utf8_whole_file(Site::top(file), "UTF-16"));
        return Decoded::default();
    }
    let bytes = bytes.strip_prefix(&[0xEF, 0xBB, 0xBF]).unwrap_or(bytes);
    let mut decoded = Decoded { text: String::with_capacity(bytes.len()), bad: Vec::new(), is_text: true };
    let mut told_line = None;
    for chunk in bytes.utf8_chunks() {
        decoded.text.push_str(chunk.valid());
        if chunk.invalid().is_empty() {
            continue;
        }
        let at = decoded.text.len();
        // The bad bytes of one line follow one another with no line end between them in the valid text.
        let same_line = told_line.is_some_and(|told: usize| !decoded.text[told..].contains('\n'));
        told_line = Some(at);
        decoded.text.push('\u{FFFD}');
        if same_line {
            continue;
        }
        decoded.bad.push(at);
        let site = Site { file, start: at, end: decoded.text.len() };
        problems.report(checks::file::not_utf8(site, chunk.invalid()));
        if decoded.bad.len() == MOST_BAD_LINES {
            decoded.is_text = false;
            break;
        }
    }
    decoded
}
