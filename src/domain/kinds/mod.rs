//! The kinds of card: one file or folder for each, with what it holds, how its answers are marked, and what else the
//! program asks of it ([`CardKind`]). To add a kind, write its file and name it in the lists here: in [`FACTS`], in
//! [`Body`] and in [`Body::as_kind`], the one match over kinds.

mod figure;
mod kind;
mod lineup;
mod point;
mod recall;
mod sequence;
mod why;
mod working;

pub use figure::Figure;
pub use kind::{CardKind, Facts, Handed, Kind, Marked, Weighed, WhatIf};
pub use recall::Recall;
pub use why::{Why, longest_rising};

use crate::domain::drawing::Pointing;
use crate::domain::piping::Network;
use crate::domain::plant::Procedure;
use crate::domain::working::Working;

/// Every kind, in the order in which they are listed and numbered.
const FACTS: [&Facts; Kind::COUNT] =
    [&recall::FACTS, &figure::FACTS, &why::FACTS, &sequence::FACTS, &lineup::FACTS, &working::FACTS, &point::FACTS];

/// What a card asks, by kind.
#[derive(Debug, Clone, PartialEq)]
pub enum Body {
    /// Key points to say.
    Recall(Recall),
    /// A number to know.
    Figure(Figure),
    /// Causes to put in order.
    Why(Why),
    /// Steps to put in an order that works.
    Sequence(Procedure),
    /// Valves to set.
    Lineup(Network),
    /// A calculation with fresh figures.
    Working(Working),
    /// A part to find on a drawing.
    Point(Pointing),
}

impl Body {
    /// The kind, which answers what the program asks of it.
    pub fn as_kind(&self) -> &dyn CardKind {
        match self {
            Body::Recall(recall) => recall,
            Body::Figure(figure) => figure,
            Body::Why(why) => why,
            Body::Sequence(procedure) => procedure,
            Body::Lineup(network) => network,
            Body::Working(working) => working,
            Body::Point(pointing) => pointing,
        }
    }
}

impl Kind {
    /// How many kinds there are.
    pub const COUNT: usize = 7;

    /// All of them, in the order in which they are listed.
    pub const ALL: [Kind; Kind::COUNT] = {
        let mut all = [FACTS[0].kind; Kind::COUNT];
        let mut at = 0;
        while at < Kind::COUNT {
            all[at] = FACTS[at].kind;
            at += 1;
        }
        all
    };

    /// What holds for every card of the kind.
    pub fn facts(self) -> &'static Facts {
        FACTS[self.place()]
    }

    /// The kind's word in markings, and for people.
    pub fn word(self) -> &'static str {
        self.facts().word
    }

    /// Where the kind stands in [`Kind::ALL`].
    pub fn place(self) -> usize {
        self as usize
    }
}

impl From<Recall> for Body {
    fn from(recall: Recall) -> Self {
        Body::Recall(recall)
    }
}

impl From<Why> for Body {
    fn from(why: Why) -> Self {
        Body::Why(why)
    }
}

impl From<Pointing> for Body {
    fn from(pointing: Pointing) -> Self {
        Body::Point(pointing)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_stands_in_its_place() {
        for (place, kind) in Kind::ALL.into_iter().enumerate() {
            assert_eq!((kind.place(), kind.facts().kind), (place, kind));
        }
    }
}
