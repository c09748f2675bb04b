//! The figures that an answer was worked out with: those it says, else those of its seed.

use crate::domain::answer::Worked;
use crate::domain::marking::AnswerError;
use crate::domain::quantity::Quantity;
use crate::domain::working::{Given, Working, draw, text};

/// The figures in the order of the card's givens.
///
/// # Errors
/// Where there are none, one is missing or unknown, or one cannot be read or is of another kind than the card's.
/// Figures outside the card's ranges are taken.
pub(super) fn of(working: &Working, worked: &Worked) -> Result<Vec<Quantity>, AnswerError> {
    let names = || working.givens.iter().map(|given| format!("`{}`", given.name)).collect::<Vec<_>>().join(", ");
    if worked.givens.is_empty() {
        return match worked.seed {
            Some(seed) => Ok(draw(working, seed)),
            None => Err(AnswerError { message: format!("say the figures in `givens` ({}) or a `seed`", names()) }),
        };
    }
    if let Some(stranger) = worked.givens.keys().find(|name| !working.givens.iter().any(|given| given.name == **name)) {
        return Err(AnswerError { message: format!("`{stranger}` is none of the card's givens: {}", names()) });
    }
    let figure = |given: &Given| match worked.givens.get(&given.name) {
        Some(text) => read(given, text),
        None => {
            Err(AnswerError { message: format!("the given `{}` is missing; the card has {}", given.name, names()) })
        }
    };
    working.givens.iter().map(figure).collect()
}

fn read(given: &Given, written: &str) -> Result<Quantity, AnswerError> {
    let wrong = |why: String| AnswerError { message: format!("the given `{}`: {why}", given.name) };
    let figure = Quantity::parse(written).map_err(|error| wrong(format!("{}; {}", error.message, error.mend)))?;
    if !figure.same_dimension(&given.from) {
        let sample = text(given, &given.from);
        return Err(wrong(format!("it must be {}, such as `{sample}`", given.from.described())));
    }
    Ok(figure)
}
