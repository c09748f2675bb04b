//! A working's worksheet: the figures of a draw, the learner's lines and answer, the tries, and practice with fresh
//! figures.

use super::edit::EditWorksheet;
use crate::app::jobs::worksheet::Question;
use crate::domain::answer::Worked;
use crate::domain::day::Instant;
use crate::domain::marking::Marking;
use crate::domain::outcome::Outcome;
use crate::domain::quantity::{Quantity, Within};
use crate::domain::settings::bounded_lines;
use crate::domain::working::{Working, draw, text};

/// A worksheet with the figures that are worked with.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Desk {
    /// The seed that the figures were drawn from.
    pub seed: u64,
    /// The figures, in the deck's order.
    pub givens: Vec<(String, Quantity)>,
    /// The figures as they are written down, in the same order.
    written: Vec<String>,
    /// The unit that the answer is asked in.
    pub unit: String,
    /// How near it must be, as a share; zero for exactly, or where the deck says it otherwise.
    within: f64,
    /// The learner's lines, as typed.
    pub lines: Vec<String>,
    /// The answer, as typed so far.
    pub answer: String,
}

/// What a working has on its sheet besides the marking.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct AtWork {
    /// The worksheet that counts.
    pub desk: Desk,
    /// The first try, once a second one is marked.
    pub first: Option<Tried>,
    /// What the second try alone came to.
    pub second: Option<Outcome>,
    /// A second try is being worked, since then.
    pub again: Option<Instant>,
    /// The method has been shown: there is no second try any more.
    pub shown: bool,
    /// Practice with fresh figures stands on the sheet.
    pub practice: Option<Practice>,
}

/// Practice: it counts for nothing.
#[derive(Debug, Clone, PartialEq)]
pub struct Practice {
    /// The worksheet with the fresh figures.
    pub desk: Desk,
    /// What was handed in.
    pub marked: Option<Practised>,
}

/// A try that is over.
#[derive(Debug, Clone, PartialEq)]
pub struct Tried {
    /// What was answered.
    pub text: String,
    /// How it was marked.
    pub marking: Marking,
}

/// Practice that was handed in.
#[derive(Debug, Clone, PartialEq)]
pub struct Practised {
    /// What was worked out.
    pub worked: Worked,
    /// How it was marked.
    pub marking: Marking,
}

impl Desk {
    /// An empty worksheet with figures drawn from a seed.
    pub fn drawn(working: &Working, seed: u64) -> Self {
        let figures = draw(working, seed);
        let written = working.givens.iter().zip(&figures).map(|(given, figure)| text(given, figure)).collect();
        let givens = working.givens.iter().map(|given| given.name.clone()).zip(figures).collect();
        let within = if let Within::Relative(share) = working.within { share } else { 0.0 };
        Self { seed, givens, written, unit: working.unit.clone(), within, ..Self::default() }
    }

    /// What is handed in, with the figures it was worked with.
    pub(super) fn worked(&self, worked: Worked) -> Worked {
        let givens = self.givens.iter().map(|(name, _)| name.clone()).zip(self.written.iter().cloned());
        Worked { seed: Some(self.seed), givens: givens.collect(), ..worked }
    }

    /// The figures, in the deck's order.
    pub fn figures(&self) -> Vec<Quantity> {
        self.givens.iter().map(|(_, figure)| figure.clone()).collect()
    }

    /// What is to be worked out.
    pub fn question(&self) -> Question {
        Question {
            givens: self.givens.clone(),
            unit: Some(self.unit.clone()),
            within: self.within,
            lines: self.lines.clone(),
        }
    }

    pub(super) fn write(&mut self, work: EditWorksheet) {
        self.lines = bounded_lines(work.lines);
        self.answer = bounded_lines(vec![work.answer]).concat();
    }
}

impl AtWork {
    /// With figures drawn from a seed.
    pub fn drawn(working: &Working, seed: u64) -> Self {
        Self { desk: Desk::drawn(working, seed), ..Self::default() }
    }

    /// The worksheet in front: that of practice while there is one.
    pub fn front(&self) -> &Desk {
        self.practice.as_ref().map_or(&self.desk, |p| &p.desk)
    }
}
