//! An empty sheet for questions: the headings, and an example of each kind.

use std::fs::File;
use std::io::Write;
use std::path::Path;

use rust_xlsxwriter::{Format, FormatAlign, Workbook, XlsxError};

/// Width of a column, in letters.
const WIDTH: f64 = 24.0;

/// What a template holds.
pub struct Template {
    /// The headings.
    pub headings: Vec<String>,
    /// Rows of examples, each with a cell for each heading.
    pub rows: Vec<Vec<String>>,
}

/// Why a template was not written.
#[derive(Debug, thiserror::Error)]
pub enum TemplateError {
    /// The name ends in something else.
    #[error("a template is written as .csv or .xlsx; name it so")]
    Type,
    /// Something stands there already.
    #[error("there is a file of this name already, and it is not written over; take another name")]
    There,
    /// The system refused it.
    #[error("it could not be written: {0}")]
    Unwritten(String),
}

impl Template {
    /// Writes the template as the ending of the name says.
    ///
    /// # Errors
    /// Where the name ends otherwise, is taken, or cannot be written.
    pub fn write(&self, path: &Path) -> Result<(), TemplateError> {
        let ending = path.extension().map(|ending| ending.to_string_lossy().to_ascii_lowercase()).unwrap_or_default();
        let bytes = match ending.as_str() {
            "csv" => self.comma(),
            "xlsx" => self.office(),
            _ => return Err(TemplateError::Type),
        };
        let bytes = bytes.map_err(TemplateError::Unwritten)?;
        let mut file = File::create_new(path).map_err(|error| match error.kind() {
            std::io::ErrorKind::AlreadyExists => TemplateError::There,
            _ => TemplateError::Unwritten(error.to_string()),
        })?;
        file.write_all(&bytes)
            .and_then(|()| file.sync_all())
            .map_err(|error| TemplateError::Unwritten(error.to_string()))
    }

    fn comma(&self) -> Result<Vec<u8>, String> {
        // With the mark by which spreadsheet programs know UTF-8.
        let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::from("\u{FEFF}"));
        let mut write = |row: &[String]| writer.write_record(row).map_err(|error| error.to_string());
        write(&self.headings)?;
        self.rows.iter().try_for_each(|row| write(row))?;
        writer.into_inner().map_err(|error| error.to_string())
    }

    fn office(&self) -> Result<Vec<u8>, String> {
        let write = || -> Result<Vec<u8>, XlsxError> {
            let mut book = Workbook::new();
            // As text, so that nothing that is typed becomes a date.
            let text = Format::new().set_num_format("@").set_text_wrap().set_align(FormatAlign::Top);
            let bold = text.clone().set_bold();
            let sheet = book.add_worksheet().set_name("Questions")?;
            for (column, heading) in (0_u16..).zip(&self.headings) {
                sheet.set_column_width(column, WIDTH)?;
                sheet.set_column_format(column, &text)?;
                sheet.write_string_with_format(0, column, heading, &bold)?;
            }
            for (row, cells) in (1_u32..).zip(&self.rows) {
                for (column, cell) in (0_u16..).zip(cells).filter(|(_, cell)| !cell.is_empty()) {
                    sheet.write_string_with_format(row, column, cell, &text)?;
                }
            }
            sheet.set_freeze_panes(1, 0)?;
            book.save_to_buffer()
        };
        write().map_err(|error| error.to_string())
    }
}
