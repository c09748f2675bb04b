//! Looking for round figures that make a divisor exactly zero, between figures where it is below and above zero.
//!
//! The way leads from the one to the other by one given at a time; where the divisor changes its sign on the way of a
//! given, halving finds the step at which it does. Every order of the givens that is a turn of the deck's is tried.

/// A divisor over all draws: the least and the greatest that it was, and where.
#[derive(Clone)]
pub(super) struct Divisor {
    pub(super) least: f64,
    pub(super) least_at: Vec<u64>,
    pub(super) greatest: f64,
    pub(super) greatest_at: Vec<u64>,
}

/// Of longer workings not every order is tried.
const MOST_ORDERS: usize = 8;

/// Steps at which a divisor is zero; none where none are found. `value` gives it for the steps of each given, and none
/// where it is not reached.
pub(super) fn find(divisor: &Divisor, mut value: impl FnMut(&[u64]) -> Option<f64>) -> Option<Vec<u64>> {
    let count = divisor.least_at.len();
    (0..count.min(MOST_ORDERS)).find_map(|turn| {
        let mut at = divisor.least_at.clone();
        for n in 0..count {
            let given = (n + turn) % count;
            let before = at.clone();
            at[given] = divisor.greatest_at[given];
            let (first, last) = (value(&before)?, value(&at)?);
            for (found, steps) in [(first, &before), (last, &at)] {
                if found == 0.0 {
                    return Some(steps.clone());
                }
            }
            if first.signum() != last.signum() {
                return halve(&mut value, given, before, at[given]);
            }
        }
        None
    })
}

/// Halves the way of one given until its two ends are neighbours.
fn halve(
    value: &mut impl FnMut(&[u64]) -> Option<f64>,
    given: usize,
    mut low: Vec<u64>,
    mut high: u64,
) -> Option<Vec<u64>> {
    let sign = value(&low)?.signum();
    loop {
        let middle = low[given].midpoint(high);
        if middle == low[given] || middle == high {
            return None;
        }
        let mut steps = low.clone();
        steps[given] = middle;
        let found = value(&steps)?;
        if found == 0.0 {
            return Some(steps);
        }
        if found.signum() == sign {
            low = steps;
        } else {
            high = middle;
        }
    }
}
