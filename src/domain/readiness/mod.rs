//! Readiness: the chance of passing an oral on a day, as a range, and what each area costs. Pure.
//!
//! An oral is taken as questions drawn without replacement from the cards of each function. A card that has been met is
//! answered well with the chance that the memory model forecasts, shifted by what is believed of the learner; a card
//! never met with what is believed of such cards. The questions of one day share that day's form, a shift of every
//! chance on the logit scale.
//!
//! The answers are read as evidence ([`EvidenceReader`], within a [`History`] that also holds what pages tell of the
//! weeks so far), the evidence becomes a belief for a day ([`Belief`], with its model), the belief and the oral that a
//! blueprint draws from the cards ([`Pool`]) a range ([`chance_range`]), and a range is said only where there is enough
//! behind it ([`Coverage`], with the rule). [`Outlook`] is all of it together.

mod belief;
mod calibration;
mod enough;
mod evidence;
mod exam;
mod form;
mod history;
mod linear;
mod outlook;
mod planned;
mod pool;
mod range;
mod table;

pub use belief::Belief;
pub use calibration::{BINS, Bin, ByLuck, Calibration};
pub use enough::{Chance, Coverage, LEAST_CARDS, LEAST_IN_FUNCTION, Needs, Range, WIDEST};
pub use evidence::{Asked, Evidence, EvidenceReader, Firsts, LeadMark, Sat, Seen, Sitting};
pub use exam::{Exam, Item, Part};
pub use form::{chance_in_form, shifted};
pub use history::{Answering, History, PointMisses, WEEKS};
pub use outlook::{CompetenceCost, MENDED, Outlook, competence_costs};
pub use planned::{ChanceOnDay, MORE_MINUTES, PlanQuestion, Planned};
pub use pool::Pool;
pub use range::{AreaCost, Possible, area_costs, chance_range, range_of};
pub use table::{Area, CardState, CompetenceStand, HeadingStand, Recall, Stand, areas, stand, table};
