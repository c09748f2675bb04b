//! Decks as text: reading with places, checks, and what they report.
//!
//! [`read_deck`] takes a folder and gives the deck of its sound cards with every problem at its line and column.
//! On the way a file is bytes (`files`), text (`decode`, `signs`), looked over (`scan`), parsed (`syntax`), read
//! key by key (`fields`, `head`, `kinds`) into a draft (`draft`), and at last compared with the rest of the deck
//! (`whole`). Each sort of problem has its entry in a table of `checks`. Nothing here writes a file (`writing` makes the
//! texts that are to be written), and hostile input is met with an error.

mod answer_form;
mod blueprint;
mod check;
pub mod checks;
mod competences;
mod decode;
mod draft;
mod drawings;
mod fields;
mod files;
mod folding;
pub mod font_signs;
pub mod from_sheet;
mod head;
mod kinds;
mod likeness;
mod lines;
mod pasts;
mod pictures;
mod problem;
mod raster;
mod reading;
mod samples;
mod scan;
mod schema;
pub mod sealed;
mod shape;
mod signs;
mod source_text;
pub mod strict;
mod suggest;
mod syntax;
mod whole;
pub mod writing;
mod written;

pub use answer_form::{answer_forms, answer_in};
pub use blueprint::read_blueprint;
pub use check::{Check, Severity};
pub use competences::competences;
pub use files::{MOST_DECK_BYTES, MOST_FILE_BYTES, MOST_FILES};
pub use pictures::{MOST_PICTURE_BYTES, PictureTrouble, read_picture};
pub use problem::Problem;
pub use reading::{
    DeckHead, Reading, read_deck, read_deck_by, read_deck_head, read_deck_to_ask, read_deck_with, read_deck_within,
    read_sealed_by, read_sealed_head, read_sealed_to_ask, read_vouched_deck,
};
pub use schema::{SchemaOf, schema};
pub use signs::{visible, visible_line};
pub use source_text::SourceText;
pub use written::{InSight, Written};
