//! A working tried on many figures: all of them where they are few, else the corners of their ranges and 200 draws.
//! What it finds goes to whoever checks the deck. The draws are always the same.

use super::card::Working;
use super::draw::{Range, Tolerance};
use super::method::{Method, Part, Room};
use super::zero::{self, Divisor};
use crate::domain::quantity::{ExpressionError, Quantity};
use crate::domain::random::SplitMix64;

/// What trying a working has shown.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Findings {
    /// Figures for which a part has no value: the first found for each part.
    pub failures: Vec<Failure>,
    /// Slips that come within the tolerance of the right answer, from 0, each with the share of draws in which they do.
    pub right_slips: Vec<(usize, f64)>,
    /// Slips that come to the same in every draw, from 0.
    pub like_slips: Vec<(usize, usize)>,
    /// Slips that have no value in any draw, from 0.
    pub lost_slips: Vec<usize>,
    /// An answer of zero or below where others are above zero, in the card's unit, with its figures.
    pub sign: Option<(f64, Vec<Quantity>)>,
    /// The least answer, in the card's unit.
    pub least: Option<f64>,
    /// The answer must be exact, and its figures go on beyond what a learner would write.
    pub is_ragged: bool,
}

/// Figures for which a part has no value.
#[derive(Debug, Clone, PartialEq)]
pub struct Failure {
    /// Which part.
    pub part: Part,
    /// Why.
    pub error: ExpressionError,
    /// The figures, in the order of the givens.
    pub figures: Vec<Quantity>,
}

/// Below so many different draws all are tried.
const FEW: u64 = 512;
/// So many givens have all their corners tried; of more, so many corners are.
const CORNERED: usize = 7;
const CORNERS: u64 = 128;
/// So many draws beside the corners.
const DRAWS: u64 = 200;
/// Trying one working may take this many steps of arithmetic; a long method is tried on fewer figures.
const WORK: usize = 60_000;
const FEWEST: usize = 16;
/// Digits that a learner would write.
const WRITTEN_DIGITS: i32 = 5;

/// Tries a working.
pub fn sample(working: &Working, method: &Method) -> Findings {
    let ranges: Vec<Range> = working.givens.iter().map(Range::of).collect();
    let mut trial = Trial::new(working, method, &ranges);
    for steps in draws(&ranges, method.work_size()) {
        trial.draw(&steps);
    }
    trial.hunt();
    trial.findings()
}

/// The draws as steps from each given's least figure.
fn draws(ranges: &[Range], work: usize) -> Vec<Vec<u64>> {
    let total = ranges.iter().try_fold(1u64, |total, range| total.checked_mul(range.steps + 1));
    let mut draws = match total.filter(|total| *total <= FEW) {
        Some(total) => (0..total).map(|at| all(ranges, at)).collect(),
        None => some(ranges),
    };
    let most = (WORK / work.max(1)).max(FEWEST);
    if draws.len() > most {
        // Evenly from corners and draws.
        let every = draws.len().div_ceil(most);
        draws = draws.into_iter().step_by(every).collect();
    }
    draws
}

/// The draw of this number out of all that there are.
fn all(ranges: &[Range], mut at: u64) -> Vec<u64> {
    let digit = |range: &Range| {
        let count = range.steps + 1;
        let step = at % count;
        at /= count;
        step
    };
    ranges.iter().map(digit).collect()
}

fn some(ranges: &[Range]) -> Vec<Vec<u64>> {
    let corner = |choose: u64| {
        ranges.iter().enumerate().map(|(n, range)| if choose >> (n % 64) & 1 == 1 { range.steps } else { 0 }).collect()
    };
    let mut bits = SplitMix64::new(DRAWS);
    let corners: Vec<u64> = match ranges.len() {
        few @ ..=CORNERED => (0..1 << few).collect(),
        _ => [0, u64::MAX].into_iter().chain((2..CORNERS).map(|_| bits.below(u64::MAX))).collect(),
    };
    let draw = |seed: u64| {
        let mut numbers = SplitMix64::new(seed);
        ranges.iter().map(|range| numbers.below(range.steps + 1)).collect()
    };
    corners.into_iter().map(corner).chain((0..DRAWS).map(draw)).collect()
}

struct Trial<'a> {
    working: &'a Working,
    method: &'a Method,
    ranges: &'a [Range],
    room: Room,
    tolerance: Tolerance,
    divisors: Vec<Divisor>,
    seen: Vec<f64>,
    drawn: usize,
    right: Vec<usize>,
    found: Vec<usize>,
    /// For each pair of slips whether they have been alike so far.
    alike: Vec<bool>,
    positive: bool,
    ragged: usize,
    result: Findings,
}

impl<'a> Trial<'a> {
    fn new(working: &'a Working, method: &'a Method, ranges: &'a [Range]) -> Self {
        let slips = working.slips.len();
        Self {
            working,
            method,
            ranges,
            room: Room::default(),
            tolerance: working.tolerance(),
            divisors: Vec::new(),
            seen: Vec::new(),
            drawn: 0,
            right: vec![0; slips],
            found: vec![0; slips],
            alike: vec![true; slips * slips],
            positive: false,
            ragged: 0,
            result: Findings::default(),
        }
    }

