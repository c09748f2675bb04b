//! Sealing a deck that one has written: its folder becomes the bytes of one file.

use std::collections::BTreeMap;
use std::path::Path;

use crate::app::publish::folder::{self, FolderTrouble};
use crate::deck::sealed::{Refusal, SealHead, SecretKey, seal};
use crate::deck::strict::{Finding, Sort, findings};
use crate::deck::{Reading, Severity, read_sealed_by};
use crate::domain::marking::Marker;

/// A deck that was sealed.
#[derive(Debug)]
pub struct Sealed {
    /// The file.
    pub bytes: Vec<u8>,
    /// What it says of itself.
    pub head: SealHead,
    /// How many files of the deck are in it.
    pub files: usize,
    /// How many cards.
    pub cards: usize,
    /// Safety-critical points without a sample that denies them.
    pub unproved: Vec<Finding>,
    /// How many warnings and pieces of advice the check has.
    pub remarks: usize,
}

/// Why a deck was not sealed.
#[derive(Debug)]
pub enum CannotSeal {
    /// Its folder could not be read, or something in it may not go along.
    Folder(FolderTrouble),
    /// It has errors, or there is no deck.
    Errors(Box<Reading>),
    /// It does not fit into a sealed deck.
    Refused(Refusal),
}

/// Seals the deck in a folder; samples are marked by `marker`, `made` is the time that it says.
///
/// # Errors
/// Where the deck has errors, or cannot be put into a sealed deck.
pub fn seal_folder(
    folder: &Path,
    key: Option<&SecretKey>,
    made: &str,
    marker: Marker<'_>,
) -> Result<Sealed, CannotSeal> {
    let files = folder::read(folder).map_err(CannotSeal::Folder)?;
    // What is checked is what is sealed, though somebody saves a file meanwhile.
    let held: BTreeMap<String, Vec<u8>> = files.iter().map(|file| (file.name.clone(), file.bytes.clone())).collect();
    let reading = read_sealed_by(&held, marker);
    let has_errors = reading.problems.iter().any(|problem| problem.severity == Severity::Error);
    let Some(deck) = reading.deck.as_ref().filter(|_| !has_errors) else {
        return Err(CannotSeal::Errors(Box::new(reading)));
    };
    let head = SealHead::of(deck, made, key.map(|key| key.public().line()));
    let bytes = seal(&head, &files, key).map_err(CannotSeal::Refused)?;
    let mut unproved = findings(&[deck], false);
    unproved.retain(|finding| finding.sort == Sort::CriticalWithoutSample);
    let (cards, remarks) = (deck.cards.len(), reading.problems.len());
    Ok(Sealed { bytes, head, files: files.len(), cards, unproved, remarks })
}
