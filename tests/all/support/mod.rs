//! What tests of several parts share.

pub mod bundled;
