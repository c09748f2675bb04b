//! What is believed of a learner beyond the memory model, from their own answers. Bayesian.
//!
//! All on the logit scale, with a normal prior for each and a posterior by Laplace's approximation:
//! - `memory` of a function: by how much forecasts of recall lie off in its watches, what they share and its own part;
//! - `unseen` of a function: how well cards never met are answered;
//! - `oral` of a function on a day: how much better or worse is answered under an examiner than in a watch. It drifts:
//!   what a sitting says of it is worth half after [`HALF_LIFE_DAYS`];
//! - the form of one sitting's day, whose spread is one of [`SPREADS`], weighed by how well it explains the sittings.
//!
//! A review in a watch counts by its outcome, a lead question of a sitting by whether its marks reached the pass mark, so
//! that a sitting at 0 % pulls `oral` down and, through what functions share, all functions. How often a question that is
//! not answered well, of a card with safety-critical points, fails the oral is a rate of its own, counted in the sittings.

use super::evidence::{Evidence, Sat};
use super::form::{logistic, logit};
use super::linear::{cholesky, inverse, ln_determinant, times};
use crate::domain::day::StudyDay;

/// Standard deviations before any answer: what functions share, and a function's own part. Ours, no published source;
/// chosen so that ranges hold the truth of simulated learners nine times in ten at every stage (`tests/all/readiness/honesty.rs`),
/// a little wider than those learners differ.
const MEMORY_PRIOR: (f64, f64) = (0.7, 0.35);
const UNSEEN_PRIOR: (f64, f64) = (1.2, 0.8);
const ORAL_PRIOR: (f64, f64) = (0.85, 0.5);
/// Unseen cards are taken to be answered well three times in ten, before any first answer.
const UNSEEN_MEAN: f64 = 0.3;
/// What a sitting says of how orals are answered is worth half after so many days.
const HALF_LIFE_DAYS: f64 = 30.0;
/// Spreads of the form of the day (standard deviations), with their weights before any sitting: thirds of the positive
/// half of a normal distribution of standard deviation 0.5.
const SPREADS: [(f64, f64); 3] = [(0.15, 0.45), (0.45, 0.32), (0.85, 0.23)];
/// Before any sitting, a miss of a card with safety-critical points fails the oral with a chance from a beta
/// distribution of these parameters.
const FATAL_PRIOR: (f64, f64) = (2.0, 2.0);
/// No forecast is taken to be nearer to certainty: nobody is certain under an examiner, least of all because the last
/// answer was minutes ago.
pub(super) const CERTAIN: (f64, f64) = (0.02, 0.97);

/// What is believed of a learner on a day: a set of weighted normal distributions.
#[derive(Debug, Clone, PartialEq)]
pub struct Belief {
    /// How many functions.
    pub(super) functions: usize,
    /// One for each spread of the form of the day; their weights add up to 1.
    pub(super) forms: Vec<Form>,
    /// Chances that a miss of a safety-critical card fails the oral, with weights that add up to 1.
    pub(super) fatal: [(f64, f64); 3],
}

/// What is believed where the form of the day has this spread.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Form {
    /// The spread.
    pub(super) spread: f64,
    /// How likely it is.
    pub(super) weight: f64,
    /// Means: for each function by how much forecasts of memory lie off, then for each the level of unseen cards in a
    /// watch, then for each how much better is answered in an oral.
    pub(super) mean: Vec<f64>,
    /// The lower Cholesky factor of their covariance.
    pub(super) root: Vec<f64>,
}

impl Belief {
    /// What the evidence says of the learner on `day`.
    pub fn of(evidence: &Evidence, day: StudyDay) -> Self {
        let functions = evidence.functions().max(1);
        let sittings = evidence.recent();
        let mut forms: Vec<Form> = SPREADS
            .iter()
            .filter_map(|(spread, prior)| {
                let problem = Problem::of(evidence, &sittings, functions, (day, *spread))?;
                let (ln_evidence, mean, root) = problem.solved(functions)?;
                Some(Form { spread: *spread, weight: prior.ln() + ln_evidence, mean, root })
            })
            .collect();
        let most = forms.iter().map(|form| form.weight).fold(f64::NEG_INFINITY, f64::max);
        forms.iter_mut().for_each(|form| form.weight = (form.weight - most).exp());
        let sum: f64 = forms.iter().map(|form| form.weight).sum();
        forms.iter_mut().for_each(|form| form.weight /= sum);
        let fatal = sittings.iter().flat_map(|sat| &sat.questions).filter_map(|question| question.fatal);
        let (lost, of) = fatal.fold((0.0, 0.0), |(lost, of), fatal| (lost + f64::from(u8::from(fatal)), of + 1.0));
        Self { functions, forms, fatal: beta_nodes(FATAL_PRIOR.0 + lost, FATAL_PRIOR.1 + of - lost) }
    }

