//! A working as data to draw: the figures given, the learner's lines, what is to be said of each try, the method.

use crate::present::tone::Tone;
use crate::present::worksheet::{ValueView, WorksheetView, joined, spoken_unit};

/// What is shown while a card of this kind is asked.
pub type Asked = WorkingAskedView;

/// What is shown of a card of this kind once it is marked.
pub type Marked = WorkingMarkedView;

/// Before the answer, and while a second try or a practice with fresh figures is worked.
#[derive(Debug, Clone, PartialEq)]
pub struct WorkingAskedView {
    /// What is given, in the order of the deck.
    pub givens: Vec<GivenRow>,
    /// The learner's lines, evaluated as far as that has come.
    pub sheet: WorksheetView,
    /// The answer as typed so far.
    pub answer: String,
    /// What it is asked in: `In kW, or in any other unit of power.`
    pub hint: String,
    /// What this round is, where it is not the first: a second try, or practice.
    pub round: Round,
    /// What was said of the first try, where this is the second.
    pub before: Vec<TryView>,
}

/// Which round of a working is on the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Round {
    /// The first try, which counts.
    #[default]
    First,
    /// The second try on the same figures.
    Second,
    /// Fresh figures after the marking: practice that counts for nothing.
    Practice,
}

/// A figure that is given.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GivenRow {
    /// Name for people: `Mean indicated pressure`.
    pub name: String,
    /// Name in expressions: `pm`.
    pub symbol: String,
    /// Number of the figure.
    pub number: String,
    /// Unit of the figure, with the signs for reading; empty for a plain number.
    pub unit: String,
}

/// After the answer.
#[derive(Debug, Clone, PartialEq)]
pub struct WorkingMarkedView {
    /// What was given.
    pub givens: Vec<GivenRow>,
    /// The learner's lines, with how each stands against the method.
    pub lines: Vec<MarkedLine>,
    /// The answer that was given last.
    pub answer: ValueView,
    /// What is to be said of each try, the first one first.
    pub tries: Vec<TryView>,
    /// The right answer with its tolerance; none while a second try is open.
    pub expected: Option<String>,
    /// The method with this draw's values, once it was asked for.
    pub method: Option<Vec<MethodLine>>,
    /// A second try on the same figures is open.
    pub may_try_again: bool,
    /// This is practice with fresh figures; the result is that of the try that counts.
    pub practice: bool,
}

/// A line of the learner's worksheet after the marking.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MarkedLine {
    /// As typed.
    pub text: String,
    /// Value of the line; none where it had none.
    pub value: Option<ValueView>,
    /// `Good` where it agrees with the method, `Bad` where something is known to be wrong with it, else `Plain`.
    pub tone: Tone,
    /// What is to be said of it; empty where nothing is.
    pub words: String,
}

/// What is to be said of a try.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TryView {
    /// `Good` for right, `Weak` for right but for a slip, `Bad` for wrong.
    pub tone: Tone,
    /// `First try, 3752 kW: a four-stroke fires every second revolution.`
    pub words: String,
    /// A second, quieter sentence; empty where there is none.
    pub note: String,
}

/// A line of the method.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MethodLine {
    /// `area = pi * bore^2 / 4`.
    pub text: String,
    /// Value of the line with the figures of this draw.
    pub value: ValueView,
    /// Which line of the learner's agrees with it: `your line 1`; empty where none does.
    pub yours: String,
}

impl GivenRow {
    /// As it is said: `Bore, D: 320 mm`.
    pub fn spoken(&self) -> String {
        format!("{}, {}: {}", self.name, self.symbol, joined(&self.number, &spoken_unit(&self.unit)))
    }
}
