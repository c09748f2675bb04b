//! All integration tests in one binary; one module for each part.
mod house;

mod ui_words;
mod memory;
