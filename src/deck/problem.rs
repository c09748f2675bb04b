//! The problems of a deck, gathered. A problem is found at a range of bytes of a file; its line and column are worked
//! out once, at the end, for all problems together.

use std::ops::Range;

use serde::Serialize;

use super::check::{Check, Found, Severity, Site};
use super::checks;
use super::signs::visible;
use super::source_text::SourceText;

/// One problem, with its place. Serialises to an entry of `bedplate check --json`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Problem {
    /// The code of its check.
    pub code: &'static str,
    /// How much it matters.
    pub severity: Severity,
    /// The file, relative to the deck's folder, with `/` between its parts.
    pub file: String,
    /// From 1.
    pub line: usize,
    /// From 1, in characters.
    pub column: usize,
    /// What is wrong.
    pub message: String,
    /// How to mend it.
    pub mend: String,
    /// The bytes of the file's text (as in [`crate::deck::SourceText`]) that are meant.
    #[serde(skip)]
    pub span: Range<usize>,
}

/// At most this many problems of each severity are kept; a last one says that there are more.
pub(crate) const MOST_PROBLEMS: usize = 10_000;

/// Gathers problems in any order.
#[derive(Debug, Default)]
pub(crate) struct Collector {
    found: Vec<Found>,
    /// Told so far, those not kept included: advice, warnings, errors.
    told: [usize; 3],
    first_dropped: Option<(Severity, Site)>,
    /// The deck has been published with the program, which is tested to have no fault: costly trials are left out.
    pub(crate) vouched_for: bool,
    /// The deck is read for learners: what is wrong with its samples is not looked for.
    pub(crate) only_to_ask: bool,
}

impl Collector {
    /// Takes a problem in.
    pub(crate) fn report(&mut self, found: Found) {
        self.report_with(found.check, found.site, || found);
    }

    /// Takes a problem in that is costly to word: it is only worded where it is kept.
    pub(crate) fn report_with(&mut self, check: &'static Check, site: Site, found: impl FnOnce() -> Found) {
        let told = &mut self.told[check.severity as usize];
        *told += 1;
        if *told <= MOST_PROBLEMS {
            self.found.push(found());
        } else if self.first_dropped.is_none_or(|(severity, _)| check.severity > severity) {
            self.first_dropped = Some((check.severity, site));
        }
    }

    /// How many errors so far; a card is sound when reading it has added none.
    pub(crate) fn errors(&self) -> usize {
        self.told[Severity::Error as usize]
    }

    /// All problems in the order of file, line and column. `files` holds name and text of each file, in the
    /// order of their names.
    pub(crate) fn into_problems(mut self, files: &[SourceText]) -> Vec<Problem> {
        if let Some((severity, site)) = self.first_dropped {
            self.found.push(checks::deck::too_many_problems(severity, site));
        }
        self.found.sort_by(|a, b| {
            (a.site.file, a.site.start, a.check.code, &a.message).cmp(&(
                b.site.file,
                b.site.start,
                b.check.code,
                &b.message,
            ))
        });
        let mut sweep = Sweep { file: usize::MAX, text: "", at: 0, line: 1, column: 1 };
        self.found.into_iter().map(|found| sweep.place(found, files)).collect()
    }
}

/// Walks each file's text once while the problems, in order, are given their lines and columns.
struct Sweep<'a> {
    file: usize,
    text: &'a str,
    at: usize,
    line: usize,
    column: usize,
}

impl<'a> Sweep<'a> {
    fn place(&mut self, found: Found, files: &'a [SourceText]) -> Problem {
        let Found { check, site, message, mend } = found;
        let (name, text) =
            files.get(site.file).map_or(("deck.toml", ""), |file| (file.name.as_str(), file.text.as_str()));
        if self.file != site.file {
            *self = Sweep { file: site.file, text, at: 0, line: 1, column: 1 };
        }
        let start = floor_boundary(text, site.start);
        for c in self.text[self.at..start.max(self.at)].chars() {
            if c == '\n' {
                self.line += 1;
                self.column = 1;
            } else {
                self.column += 1;
            }
        }
        self.at = start.max(self.at);
        let end = floor_boundary(text, site.end.max(start));
        Problem {
            code: check.code,
            severity: check.severity,
            file: visible(name),
            line: self.line,
            column: self.column,
            message: visible(&message),
            mend: visible(&mend),
            span: start..end.max(start),
        }
    }
}

/// The nearest character boundary at or before `at`.
fn floor_boundary(text: &str, at: usize) -> usize {
    text.floor_char_boundary(at.min(text.len()))
}
