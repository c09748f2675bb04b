//! The core: plain data and engines. It knows no file, clock, thread, database or screen; time and
//! randomness come in as arguments.

pub mod answer;
pub mod attempt;
pub mod card;
pub mod certificate;
pub mod clock;
pub mod competence;
pub mod day;
pub mod deck;
pub mod drawing;
pub mod editions;
pub mod english;
pub mod form;
pub mod ids;
pub mod key_point;
pub mod kinds;
pub mod marking;
pub mod memory;
pub mod network_form;
pub mod oral;
pub mod outcome;
pub mod piping;
pub mod plant;
pub mod plant_form;
pub mod quantity;
pub mod random;
pub mod readiness;
pub mod report;
pub mod roster;
pub mod sample;
pub mod settings;
pub mod taking_in;
pub mod working;
