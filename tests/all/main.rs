//! All integration tests in one binary; one module for each part.
mod house;

mod memory;
mod quantity;
mod store_basics;
mod ui_words;
mod app_watch;
mod watch_kill;
