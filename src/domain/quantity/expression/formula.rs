//! An expression against the kinds of its names: every unit is looked at here, and what is left is steps on numbers.

use std::ops::Range;

use super::error::{ExpressionError, Sort};
use super::functions::Function;
use super::reading::Expression;
use super::run::{self, PlacedStep, Step};
use super::scope::{NameKind, Scope};
use super::tree::{NodeId, Part, Tree};
use crate::domain::english::capital;
use crate::domain::quantity::power::Power;
use crate::domain::quantity::table::position;
use crate::domain::quantity::value::{Kind, Nature, Value};
use crate::domain::quantity::{Unit, nearest_unit};

/// An expression whose units have been found to fit, ready to be worked out on numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct Formula {
    steps: Vec<PlacedStep>,
    kind: Kind,
    lone_units: Vec<(String, Range<usize>)>,
}

impl Formula {
    /// Looks at every unit of an expression whose names are of these kinds.
    ///
    /// # Errors
    /// Where a name is unknown or has no value, or units do not fit one another.
    pub fn new(expression: &Expression, names: &[(String, Option<Kind>)]) -> Result<Self, ExpressionError> {
        let mut maker = Maker { tree: &expression.tree, names, steps: Vec::new(), lone_units: Vec::new() };
        let found = maker.whole(expression.tree.root)?;
        Ok(Self { steps: maker.steps, kind: found.kind, lone_units: maker.lone_units })
    }

    /// What it gives.
    pub fn kind(&self) -> Kind {
        self.kind
    }

    /// The units that stand alone in it without a number, with their places.
    pub fn lone_units(&self) -> &[(String, Range<usize>)] {
        &self.lone_units
    }

    /// The formula's number, in base units, for the names' numbers in base units, in the order in which the names were given.
    /// `room` is emptied and used; keep it from one run to the next.
    ///
    /// # Errors
    /// Where it divides by zero or has no value for these numbers.
    pub fn run(&self, names: &[f64], room: &mut Vec<f64>) -> Result<f64, ExpressionError> {
        run::run(&self.steps, names, room, &mut |_| {})
    }

    /// The formula's number as [`Formula::run`] gives it, telling `divisor` of every number that is divided by, always in the same order.
    ///
    /// # Errors
    /// As [`Formula::run`].
    pub fn run_watched(
        &self,
        names: &[f64],
        room: &mut Vec<f64>,
        divisor: &mut impl FnMut(f64),
    ) -> Result<f64, ExpressionError> {
        run::run(&self.steps, names, room, divisor)
    }

    /// How much work a run is, in steps of arithmetic.
    pub fn work(&self) -> usize {
        self.steps.iter().map(|(step, _)| step.work()).sum()
    }
}

impl Expression {
    /// The expression's value among these names.
    ///
    /// # Errors
    /// Where a name is unknown, units do not fit one another, or there is no value.
    pub fn evaluate(&self, scope: &Scope) -> Result<Value, ExpressionError> {
        let formula = Formula::new(self, &scope.kinds())?;
        let number = formula.run(&scope.numbers(), &mut Vec::new())?;
        Ok(Value { number, kind: formula.kind() })
    }
}

/// What a node is of, and its number where it is made of numbers as written alone.
#[derive(Clone, Copy)]
struct Found {
    kind: Kind,
    constant: Option<f64>,
}

impl Found {
    fn of(kind: Kind) -> Self {
        Self { kind, constant: None }
    }

    /// A whole number as written: so many of the same.
    fn is_count(self) -> bool {
        self.kind == Kind::NUMBER && self.constant.is_some_and(|number| number.fract() == 0.0)
    }

    /// A sum of temperatures divided by it, a number that may be `by`, is their mean.
    fn makes_a_mean(self, by: Option<f64>) -> bool {
        self.kind == Kind::NUMBER && by.is_none_or(|by| by > 1.0)
    }
}

struct Maker<'a> {
    tree: &'a Tree,
    names: &'a [NameKind],
    steps: Vec<PlacedStep>,
    lone_units: Vec<(String, Range<usize>)>,
}

