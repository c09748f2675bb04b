//! A class: figures held to values from outside, lessons held to simulated classes, hand-ins, the class's file.

mod class;
mod figures;
mod files;
mod handing_in;
mod lessons;
mod school;
