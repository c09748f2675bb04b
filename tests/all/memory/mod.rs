//! Memory, its training and the plan to the oral.

pub mod calibration;
pub mod plan;
pub mod replay;
pub mod train;
