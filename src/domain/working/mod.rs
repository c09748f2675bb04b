//! Working cards: a calculation with figures drawn afresh. Pure; a draw is made from a seed.

mod ask;
mod card;
mod draw;
mod method;
mod sample;
mod worksheet;
mod zero;

pub use ask::{Piece, pieces};
pub use ask::{ask, shown};
pub use card::{Asks, Given, Line, MOST_GIVENS, MOST_LINES, MOST_SLIPS, Slip, Working};
pub use draw::MOST_STEPS as MOST_DRAWN_STEPS;
pub use draw::{DIGITS, answer_text, draw, line_text, result_text, text};
pub use method::base_number;
pub use method::{Fault, Method, Part, Worked};
pub use sample::{Failure, Findings, sample};
pub use worksheet::{LineResult, MOST_WORKSHEET_LINES, evaluate};
