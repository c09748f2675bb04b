//! What cannot work in a working that reads well: formulas that cannot be read, names that are not there, units that
//! do not fit.

use super::{Places, Written, trying};
use crate::deck::checks::{
    answer_unit, bad_formula, formula_units, hiding_name, line_below, unknown_name, unused_given, unused_line,
};
use crate::deck::fields::Context;
use crate::domain::quantity::Expression;
use crate::domain::quantity::expression::{Sort, is_function, is_unit};
use crate::domain::working::{Fault, Method, Part, Piece, Working, pieces};

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

impl Places {
    /// The formula of a part.
    pub(super) fn written(&self, part: Part) -> &Written {
        match part {
            Part::Line(at) => self.lines.get(at),
            Part::Answer => None,
            Part::Slip(at) => self.slips.get(at),
        }
        .unwrap_or(&self.answer)
    }
}

fn tell(context: &mut Context<'_>, written: &Written, fault: &Fault) {
    let found = match fault {
        Fault::Unit(error) => answer_unit::found(written.site, error),
        Fault::Formula(error) => {
            let site = written.part(context, &error.span);
            match error.sort {
                Sort::UnknownName(_) | Sort::NoValueYet(_) => unknown_name::in_formula(site, error),
                Sort::Units => formula_units::found(site, error),
                Sort::Unreadable | Sort::DividesByZero | Sort::NoValue => bad_formula::found(site, error),
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
                context.report(unknown_name::in_ask(site, name, names));
            }
            Piece::Open(span) => {
                let site = ask.part(context, &span);
                context.report(unknown_name::open_brace(site));
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
                context.report(line_below::found(site, name, below == 0));
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
            context.report(hiding_name::found(*site, name, "a function"));
        } else if is_unit(name) {
            context.report(hiding_name::found(*site, name, "a unit"));
        }
    }
}

/// Givens and lines that lead to nothing.
fn unused(context: &mut Context<'_>, working: &Working, places: &Places) {
    let texts = working.lines.iter().map(|line| line.is.as_str()).chain([working.answer.as_str()]);
    let formulas: Vec<Expression> = texts.filter_map(|text| Expression::parse(text).ok()).collect();
    let is_used = |name: &str| formulas.iter().any(|formula| formula.names().iter().any(|(used, _)| *used == name));
    for (given, site) in working.givens.iter().zip(&places.givens).filter(|(given, _)| !is_used(&given.name)) {
        context.report(unused_given::found(*site, &given.name));
    }
    for (line, site) in working.lines.iter().zip(&places.names).filter(|(line, _)| !is_used(&line.name)) {
        context.report(unused_line::found(*site, &line.name));
    }
}
