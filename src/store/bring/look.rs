//! What a profile's file holds, told without bringing it in.

use std::path::Path;

use super::figures::{Counts, ProfileFile};
use super::line::{Line, MARK};
use super::read::{self, Item};
use crate::domain::day::Instant;
use crate::store::error::StoreError;
use crate::store::voids;

/// Whether a file begins as a profile's file does.
pub fn is_profile_file(file: &Path) -> bool {
    read::beginning(file, MARK.len()).is_ok_and(|begins| begins == MARK.as_bytes())
}

/// Reads a file to its end and holds it against its digest.
///
/// # Errors
/// `FileRefused` where it is no sound profile's file.
pub fn look(file: &Path) -> Result<ProfileFile, StoreError> {
    let sha256 = read::digest(file)?;
    let bytes = std::fs::metadata(file).map_err(|e| StoreError::from_io(read::READ, file, &e))?.len();
    let mut told = ProfileFile {
        file: file.to_owned(),
        learner: String::new(),
        ids: Vec::new(),
        program: String::new(),
        made: Instant(0),
        settings_at: Instant(0),
        counts: Counts::default(),
        first: None,
        last: None,
        bytes,
        sha256: sha256.clone(),
    };
    read::each(file, &sha256, |item| {
        match item {
            Item::Head(head) => {
                (told.learner, told.ids, told.program) = (head.learner, head.ids, head.program);
                told.made = Instant(head.made);
            }
            Item::Line(line) => told.count(&line),
        }
        Ok(())
    })?;
    Ok(told)
}

impl ProfileFile {
    fn count(&mut self, line: &Line) {
        if let Line::Settings { at, .. } = line {
            self.settings_at = Instant(*at);
        }
        if let Line::Answer(answer) = line {
            let at = Instant(answer.at);
            self.first = Some(self.first.map_or(at, |first| first.min(at)));
            self.last = self.last.max(Some(at));
        }
        if let Some(count) = self.counts.of(line) {
            *count += 1;
        }
    }
}

impl Counts {
    /// What a line counts as; settings are not counted.
    pub(super) fn of(&mut self, line: &Line) -> Option<&mut u64> {
        Some(match line {
            // What comes with an edition is counted as one.
            Line::Settings { .. } | Line::EditionCard { .. } | Line::Asked { .. } => return None,
            Line::Edition { .. } => &mut self.editions,
            Line::Sitting { .. } => &mut self.sittings,
            Line::Turn { .. } => &mut self.turns,
            Line::Answer(_) => &mut self.answers,
            Line::SetAside { .. } => &mut self.set_aside,
            Line::Fault { .. } => &mut self.faults,
            Line::Event { kind, .. } if kind == voids::KIND => &mut self.taken_back,
            Line::Event { .. } | Line::End { .. } => &mut self.events,
        })
    }
}
