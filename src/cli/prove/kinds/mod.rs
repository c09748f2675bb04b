//! The kinds of card of which something can be proved: one file for each.

mod lineup;
mod proof;
mod sequence;

pub(crate) use proof::{Proof, Proved};

use crate::domain::kinds::Body;

/// What can be proved; none for the kinds of which nothing can.
pub(super) fn proof(body: &Body) -> Option<&dyn Proof> {
    match body {
        Body::Sequence(procedure) => Some(procedure),
        Body::Lineup(network) => Some(network),
        _ => None,
    }
}
