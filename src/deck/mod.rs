//! Decks as text: reading with places, checks, and what they report.
//!
//! [`read_deck`] takes a folder and gives the deck of its sound cards with every problem at its line and column.
//! On the way a file is bytes (`files`), text (`decode`, `signs`), looked over (`scan`), parsed (`syntax`), read
//! key by key (`fields`, `head`, `kinds`), and at last compared with the rest of the deck (`whole`). Each sort
//! of problem has a file of its own in `checks`. Nothing here writes, and hostile input is met with an error.

pub mod checks;
mod competences;
mod decode;
mod drawings;
mod fields;
mod files;
mod folding;
pub mod font_signs;
mod head;
mod kinds;
mod likeness;
mod pictures;
mod problem;
mod raster;
mod reading;
mod scan;
mod signs;
pub mod strict;
mod suggest;
mod syntax;
mod whole;

pub use competences::competences;
pub use pictures::{MOST_PICTURE_BYTES, PictureTrouble, read_picture};
pub use problem::{Check, Problem, Severity};
pub use reading::{Reading, SourceText, read_deck, read_deck_within, read_vouched_deck};
pub use signs::{visible, visible_line};
