//! A class: what a lecturer gives out, what learners hand in, and the figures that are worked out of it.
//!
//! The figures rest on *first attempts* alone: the first answer of a learner to a card, by time, that was not taken back.
//! It is right where it came to answered or fluent, the learner's own notch counted; prompted is not right. What cannot be
//! worked out is not 0 but a reason ([`Why`]).

mod areas;
mod figures;
mod firsts;
mod items;
mod lesson;
mod mistakes;
mod record;
mod reliability;
mod suspect;

pub use areas::{Area, Standing, areas};
pub use figures::{CardFigures, Choice, ClassFigures, LearnerFigures, figures};
pub use firsts::Firsts;
pub use items::{Figure, ItemFigures, PointFigure, Why, items, points};
pub use lesson::{Gain, Part, Wish, gains, lesson};
pub use mistakes::{Mistake, Sort as MistakeSort, mistakes};
pub use record::{
    AssignedCard, AssignedDeck, Assignment, CardText, ClassName, ClassRecord, HandIn, HandedAttempt, HandedFault,
    HandedFunction, HandedOral, HandedSlip, LearnerRecord, PointText,
};
pub use reliability::{Reliability, reliability};
pub use suspect::{FEW, Suspect, notched, suspects};
