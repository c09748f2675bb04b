//! What tests of several parts share.

pub mod bundled;
pub mod killing;
