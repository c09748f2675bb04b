//! All integration tests in one binary; one module for each part.

mod ui_words;
mod memory;
