//! The domain as a crate of its own: plain data and engines, which can use no database, screen or sound because this
//! crate depends on none. The program shows it as its room `domain`.

#[path = "mod.rs"]
pub mod domain;
