//! A worksheet worked out by the engine, and said as view data.

use super::question::{LineReport, Question};
use crate::domain::english;
use crate::domain::quantity::{ExpressionError, Value, pretty_unit};
use crate::domain::working::{DIGITS, evaluate};
use crate::present::worksheet::{LineResult, ValueView, quoted, unit_signs};

/// Digits of a value that is taken over as an answer that must be exact.
const MOST_DIGITS: usize = 7;

/// One result for each line.
pub fn work_out(question: &Question) -> Vec<LineReport> {
    let results = evaluate(&question.givens, &question.lines, question.unit.as_deref());
    let digits = digits_for(question.within);
    let report = |(result, line): (crate::domain::working::LineResult, &String)| {
        let note = result.note.map(|note| quoted(&english::sentence(&note))).unwrap_or_default();
        let result = match (&result.error, &result.value) {
            (Some(error), _) => wrong(error, line),
            (None, Some(value)) => {
                LineResult::Value(shown(value, result.number, &result.unit, question.unit.as_deref(), digits))
            }
            (None, None) => LineResult::Nothing,
        };
        LineReport { result, note }
    };
    results.into_iter().zip(&question.lines).map(report).collect()
}

/// So many digits that rounding costs a hundredth of what is allowed, or less.
fn digits_for(within: f64) -> usize {
    if within > 0.0 { ((3.0 - within.log10()).ceil() as usize).clamp(DIGITS, MOST_DIGITS) } else { MOST_DIGITS }
}

fn shown(value: &Value, number: String, unit: &str, wanted: Option<&str>, digits: usize) -> ValueView {
    // A ratio above one is shown as a number, and taken over in the unit that is asked for.
    let taken_in = wanted.filter(|_| unit.is_empty()).unwrap_or(unit);
    let (exact, in_unit) = value.readable(digits, Some(taken_in));
    // Noughts at the end say nothing of a value that is taken over.
    let exact = match exact.contains('.') && !exact.contains('e') {
        true => exact.trim_end_matches('0').trim_end_matches('.'),
        false => exact.as_str(),
    };
    let taken = format!("{exact} {in_unit}").trim_end().to_owned();
    ValueView { number, unit: unit_signs(&pretty_unit(unit)), taken }
}

fn wrong(error: &ExpressionError, line: &str) -> LineResult {
    let mend = if error.mend.is_empty() { String::new() } else { format!(" {}", english::sentence(&error.mend)) };
    let chars = |bytes: usize| line.get(..bytes).map_or_else(|| line.chars().count(), |before| before.chars().count());
    LineResult::Wrong {
        words: quoted(&format!("{}{mend}", english::sentence(&error.message))),
        place: Some(chars(error.span.start)..chars(error.span.end)),
        follows: error.is_consequence(),
    }
}