    fn draw(&mut self, steps: &[u64]) {
        let answer = self.run(steps);
        self.watch(steps);
        match answer {
            Ok(answer) => {
                self.drawn += 1;
                self.answer(answer, steps);
                self.slips(answer);
            }
            Err((part, error)) => self.failure(part, error, steps),
        }
    }

    /// The answer for these steps; what it divides by is left in `seen`.
    fn run(&mut self, steps: &[u64]) -> Result<f64, (Part, ExpressionError)> {
        self.room.numbers.clear();
        self.room.numbers.extend(self.ranges.iter().zip(steps).map(|(range, steps)| range.base_number(*steps)));
        self.seen.clear();
        let seen = &mut self.seen;
        self.method.run(&mut self.room, None, &mut |divisor| seen.push(divisor))
    }

    /// What the divisor of this number is for these steps; none where it is not reached.
    fn divisor(&mut self, number: usize, steps: &[u64]) -> Option<f64> {
        // Where it has no value it may still have got so far.
        let _ = self.run(steps);
        self.seen.get(number).copied()
    }

    fn watch(&mut self, steps: &[u64]) {
        for (number, value) in self.seen.iter().enumerate() {
            match self.divisors.get_mut(number) {
                None => self.divisors.push(Divisor {
                    least: *value,
                    least_at: steps.to_vec(),
                    greatest: *value,
                    greatest_at: steps.to_vec(),
                }),
                Some(divisor) if *value < divisor.least => {
                    divisor.least = *value;
                    divisor.least_at = steps.to_vec();
                }
                Some(divisor) if *value > divisor.greatest => {
                    divisor.greatest = *value;
                    divisor.greatest_at = steps.to_vec();
                }
                Some(_) => {}
            }
        }
    }

    fn answer(&mut self, answer: f64, steps: &[u64]) {
        self.positive |= answer > 0.0;
        let is_less = self.result.least.is_none_or(|least| answer < least);
        if is_less {
            self.result.least = Some(answer);
            if answer <= 0.0 {
                self.result.sign = Some((answer, self.figures(steps)));
            }
        }
        let scale = 10f64.powi(WRITTEN_DIGITS - 1 - answer.abs().log10().floor().clamp(-300.0, 300.0) as i32);
        let rounded = (answer * scale).round() / scale;
        self.ragged += usize::from(answer != 0.0 && (rounded - answer).abs() > 1e-6 * answer.abs());
    }

    fn slips(&mut self, answer: f64) {
        let near = self.tolerance.around(answer);
        let values: Vec<Option<f64>> = (0..self.right.len()).map(|at| self.method.slip(at, &mut self.room)).collect();
        for (at, value) in values.iter().enumerate() {
            let Some(value) = value else { continue };
            self.found[at] += 1;
            self.right[at] += usize::from((value - answer).abs() <= near);
        }
        for (a, first) in values.iter().enumerate() {
            for (b, second) in values.iter().enumerate().skip(a + 1) {
                let alike = match (first, second) {
                    (Some(first), Some(second)) => (first - second).abs() <= self.tolerance.around(*first),
                    _ => false,
                };
                self.alike[a * values.len() + b] &= alike;
            }
        }
    }

    fn figures(&self, steps: &[u64]) -> Vec<Quantity> {
        self.working.givens.iter().zip(steps).map(|(given, steps)| given.at(*steps)).collect()
    }

    fn failure(&mut self, part: Part, error: ExpressionError, steps: &[u64]) {
        let known = |failure: &&Failure| failure.part == part && failure.error.sort == error.sort;
        if self.result.failures.iter().find(known).is_none() {
            let figures = self.figures(steps);
            self.result.failures.push(Failure { part, error, figures });
        }
    }

    /// Looks for figures that make a divisor zero which was below zero for some and above it for others.
    fn hunt(&mut self) {
        let crossing = |divisor: &(usize, Divisor)| divisor.1.least < 0.0 && divisor.1.greatest > 0.0;
        let divisors: Vec<(usize, Divisor)> = self.divisors.iter().cloned().enumerate().filter(crossing).collect();
        for (number, divisor) in divisors {
            if let Some(steps) = zero::find(&divisor, |steps| self.divisor(number, steps))
                && let Err((part, error)) = self.run(&steps)
            {
                self.failure(part, error, &steps);
            }
        }
    }

    fn findings(mut self) -> Findings {
        let slips = self.right.len();
        let drawn = self.drawn as f64;
        let right = self.right.iter().enumerate().filter(|(_, right)| **right > 0);
        self.result.right_slips = right.map(|(at, right)| (at, *right as f64 / drawn)).collect();
        let lost = |at: &usize| self.drawn > 0 && self.found[*at] == 0;
        self.result.lost_slips = (0..slips).filter(lost).collect();
        let pairs = (0..slips).flat_map(|a| (a + 1..slips).map(move |b| (a, b)));
        self.result.like_slips = pairs.filter(|(a, b)| self.drawn > 0 && self.alike[a * slips + b]).collect();
        // Of one sign throughout, it is meant.
        let zero = self.result.least == Some(0.0);
        if !self.positive && !zero {
            self.result.sign = None;
        }
        let is_exact = self.working.within == crate::domain::quantity::Within::Exact;
        self.result.is_ragged = is_exact && self.ragged * 2 > self.drawn;
        self.result
    }
}
