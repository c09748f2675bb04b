//! A formula worked out on numbers in base units, as a list of steps on a stack.

use std::ops::Range;

use super::error::{ExpressionError, Sort};
use super::functions::Function;

/// A step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Step {
    Constant(f64),
    /// The number of a name, by its place in the scope.
    Load(usize),
    Negate,
    Add,
    Subtract,
    Multiply,
    Divide,
    Power,
    Call(Function, usize),
}

/// A step with the place in the text that is told where it has no value.
pub(super) type PlacedStep = (Step, Range<usize>);

impl Step {
    /// How much work it is, in steps of arithmetic.
    pub(super) fn work(self) -> usize {
        match self {
            Step::Call(function, _) => function.work(),
            _ => 1,
        }
    }
}

/// A sum that is smaller than its parts by this is zero: 358.15 K less 85 degC leaves only the noise of rounding.
const NOISE: f64 = 1e-13;

/// Runs the steps over the names' numbers. `divisor` is told of everything that is divided by, in the order of the
/// steps.
///
/// # Errors
/// Where a step has no value.
pub(super) fn run(
    steps: &[PlacedStep],
    names: &[f64],
    stack: &mut Vec<f64>,
    divisor: &mut impl FnMut(f64),
) -> Result<f64, ExpressionError> {
    stack.clear();
    for (step, span) in steps {
        let value = match *step {
            Step::Constant(number) => number,
            Step::Load(at) => names.get(at).copied().unwrap_or(f64::NAN),
            Step::Negate => -pop(stack),
            Step::Call(function, count) => {
                let from = stack.len().saturating_sub(count);
                let value = function.value(&stack[from..]).map_err(|why| no_value(span, why))?;
                stack.truncate(from);
                value
            }
            Step::Add | Step::Subtract | Step::Multiply | Step::Divide | Step::Power => {
                let right = pop(stack);
                let left = pop(stack);
                if *step == Step::Divide {
                    divisor(right);
                }
                joined(*step, left, right, span)?
            }
        };
        if !value.is_finite() {
            return Err(no_value(span, "a number too large to be written"));
        }
        stack.push(value);
    }
    Ok(pop(stack))
}

/// The steps are made from a tree, so that there is always something to take.
fn pop(stack: &mut Vec<f64>) -> f64 {
    stack.pop().unwrap_or(f64::NAN)
}

fn joined(step: Step, left: f64, right: f64, span: &Range<usize>) -> Result<f64, ExpressionError> {
    match step {
        Step::Add => Ok(sum(left, right)),
        Step::Subtract => Ok(sum(left, -right)),
        Step::Multiply => Ok(left * right),
        Step::Divide if right == 0.0 => Err(by_zero(span)),
        Step::Divide => Ok(left / right),
        _ if left == 0.0 && right < 0.0 => Err(by_zero(span)),
        _ if left < 0.0 && right.fract() != 0.0 => Err(no_value(span, "a broken power of a number below zero")),
        _ => Ok(left.powf(right)),
    }
}

fn sum(left: f64, right: f64) -> f64 {
    let sum = left + right;
    if sum.abs() <= NOISE * left.abs().max(right.abs()) { 0.0 } else { sum }
}

fn by_zero(span: &Range<usize>) -> ExpressionError {
    let mend = "see which figures make it zero";
    ExpressionError::new(Sort::DividesByZero, span.clone(), "this divides by zero", mend)
}

fn no_value(span: &Range<usize>, why: &str) -> ExpressionError {
    let mend = "see which figures bring this about";
    ExpressionError::new(Sort::NoValue, span.clone(), format!("this is {why}"), mend)
}