    /// What is believed before any answer.
    pub fn prior(functions: usize) -> Self {
        Self::of(&Evidence::none(functions), StudyDay(0))
    }

    pub(super) fn mean(&self, at: usize) -> f64 {
        self.forms.iter().map(|form| form.weight * form.mean.get(at).copied().unwrap_or(0.0)).sum()
    }

    /// The shift of a function's cards that have been met, from their forecast to an oral, in the mean.
    pub fn offset(&self, function: usize) -> f64 {
        let function = function.min(self.functions - 1);
        self.mean(function) + self.mean(2 * self.functions + function)
    }

    /// The level of a function's unseen cards in an oral, on the logit scale, in the mean.
    pub fn unseen(&self, function: usize) -> f64 {
        let function = function.min(self.functions - 1);
        self.mean(self.functions + function) + self.mean(2 * self.functions + function)
    }

    /// The spread of the form of the day, in the mean.
    pub fn spread(&self) -> f64 {
        self.forms.iter().map(|form| form.weight * form.spread).sum()
    }

    /// The chance that a miss of a safety-critical card fails the oral, in the mean.
    pub fn fatal(&self) -> f64 {
        self.fatal.iter().map(|(chance, weight)| chance * weight).sum()
    }
}

/// What is to be found: latent values with a normal prior, and answers that speak of sums of two of them.
struct Problem {
    /// How many values: memory and unseen of each function, then the oral of each function in each sitting and on the day.
    n: usize,
    prior_mean: Vec<f64>,
    precision: Vec<f64>,
    ln_prior: f64,
    answers: Vec<Answer>,
}

/// An answer: which values it speaks of, what was forecast (a logit), and the share that was there.
struct Answer {
    first: usize,
    second: Option<usize>,
    level: f64,
    share: f64,
    /// So many answers alike.
    count: f64,
}

impl Problem {
    fn of(evidence: &Evidence, sittings: &[&Sat], k: usize, (day, spread): (StudyDay, f64)) -> Option<Self> {
        let n = 2 * k + (sittings.len() + 1) * k;
        let days: Vec<StudyDay> = sittings.iter().map(|sat| sat.day).chain([day]).collect();
        let mut covariance = vec![0.0; n * n];
        let square = |x: f64| x * x;
        for row in 0..n {
            for column in 0..n {
                let (a, b) = (row / k, column / k);
                let own =
                    |prior: (f64, f64)| square(prior.0) + if row % k == column % k { square(prior.1) } else { 0.0 };
                covariance[row * n + column] = match (a, b) {
                    (0, 0) => own(MEMORY_PRIOR),
                    (1, 1) => own(UNSEEN_PRIOR),
                    (2.., 2..) => {
                        let apart = f64::from((days[a - 2].0 - days[b - 2].0).abs());
                        let kept = 0.5f64.powf(apart / HALF_LIFE_DAYS);
                        // The form of the day itself is integrated over when a chance is worked out.
                        let form = if a == b && a - 2 < sittings.len() { square(spread) } else { 0.0 };
                        kept * own(ORAL_PRIOR) + form + if row == column { 1e-6 } else { 0.0 }
                    }
                    _ => 0.0,
                };
            }
        }
        let factor = cholesky(&covariance, n)?;
        let mut prior_mean = vec![0.0; n];
        prior_mean[k..2 * k].fill(logit(UNSEEN_MEAN));
        let answers = answers(evidence, sittings, k);
        Some(Self { n, prior_mean, precision: inverse(&factor, n), ln_prior: -ln_determinant(&factor, n), answers })
    }

    /// Slope and curvature of the answers' log likelihood at some values, and the likelihood itself.
    fn likelihood(&self, at: &[f64]) -> (f64, Vec<f64>, Vec<f64>) {
        let n = self.n;
        let (mut sum, mut slope, mut bend) = (0.0, vec![0.0; n], self.precision.clone());
        for answer in &self.answers {
            let i = answer.first;
            let level = answer.level + at[i] + answer.second.map_or(0.0, |j| at[j]);
            let p = logistic(level);
            sum += answer.count * (answer.share * ln(p) + (1.0 - answer.share) * ln(1.0 - p));
            let (g, w) = (answer.count * (answer.share - p), answer.count * p * (1.0 - p));
            slope[i] += g;
            bend[i * n + i] += w;
            if let Some(j) = answer.second {
                slope[j] += g;
                bend[j * n + j] += w;
                bend[i * n + j] += w;
                bend[j * n + i] += w;
            }
        }
        (sum, slope, bend)
    }

