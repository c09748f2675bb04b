//! What cannot work in a working that reads well: formulas that cannot be read, names that are not there, units that
//! do not fit.

use super::places::{Places, Written};
use super::trying;
use crate::deck::checks;
use crate::deck::fields::Context;
use crate::domain::quantity::Expression;
use crate::domain::quantity::expression::{Sort, is_function, is_unit};
use crate::domain::working::{Fault, Method, Piece, Working, pieces};

/// Judges a working and reports what is wrong with it.
pub(super) fn judge(context: &mut Context<'_>, working: &Working, places: &Places) {
    ask(context, working, places);
    names(context, working, places);
    if below(context, working, places) {
        return;
    }
    match Method::new(working) {
        Ok(method) => {
            unused(context, working, places);
            if !context.problems.vouched_for {
                trying::judge(context, working, &method, places);
            }
        }
        Err(faults) => {
            for (part, fault) in faults {
                tell(context, places.written(part), &fault);
            }
        }
    }
}

fn tell(context: &mut Context<'_>, written: &Written, fault: &Fault) {
    let found = match fault {
        Fault::Unit(error) => checks::working::answer_unit(written.site, error),
        Fault::Formula(error) => {
            let site = written.part(context, &error.span);
            match error.sort {
                Sort::UnknownName(_) | Sort::NoValueYet(_) => checks::working::unknown_name_in_formula(site, error),
                Sort::Units => checks::working::formula_units(site, error),
                Sort::Unreadable | Sort::DividesByZero | Sort::NoValue => checks::working::bad_formula(site, error),
            }
        }
    };
    context.report(found);
}

/// Names in braces that are no givens.
fn ask(context: &mut Context<'_>, working: &Working, places: &Places) {
    let Some(ask) = &places.ask else { return };
    for piece in pieces(&ask.text) {
        match piece {
            Piece::Text(_) => {}
            Piece::Name(name, _) if working.givens.iter().any(|given| given.name == name) => {}
            Piece::Name(name, span) => {
                let site = ask.part(context, &span);
                let names = working.givens.iter().map(|given| given.name.as_str());
                context.report(checks::working::unknown_name_in_ask(site, name, names));
            }
            Piece::Open(span) => {
                let site = ask.part(context, &span);
                context.report(checks::working::unknown_name_open_brace(site));
            }
        }
    }
}

/// Reports lines that use what is not above them; whether there were any.
fn below(context: &mut Context<'_>, working: &Working, places: &Places) -> bool {
    let mut is_any = false;
    for (at, (line, written)) in working.lines.iter().zip(&places.lines).enumerate() {
        let Ok(expression) = Expression::parse(&line.is) else { continue };
        for (name, span) in expression.names() {
            if let Some(below) = working.lines.iter().skip(at).position(|line| line.name == name) {
                let site = written.part(context, &span);
                context.report(checks::working::line_below(site, name, below == 0));
                is_any = true;
            }
        }
    }
    is_any
}

/// Names that are also units or functions.
fn names(context: &mut Context<'_>, working: &Working, places: &Places) {
    let givens = working.givens.iter().map(|given| &given.name).zip(&places.givens);
    let lines = working.lines.iter().map(|line| &line.name).zip(&places.names);
    for (name, site) in givens.chain(lines) {
        if is_function(name) {
            context.report(checks::working::hiding_name(*site, name, "a function"));
        } else if is_unit(name) {
            context.report(checks::working::hiding_name(*site, name, "a unit"));
        }
    }
}

/// Givens and lines that lead to nothing.
fn unused(context: &mut Context<'_>, working: &Working, places: &Places) {
    let texts = working.lines.iter().map(|line| line.is.as_str()).chain([working.answer.as_str()]);
    let formulas: Vec<Expression> = texts.filter_map(|text| Expression::parse(text).ok()).collect();
    let is_used = |name: &str| formulas.iter().any(|formula| formula.names().iter().any(|(used, _)| *used == name));
    for (given, site) in working.givens.iter().zip(&places.givens).filter(|(given, _)| !is_used(&given.name)) {
        context.report(checks::working::unused_given(*site, &given.name));
    }
    for (line, site) in working.lines.iter().zip(&places.names).filter(|(line, _)| !is_used(&line.name)) {
        context.report(checks::working::unused_line(*site, &line.name));
    }
}
