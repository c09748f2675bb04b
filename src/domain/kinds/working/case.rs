//! Everything that marking one answer looks at: the method, the figures, and what the typed answer comes to.

use std::collections::BTreeMap;

use super::figures;
use crate::domain::answer::Worked as Given;
use crate::domain::kinds::figure::{Figure, Standing, Verdict, judge};
use crate::domain::marking::AnswerError;
use crate::domain::quantity::{Quantity, Value};
use crate::domain::working::{Method, Worked, Working, answer_text, base_number, text};

/// Everything that marking one answer looks at.
pub(super) struct Case<'a> {
    pub(super) working: &'a Working,
    pub(super) method: Method,
    /// In the order of the givens.
    pub(super) figures: Vec<Quantity>,
    /// Those figures in base units.
    pub(super) numbers: Vec<f64>,
    pub(super) right: Worked,
    /// The answer as typed.
    pub(super) text: &'a str,
}

impl<'a> Case<'a> {
    pub(super) fn new(working: &'a Working, worked: &'a Given) -> Result<Self, AnswerError> {
        let figures = figures::of(working, worked)?;
        let Ok(method) = Method::new(working) else {
            let message = "the card's own formulas have errors, which `bedplate check` lists".to_owned();
            return Err(AnswerError { message });
        };
        let right = method.work(&figures).map_err(|(_, error)| AnswerError {
            message: format!("the card has no answer for these figures: {error}; give others"),
        })?;
        let numbers = figures.iter().map(base_number).collect();
        Ok(Self { working, method, figures, numbers, right, text: &worked.text })
    }

    /// The typed answer against a right one, which need not be the card's.
    pub(super) fn against(&self, answer: f64) -> Result<Verdict, AnswerError> {
        let figure = Figure {
            value: Quantity { number: answer, unit: self.method.unit().spelling.clone() },
            value_text: answer_text(self.working, answer),
            within: self.working.within.clone(),
        };
        judge(&figure, self.working.asks.as_deref(), self.text)
    }

    /// Whether the typed answer is this one; its unit may be missing.
    pub(super) fn comes_to(&self, answer: f64) -> bool {
        self.against(answer).is_ok_and(|verdict| verdict.standing != Standing::Wrong)
    }

    pub(super) fn givens(&self) -> BTreeMap<String, String> {
        let givens = self.working.givens.iter().zip(&self.figures);
        givens.map(|(given, figure)| (given.name.clone(), text(given, figure))).collect()
    }

    /// The right answer as a value.
    pub(super) fn answer_value(&self) -> Value {
        Value::in_unit(self.right.answer, self.method.unit())
    }
}
