//! Slips that any calculation can have, told only where one of them alone comes to the learner's number.
//!
//! Each is tried by working the method out again with the slip made: the diameter put where the radius belongs, a
//! pressure with the atmosphere added or taken off, a temperature in degrees Celsius where kelvins are wanted, a factor
//! left out or turned over; and a few factors between units that people mix. Nothing is told where two of them fit, or
//! where the slip would hardly change the result.

use super::case::Case;
use crate::domain::quantity::{Quantity, Unit, Value};
use crate::domain::working::{Given, Worked};

/// The standard atmosphere, in pascals.
const ATMOSPHERE: f64 = 101_325.0;
const ZERO_CELSIUS: f64 = 273.15;
/// How near a slip must come, at the least and at the most, as a share.
const NEAR: (f64, f64) = (0.001, 0.01);

/// What went wrong where the answer came to `given`, in the card's unit.
pub(super) fn answer(case: &Case<'_>, given: f64) -> Option<String> {
    guess(case, case.right.answer, given, |worked| worked.answer)
}

/// What went wrong where line `at` of the method came to `given`, in base units.
pub(super) fn line(case: &Case<'_>, at: usize, given: f64) -> Option<String> {
    let right = case.right.lines.get(at)?.base_number();
    guess(case, right, given, |worked| worked.lines.get(at).map_or(f64::NAN, Value::base_number))
}

fn guess(case: &Case<'_>, right: f64, given: f64, result: impl Fn(&Worked) -> f64) -> Option<String> {
    let share = case.working.tolerance().around(case.right.answer) / case.right.answer.abs();
    let near = if share.is_finite() { share.clamp(NEAR.0, NEAR.1) } else { NEAR.1 };
    let is_near = |a: f64, b: f64| (a - b).abs() <= near * b.abs();
    let mut tells: Vec<String> = Vec::new();
    let mut add = |tell: String| {
        if !tells.contains(&tell) {
            tells.push(tell);
        }
    };
    for (numbers, tell) in changes(case) {
        let Ok(worked) = case.method.work_on(&numbers, None) else { continue };
        let wrong = result(&worked);
        // A slip that hardly changes the result explains nothing.
        if wrong.is_finite() && (wrong - right).abs() > 2.0 * near * right.abs() && is_near(given, wrong) {
            add(tell);
        }
    }
    for (factor, tell) in factors(case) {
        if is_near(given, right * factor) || is_near(given, right / factor) {
            add(tell.to_owned());
        }
    }
    (tells.len() == 1).then(|| tells.remove(0))
}

/// The givens' numbers with one slip made, and what to tell of it.
fn changes(case: &Case<'_>) -> Vec<(Vec<f64>, String)> {
    let mut changes = Vec::new();
    for (at, (given, figure)) in case.working.givens.iter().zip(&case.figures).enumerate() {
        let mut change = |number: f64, tell: String| {
            let mut numbers = case.numbers.clone();
            numbers[at] = number;
            changes.push((numbers, tell));
        };
        let number = case.numbers[at];
        match () {
            () if is_of(figure, "m") && says(given, &["bore", "diameter", "dia", "d"]) => {
                change(2.0 * number, "You have taken the diameter for the radius.".to_owned());
                change(number / 2.0, "You have taken the radius for the diameter.".to_owned());
            }
            () if is_of(figure, "m") && says(given, &["radius", "r"]) => {
                change(2.0 * number, "You have taken the diameter for the radius.".to_owned());
            }
            () if is_of(figure, "Pa") => {
                let tell = "Absolute and gauge pressure are mixed: it differs by one atmosphere.";
                change(number + ATMOSPHERE, tell.to_owned());
                change(number - ATMOSPHERE, tell.to_owned());
            }
            () if matches!(figure.unit.as_str(), "degC") => {
                change(number - ZERO_CELSIUS, "A temperature stands in °C where kelvins are wanted.".to_owned());
            }
            () if figure.unit.is_empty() || figure.unit == "%" => {
                let name = &given.say;
                change(1.0, format!("Left out: {name}."));
                if number < 1.0 {
                    change(
                        1.0 / number,
                        format!(
                            "Turned over: {name} divides where it should multiply, or multiplies where it should divide."
                        ),
                    );
                }
            }
            () => {}
        }
    }
    let all_readings: Vec<f64> = case
        .figures
        .iter()
        .zip(&case.numbers)
        .map(|(figure, number)| if figure.unit == "degC" { number - ZERO_CELSIUS } else { *number })
        .collect();
    changes.push((all_readings, "A temperature stands in °C where kelvins are wanted.".to_owned()));
    changes
}

/// Factors between units that people mix, where the givens have such units.
fn factors(case: &Case<'_>) -> Vec<(f64, &'static str)> {
    let any = |units: &[&str]| case.figures.iter().any(|figure| units.iter().any(|unit| is_of(figure, unit)));
    let timed = case.figures.iter().any(|figure| {
        figure.unit.contains("min") || figure.unit.contains('h') || figure.unit.contains("day") || figure.unit == "rpm"
    });
    let mut factors = Vec::new();
    if timed {
        factors.push((60.0, "Minutes and seconds, or hours and minutes, are mixed: it differs by a factor of 60."));
        factors.push((3600.0, "Hours and seconds are mixed: it differs by a factor of 3600."));
        factors.push((24.0, "Days and hours are mixed: it differs by a factor of 24."));
    }
    if any(&["rpm"]) {
        factors.push((2.0 * std::f64::consts::PI, "Revolutions and radians are mixed: it differs by a factor of 2π."));
    }
    if any(&["V"]) && any(&["A", "VA", "W"]) {
        factors.push((3f64.sqrt(), "It differs by √3, the factor between line and phase."));
    }
    if any(&["kg", "kg/m3"]) {
        factors.push((9.81, "Mass and weight are mixed: it differs by a factor of 9.81."));
    }
    factors
}

fn is_of(figure: &Quantity, unit: &str) -> bool {
    let dimension = |unit: &str| Unit::parse(unit).ok().map(|unit| unit.dimension);
    !figure.unit.is_empty() && dimension(&figure.unit) == dimension(unit)
}

/// Whether a given's name, or its name for people, has one of these words.
fn says(given: &Given, words: &[&str]) -> bool {
    let text = format!("{} {}", given.name, given.say).to_lowercase();
    text.split(|c: char| !c.is_alphabetic()).any(|word| words.contains(&word))
}
