//! Where a card is between asked and accepted.

use crate::present::kinds::{AskedView, MarkedView};
use crate::present::result::ResultView;

/// Where a card is between asked and accepted.
#[derive(Debug, Clone, PartialEq)]
pub enum Stage {
    /// The question stands.
    Asked(AskedView),
    /// The answer is marked, and may be accepted.
    Marked(Marked),
    /// A stubborn card is taken apart.
    Remedy(RemedyView),
}

/// An answer that is marked.
#[derive(Debug, Clone, PartialEq)]
pub struct Marked {
    /// What it comes to: outcome, rule, reason.
    pub result: ResultView,
    /// What the card's kind shows of it.
    pub view: MarkedView,
}

/// A stubborn card, its parts one by one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RemedyView {
    /// Why it comes so: `Missed four times in a row. Take it apart before it is asked again.`
    pub intro: String,
    /// All parts, in order: what its kind is made of, the reason, the sources.
    pub parts: Vec<RemedyPart>,
    /// How many of them are uncovered, at least 1.
    pub shown: usize,
    /// The head of the sheet is folded, as it was while the card was asked.
    pub folded: bool,
}

/// One part of a remedy.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RemedyPart {
    /// `Point 1 of 4`, `The reason`, `Where it comes from`.
    pub label: String,
    /// What the part says, Markdown.
    pub text: String,
    /// A safety-critical point.
    pub critical: bool,
}

impl Stage {
    /// Whether the question stands: not marked, and not taken apart in a remedy.
    pub fn is_asked(&self) -> bool {
        matches!(self, Stage::Asked(_))
    }

    /// Whether the answer is marked.
    pub fn is_marked(&self) -> bool {
        matches!(self, Stage::Marked(_))
    }

    /// What the answer comes to; none before it is marked.
    pub fn result(&self) -> Option<&ResultView> {
        match self {
            Stage::Marked(marked) => Some(&marked.result),
            _ => None,
        }
    }

    /// What the answer comes to, to be changed; none before it is marked.
    pub fn result_mut(&mut self) -> Option<&mut ResultView> {
        match self {
            Stage::Marked(marked) => Some(&mut marked.result),
            _ => None,
        }
    }
}
