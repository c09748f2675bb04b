//! What the kinds share in marking: positions held to what a card has, small numbers in words, and the rule of what is
//! counted.

use super::data::AnswerError;
use crate::domain::english::{capital as sentence, in_words};
use crate::domain::outcome::Outcome;

/// Checks that positions count from 1 to `count` and that none stands twice.
pub(in crate::domain) fn check_positions(positions: &[usize], count: usize, what: &str) -> Result<(), AnswerError> {
    let mut seen = vec![false; count];
    for &position in positions {
        let Some(seen) = position.checked_sub(1).and_then(|at| seen.get_mut(at)) else {
            return Err(AnswerError { message: format!("{what} {position} does not exist; use 1 to {count}") });
        };
        if std::mem::replace(seen, true) {
            return Err(AnswerError { message: format!("{what} {position} is given twice; give each at most once") });
        }
    }
    Ok(())
}

/// The fewest of so many that still make a prompted answer; none where all or nothing counts.
pub(in crate::domain) fn least_for_prompted(all: usize) -> Option<usize> {
    (1..all).find(|right| Outcome::from_share(*right as f64, all as f64, false) == Outcome::Prompted)
}

pub(in crate::domain) fn at_least(least: usize) -> String {
    sentence(&format!("{} or more", in_words(least)))
}

/// `All five said: Answered, within 55 s Fluent. Three or four: Prompted. Fewer, or ...: Missed.`
pub(in crate::domain) fn counted(all: usize, how: &str, more: &str, fluent: &str, or: Option<&str>) -> String {
    let or = or.map_or_else(String::new, |or| format!(", or {or}"));
    let whole = if all == 1 { sentence(how) } else { format!("All {} {how}", in_words(all)) };
    let some = match least_for_prompted(all) {
        Some(least) if least + 1 == all => format!(" {}: Prompted.", sentence(&in_words(least))),
        Some(least) if least + 2 == all => {
            format!(" {} or {}: Prompted.", sentence(&in_words(least)), in_words(all - 1))
        }
        Some(least) => format!(" {} to {}: Prompted.", sentence(&in_words(least)), in_words(all - 1)),
        None => String::new(),
    };
    let less = if all == 1 { format!("Not {how}: Missed.") } else { format!("Fewer{or}: Missed.") };
    format!("{whole}: Answered{fluent}.{some} {less}{more}")
}
