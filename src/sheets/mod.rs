//! Spreadsheets as rows of cells: .xlsx, .ods and .csv. A cell is the text that stands in it, or why there is none that
//! could be trusted. What a file holds is bounded as it is read, not as it is promised.

mod bounds;
mod comma;
mod error;
mod numbers;
mod odf;
mod office;
mod sheet;
mod template;

use std::fs;
use std::path::Path;

pub use error::SheetError;
pub use sheet::{Cell, MOST_COLUMNS, MOST_ROWS, Row, Sheet, Unfit};
pub use template::{Template, TemplateError};

/// A file may be so large, in bytes.
const MOST_BYTES: u64 = 64 * 1024 * 1024;

/// Reads the first sheet of a file, by the ending of its name.
///
/// # Errors
/// Where it is no sheet of these types, is damaged, or holds more than is read.
pub fn read(path: &Path) -> Result<Sheet, SheetError> {
    let ending = path.extension().map(|ending| ending.to_string_lossy().to_ascii_lowercase()).unwrap_or_default();
    let parse: fn(Vec<u8>) -> Result<Sheet, SheetError> = match ending.as_str() {
        "csv" => comma::read,
        "xlsx" => office::read,
        "ods" => odf::read,
        _ => return Err(SheetError::Type),
    };
    let about = fs::metadata(path).map_err(SheetError::Unread)?;
    if !about.is_file() {
        return Err(SheetError::NoFile);
    }
    if about.len() > MOST_BYTES {
        return Err(SheetError::TooLarge(MOST_BYTES));
    }
    let sheet = parse(fs::read(path).map_err(SheetError::Unread)?)?;
    if sheet.rows.is_empty() { Err(SheetError::Empty) } else { Ok(sheet) }
}
