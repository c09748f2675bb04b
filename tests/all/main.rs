//! All integration tests in one binary; one folder for each part.

mod app;
mod bring;
mod deck;
mod editions;
mod house;
mod marking;
mod memory;
mod oral;
mod piping;
mod plant;
mod point;
mod publish;
mod quantity;
mod readiness;
mod roster;
mod store;
mod support;
mod terminal;
mod ui;
mod working;
