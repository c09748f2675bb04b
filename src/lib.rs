//! Bedplate: an offline trainer for marine engineering officers before their oral examination.
//!
//! The rooms of the house, each of which may use only those above it in this list where `DEVELOPERS.md`
//! allows it: the domain is pure, `svg` reads drawings, `sheets` spreadsheets, the deck room reads text, the store keeps attempts, `present` makes view
//! data, `devices` speak, record and print, `app` runs commands, and `ui` and `cli` are the two faces.

pub use bedplate_domain::domain;

pub mod faces;
pub mod sheets;
pub mod svg;

pub mod deck;
pub mod store;

pub mod present;

pub mod devices;

pub mod app;

pub mod cli;
pub mod ui;
