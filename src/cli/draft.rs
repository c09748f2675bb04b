//! `bedplate draft SHEET --into DECK [--keep-good]`: cards from a spreadsheet; `bedplate draft --template FILE`: an empty
//! sheet with an example of each kind.
//!
//! Exit codes: 0 all rows are in the deck, 1 a row cannot be read, 2 there is no sheet or no deck to work with.

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use super::marker::CommandReader;
use super::out::{self, cannot};
use super::say::printable;
use crate::deck::Severity;
use crate::deck::from_sheet::{self, Complaint, Drafted};
use crate::sheets;

/// Most complaints that are printed.
const MOST_SHOWN: usize = 1_000;

/// Writes an empty sheet with an example of each kind.
pub(super) fn template(file: &Path) -> ExitCode {
    match from_sheet::template().write(file) {
        Ok(()) => {
            let text = format!(
                "{} is written: the headings, and an example of each kind that fits in a row. Take the examples out \
                 once you have your own.\n",
                file.display()
            );
            out::ended(out::all(printable(&text).as_bytes()), ExitCode::SUCCESS)
        }
        Err(error) => cannot(format!("{}: {error}", file.display())),
    }
}

/// Reads `sheet` and writes its cards into the deck in the folder `deck`. Where a row cannot be read nothing is written,
/// unless `keep_good`. Samples are marked by the trained reader too, unless `plain`.
pub(super) fn run(sheet: &Path, deck: &Path, keep_good: bool, plain: bool) -> ExitCode {
    let rows = match sheets::read(sheet) {
        Ok(rows) => rows,
        Err(error) => return cannot(format!("{}: {error}", sheet.display())),
    };
    let stem = sheet.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
    let reader = CommandReader::load(plain);
    let drafted = match from_sheet::draft(deck, &rows, &stem, keep_good, reader.marker()) {
        Ok(drafted) => drafted,
        Err(error) => return cannot(error),
    };
    if rows.others > 0 {
        let name = rows.name.as_deref().unwrap_or_default();
        out::told(&format!("the file has several sheets; “{name}” is read, and {} not", counted(rows.others, "other")));
    }
    if let Err((name, error)) = write(deck, &drafted.files) {
        return cannot(format!("{name} could not be written, and the deck stands as it did: {error}"));
    }
    let code = ExitCode::from(u8::from(drafted.errors() > 0));
    out::ended(out::all(printable(&text(sheet, &drafted)).as_bytes()), code)
}

/// A file that is about to be put in its place.
struct Ready<'f> {
    name: &'f str,
    beside: PathBuf,
    place: PathBuf,
    /// What stands there now.
    before: Option<Vec<u8>>,
}

/// Puts every file in its place. All are written beside their places first, so that none is ever half of anything; where
/// one cannot be put in its place, those before it are put back.
fn write(deck: &Path, files: &[(String, Vec<u8>)]) -> Result<(), (String, io::Error)> {
    let mut ready: Vec<Ready<'_>> = Vec::new();
    let written = files.iter().try_for_each(|(name, bytes)| {
        let place = deck.join(name);
        let file_name = place.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
        let beside = place.with_file_name(format!(".{file_name}.new"));
        let prepared = prepare(&place, &beside, bytes).map_err(|error| (name.clone(), error));
        let before = fs::read(&place).ok();
        ready.push(Ready { name, beside, place, before });
        prepared
    });
    let mut placed = 0;
    let put = written.and_then(|()| {
        ready.iter().try_for_each(|file| {
            let put = fs::rename(&file.beside, &file.place);
            put.map_err(|error| (file.name.to_owned(), error))?;
            placed += 1;
            synced(&file.place).map_err(|error| (file.name.to_owned(), error))
        })
    });
    if put.is_err() {
        for (n, file) in ready.iter().enumerate() {
            // What cannot be put back either is named in what is told; a file beside is in nobody's way.
            let _ = match &file.before {
                _ if n >= placed => fs::remove_file(&file.beside),
                None => fs::remove_file(&file.place),
                Some(bytes) => {
                    prepare(&file.place, &file.beside, bytes).and_then(|()| fs::rename(&file.beside, &file.place))
                }
            };
        }
    }
    put
}

/// Writes the bytes beside their place, so that they are on the disk.
fn prepare(place: &Path, beside: &Path, bytes: &[u8]) -> io::Result<()> {
    if let Some(folder) = place.parent() {
        fs::create_dir_all(folder)?;
    }
    // What an earlier call has left there is in nobody's way, and no link is followed.
    let _ = fs::remove_file(beside);
    let mut file = File::create_new(beside)?;
    file.write_all(bytes)?;
    if let Ok(about) = fs::metadata(place).map(|about| about.permissions()) {
        file.set_permissions(about)?;
    }
    file.sync_all()
}

/// Makes the new name of a file last through a power cut; Windows has no such call and needs none.
fn synced(place: &Path) -> io::Result<()> {
    match place.parent() {
        Some(folder) if cfg!(unix) => File::open(folder)?.sync_all(),
        _ => Ok(()),
    }
}

fn text(sheet: &Path, drafted: &Drafted) -> String {
    let name = sheet.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    let mut out: String = drafted.complaints.iter().take(MOST_SHOWN).map(|complaint| told(&name, complaint)).collect();
    if let Some(more) = drafted.complaints.len().checked_sub(MOST_SHOWN).filter(|more| *more > 0) {
        out += &format!("And {more} more of the same sort.\n\n");
    }
    for note in &drafted.notes {
        out += &format!("To know: {note}.\n");
    }
    let errors = drafted.errors();
    if drafted.files.is_empty() && errors > 0 {
        let rows = counted(errors, "row");
        return out
            + &format!(
                "Nothing was written: {rows} cannot be read. Mend them, or keep the good ones with --keep-good.\n"
            );
    }
    let written: Vec<&str> = drafted.files.iter().map(|(name, _)| name.as_str()).collect();
    let cards = |count: usize, what: &str| format!("{} {what}", counted(count, "card"));
    out += &format!(
        "{}, {}, {}",
        cards(drafted.added.len(), "new"),
        cards(drafted.changed.len(), "changed"),
        cards(drafted.same, "as before")
    );
    out += &match written.is_empty() {
        true => "; no file is changed.\n".to_owned(),
        false => format!("; written: {}.\n", written.join(", ")),
    };
    if errors > 0 {
        out += &format!("{} cannot be read and were left out.\n", counted(errors, "row"));
    }
    if drafted.advice > 0 {
        out += &format!(
            "{} of advice about these cards; `bedplate check` lists them.\n",
            counted(drafted.advice, "piece")
        );
    }
    out
}

fn told(name: &str, complaint: &Complaint) -> String {
    let word = match complaint.severity {
        Severity::Error => "Error",
        Severity::Warning => "Warning",
        Severity::Advice => "Advice",
    };
    let place = match complaint.row {
        Some(_) => format!("{name}, {}", complaint.whereabouts()),
        None => complaint.whereabouts(),
    };
    format!("{word} in {place}\n{}\n\n", super::sentence::of_problem(&complaint.message, &complaint.mend))
}

fn counted(count: usize, word: &str) -> String {
    format!("{count} {word}{}", if count == 1 { "" } else { "s" })
}
