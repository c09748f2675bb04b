//! What tests of several parts share.

pub mod cards;
pub mod examiner;
pub mod home;
