//! Cronbach's alpha with what it is worth: its standard error, its interval, and the standard error of measurement.
//!
//! All variances have one divisor. Items that are alike for all stay in the number of items. The standard error is of the
//! large-sample normal theory with n-1 (van Zyl, Neudecker and Nel, Psychometrika 65, 2000; Duhachek and Iacobucci, J.
//! Appl. Psychol. 89, 2004), the interval Feldt's (Psychometrika 30, 1965), and the standard error of measurement takes
//! the standard deviation with n-1.

use statrs::distribution::{ContinuousCDF, FisherSnedecor};

use super::items::{Figure, Why, are_alike, complete};

/// Of Feldt's interval, on either side.
const TAIL: f64 = 0.025;

/// How well a set of items measures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reliability {
    /// Learners who have a first attempt on every item: what all rests on.
    pub learners: usize,
    /// Items, those alike for all among them.
    pub items: usize,
    /// Cronbach's alpha; of right and wrong it is KR-20.
    pub alpha: Figure,
    /// Standard error of alpha.
    pub se: Figure,
    /// Lower end of the 95 % interval.
    pub low: Figure,
    /// Upper end.
    pub high: Figure,
    /// Standard error of measurement, in items right.
    pub sem: Figure,
}

/// Works it out. `answers` has a row for each learner: right, wrong, or none.
pub fn reliability(answers: &[Vec<Option<bool>>], items: usize) -> Reliability {
    let whole = if items == 0 { Vec::new() } else { complete(answers) };
    let n = whole.len();
    let none = |why: Why| {
        let no = Err(why);
        Reliability { learners: n, items, alpha: no, se: no, low: no, high: no, sem: no }
    };
    if items < 2 {
        return none(Why::OneItem);
    }
    if n < 2 {
        return none(Why::FewComplete(n));
    }
    let totals: Vec<f64> = whole.iter().map(|row| row.iter().filter(|right| **right).count() as f64).collect();
    if are_alike(&totals) {
        return none(Why::TotalsAlike);
    }
    let sums = Sums::of(&whole, &totals);
    let (k, divisor) = (items as f64, n as f64 - 1.0);
    let alpha = k / (k - 1.0) * (1.0 - sums.items / sums.total);
    // The divisor of the covariances cancels out.
    let spread = sums.total * (sums.squares + sums.items * sums.items) - 2.0 * sums.items * sums.with_total;
    let variance = 2.0 * k * k / ((k - 1.0).powi(2) * sums.total.powi(3)) * spread;
    let end = |share: f64| {
        FisherSnedecor::new(divisor, divisor * (k - 1.0)).map(|f| 1.0 - (1.0 - alpha) * f.inverse_cdf(share))
    };
    let (low, high) = (end(1.0 - TAIL).unwrap_or(f64::NAN), end(TAIL).unwrap_or(f64::NAN));
    Reliability {
        learners: n,
        items,
        alpha: Ok(alpha),
        se: Ok((variance.max(0.0) / divisor).sqrt()),
        low: Ok(low),
        high: Ok(high),
        sem: Ok((sums.total / divisor).sqrt() * (1.0 - alpha).max(0.0).sqrt()),
    }
}

/// Sums of squares and products about the means, undivided.
struct Sums {
    /// Of the items' variances.
    items: f64,
    /// Of the totals.
    total: f64,
    /// Of the squares of all covariances.
    squares: f64,
    /// Of the squares of each item's covariance with the total.
    with_total: f64,
}

impl Sums {
    fn of(whole: &[Vec<bool>], totals: &[f64]) -> Self {
        let n = whole.len() as f64;
        let items = whole.first().map_or(0, Vec::len);
        let means: Vec<f64> = (0..items).map(|at| whole.iter().filter(|row| row[at]).count() as f64 / n).collect();
        let mean_total = totals.iter().sum::<f64>() / n;
        let centred: Vec<Vec<f64>> = whole
            .iter()
            .map(|row| row.iter().zip(&means).map(|(right, mean)| f64::from(u8::from(*right)) - mean).collect())
            .collect();
        let with_total = (0..items).map(|at| {
            centred.iter().zip(totals).map(|(row, total)| row[at] * (total - mean_total)).sum::<f64>().powi(2)
        });
        // The squares of the covariances of items have the sum of those of the products of learners, who are fewer.
        let product = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(x, y)| x * y).sum::<f64>();
        let squares = centred.iter().flat_map(|a| centred.iter().map(move |b| product(a, b).powi(2)));
        Self {
            items: centred.iter().flatten().map(|x| x * x).sum(),
            total: totals.iter().map(|total| (total - mean_total).powi(2)).sum(),
            squares: squares.sum(),
            with_total: with_total.sum(),
        }
    }
}
