//! All integration tests in one binary; one module for each part.
mod deck_competences;
mod deck_diagnostics;
mod deck_hostile;
mod house;

mod app_watch;
mod decks;
mod marking;
mod memory;
mod plant_brute;
mod plant_orders;
mod plant_run;
mod quantity;
mod store_backup;
mod store_basics;
mod store_damage;
mod store_full;
mod store_kill;
mod store_migrate;
mod store_profiles;
mod store_props;
mod store_search;
mod ui_words;
mod watch_kill;
