//! All integration tests in one binary; one module for each part.
mod deck_competences;
mod deck_diagnostics;
mod deck_hostile;
mod house;

mod app_watch;
mod decks;
mod marking;
mod memory;
mod quantity;
mod store_basics;
mod ui_words;
mod watch_kill;
