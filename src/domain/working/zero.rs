//! Looking for round figures that make a divisor exactly zero, between figures where it is below and above zero.
//!
//! The way leads from the one to the other by one given at a time; where the divisor changes its sign on the way of a
//! given, halving finds the step at which it does. Every order of the givens that is a turn of the deck's is tried.

use super::sample::{Divisor, Trial};

/// Of longer workings not every order is tried.
const MOST_ORDERS: usize = 8;

/// Steps at which the divisor of this number is zero; none where none are found.
pub(super) fn find(trial: &mut Trial<'_>, number: usize, divisor: &Divisor) -> Option<Vec<u64>> {
    let count = trial.ranges.len();
    (0..count.min(MOST_ORDERS)).find_map(|turn| {
        let mut at = divisor.least_at.clone();
        for n in 0..count {
            let given = (n + turn) % count;
            let before = at.clone();
            at[given] = divisor.greatest_at[given];
            let (first, last) = (trial.divisor(number, &before)?, trial.divisor(number, &at)?);
            for (value, steps) in [(first, &before), (last, &at)] {
                if value == 0.0 {
                    return Some(steps.clone());
                }
            }
            if first.signum() != last.signum() {
                return halve(trial, number, given, before, at[given]);
            }
        }
        None
    })
}

/// Halves the way of one given until its two ends are neighbours.
fn halve(trial: &mut Trial<'_>, number: usize, given: usize, mut low: Vec<u64>, mut high: u64) -> Option<Vec<u64>> {
    let sign = trial.divisor(number, &low)?.signum();
    loop {
        let middle = low[given].midpoint(high);
        if middle == low[given] || middle == high {
            return None;
        }
        let mut steps = low.clone();
        steps[given] = middle;
        let value = trial.divisor(number, &steps)?;
        if value == 0.0 {
            return Some(steps);
        }
        if value.signum() == sign {
            low = steps;
        } else {
            high = middle;
        }
    }
}
