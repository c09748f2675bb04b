//! `bedplate seal DECK --out FILE [--key KEYFILE] [--made TIME]`: a deck's folder as one file.
//!
//! Exit codes: 0 sealed, 1 the deck has errors or something in it may not go along, 2 an error of the call.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use super::marker::CommandReader;
use super::out::{self, cannot, told};
use super::{check, deck_at, passphrase, profile};
use crate::app::publish::file;
use crate::app::publish::folder::FolderTrouble;
use crate::app::publish::keys::ClosedKey;
use crate::app::publish::sealing::{CannotSeal, Sealed, seal_folder};
use crate::deck::sealed::SecretKey;
use crate::present::words;

/// What is wished.
pub(super) struct Wish {
    pub(super) deck: PathBuf,
    pub(super) out: PathBuf,
    pub(super) key: Option<PathBuf>,
    pub(super) made: Option<String>,
    pub(super) plain: bool,
}

/// Seals a deck.
pub(super) fn run(wish: &Wish) -> ExitCode {
    let folder = deck_at::folder_of(&wish.deck);
    if lies_in(&wish.out, &folder) {
        return cannot(format!(
            "{} lies in the deck’s own folder, where it would become a file of the deck. Name a place outside of it",
            wish.out.display()
        ));
    }
    if !folder.join("deck.toml").is_file() {
        return cannot(format!("{} has no deck.toml, so there is no deck to seal", folder.display()));
    }
    let made = match made(wish.made.as_deref()) {
        Ok(made) => made,
        Err(why) => return cannot(why),
    };
    let key = match wish.key.as_deref().map(opened).transpose() {
        Ok(key) => key,
        Err(why) => return cannot(why),
    };
    let reader = CommandReader::load(wish.plain);
    match seal_folder(&folder, key.as_ref(), &made, reader.marker()) {
        Ok(sealed) => written(wish, &sealed, key.as_ref()),
        Err(why) => not_sealed(why),
    }
}

fn written(wish: &Wish, sealed: &Sealed, key: Option<&SecretKey>) -> ExitCode {
    if let Err(error) = file::put(&wish.out, &sealed.bytes) {
        return cannot(format!("{} could not be written: {error}", wish.out.display()));
    }
    for finding in &sealed.unproved {
        let card = finding.card.as_ref().map_or_else(String::new, |key| format!("`{}`: ", key.card));
        told(&format!("warning: {card}{}; to mend it: {}", finding.message, finding.mend));
    }
    if sealed.remarks > 0 {
        told(&format!("{} in the deck; `bedplate check` tells them", words::count(sealed.remarks, "remark")));
    }
    let signed = match key {
        Some(key) => format!("signed with the key {}", key.public().number()),
        None => "not signed".to_owned(),
    };
    let head = &sealed.head;
    let line = out::line(format_args!(
        "{}: {}, edition {}, {} in {}, {signed}.",
        super::say::printable(&wish.out.display().to_string()),
        super::say::printable(&head.title),
        head.edition,
        words::count(sealed.cards, "card"),
        words::count(sealed.files, "file"),
    ));
    out::ended(line, ExitCode::SUCCESS)
}

fn not_sealed(why: CannotSeal) -> ExitCode {
    match why {
        CannotSeal::Folder(FolderTrouble::Refused(refusal)) | CannotSeal::Refused(refusal) => {
            told(&format!("not sealed: {} ({})", refusal.text, refusal.code));
            ExitCode::from(1)
        }
        CannotSeal::Folder(unreadable) => cannot(format!("not sealed: {unreadable}")),
        CannotSeal::Errors(reading) => {
            // Where nobody listens the exit code still says it.
            let _ = std::io::stderr().write_all(check::text(&reading, false).as_bytes());
            told("not sealed: the deck has errors");
            ExitCode::from(1)
        }
    }
}

/// Whether the file would lie in the folder, through links or not.
fn lies_in(out: &Path, folder: &Path) -> bool {
    let parent = out.parent().filter(|parent| !parent.as_os_str().is_empty()).unwrap_or(Path::new("."));
    match (parent.canonicalize(), folder.canonicalize()) {
        (Ok(parent), Ok(folder)) => parent.starts_with(folder),
        _ => false,
    }
}

/// The time that the sealed deck says, in UTC to the second.
fn made(given: Option<&str>) -> Result<String, String> {
    let at = match given {
        None => jiff::Timestamp::now(),
        Some(text) => text.parse().map_err(|_| format!("`{text}` is no time. Write it as 2026-11-25T08:00:00Z"))?,
    };
    let second = jiff::Timestamp::from_second(at.as_second().max(0)).map_err(|error| error.to_string())?;
    Ok(second.to_string())
}

/// The secret key, opened.
fn opened(key: &Path) -> Result<SecretKey, String> {
    let home = profile::home().map_err(|error| error.to_string())?;
    let closed = ClosedKey::read(&home, key).map_err(|error| error.to_string())?;
    let words = match closed.wants_passphrase {
        true => Some(passphrase::ask("Passphrase of the key: ").map_err(|error| error.to_string())?),
        false => None,
    };
    closed.open(words.as_deref()).map_err(|error| error.to_string())
}
