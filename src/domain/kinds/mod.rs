//! The kinds of card: one file or folder for each, with what it holds, how its answers are marked, and what else the
//! program asks of it ([`CardKind`]). To add a kind, write its file and name it in the list here; [`Kind`], [`Body`] and
//! the one match over kinds are made from that.

mod figure;
mod kind;
mod lineup;
mod point;
mod recall;
mod sequence;
mod why;
mod working;

pub use figure::Figure;
pub use kind::{CardKind, Facts, Handed, Marked, Weighed, WhatIf};
pub use recall::Recall;
pub use why::{Why, longest_rising};

use crate::domain::drawing::Pointing;
use crate::domain::piping::Network;
use crate::domain::plant::Procedure;
use crate::domain::working::Working;

/// Makes [`Kind`] and [`Body`] from the list of kinds, in the order in which they are listed and numbered: a name, what a
/// card of it holds, and its file with its `FACTS`.
macro_rules! kinds {
    ($($(#[$doc:meta])* $name:ident($held:ty): $file:ident;)+) => {
        /// The kinds of card that this version can ask.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum Kind {
            $($(#[$doc])* $name,)+
        }

        impl Kind {
            /// All of them, in the order in which they are listed.
            pub const ALL: [Kind; Kind::COUNT] = [$(Kind::$name),+];

            /// How many there are.
            pub const COUNT: usize = [$(stringify!($name)),+].len();

            /// What holds for every card of the kind.
            pub fn facts(self) -> &'static Facts {
                match self {
                    $(Kind::$name => &$file::FACTS,)+
                }
            }
        }

        /// What a card asks, by kind.
        #[derive(Debug, Clone, PartialEq)]
        pub enum Body {
            $($(#[$doc])* $name($held),)+
        }

        impl Body {
            /// The kind, which answers what the program asks of it.
            pub fn as_kind(&self) -> &dyn CardKind {
                match self {
                    $(Body::$name(held) => held,)+
                }
            }

            /// Which kind it is.
            pub fn kind(&self) -> Kind {
                match self {
                    $(Body::$name(_) => Kind::$name,)+
                }
            }
        }

        $(impl From<$held> for Body {
            fn from(held: $held) -> Self {
                Body::$name(held)
            }
        })+
    };
}

kinds! {
    /// Say it: key points.
    Recall(Recall): recall;
    /// Know the number.
    Figure(Figure): figure;
    /// Give the causes in order.
    Why(Why): why;
    /// Put the steps in an order that works.
    Sequence(Procedure): sequence;
    /// Set the valves.
    Lineup(Network): lineup;
    /// Work it out, with fresh figures.
    Working(Working): working;
    /// Find the part on the drawing.
    Point(Pointing): point;
}

impl Kind {
    /// The kind's word in markings, and for people.
    pub fn word(self) -> &'static str {
        self.facts().word
    }

    /// Where the kind stands in [`Kind::ALL`].
    pub fn place(self) -> usize {
        self as usize
    }
}
