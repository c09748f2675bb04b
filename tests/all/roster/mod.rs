//! A class: figures held to values from outside, lessons held to simulated classes, hand-ins, the class's file.

mod class;
mod command_line;
mod exporting;
mod figures;
mod files;
mod handing_in;
mod lessons;
pub mod school;
mod watching;
