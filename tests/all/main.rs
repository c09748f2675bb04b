//! All integration tests in one binary; one folder for each part.

mod app;
mod deck;
mod house;
mod jobs;
mod marking;
mod memory;
mod oral;
mod oral_seed;
mod piping;
mod plant;
mod point;
mod quantity;
mod readiness;
mod record;
mod store;
mod support;
mod terminal;
mod ui;
mod ui_keys;
mod working;
