//! Figure: a number to know, typed in whatever unit of its dimension.

mod content;
mod judge;

pub use content::Figure;
pub(super) use judge::{Standing, Verdict, judge};

use super::kind::{CardKind, Facts, Handed, Marked, Weighed};
use crate::domain::answer::Given;
use crate::domain::key_point::KeyPoint;
use crate::domain::marking::{AnswerError, Detail};
use crate::domain::outcome::Outcome;

pub(super) const FACTS: Facts =
    Facts { word: "figure", answered_with: "`text`", first_seconds: 15.0, oral_seconds: 40.0 };

impl CardKind for Figure {
    fn facts(&self) -> &'static Facts {
        &FACTS
    }

    fn mark(&self, answer: &Handed<'_>) -> Result<Marked, AnswerError> {
        match answer.given {
            Given::Text(text) => mark(self, text, answer.in_time),
            _ => Err(FACTS.wrong_form()),
        }
    }

    fn rule(&self, fluent: &str) -> String {
        format!("The right figure: Answered{fluent}. The right number without its unit: Prompted. Else: Missed.")
    }

    fn expected(&self) -> Vec<KeyPoint> {
        vec![KeyPoint::plain(self.value_text.clone(), false)]
    }

    fn weigh(&self, detail: &Detail, outcome: Outcome) -> Vec<Weighed> {
        let Detail::Figure { expected, .. } = detail else { return Vec::new() };
        vec![Weighed::by_outcome(expected, outcome)]
    }

    fn texts(&self) -> Vec<&str> {
        vec![&self.value_text]
    }

    fn is_plain_question(&self) -> bool {
        true
    }
}

/// Marks a typed figure.
fn mark(figure: &Figure, text: &str, in_time: bool) -> Result<Marked, AnswerError> {
    let verdict = judge(figure, None, text)?;
    let outcome = verdict.outcome(in_time);
    let detail = Detail::Figure { expected: figure.value_text.clone(), error: verdict.error, slip: verdict.slip };
    Ok((outcome, verdict.reason, detail))
}
