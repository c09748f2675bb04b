//! Marks a working: the typed answer against the method's, as a figure is marked, and against the ways in which the
//! deck knows that it goes wrong.
//!
//! Of several things that fit a wrong answer the most telling is told: a deck's own slip before a slip of unit or of
//! the decimal point, because its author knew the calculation. An answer of another dimension is that first of all.

use std::collections::BTreeMap;

use super::figure::{Standing, Verdict, judge};
use super::{AnswerError, Detail, LineValue, Marked, Slip, SlipKind};
use crate::domain::answer::Worked as Given;
use crate::domain::card::Figure;
use crate::domain::quantity::{Quantity, Unit};
use crate::domain::working::{Method, Working, answer_text, draw, result_text, text};

/// Marks a calculation.
pub(super) fn mark(working: &Working, worked: &Given, in_time: bool) -> Result<Marked, AnswerError> {
    let figures = figures(working, worked)?;
    let Ok(method) = Method::new(working) else {
        return Err(AnswerError {
            message: "the card's own formulas have errors, which `bedplate check` lists".into(),
        });
    };
    let right = method.work(&figures).map_err(|(_, error)| AnswerError {
        message: format!("the card has no answer for these figures: {error}; give others"),
    })?;
    let unit = &method.unit().spelling;
    let target = |number: f64| Figure {
        value: Quantity { number, unit: unit.clone() },
        value_text: answer_text(working, number),
        within: working.within.clone(),
    };
    let figure = target(right.answer);
    let mut verdict = judge(&figure, &worked.text)?;
    if verdict.standing == Standing::Wrong && !is_other_dimension(&verdict) {
        let reached = right.slips.iter().zip(&working.slips).find_map(|(number, slip)| {
            let figure = target((*number)?);
            let verdict = judge(&figure, &worked.text).ok()?;
            (verdict.standing != Standing::Wrong).then_some((slip, verdict.standing))
        });
        if let Some((slip, standing)) = reached {
            verdict = known_slip(verdict, &slip.tell, standing);
        }
    }
    let outcome = verdict.outcome(in_time);
    let lines = working.lines.iter().zip(&right.lines);
    let detail = Detail::Working {
        givens: texts(working, &figures),
        lines: lines
            .map(|(line, value)| LineValue { name: line.name.clone(), value: result_text(working, value) })
            .collect(),
        expected: figure.value_text,
        error: verdict.error,
        slip: verdict.slip,
        worksheet: Vec::new(),
    };
    Ok((outcome, verdict.reason, detail))
}

fn is_other_dimension(verdict: &Verdict) -> bool {
    verdict.slip.as_ref().is_some_and(|slip| slip.kind == SlipKind::Dimension)
}

/// What is told of an answer that a slip of the deck comes to.
fn known_slip(verdict: Verdict, tell: &str, standing: Standing) -> Verdict {
    let reason = match standing {
        Standing::UnitMissing => format!("{tell} And the unit is missing."),
        _ => tell.to_owned(),
    };
    Verdict { slip: Some(Slip { kind: SlipKind::Deck, tell: tell.to_owned() }), reason, ..verdict }
}

fn texts(working: &Working, figures: &[Quantity]) -> BTreeMap<String, String> {
    working.givens.iter().zip(figures).map(|(given, figure)| (given.name.clone(), text(given, figure))).collect()
}

/// The figures that the answer was worked out with: those it says, else those of its seed.
fn figures(working: &Working, worked: &Given) -> Result<Vec<Quantity>, AnswerError> {
    let names = || working.givens.iter().map(|given| format!("`{}`", given.name)).collect::<Vec<_>>().join(", ");
    if worked.givens.is_empty() {
        return match worked.seed {
            Some(seed) => Ok(draw(working, seed)),
            None if working.givens.is_empty() => Ok(Vec::new()),
            None => Err(AnswerError { message: format!("say the figures in `givens` ({}) or a `seed`", names()) }),
        };
    }
    if let Some(stranger) = worked.givens.keys().find(|name| !working.givens.iter().any(|given| given.name == **name)) {
        return Err(AnswerError { message: format!("`{stranger}` is none of the card's givens: {}", names()) });
    }
    let figure = |given: &crate::domain::working::Given| {
        let Some(text) = worked.givens.get(&given.name) else {
            return Err(AnswerError {
                message: format!("the given `{}` is missing; the card has {}", given.name, names()),
            });
        };
        let wrong = |why: String| AnswerError { message: format!("the given `{}`: {why}", given.name) };
        let figure = Quantity::parse(text).map_err(|error| wrong(format!("{}; {}", error.message, error.mend)))?;
        let bare = Unit::parse(&figure.unit).is_ok_and(|unit| unit.is_bare()) != given.from.unit.is_empty();
        if bare || !figure.same_dimension(&given.from) {
            let wanted = given.from.described();
            return Err(wrong(format!("it must be {wanted}, such as `{}`", text_of(given))));
        }
        Ok(figure)
    };
    working.givens.iter().map(figure).collect()
}

fn text_of(given: &crate::domain::working::Given) -> String {
    text(given, &given.from)
}
