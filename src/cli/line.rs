//! Lines of the input, each no longer than an answer can be.

use std::io::{BufRead, Read};

/// Most bytes of a line.
const LONGEST: u64 = 20_000;
/// So many bytes of a line that is too long are passed over; where it does not end by then, it is no text.
const MOST_PASSED_OVER: u64 = 16 * 1024 * 1024;

/// What is said of a line that is too long.
pub(super) const TOO_LONG: &str =
    "That line is longer than 20,000 letters and was not taken: an answer is a few sentences. Type it again, shorter.";
/// What is said of a line that does not end.
pub(super) const ENDLESS: &str = "The input is one line without an end, which is no answer; it is not read on.";

/// A line of the input.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Line {
    /// The input is at its end.
    End,
    /// The line, without the space around it.
    Read(String),
    /// A line that was too long, and is passed over.
    TooLong,
    /// A line that does not end.
    Endless,
}

/// Reads a line.
///
/// # Errors
/// Where the input cannot be read.
pub(super) fn read(input: &mut impl BufRead) -> std::io::Result<Line> {
    let mut bytes = Vec::new();
    let length = Read::by_ref(input).take(LONGEST).read_until(b'\n', &mut bytes)?;
    if length == 0 {
        return Ok(Line::End);
    }
    if bytes.last() == Some(&b'\n') || (length as u64) < LONGEST {
        return Ok(Line::Read(String::from_utf8_lossy(&bytes).trim().to_owned()));
    }
    drop(bytes);
    let mut passed_over = 0_u64;
    loop {
        let piece = input.fill_buf()?;
        let (length, ends) = match piece.iter().position(|byte| *byte == b'\n') {
            Some(at) => (at + 1, true),
            None => (piece.len(), piece.is_empty()),
        };
        input.consume(length);
        passed_over += length as u64;
        if ends {
            return Ok(Line::TooLong);
        }
        if passed_over > MOST_PASSED_OVER {
            return Ok(Line::Endless);
        }
    }
}

#[cfg(test)]
mod tests {
    use std::io::BufReader;

    use super::*;

    #[test]
    fn lines_are_read_and_those_without_end_are_not() {
        let text = format!("  yes \n\n{}\nlast", "x".repeat(100_000));
        let mut input = BufReader::new(text.as_bytes());
        let read = |input: &mut BufReader<&[u8]>| super::read(input).expect("it can be read");
        assert_eq!(read(&mut input), Line::Read("yes".to_owned()));
        assert_eq!(read(&mut input), Line::Read(String::new()));
        assert_eq!(read(&mut input), Line::TooLong);
        assert_eq!(read(&mut input), Line::Read("last".to_owned()));
        assert_eq!(read(&mut input), Line::End);
        let mut zeros = BufReader::new(std::io::repeat(0));
        assert_eq!(super::read(&mut zeros).expect("it can be read"), Line::Endless);
    }
}
