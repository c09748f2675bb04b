//! Readiness: the chance of passing an oral on a day, as a range, and what each area costs. Pure.
//!
//! An oral is taken as questions drawn without replacement from the cards of each function; a question is answered
//! well with the chance that its card is recalled. The questions of one day share that day's form, a shift of every
//! chance on the logit scale.

mod belief;
mod calibration;
mod exam;
mod form;
mod range;
mod table;

pub use belief::{Belief, Seen, Sitting, UnseenBelief};
pub use calibration::{BINS, Bin, Calibration};
pub use exam::{Exam, Item, Part};
pub use form::{chance_in_form, shifted};
pub use range::{AreaCost, Range, area_costs, chance_range};
pub use table::{CardState, CompetenceStand, Stand, table};
