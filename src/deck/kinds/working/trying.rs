//! What trying a working on many figures has shown.

use std::collections::BTreeSet;

use super::places::{Places, Written};
use crate::deck::checks;
use crate::deck::fields::Context;
use crate::domain::quantity::expression::Sort;
use crate::domain::quantity::{Expression, Quantity};
use crate::domain::working::{Failure, Method, Part, Working, answer_text, sample, text};

/// An answer in degC below this is no temperature of the trade.
const COLDEST: f64 = -100.0;

/// Tries a working whose formulas are sound, and reports what that shows.
pub(super) fn judge(context: &mut Context<'_>, working: &Working, method: &Method, places: &Places) {
    let findings = sample(working, method);
    for failure in &findings.failures {
        failed(context, working, places, failure);
    }
    if !findings.failures.is_empty() {
        return;
    }
    for (slip, share) in &findings.right_slips {
        context.report(checks::working::slip_is_right(places.written(Part::Slip(*slip)).site, *share));
    }
    for (first, second) in &findings.like_slips {
        context.report(checks::working::like_slips(places.written(Part::Slip(*second)).site, first + 1));
    }
    for slip in &findings.lost_slips {
        context.report(checks::working::lost_slip(places.written(Part::Slip(*slip)).site));
    }
    answer(context, working, places, &findings);
}

fn answer(context: &mut Context<'_>, working: &Working, places: &Places, findings: &crate::domain::working::Findings) {
    let site = places.answer.site;
    let has_zero_point = matches!(working.unit.as_str(), "degC" | "degF");
    match (&findings.sign, findings.least) {
        (Some((answer, figures)), _) if !has_zero_point => {
            let figures = listed(working, figures, &working.answer);
            context.report(checks::working::changing_sign(site, &answer_text(working, *answer), &figures));
        }
        (_, Some(least)) if working.unit == "degC" && least < COLDEST => {
            context.report(checks::working::cold_answer(site, &answer_text(working, least)));
        }
        _ => {}
    }
    if findings.is_ragged {
        context.report(checks::working::no_within(site));
    }
}

fn failed(context: &mut Context<'_>, working: &Working, places: &Places, failure: &Failure) {
    let written: &Written = places.written(failure.part);
    let site = written.part(context, &failure.error.span);
    let figures = listed(working, &failure.figures, &written.text);
    context.report(match failure.error.sort {
        Sort::DividesByZero => checks::working::divides_by_zero(site, &figures),
        _ => checks::working::no_value(site, &failure.error, &figures),
    });
}

/// The figures that a formula works with, such as `t_in 30 degC, t_out 30 degC`.
fn listed(working: &Working, figures: &[Quantity], formula: &str) -> String {
    let mut used = BTreeSet::new();
    gather(working, formula, &mut used);
    let given = working.givens.iter().zip(figures).filter(|(given, _)| used.contains(given.name.as_str()));
    let listed: Vec<String> = given.map(|(given, figure)| format!("{} {}", given.name, text(given, figure))).collect();
    if listed.is_empty() { "all figures".to_owned() } else { listed.join(", ") }
}

/// The names that a formula uses, those behind the lines that it uses among them.
fn gather(working: &Working, formula: &str, used: &mut BTreeSet<String>) {
    let Ok(expression) = Expression::parse(formula) else { return };
    for (name, _) in expression.names() {
        if used.insert(name.to_owned())
            && let Some(line) = working.lines.iter().find(|line| line.name == name)
        {
            gather(working, &line.is, used);
        }
    }
}
