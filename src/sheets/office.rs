//! .xlsx, by `calamine`: the cells of the first sheet that can be seen.

use std::collections::HashSet;
use std::io::{Cursor, Read, Seek};

use calamine::{DataRef, Reader, SheetType, SheetVisible, Xlsx, XlsxError};

use super::error::SheetError;
use super::sheet::{Cell, Gathered, MOST_COLUMNS, Sheet, Unfit};
use super::{bounds, numbers};

/// A sheet may have so many merged cells.
const MOST_MERGED: usize = 20_000;

/// Reads a workbook.
///
/// # Errors
/// Where it is damaged, locked, or holds more than is read.
pub(super) fn read(bytes: Vec<u8>) -> Result<Sheet, SheetError> {
    // The container of old Office files: a locked .xlsx is one.
    if bytes.starts_with(&[0xD0, 0xCF, 0x11, 0xE0]) {
        return Err(SheetError::Locked);
    }
    bounds::measure(&bytes, None)?;
    let mut book: Xlsx<_> = Xlsx::new(Cursor::new(bytes)).map_err(|error| damaged(&error))?;
    let is_shown =
        |sheet: &&calamine::Sheet| sheet.typ == SheetType::WorkSheet && sheet.visible == SheetVisible::Visible;
    let shown: Vec<String> = book.sheets_metadata().iter().filter(is_shown).map(|sheet| sheet.name.clone()).collect();
    let name = shown.first().ok_or(SheetError::NoSheet)?;
    let unknown = unknown_results(&mut book, name)?;
    let mut gathered = Gathered::default();
    let mut cells = book.worksheet_cells_reader(name).map_err(|error| damaged(&error))?;
    while let Some((cell, style)) = cells.next_cell_with_style_id().map_err(|error| damaged(&error))? {
        let place = place(cell.get_position());
        let format = cells.styles().get(style).and_then(|style| style.number_format.as_ref());
        let format = format.map_or("", |format| format.format_code.as_str());
        let content = match cell.get_value() {
            DataRef::Empty if unknown.contains(&place) => Cell::Unfit(Unfit::NoResult),
            value => content(value, format),
        };
        gathered.take(place.0, place.1, content)?;
    }
    drop(cells);
    let merged = book.merge_cells_by_sheet_name(name).map_err(|error| damaged(&error))?;
    if merged.len() > MOST_MERGED {
        return Err(SheetError::Damaged(format!("it has more than {MOST_MERGED} merged cells")));
    }
    for area in merged {
        let (first, last) = (place(area.start), place(area.end));
        if first.0 <= last.0 && first.1 <= last.1 {
            gathered.cover(first.0..=last.0, first.1..=last.1);
        }
    }
    let others = shown.len() - 1;
    Ok(Sheet { rows: gathered.rows(), name: (others > 0).then(|| name.clone()), others })
}

fn place((row, column): (u32, u32)) -> (usize, usize) {
    (row as usize, column as usize)
}

/// Cells with a formula whose result the file does not hold.
fn unknown_results<R: Read + Seek>(book: &mut Xlsx<R>, name: &str) -> Result<HashSet<(usize, usize)>, SheetError> {
    let mut unknown = HashSet::new();
    let mut cells = book.worksheet_cells_reader(name).map_err(|error| damaged(&error))?;
    while let Some(cell) = cells.next_cell_with_formula_metadata().map_err(|error| damaged(&error))? {
        let place = place(cell.pos);
        if cell.formula.is_some() && is_nothing(&cell.value) && place.1 < MOST_COLUMNS && unknown.len() < 100_000 {
            unknown.insert(place);
        }
    }
    Ok(unknown)
}

fn is_nothing(value: &DataRef<'_>) -> bool {
    match value {
        DataRef::Empty => true,
        DataRef::String(text) => text.is_empty(),
        _ => false,
    }
}

/// What a value says, shown by a format.
fn content(value: &DataRef<'_>, format: &str) -> Cell {
    Cell::Text(match value {
        DataRef::Empty => String::new(),
        DataRef::String(text) => text.clone(),
        DataRef::SharedString(text) => (*text).to_owned(),
        DataRef::Int(number) => return number_shown(*number as f64, format),
        DataRef::Float(number) => return number_shown(*number, format),
        DataRef::Bool(_) => return Cell::Unfit(Unfit::Truth),
        DataRef::Error(_) => return Cell::Unfit(Unfit::Fault),
        DataRef::DateTime(_) | DataRef::DateTimeIso(_) | DataRef::DurationIso(_) => return Cell::Unfit(Unfit::Date),
    })
}

fn number_shown(number: f64, format: &str) -> Cell {
    // What stands in quotes, and what follows a backslash, is shown as it is.
    let bare = format.split(';').next().unwrap_or_default();
    let shown = bare.split('"').skip(1).step_by(2).any(|quoted| quoted.contains(char::is_alphabetic));
    if shown || bare.split('\\').skip(1).any(|sign| sign.starts_with(char::is_alphabetic)) {
        return Cell::Unfit(Unfit::ShownUnit);
    }
    if bare.contains('%') {
        return Cell::Text(numbers::percent(number));
    }
    Cell::Text(numbers::plain(number))
}

fn damaged(error: &XlsxError) -> SheetError {
    match error {
        XlsxError::Password => SheetError::Locked,
        other => SheetError::Damaged(other.to_string()),
    }
}
