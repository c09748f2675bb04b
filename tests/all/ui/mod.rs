//! The window.

mod bring_over;
pub mod class;
pub mod editions;
pub mod flows;
pub mod frames;
pub mod keys;
pub mod lineup;
pub mod look;
pub mod marked;
pub mod monkey;
pub mod oral;
pub mod pictures;
pub mod pipes;
pub mod point;
pub mod reading;
pub mod sequence;
pub mod sitting;
pub mod strain;
pub mod strokes;
pub mod support;
pub mod taking_in;
pub mod words;
pub mod working;
pub mod writing;
pub mod writing_forms;
