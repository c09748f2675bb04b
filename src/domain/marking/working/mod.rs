//! Marks a working: the typed answer against the method's, as a figure is marked; then against the ways in which the
//! deck knows that it goes wrong; then against slips that any calculation can have (`guess`); and at last the lines of
//! the worksheet against those of the method (`credit`), for a wrong answer with one slip in it is no worse than
//! prompted.
//!
//! Of several things that fit a wrong answer the most telling is told: a deck's own slip before a slip of unit or of
//! the decimal point, because its author knew the calculation, and these before a guess. An answer of another dimension
//! is that first of all.

mod credit;
mod figures;
mod guess;

use std::collections::BTreeMap;

use super::figure::{Standing, Verdict, judge};
use super::{AnswerError, Detail, LineValue, Marked, Slip, SlipKind};
use crate::domain::answer::Worked as Given;
use crate::domain::card::Figure;
use crate::domain::outcome::Outcome;
use crate::domain::quantity::{Quantity, Value};
use crate::domain::working::{Method, Worked, Working, answer_text, base_number, line_text, text};

/// Everything that marking one answer looks at.
struct Case<'a> {
    working: &'a Working,
    method: Method,
    /// In the order of the givens.
    figures: Vec<Quantity>,
    /// The same in base units.
    numbers: Vec<f64>,
    right: Worked,
    /// The answer as typed.
    text: &'a str,
}

/// Marks a calculation.
pub(super) fn mark(working: &Working, worked: &Given, in_time: bool) -> Result<Marked, AnswerError> {
    let case = Case::new(working, worked)?;
    let verdict = case.verdict()?;
    let (worksheet, credit) = credit::judge(&case, &verdict, &worked.lines);
    let (outcome, reason) = match credit {
        Some(reason) if verdict.standing == Standing::Wrong => (Outcome::Prompted, reason),
        _ => (verdict.outcome(in_time), verdict.reason),
    };
    let lines = working.lines.iter().zip(&case.right.lines);
    let detail = Detail::Working {
        givens: case.givens(),
        lines: lines
            .map(|(line, value)| LineValue { name: line.name.clone(), value: line_text(working, &line.name, value) })
            .collect(),
        expected: answer_text(working, case.right.answer),
        error: verdict.error,
        slip: verdict.slip,
        worksheet,
    };
    Ok((outcome, reason, detail))
}

impl<'a> Case<'a> {
    fn new(working: &'a Working, worked: &'a Given) -> Result<Self, AnswerError> {
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
    fn against(&self, answer: f64) -> Result<Verdict, AnswerError> {
        let figure = Figure {
            value: Quantity { number: answer, unit: self.method.unit().spelling.clone() },
            value_text: answer_text(self.working, answer),
            within: self.working.within.clone(),
        };
        judge(&figure, self.working.asks.as_deref(), self.text)
    }

    /// Whether the typed answer is this one; its unit may be missing.
    fn comes_to(&self, answer: f64) -> bool {
        self.against(answer).is_ok_and(|verdict| verdict.standing != Standing::Wrong)
    }

    /// The verdict on the answer alone, with the slip that explains it best.
    fn verdict(&self) -> Result<Verdict, AnswerError> {
        let verdict = self.against(self.right.answer)?;
        let other_dimension = verdict.slip.as_ref().is_some_and(|slip| slip.kind == SlipKind::Dimension);
        if verdict.standing != Standing::Wrong || other_dimension {
            return Ok(verdict);
        }
        for (number, slip) in self.right.slips.iter().zip(&self.working.slips) {
            let Some(number) = number else { continue };
            let standing = self.against(*number)?.standing;
            if standing != Standing::Wrong {
                return Ok(known_slip(verdict, &slip.tell, standing));
            }
        }
        match verdict
            .given
            .filter(|_| credit::explanation(&verdict).is_none())
            .and_then(|given| guess::answer(self, given))
        {
            Some(tell) => Ok(Verdict { reason: format!("{} {tell}", verdict.reason), ..verdict }),
            None => Ok(verdict),
        }
    }

    fn givens(&self) -> BTreeMap<String, String> {
        let givens = self.working.givens.iter().zip(&self.figures);
        givens.map(|(given, figure)| (given.name.clone(), text(given, figure))).collect()
    }

    /// The right answer as a value.
    fn answer_value(&self) -> Value {
        Value::in_unit(self.right.answer, self.method.unit())
    }
}

/// What is told of an answer that a slip of the deck comes to.
fn known_slip(verdict: Verdict, tell: &str, standing: Standing) -> Verdict {
    let reason = match standing {
        Standing::UnitMissing => format!("{tell} And the unit is missing."),
        _ => tell.to_owned(),
    };
    Verdict { slip: Some(Slip { kind: SlipKind::Deck, tell: tell.to_owned() }), reason, ..verdict }
}
