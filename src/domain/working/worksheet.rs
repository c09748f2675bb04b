//! A learner's worksheet: lines such as `A = π/4 · D²`, each worked out as typed, with the names of the givens and of
//! the lines above. Pure; a wrong line says what is wrong and where, and the others stand.

use std::ops::Range;

use super::draw::{DIGITS, unit_among};
use crate::domain::quantity::expression::{self, Sort};
use crate::domain::quantity::{Expression, ExpressionError, Formula, Quantity, Scope, Unit, Value};

/// A worksheet may have this many lines; more are not worked out.
pub const MOST_WORKSHEET_LINES: usize = 200;

/// A line as worked out.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LineResult {
    /// The name before `=`, where there is one.
    pub name: Option<String>,
    /// What it comes to; none for an empty line and for one with an error.
    pub value: Option<Value>,
    /// The value's number, to four significant digits.
    pub number: String,
    /// The value's unit as decks spell it, empty for a pure number.
    pub unit: String,
    /// What is wrong with it; its span is in bytes of the line.
    pub error: Option<ExpressionError>,
    /// What the learner may not have meant, such as a name used for the second time.
    pub note: Option<String>,
}

/// Works out a worksheet's lines over the givens. A line's result is given in the answer's unit (`wanted`) or in one
/// of the givens' where it is of that kind, else in one that the trade would choose.
pub fn evaluate(givens: &[(String, Quantity)], lines: &[String], wanted: Option<&str>) -> Vec<LineResult> {
    let mut sheet = Sheet { scope: Scope::new(), lines: Vec::new(), units: Vec::new(), givens: Vec::new() };
    sheet.units.extend(wanted.map(str::to_owned));
    for (name, figure) in givens {
        match Value::of(figure) {
            Ok(value) => sheet.scope.set(name, value),
            Err(_) => sheet.scope.without_value(name),
        }
        sheet.units.push(figure.unit.clone());
        sheet.givens.push(name.clone());
    }
    for line in lines.iter().take(MOST_WORKSHEET_LINES) {
        let result = sheet.line(line);
        sheet.lines.push(result);
    }
    let unread = lines.len().saturating_sub(MOST_WORKSHEET_LINES);
    sheet.lines.extend((0..unread).map(|_| LineResult {
        note: Some(format!("Only {MOST_WORKSHEET_LINES} lines are worked out.")),
        ..LineResult::default()
    }));
    sheet.lines
}

struct Sheet {
    scope: Scope,
    lines: Vec<LineResult>,
    /// Units in which results are given where they fit.
    units: Vec<String>,
    givens: Vec<String>,
}

impl Sheet {
    fn line(&mut self, line: &str) -> LineResult {
        if line.trim().is_empty() {
            return LineResult::default();
        }
        let (name, at) = match named(line) {
            Ok(found) => found,
            Err(error) => return LineResult { error: Some(error), ..LineResult::default() },
        };
        let mut result =
            LineResult { note: name.as_deref().and_then(|name| self.again(name)), ..LineResult::default() };
        match self.value(&line[at..]) {
            Ok((value, note, wish)) => {
                let unit = wish.as_deref().or_else(|| self.unit_of(&value));
                (result.number, result.unit) = value.readable(DIGITS, unit);
                result.note = result.note.or(note);
                result.value = Some(value);
                if let Some(name) = &name {
                    self.scope.set(name, value);
                }
            }
            Err(error) => {
                result.error = Some(error.moved(at));
                if let Some(name) = &name {
                    self.scope.without_value(name);
                }
            }
        }
        result.name = name;
        result
    }

    /// A line's value, what the learner may not have meant, and the unit that it is wished in.
    fn value(&self, text: &str) -> Result<(Value, Option<String>, Option<String>), ExpressionError> {
        let (text, wish) = wished(text);
        let expression = Expression::parse_typed(text)?;
        let value = expression.evaluate(&self.scope)?;
        let span = text.len() - text.trim_start().len()..text.trim_end().len();
        let is_cold =
            expression.quantity().is_some_and(|(number, unit)| number < 0.0 && unit.dimension.is_temperature());
        if (is_cold || value.kind().is_reading()) && value.base_number() < 0.0 {
            return Err(expression::below_absolute_zero(&span));
        }
        if let Some((unit, place)) = &wish
            && let Err(error) = value.kind().fits(unit)
        {
            let sort = Sort::Units;
            return Err(ExpressionError { message: error.message, mend: error.mend, span: place.clone(), sort });
        }
        let wish = wish.map(|(unit, _)| unit.spelling);
        let formula = Formula::new(&expression, &self.scope.kinds())?;
        // A lone letter is far more often a name that was never given than a unit.
        let lone = formula.lone_units().iter().find(|(name, _)| name.chars().count() == 1 && name != "%");
        let note = lone.map(|(name, _)| format!("`{name}` is read as the unit {name}; it has no value above."));
        Ok((value, note, wish))
    }

    fn again(&self, name: &str) -> Option<String> {
        let line = self.lines.iter().rposition(|line| line.name.as_deref() == Some(name));
        match line {
            Some(line) => Some(format!("`{name}` takes the place of line {}'s.", line + 1)),
            None => self
                .givens
                .iter()
                .any(|given| given == name)
                .then(|| format!("`{name}` takes the place of the given figure.")),
        }
    }

    fn unit_of(&self, value: &Value) -> Option<&str> {
        unit_among(self.units.iter().map(String::as_str), value)
    }
}

/// A line without the wish for a unit at its end, such as `in cm`, and that unit with its place.
fn wished(text: &str) -> (&str, Option<(Unit, Range<usize>)>) {
    let is_before = |word: &str| text.rfind(word).map(|at| (at, at + word.len()));
    let last = [" in ", " to ", "->", "→"].into_iter().filter_map(is_before).max();
    let Some((end, start)) = last.filter(|(end, _)| !text[..*end].trim().is_empty()) else { return (text, None) };
    match Unit::parse(&text[start..]).ok().filter(|unit| !unit.is_bare()) {
        Some(unit) => (&text[..end], Some((unit, start..text.trim_end().len()))),
        None => (text, None),
    }
}

/// The name before `=` and where the expression begins.
fn named(line: &str) -> Result<(Option<String>, usize), ExpressionError> {
    let Some(at) = line.find('=') else { return Ok((None, 0)) };
    let name = line[..at].trim();
    let start = at - line[..at].trim_start().len();
    let span: Range<usize> = start..start + name.len();
    let error = |message: String, mend: &str| {
        Err(ExpressionError { message, mend: mend.to_owned(), span: span.clone(), sort: Sort::Unreadable })
    };
    if name.is_empty() {
        return error("there is no name before `=`".to_owned(), "write a name before it, or take it away");
    }
    if matches!(name, "pi" | "π") {
        return error(format!("`{name}` has its own meaning"), "use another name");
    }
    match expression::name(name) {
        Some(name) => Ok((Some(name), at + 1)),
        None => error(format!("`{name}` is no name"), "use letters, digits and `_`, beginning with a letter"),
    }
}
