//! The kinds of card: one file or folder for each, with what it holds, how its answers are marked, and what else the
//! program asks of it ([`CardKind`], [`Marks`]). To add a kind, write its file and name it in the list here, [`each_kind`];
//! [`Kind`], [`Body`], [`Detail`] and every match over kinds, in all rooms, are made from that.

mod kind;

pub use kind::{CardKind, Facts, Handed, Marked, Marks, Weighed, WhatIf};

use serde::Serialize;

use crate::domain::drawing::Pointing;
use crate::domain::marking::{AnswerError, PointMark, Slip};
use crate::domain::outcome::Outcome;
use crate::domain::piping::Network;
use crate::domain::plant::Procedure;
use crate::domain::working::Working;
use figure::Figure;
use recall::Recall;
use why::Why;

/// The one list of kinds, in the order in which they are listed and numbered: a name, what a card of it holds, and what
/// its file or folder is called in every room's `kinds`. `each_kind!(make)` hands it to the macro `make`, with which a
/// room declares its files and matches over kinds.
#[macro_export]
macro_rules! each_kind {
    ($make:ident) => {
        $make! {
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
    };
}
#[doc(inline)]
pub use crate::each_kind;

/// Makes [`Kind`], [`Body`] and [`Detail`]. A kind's file has its `FACTS`, and `Told`: what only its marking tells.
macro_rules! kinds {
    ($($(#[$doc:meta])* $name:ident($held:ty): $file:ident;)+) => {
        $(pub mod $file;)+

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

            /// Marks an answer.
            ///
            /// # Errors
            /// Where it is of a form that the kind does not take, or names what the card does not have.
            pub fn mark(&self, answer: &Handed<'_>) -> Result<Marked<Detail>, AnswerError> {
                match self {
                    $(Body::$name(held) => held.mark(answer).map(|marked| marked.telling(Detail::$name)),)+
                }
            }

            /// A marking as the points that it rests on; none where it is of another kind.
            pub fn weigh(&self, detail: &Detail, outcome: Outcome) -> Vec<Weighed> {
                match (self, detail) {
                    $((Body::$name(held), Detail::$name(told)) => held.weigh(told, outcome),)+
                    _ => Vec::new(),
                }
            }
        }

        $(impl From<$held> for Body {
            fn from(held: $held) -> Self {
                Body::$name(held)
            }
        })+

        /// What only one kind of marking has.
        #[derive(Debug, Clone, PartialEq, Serialize)]
        #[serde(untagged)]
        pub enum Detail {
            $($(#[$doc])* $name($file::Told),)+
        }
    };
}

each_kind!(kinds);

impl Kind {
    /// The kind that is reckoned with where there is no card to go by.
    pub const USUAL: Kind = Kind::Recall;

    /// The kind's word in markings, and for people.
    pub fn word(self) -> &'static str {
        self.facts().word
    }

    /// Where the kind stands in [`Kind::ALL`].
    pub fn place(self) -> usize {
        self as usize
    }
}

impl Detail {
    /// What was found of each key point; none where the answer is no list of things to say.
    pub fn points(&self) -> Option<&[PointMark]> {
        match self {
            Detail::Recall(told) => Some(&told.points),
            _ => None,
        }
    }

    /// The known slip that explains the answer, where one does.
    pub fn slip(&self) -> Option<&Slip> {
        match self {
            Detail::Figure(told) => told.slip.as_ref(),
            Detail::Working(told) => told.slip.as_ref(),
            _ => None,
        }
    }
}
