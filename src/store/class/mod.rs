//! Classes: one SQLite file for each, in a folder of its own under `classes` in the home folder, with the promises of a
//! profile's file. What is kept survives a killed program and a power cut; before a change on which something is new a
//! backup is made, of which the newest seven are kept; a damaged file, or one of a later version, is left as it is.
//!
//! A class is opened for one command and closed again, so that it needs no thread and no write-ahead log.

mod file;
mod forget;
mod kept;
mod take_in;

pub use file::{ClassError, ClassFile, ClassInfo, list_classes};
pub use take_in::Taken;
