//! Two computers of one learner: a profile written out as one file, and such a file brought into another profile.
//!
//! Bringing in is a union: attempts and sittings by their ids, everything else by what it says; of the settings the later
//! ones. In any order and any number of times it gives the same. The file's form is told in `docs/profile-file.md`.

mod figures;
mod find;
mod line;
mod look;
mod merge;
mod read;
mod rows;
mod settings;
mod write;

pub use figures::{Counts, Merged, ProfileFile, Whose};
pub use find::{ENDING, files_in, sticks};
pub use look::{is_profile_file, look};
pub(super) use merge::{Wish, merge};
pub(super) use write::write;
