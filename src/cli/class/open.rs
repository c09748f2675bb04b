//! What the class commands share: opening a class, its words, its figures, times.

use std::process::ExitCode;

use crate::app::class::words::with_words;
use crate::cli::out::cannot;
use crate::cli::profile;
use crate::deck::{competences, read_blueprint};
use crate::domain::day::Instant;
use crate::domain::ids::{DeckId, is_id};
use crate::domain::roster::{Choice, ClassFigures, ClassRecord, figures};
use crate::store::ClassFile;

/// A class with its figures.
pub(super) struct Worked {
    /// What was handed in.
    pub record: ClassRecord,
    /// What it comes to.
    pub figures: ClassFigures,
    /// When.
    pub now: Instant,
}

/// Opens a class of this home.
pub(super) fn class(name: &str) -> Result<ClassFile, ExitCode> {
    ClassFile::open(&profile::home().map_err(cannot)?, name).map_err(cannot)
}

/// The time.
pub(super) fn now() -> Instant {
    profile::system_clock()()
}

/// A class's figures for the cards wished.
pub(super) fn worked(of: &super::of::Of) -> Result<Worked, ExitCode> {
    let home = profile::home().map_err(cannot)?;
    let class = ClassFile::open(&home, &of.name).map_err(cannot)?;
    let mut record = class.record().map_err(cannot)?;
    drop(class);
    let deck = of.deck.clone();
    if let Some(deck) = &deck
        && !record.assignments.iter().flat_map(|assignment| &assignment.cards).any(|card| card.card.deck.0 == *deck)
    {
        let id = if is_id(deck) { "" } else { "; a deck is named by its id, in small letters, digits and hyphens" };
        return Err(cannot(format!("no card of a deck `{deck}` was given out to the class `{}`{id}", of.name)));
    }
    let blueprint = match &of.blueprint {
        Some(file) => Some(read_blueprint(file).map_err(cannot)?),
        None => None,
    };
    with_words(&mut record, &home);
    let now = now();
    let shares = record.assignments.iter().rev().find_map(|assignment| assignment.blueprint.clone());
    let choice = Choice { deck: deck.map(DeckId), blueprint, shares, minutes: of.minutes };
    let figures = figures(&record, &choice, now);
    Ok(Worked { record, figures, now })
}

/// The title of a competence.
pub(super) fn title(topic: &str) -> String {
    competences().get(topic).map_or_else(|| topic.to_owned(), |competence| competence.title.clone())
}