impl Maker<'_> {
    fn step(&mut self, step: Step, span: &Range<usize>) {
        self.steps.push((step, span.clone()));
    }

    fn span(&self, id: NodeId) -> &Range<usize> {
        &self.tree.node(id).span
    }

    /// A node that is no sum of temperatures: one may be divided into their mean, and nothing else.
    fn whole(&mut self, id: NodeId) -> Result<Found, ExpressionError> {
        let found = self.node(id)?;
        self.no_total(id, found)?;
        Ok(found)
    }

    fn no_total(&self, id: NodeId, found: Found) -> Result<(), ExpressionError> {
        if found.kind.nature == Nature::Total { Err(self.total(id)) } else { Ok(()) }
    }

    fn total(&self, id: NodeId) -> ExpressionError {
        let message = "two temperatures cannot be added: each counts from absolute zero";
        let mend = "write a difference in K, as in `20 degC + 5 K`, or divide by 2 in the same line for their mean";
        ExpressionError::units(self.span(id).clone(), message, mend)
    }

    fn node(&mut self, id: NodeId) -> Result<Found, ExpressionError> {
        let node = self.tree.node(id);
        let span = &node.span;
        match &node.part {
            Part::Number(number) => {
                self.step(Step::Constant(*number), span);
                Ok(Found { kind: Kind::NUMBER, constant: Some(*number) })
            }
            Part::Quantity(number, unit) => {
                let value = Value::in_unit(*number, unit);
                if value.kind.nature == Nature::Reading && value.number < 0.0 {
                    return Err(below_absolute_zero(span));
                }
                self.step(Step::Constant(value.number), span);
                Ok(Found::of(value.kind))
            }
            Part::Name(name) => self.name(name, span),
            Part::Negate(of) => {
                let found = self.whole(*of)?;
                self.step(Step::Negate, span);
                Ok(Found { constant: found.constant.map(|number| -number), ..found })
            }
            Part::Add(left, right) => self.sum(*left, *right, Step::Add, span),
            Part::Subtract(left, right) => self.sum(*left, *right, Step::Subtract, span),
            Part::Multiply(left, right) => {
                let (a, b) = (self.node(*left)?, self.node(*right)?);
                for (id, found, by) in [(*left, a, b), (*right, b, a)] {
                    if !by.makes_a_mean(by.constant.map(f64::recip)) {
                        self.no_total(id, found)?;
                    }
                }
                self.step(Step::Multiply, span);
                let dimension = a.kind.dimension.times(&b.kind.dimension).ok_or_else(|| too_high(span))?;
                let nature = match () {
                    () if a.kind == Kind::NUMBER => scaled(b.kind.nature, a),
                    () if b.kind == Kind::NUMBER => scaled(a.kind.nature, b),
                    () => Nature::Plain,
                };
                Ok(Found { kind: Kind { dimension, nature }, constant: both(a, b, |a, b| a * b) })
            }
            Part::Divide(left, right) => self.quotient(*left, *right, span),
            Part::Power(base, exponent) => self.power(*base, *exponent, span),
            Part::Call(function, given) => self.call(*function, given, span),
        }
    }

    fn name(&mut self, name: &str, span: &Range<usize>) -> Result<Found, ExpressionError> {
        if matches!(name, "pi" | "π") {
            self.step(Step::Constant(std::f64::consts::PI), span);
            return Ok(Found { kind: Kind::NUMBER, constant: Some(std::f64::consts::PI) });
        }
        if let Some((at, (_, kind))) = self.names.iter().enumerate().rev().find(|(_, (known, _))| known == name) {
            let Some(kind) = kind else {
                let message = format!("`{name}` has no value yet");
                let mend = "mend the line that it comes from first";
                return Err(ExpressionError::new(Sort::NoValueYet(name.to_owned()), span.clone(), message, mend));
            };
            self.step(Step::Load(at), span);
            return Ok(Found::of(*kind));
        }
        match lone_unit(name) {
            Some(unit) if Kind::of_unit(&unit).nature == Nature::Reading => Err(ExpressionError::units(
                span.clone(),
                format!("`{name}` without a number is no temperature"),
                "write the number before it, or `K` for a difference",
            )),
            Some(unit) => {
                let value = Value::in_unit(1.0, &unit);
                self.step(Step::Constant(value.number), span);
                self.lone_units.push((name.to_owned(), span.clone()));
                Ok(Found::of(value.kind))
            }
            None => Err(self.unknown(name, span)),
        }
    }

    fn unknown(&self, name: &str, span: &Range<usize>) -> ExpressionError {
        let lower = name.to_lowercase();
        let near = |known: &&str| strsim::osa_distance(&lower, &known.to_lowercase());
        let known = self.names.iter().map(|(known, _)| known.as_str());
        let best = known.min_by_key(near).filter(|best| near(best) <= lower.chars().count() / 3 || near(best) == 0);
        let mend = match best {
            Some(best) => format!("did you mean `{best}`?"),
            None if Function::named(name).is_some() => format!("write its bracket: `{name}(`"),
            None => match nearest_unit(name).filter(|_| name.chars().count() > 1) {
                Some(unit) => format!("give it a value in a line above, or did you mean the unit `{unit}`?"),
                None => "give it a value in a line above".to_owned(),
            },
        };
        ExpressionError::new(Sort::UnknownName(name.to_owned()), span.clone(), format!("`{name}` is not known"), mend)
    }

    fn sum(&mut self, left: NodeId, right: NodeId, step: Step, span: &Range<usize>) -> Result<Found, ExpressionError> {
        let is_sum = step == Step::Add;
        let (a, b) =
            if is_sum { (self.node(left)?, self.node(right)?) } else { (self.whole(left)?, self.whole(right)?) };
        self.step(step, span);
        let zero_points = [(right, a.kind, b.kind), (left, b.kind, a.kind)];
        for (of, other, own) in zero_points {
            let temperature = other.nature == Nature::Reading;
            if temperature && is_sum && self.is_zero_point(of, own) {
                return Err(ExpressionError::units(
                    self.span(of).clone(),
                    "a temperature in degC is in kelvins already in a formula",
                    "leave this out",
                ));
            }
        }
        if a.kind.dimension != b.kind.dimension {
            let word = if is_sum { "added to" } else { "taken from" };
            return Err(ExpressionError::units(
                span.clone(),
                format!(
                    "the left side is {}, the right side {}; one cannot be {word} the other",
                    self.told(left, a.kind),
                    self.told(right, b.kind)
                ),
                "see which figure is missing on one side",
            ));
        }
        let nature = self.sum_nature((left, a.kind.nature), (right, b.kind.nature), is_sum, span)?;
        let constant = both(a, b, |a, b| if is_sum { a + b } else { a - b });
        Ok(Found { kind: Kind { nature, ..a.kind }, constant })
    }

    fn sum_nature(
        &self,
        (left, a): (NodeId, Nature),
        (right, b): (NodeId, Nature),
        is_sum: bool,
        span: &Range<usize>,
    ) -> Result<Nature, ExpressionError> {
        use Nature::{Active, Apparent, Plain, Reactive, Reading, Span, Total};
        let right_is_kelvins = matches!(&self.tree.node(right).part, Part::Quantity(_, unit) if unit.spelling == "K");
        let zero_point = self.is_zero_point(right, Kind::NUMBER);
        Ok(match (a, b) {
            (Reading, Reading) if !is_sum => Span,
            (Reading | Total, Reading | Total) => Total,
            (Total, _) => return Err(self.total(left)),
            (_, Total) => return Err(self.total(right)),
            (Reading | Plain, Plain) if !is_sum && right_is_kelvins && zero_point => Span,
            (Reading, _) => Reading,
            (_, Reading) if is_sum => Reading,
            (_, Reading) => Span,
            (Span, Span) => Span,
            (Plain, Span) | (Span, Plain) => Plain,
            (Active | Apparent | Reactive, _) if b == a || b == Plain => a,
            (Plain, _) => b,
            _ => {
                let message = format!(
                    "the left side is {}, the right side {}; they cannot be added as they are",
                    Kind::power_word(a),
                    Kind::power_word(b)
                );
                let mend = "turn one into the other with the power factor, or add them by their squares";
                return Err(ExpressionError::units(span.clone(), message, mend));
            }
        })
    }

    /// 273.15 K or 273, as people add it to a temperature.
    fn is_zero_point(&self, id: NodeId, kind: Kind) -> bool {
        let near = |number: f64| (272.9..=273.2).contains(&number);
        match &self.tree.node(id).part {
            Part::Number(number) => kind == Kind::NUMBER && near(*number),
            Part::Quantity(number, unit) => unit.spelling == "K" && near(*number),
            _ => false,
        }
    }

    fn quotient(&mut self, left: NodeId, right: NodeId, span: &Range<usize>) -> Result<Found, ExpressionError> {
        let (a, b) = (self.node(left)?, self.whole(right)?);
        if !b.makes_a_mean(b.constant) {
            self.no_total(left, a)?;
        }
        let divisor = self.span(right).clone();
        if let Part::Quantity(_, unit) = &self.tree.node(right).part
            && Kind::of_unit(unit).nature == Nature::Reading
        {
            let mend = "take the temperature's difference from `0 degC` and divide that by `1 K`";
            let message = "to divide by a temperature as written is to divide by kelvins from absolute zero";
            return Err(ExpressionError::units(divisor, message, mend));
        }
        self.step(Step::Divide, &divisor);
        let dimension = a.kind.dimension.over(&b.kind.dimension).ok_or_else(|| too_high(span))?;
        let nature = if b.kind == Kind::NUMBER { scaled(a.kind.nature, b) } else { Nature::Plain };
        Ok(Found { kind: Kind { dimension, nature }, constant: both(a, b, |a, b| a / b) })
    }

    fn power(&mut self, base: NodeId, exponent: NodeId, span: &Range<usize>) -> Result<Found, ExpressionError> {
        let (a, b) = (self.whole(base)?, self.whole(exponent)?);
        self.step(Step::Power, span);
        if !b.kind.is_number() {
            let message = format!("the power is {}, and it must be a pure number", self.told(exponent, b.kind));
            return Err(ExpressionError::units(self.span(exponent).clone(), message, "divide it by its unit"));
        }
        let constant = both(a, b, f64::powf);
        if a.kind.is_number() {
            return Ok(Found { kind: Kind::NUMBER, constant });
        }
        let Some(power) = b.constant.filter(|power| power.is_finite()) else {
            let message = format!(
                "{} cannot be raised to a power that is not written as a number",
                capital(&self.told(base, a.kind))
            );
            return Err(ExpressionError::units(span.clone(), message, "divide it by its unit first"));
        };
        let raised = Power::of(power).and_then(|power| a.kind.dimension.raised(power));
        let dimension = raised.ok_or_else(|| too_high(span))?;
        let nature = if power == 1.0 { a.kind.nature } else { Nature::Plain };
        Ok(Found { kind: Kind { dimension, nature }, constant })
    }

    fn call(&mut self, function: Function, given: &[NodeId], span: &Range<usize>) -> Result<Found, ExpressionError> {
        let mut kinds: Vec<Kind> = Vec::new();
        for id in given {
            let found = self.whole(*id)?;
            let turning = matches!(function, Function::Sin | Function::Cos | Function::Tan);
            if turning && matches!(self.tree.node(*id).part, Part::Number(number) if number != 0.0) {
                let message = "this number has no unit of angle";
                return Err(ExpressionError::units(self.span(*id).clone(), message, "write `deg` or `rad` behind it"));
            }
            kinds.push(found.kind);
        }
        if function.is_of_one_kind() {
            self.one_kind(function, given, &mut kinds, span)?;
        }
        let function = function.given(kinds.first().copied().unwrap_or(Kind::NUMBER));
        self.step(Step::Call(function, given.len()), span);
        let wanted = |(at, wanted): (usize, &str)| {
            let told = self.told(given[at], kinds[at]);
            let message = format!("`{}` wants {wanted} and is given {told}", function.written());
            let mend = "divide it by its unit, or see which figure is missing";
            ExpressionError::units(self.span(given[at]).clone(), message, mend)
        };
        Ok(Found::of(function.kind(&kinds).map_err(wanted)?))
    }

    /// Sees that all are of one dimension; where their natures differ, the first becomes plain.
    fn one_kind(
        &self,
        function: Function,
        given: &[NodeId],
        kinds: &mut [Kind],
        span: &Range<usize>,
    ) -> Result<(), ExpressionError> {
        let Some((first, others)) = kinds.split_first_mut() else { return Ok(()) };
        for (kind, id) in others.iter().zip(&given[1..]) {
            if kind.dimension != first.dimension {
                let told = (self.told(given[0], *first), self.told(*id, *kind));
                let message = format!("`{}` is given {} and {}", function.written(), told.0, told.1);
                return Err(ExpressionError::units(span.clone(), message, "give it quantities of one kind"));
            }
            if kind.nature != first.nature {
                first.nature = Nature::Plain;
            }
        }
        Ok(())
    }

    /// What a side is, with its unit where it is a number as written.
    fn told(&self, id: NodeId, kind: Kind) -> String {
        match &self.tree.node(id).part {
            Part::Quantity(_, unit) => format!("{} ({})", kind.described(), unit.spelling),
            _ => kind.described(),
        }
    }
}

