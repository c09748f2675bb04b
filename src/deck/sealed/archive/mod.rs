//! Zip files, read strictly and written always the same. What a zip holds twice over (names, sizes, checksums in front of
//! each entry and in the directory at the end) must agree with itself and with what is read; whatever two programs could
//! read in two ways is refused.

mod bytes;
mod directory;
mod entry;
mod read;
mod write;

pub use entry::Entry;
pub use read::{Limits, read};
pub use write::write;
