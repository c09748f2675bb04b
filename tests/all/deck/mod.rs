//! Decks: reading, checks, what an editor would not write, the decks that come with the program.

pub mod bundled;
pub mod check;
pub mod competences;
pub mod diagnostics;
pub mod font;
pub mod from_sheet;
pub mod from_sheet_hostile;
pub mod hostile;
pub mod manual;
pub mod messages;
pub mod phrases;
pub mod random;
pub mod reading;
pub mod samples;
pub mod schema;
pub mod strict;
pub mod writing;
pub mod writing_tables;
