//! .csv, by `csv`: in UTF-8, with or without a byte order mark, parted by commas, semicolons or tabs. Rows are counted as a
//! spreadsheet shows them: a blank line is a row, and a text of several lines is in one.

use csv::{ByteRecord, ReaderBuilder};

use super::error::SheetError;
use super::sheet::{Cell, Gathered, Sheet, Unfit};

/// What may stand between the cells of a row.
const PARTS: [u8; 3] = [b',', b';', b'\t'];

/// Reads a sheet.
///
/// # Errors
/// Where it is in another encoding, a quotation mark is not closed, or it holds more than is read.
pub(super) fn read(bytes: Vec<u8>) -> Result<Sheet, SheetError> {
    if bytes.starts_with(&[0xFF, 0xFE]) || bytes.starts_with(&[0xFE, 0xFF]) {
        return Err(SheetError::Encoding("UTF-16"));
    }
    let text = bytes.strip_prefix(&[0xEF, 0xBB, 0xBF]).unwrap_or(&bytes);
    if text.contains(&0) {
        return Err(SheetError::Damaged("it holds bytes that no text has".to_owned()));
    }
    let parted_by = parted_by(text);
    let rows = rows_of(text, parted_by)?;
    let mut reader = ReaderBuilder::new().delimiter(parted_by).has_headers(false).flexible(true).from_reader(text);
    let mut record = ByteRecord::new();
    let mut gathered = Gathered::default();
    let mut rows = rows.into_iter();
    while reader.read_byte_record(&mut record).map_err(|error| SheetError::Damaged(error.to_string()))? {
        let row = rows.next().ok_or_else(|| SheetError::Damaged("its rows cannot be told apart".to_owned()))?;
        for (column, bytes) in record.iter().enumerate() {
            let cell = match std::str::from_utf8(bytes) {
                Ok(text) => Cell::Text(text.to_owned()),
                Err(_) => Cell::Unfit(Unfit::NotUtf8),
            };
            gathered.take(row, column, cell)?;
        }
    }
    Ok(Sheet { rows: gathered.rows(), ..Sheet::default() })
}

/// The sign that parts the cells: the one that stands most often in the first line that is not blank.
fn parted_by(text: &[u8]) -> u8 {
    let first = text.split(|byte| matches!(byte, b'\n' | b'\r')).find(|line| !line.trim_ascii().is_empty());
    let line = first.unwrap_or_default();
    let count = |sign: u8| line.iter().filter(|byte| **byte == sign).count();
    PARTS.into_iter().rev().max_by_key(|sign| count(*sign)).unwrap_or(b',')
}

/// The numbers, from 0, of the rows that are not blank lines.
///
/// # Errors
/// Where a quotation mark is not closed.
fn rows_of(text: &[u8], parted_by: u8) -> Result<Vec<usize>, SheetError> {
    let (mut rows, mut row, mut at) = (Vec::new(), 0, 0);
    // The row has something in it; a cell begins here.
    let (mut is_filled, mut is_start) = (false, true);
    while let Some(&byte) = text.get(at) {
        at += 1;
        match byte {
            b'"' if is_start => {
                at = end_of_quoted(text, at).ok_or(SheetError::OpenQuote(row + 1))?;
                (is_filled, is_start) = (true, false);
            }
            b'\n' | b'\r' => {
                if byte == b'\r' && text.get(at) == Some(&b'\n') {
                    at += 1;
                }
                if is_filled {
                    rows.push(row);
                }
                (row, is_filled, is_start) = (row + 1, false, true);
            }
            _ => (is_filled, is_start) = (true, byte == parted_by),
        }
    }
    if is_filled {
        rows.push(row);
    }
    Ok(rows)
}

/// One past the mark that closes a text in quotation marks, in which a mark is written twice.
fn end_of_quoted(text: &[u8], mut at: usize) -> Option<usize> {
    loop {
        at += text.get(at..)?.iter().position(|byte| *byte == b'"')? + 1;
        if text.get(at) == Some(&b'"') {
            at += 1;
        } else {
            return Some(at);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cells(text: &str) -> Vec<(usize, Vec<String>)> {
        let sheet = read(text.as_bytes().to_vec()).expect("it is a sheet");
        let words = |cell: &Cell| match cell {
            Cell::Text(text) => text.clone(),
            Cell::Unfit(unfit) => format!("{unfit:?}"),
        };
        sheet.rows.iter().map(|row| (row.number, row.cells.values().map(words).collect())).collect()
    }

    #[test]
    fn rows_are_counted_as_a_spreadsheet_shows_them() {
        for (part, end) in [(",", "\n"), (";", "\r\n"), ("\t", "\r")] {
            let text = ["kind,id", "", "recall,\"two\nlines, \"\"quoted\"\"\"", ",,,", "", "why,5\" pipe"].join("\n");
            let text = text.replace("\"two\n", "\"two\u{1}");
            let text = text.replace('\n', end).replace(',', part).replace('\u{1}', "\n");
            let quoted = format!("two\nlines{part} \"quoted\"");
            let row = |number, cells: [&str; 2]| (number, cells.map(str::to_owned).to_vec());
            let wanted = [row(1, ["kind", "id"]), row(3, ["recall", &quoted]), row(6, ["why", "5\" pipe"])];
            assert_eq!(cells(&text), wanted, "{part:?}");
            assert_eq!(cells(&format!("\u{FEFF}{text}")), wanted, "{part:?}, with a byte order mark");
        }
    }

    #[test]
    fn what_cannot_be_told_apart_is_refused() {
        assert!(matches!(read(b"a,b\n\nc,\"d\ne,f\n".to_vec()), Err(SheetError::OpenQuote(3))));
        assert!(matches!(read(b"\xFF\xFEa\0".to_vec()), Err(SheetError::Encoding("UTF-16"))));
        assert!(read(b"a,b\0c\n".to_vec()).is_err());
        let latin = read(b"a,b\n15 \xB0C,x\n".to_vec()).expect("the other cells are read");
        assert_eq!(latin.rows[1].cells[&0], Cell::Unfit(Unfit::NotUtf8));
    }
}
