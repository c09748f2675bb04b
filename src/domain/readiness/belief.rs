//! What is believed of a learner beyond the memory model: how far its forecasts lie off for them, how much they know of
//! cards that they have not met, and how much one day differs from another. Bayesian, from their own answers.

use super::form::{logistic, logit, normal_nodes};

/// Before any answer: the forecasts of recall may lie off by so much on the logit scale (a standard deviation).
const OFFSET_PRIOR: f64 = 0.4;
/// An oral may be harder or easier than the watch by so much more (a standard deviation), whatever the answers say.
const ORAL_PRIOR: f64 = 0.25;
/// Before any sitting: the spread of the form of the day is taken from the positive half of a normal distribution of
/// this standard deviation.
const SPREAD_PRIOR: f64 = 0.5;
/// Spreads that are looked at.
const SPREADS: usize = 16;
const SPREAD_STEP: f64 = 0.1;
/// Before any first answer: unseen cards are answered well with a chance taken from a beta distribution of these
/// parameters: three in ten, with the weight of four answers.
const UNSEEN_PRIOR: (f64, f64) = (1.2, 2.8);

/// An answer with the chance that was forecast for it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seen {
    /// The forecast, 0 to 1.
    pub forecast: f64,
    /// It was answered well.
    pub well: bool,
}

/// The lead questions of one sitting, with the chances forecast for them on that day.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sitting {
    /// In the order of asking.
    pub questions: Vec<Seen>,
}

/// What is known of the first answers to cards never met before.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct UnseenBelief {
    /// First answers that were right.
    pub well: usize,
    /// First answers.
    pub of: usize,
}

/// What is believed: a set of weighted possibilities.
#[derive(Debug, Clone, PartialEq)]
pub struct Belief {
    /// Their weights add up to 1.
    pub(super) nodes: Vec<Possibility>,
    /// Logits of the chance for unseen cards, with weights that add up to 1.
    pub(super) unseen: [(f64, f64); 3],
}

/// One possibility.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Possibility {
    /// Forecasts lie off by this, on the logit scale.
    pub(super) offset: f64,
    /// The spread of the form of the day.
    pub(super) spread: f64,
    /// How likely it is.
    pub(super) weight: f64,
}

impl Belief {
    /// What the answers say: `reviews` to cards met before (from the watch), `sittings`, and first answers.
    pub fn from(reviews: &[Seen], sittings: &[Sitting], unseen: UnseenBelief) -> Self {
        let (middle, error) = offset(reviews);
        let wide = error.hypot(ORAL_PRIOR);
        let mut nodes = Vec::with_capacity(15 * SPREADS);
        for (x, at_offset) in normal_nodes() {
            let offset = middle + wide * x;
            for step in 0..SPREADS {
                let spread = SPREAD_STEP * step as f64;
                let prior = (-0.5 * (spread / SPREAD_PRIOR).powi(2)).exp();
                // The half-normal's first strip is half as wide as the others.
                let strip = if step == 0 { 0.5 } else { 1.0 };
                let likely: f64 = sittings.iter().map(|sitting| ln_likelihood(sitting, offset, spread)).sum();
                nodes.push(Possibility { offset, spread, weight: (at_offset * prior * strip).ln() + likely });
            }
        }
        let most = nodes.iter().map(|n| n.weight).fold(f64::NEG_INFINITY, f64::max);
        nodes.iter_mut().for_each(|n| n.weight = (n.weight - most).exp());
        let sum: f64 = nodes.iter().map(|n| n.weight).sum();
        nodes.iter_mut().for_each(|n| n.weight /= sum);
        Self { nodes, unseen: unseen_nodes(unseen) }
    }

    /// What is believed before any answer.
    pub fn prior() -> Self {
        Self::from(&[], &[], UnseenBelief::default())
    }

    /// By how much forecasts lie off on the logit scale, in the mean.
    pub fn offset(&self) -> f64 {
        self.nodes.iter().map(|n| n.weight * n.offset).sum()
    }

    /// The spread of the form of the day, in the mean.
    pub fn spread(&self) -> f64 {
        self.nodes.iter().map(|n| n.weight * n.spread).sum()
    }

