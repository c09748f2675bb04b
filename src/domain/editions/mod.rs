//! Editions of a deck: what a card asks and what counts as right ([`Asked`]), and what comes
//! with another edition ([`compare`]), what a learner has taken in and which cards are changed for them ([`Ledger`]), and
//! which card goes on with which history ([`Lineage`]).
//!
//! *Changed* is a card whose [`Asked`] is another one. What is no change, because nobody would have to answer otherwise:
//! sources, reason and what the oral asks of it, follow-ups, phrases that are accepted or refused, the time, weight, topic,
//! heading, caution, picture, samples; what is told of a wrong answer (a slip, the words of a fault); how the text is
//! broken into lines; the order of what has none (points, false links, the steps as they are offered, nodes, pipes,
//! demands, givens); another spelling of the same number; where a line-up's symbols stand on the sheet; and ids inside of
//! a card, which no learner sees. All else is one, a mended slip of the pen too: the program cannot know which word matters.

mod asked;
mod compare;
mod edition;
mod ledger;
mod lineage;

pub use asked::{Asked, Difference, Line, Part, What, folded, names, number};
pub use compare::{Changed, Renamed, Update, compare};
pub use edition::{Edition, EditionCard};
pub use ledger::{ChangedIn, Entry, Ledger, TakenIn, Taking};
pub use lineage::Lineage;