    /// Laplace's approximation: the logarithm of the evidence, and mean and root of the covariance of what counts on the
    /// day. Log-concave, so that Newton's method with bounded steps comes to its only mode.
    fn solved(&self, k: usize) -> Option<(f64, Vec<f64>, Vec<f64>)> {
        let n = self.n;
        let mut at = self.prior_mean.clone();
        let mut covariance = Vec::new();
        let mut ln_evidence = 0.0;
        for _ in 0..25 {
            let off: Vec<f64> = at.iter().zip(&self.prior_mean).map(|(x, m)| x - m).collect();
            let pull = times(&self.precision, &off);
            let (sum, slope, bend) = self.likelihood(&at);
            let factor = cholesky(&bend, n)?;
            covariance = inverse(&factor, n);
            let apart: f64 = off.iter().zip(&pull).map(|(x, p)| x * p).sum();
            ln_evidence = sum - 0.5 * apart + 0.5 * (self.ln_prior - ln_determinant(&factor, n));
            let uphill: Vec<f64> = slope.iter().zip(&pull).map(|(s, p)| s - p).collect();
            let step = times(&covariance, &uphill);
            let longest = step.iter().fold(0.0_f64, |most, s| most.max(s.abs()));
            let share = (1.5 / longest.max(1e-12)).min(1.0);
            at.iter_mut().zip(&step).for_each(|(x, s)| *x += share * s);
            if longest < 1e-4 {
                break;
            }
        }
        // Memory and unseen of each function, and its oral on the day, which comes last.
        let place = |row: usize| if row < 2 * k { row } else { n - 3 * k + row };
        let mean = (0..3 * k).map(|row| at[place(row)]).collect();
        let mut of_day = vec![0.0; 9 * k * k];
        for row in 0..3 * k {
            for column in 0..3 * k {
                let own = if row == column { 1e-9 } else { 0.0 };
                of_day[row * 3 * k + column] = covariance[place(row) * n + place(column)] + own;
            }
        }
        Some((ln_evidence, mean, cholesky(&of_day, 3 * k)?))
    }
}

fn answers(evidence: &Evidence, sittings: &[&Sat], k: usize) -> Vec<Answer> {
    let level = |forecast: f64| logit(forecast.clamp(CERTAIN.0, CERTAIN.1));
    let share = |well: bool| f64::from(u8::from(well));
    let mut answers = Vec::new();
    for function in 0..k {
        answers.extend(evidence.latest(function).iter().filter(|seen| seen.forecast.is_finite()).map(|seen| Answer {
            first: function,
            second: None,
            level: level(seen.forecast),
            share: share(seen.well),
            count: 1.0,
        }));
        let firsts = evidence.firsts.get(function).copied().unwrap_or_default();
        if firsts.of > 0 {
            let share = firsts.well.min(firsts.of) as f64 / firsts.of as f64;
            answers.push(Answer { first: k + function, second: None, level: 0.0, share, count: firsts.of as f64 });
        }
    }
    for (at, sat) in sittings.iter().enumerate() {
        for question in sat.questions.iter().filter(|question| question.function < k) {
            let forecast = question.forecast.filter(|forecast| forecast.is_finite());
            answers.push(Answer {
                first: question.function + if forecast.is_some() { 0 } else { k },
                second: Some(2 * k + at * k + question.function),
                level: forecast.map_or(0.0, level),
                share: share(question.well),
                count: 1.0,
            });
        }
    }
    answers
}

fn ln(chance: f64) -> f64 {
    chance.max(f64::MIN_POSITIVE).ln()
}

/// Three nodes of a beta-distributed chance, taken as normal on the logit scale: its mean is the difference of digammas,
/// its variance the sum of trigammas.
fn beta_nodes(well: f64, badly: f64) -> [(f64, f64); 3] {
    let (mean_well, bend_well) = polygammas(well);
    let (mean_badly, bend_badly) = polygammas(badly);
    let (mean, deviation) = (mean_well - mean_badly, (bend_well + bend_badly).sqrt());
    let far = 3f64.sqrt() * deviation;
    [(logistic(mean - far), 1.0 / 6.0), (logistic(mean), 2.0 / 3.0), (logistic(mean + far), 1.0 / 6.0)]
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