    /// The chance that an unseen card is answered well, in the mean.
    pub fn unseen(&self) -> f64 {
        self.unseen.iter().map(|(level, weight)| weight * logistic(*level)).sum()
    }
}

/// The offset that the answers speak for, with its standard error: the mode of its posterior and the curvature there.
fn offset(reviews: &[Seen]) -> (f64, f64) {
    let levels: Vec<(f64, f64)> =
        reviews.iter().map(|seen| (logit(seen.forecast.clamp(0.001, 0.999)), f64::from(u8::from(seen.well)))).collect();
    let precision = 1.0 / (OFFSET_PRIOR * OFFSET_PRIOR);
    let slope_and_bend = |at: f64| {
        levels.iter().fold((-at * precision, precision), |(slope, bend), (level, well)| {
            let p = logistic(level + at);
            (slope + well - p, bend + p * (1.0 - p))
        })
    };
    let mut at = 0.0;
    // The posterior is log-concave: Newton's method with bounded steps comes to its only mode.
    for _ in 0..50 {
        let (slope, bend) = slope_and_bend(at);
        let step = (slope / bend).clamp(-1.0, 1.0);
        at += step;
        if step.abs() < 1e-10 {
            break;
        }
    }
    (at, 1.0 / slope_and_bend(at).1.sqrt())
}

/// The logarithm of a sitting's likelihood, integrated over the form of its day.
fn ln_likelihood(sitting: &Sitting, offset: f64, spread: f64) -> f64 {
    let of_form = |x: f64| -> f64 {
        sitting
            .questions
            .iter()
            .map(|seen| {
                let p = logistic(logit(seen.forecast.clamp(0.001, 0.999)) + offset + x);
                if seen.well { p } else { 1.0 - p }
            })
            .product()
    };
    let likelihood =
        if spread == 0.0 { of_form(0.0) } else { normal_nodes().map(|(x, weight)| weight * of_form(spread * x)).sum() };
    likelihood.max(f64::MIN_POSITIVE).ln()
}

/// Three nodes of the logit of a beta-distributed chance, taken as normal: its mean is the difference of digammas,
/// its variance the sum of trigammas.
fn unseen_nodes(unseen: UnseenBelief) -> [(f64, f64); 3] {
    let well = UNSEEN_PRIOR.0 + unseen.well.min(unseen.of) as f64;
    let badly = UNSEEN_PRIOR.1 + unseen.of.saturating_sub(unseen.well) as f64;
    let (mean_well, bend_well) = polygammas(well);
    let (mean_badly, bend_badly) = polygammas(badly);
    let (mean, deviation) = (mean_well - mean_badly, (bend_well + bend_badly).sqrt());
    let far = 3f64.sqrt() * deviation;
    [(mean - far, 1.0 / 6.0), (mean, 2.0 / 3.0), (mean + far, 1.0 / 6.0)]
}

/// Digamma and trigamma of a positive number: the recurrence up to 8, then the asymptotic series (Abramowitz and
/// Stegun, 6.3.18 and 6.4.12).
fn polygammas(mut x: f64) -> (f64, f64) {
    let (mut digamma, mut trigamma) = (0.0, 0.0);
    while x < 8.0 {
        digamma -= 1.0 / x;
        trigamma += 1.0 / (x * x);
        x += 1.0;
    }
    let i = 1.0 / (x * x);
    digamma += x.ln() - 0.5 / x - i * (1.0 / 12.0 - i * (1.0 / 120.0 - i / 252.0));
    trigamma += 1.0 / x + 0.5 * i + i / x * (1.0 / 6.0 - i * (1.0 / 30.0 - i / 42.0));
    (digamma, trigamma)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Against scipy 1.17 `special.digamma` and `special.polygamma(1, x)`.
    #[test]
    fn polygammas_are_right() {
        for (x, digamma, trigamma) in [
            (1.2, -0.289_039_896_592_188_4, 1.267_377_205_423_779),
            (2.8, 0.840_546_988_849_417, 0.428_332_162_193_058_36),
        ] {
            let (d, t) = polygammas(x);
            assert!((d - digamma).abs() < 1e-9, "{x}: {d}");
            assert!((t - trigamma).abs() < 1e-9, "{x}: {t}");
        }
    }
}
