//! Where the parts of a working stand in the file.

use std::ops::Range;

use crate::deck::check::Site;
use crate::deck::fields::{Context, Text};
use crate::domain::working::Part;

/// A text of the file with its place.
pub(super) struct Written {
    pub(super) text: String,
    pub(super) site: Site,
}

impl Written {
    pub(super) fn of(text: Text<'_>) -> Self {
        Self { text: text.value.to_owned(), site: text.site }
    }

    /// The place of a part of it, in bytes of the text; the whole where escapes stand in it.
    pub(super) fn part(&self, context: &Context<'_>, span: &Range<usize>) -> Site {
        let raw = context.text.get(self.site.start - context.base..self.site.end - context.base).unwrap_or_default();
        match raw.find(&self.text) {
            Some(at) => {
                let start = self.site.start + at;
                Site { start: start + span.start, end: start + span.end, ..self.site }
            }
            None => self.site,
        }
    }
}

/// Where the parts of a working stand in the file.
pub(super) struct Places {
    pub(super) ask: Option<Written>,
    pub(super) givens: Vec<Site>,
    pub(super) names: Vec<Site>,
    pub(super) lines: Vec<Written>,
    pub(super) answer: Written,
    pub(super) slips: Vec<Written>,
}

impl Places {
    /// The formula of a part.
    pub(super) fn written(&self, part: Part) -> &Written {
        match part {
            Part::Line(at) => self.lines.get(at),
            Part::Answer => None,
            Part::Slip(at) => self.slips.get(at),
        }
        .unwrap_or(&self.answer)
    }
}