/// The nature of what is multiplied or divided by a pure number. So many of the same power are such a power; a broken
/// number may be a power factor, so that nothing can be said.
fn scaled(nature: Nature, by: Found) -> Nature {
    match nature {
        Nature::Active | Nature::Apparent | Nature::Reactive if !by.is_count() => Nature::Plain,
        Nature::Total => Nature::Reading,
        nature => nature,
    }
}

/// What is told of a temperature below absolute zero.
pub fn below_absolute_zero(span: &Range<usize>) -> ExpressionError {
    let message = "this is below absolute zero, which is -273.15 degC or 0 K";
    let mend = "see whether the sign or the unit is wrong; for a difference, take one temperature from the other";
    ExpressionError::new(Sort::NoValue, span.clone(), message, mend)
}

fn both(a: Found, b: Found, join: impl Fn(f64, f64) -> f64) -> Option<f64> {
    Some(join(a.constant?, b.constant?))
}

fn too_high(span: &Range<usize>) -> ExpressionError {
    ExpressionError::units(span.clone(), "the power of a unit grows too high here", "use lower powers")
}

/// A unit that stands alone. A revolution is a bare one, and `r` far more often a radius that was never given.
fn lone_unit(name: &str) -> Option<Unit> {
    let bare = matches!(name, "r" | "rev" | "pH");
    let letters = name.trim_end_matches(|c: char| c.is_ascii_digit());
    let known = position(name).is_some() || (name.len() > letters.len() && position(letters).is_some());
    if bare || !known { None } else { Unit::parse(name).ok() }
}
