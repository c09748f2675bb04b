//! All integration tests in one binary; one module for each part.

mod memory;
mod ui_flows;
mod ui_look;
mod ui_sample;
mod ui_support;
mod ui_words;
