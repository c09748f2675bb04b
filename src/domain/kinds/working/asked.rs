//! What a working asks, in lines. The ways in which the deck knows that it goes wrong are none of it.

use crate::domain::editions::{Line, Part, What, number};
use crate::domain::working::Working;

/// What a calculation asks.
pub(super) fn asked(working: &Working) -> Vec<Part> {
    let givens = working.givens.iter().map(|given| {
        let [from, to, step] = [&given.from, &given.to, &given.step].map(number);
        Line::new(&format!("{} ({}): {from} to {to} in steps of {step}", given.say, given.name))
    });
    let lines = working.lines.iter().map(|line| Line::new(&format!("{} = {}", line.name, line.is)));
    let asks = working.asks.as_ref().map(|asks| format!(", asked for in {}", asks.unit.spelling));
    let answer = format!("{} in {}{}", working.answer, working.unit, asks.unwrap_or_default());
    vec![
        Part::any_order(What::Givens, givens),
        Part::in_order(What::Method, lines),
        Part::one(What::Answer, &answer),
        Part::one(What::Tolerance, &working.within.written()),
    ]
}
