//! Marks a point: where the learner pointed, against the part that was asked for.

use super::{AnswerError, Marked};
use crate::domain::answer::Pointed;
use crate::domain::drawing::Pointing;

/// Marks a pointing.
pub(super) fn mark(_pointing: &Pointing, _pointed: &Pointed, _in_time: bool) -> Result<Marked, AnswerError> {
    Err(AnswerError { message: "points are not marked yet".to_owned() })
}
