//! Decision diagrams: a true-or-false function of many variables as a graph in which equal parts stand once. With
//! one, all settings are held at once.
//!
//! Reduced and ordered, without complement edges. Variables are tested in the order of their numbers.

use std::collections::{BTreeSet, HashMap};

use super::TooComplex;
use super::chart::Chart;

/// A function: the place of its top in the diagram.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(super) struct Function(u32);

/// Never true.
pub(super) const NEVER: Function = Function(0);
/// Always true.
pub(super) const ALWAYS: Function = Function(1);

/// A test of one variable. The two constants have none and stand below all others.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
struct Test {
    variable: u32,
    no: Function,
    yes: Function,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
enum Op {
    And,
    Or,
}

/// Functions that share their parts.
pub(super) struct Diagram {
    tests: Vec<Test>,
    place: HashMap<Test, Function>,
    known: HashMap<(Op, Function, Function), Function>,
    most: usize,
}

impl Diagram {
    /// An empty diagram that may grow to `most` tests.
    pub(super) fn new(most: usize) -> Self {
        let constant = |at| Test { variable: u32::MAX, no: Function(at), yes: Function(at) };
        Self { tests: vec![constant(0), constant(1)], place: HashMap::new(), known: HashMap::new(), most }
    }

    /// The function that is true when the variable has this value.
    pub(super) fn literal(&mut self, variable: usize, value: bool) -> Result<Function, TooComplex> {
        let (no, yes) = if value { (NEVER, ALWAYS) } else { (ALWAYS, NEVER) };
        self.test(variable as u32, no, yes)
    }

    pub(super) fn and(&mut self, a: Function, b: Function) -> Result<Function, TooComplex> {
        self.apply(Op::And, a, b)
    }

    pub(super) fn or(&mut self, a: Function, b: Function) -> Result<Function, TooComplex> {
        self.apply(Op::Or, a, b)
    }

    pub(super) fn not(&mut self, f: Function) -> Result<Function, TooComplex> {
        self.turned(f, &mut HashMap::new())
    }

    /// The function by itself.
    pub(super) fn chart(&self, f: Function) -> Chart {
        // A test is always made after those below it.
        let mut is_below = BTreeSet::new();
        let mut open = vec![f];
        while let Some(at) = open.pop() {
            if at > ALWAYS && is_below.insert(at) {
                let test = self.tests[at.0 as usize];
                open.extend([test.no, test.yes]);
            }
        }
        let order: Vec<Function> = [NEVER, ALWAYS].into_iter().chain(is_below).collect();
        let place = |of: Function| order.binary_search(&of).unwrap_or(0);
        let tests = order[2..].iter().map(|at| self.tests[at.0 as usize]);
        let tests = tests.map(|test| (test.variable as usize, place(test.no), place(test.yes))).collect();
        Chart::new(tests, place(f))
    }

    fn test(&mut self, variable: u32, no: Function, yes: Function) -> Result<Function, TooComplex> {
        if no == yes {
            return Ok(no);
        }
        let test = Test { variable, no, yes };
        if let Some(known) = self.place.get(&test) {
            return Ok(*known);
        }
        if self.tests.len() >= self.most {
            return Err(TooComplex);
        }
        let made = Function(self.tests.len() as u32);
        self.tests.push(test);
        self.place.insert(test, made);
        Ok(made)
    }

    fn apply(&mut self, op: Op, a: Function, b: Function) -> Result<Function, TooComplex> {
        let (strong, weak) = if op == Op::And { (NEVER, ALWAYS) } else { (ALWAYS, NEVER) };
        if a == strong || b == strong {
            return Ok(strong);
        }
        if a == weak || a == b {
            return Ok(b);
        }
        if b == weak {
            return Ok(a);
        }
        let key = (op, a.min(b), a.max(b));
        if let Some(known) = self.known.get(&key) {
            return Ok(*known);
        }
        let (x, y) = (self.tests[a.0 as usize], self.tests[b.0 as usize]);
        let variable = x.variable.min(y.variable);
        let sides = |at: Function, test: Test| if test.variable == variable { (test.no, test.yes) } else { (at, at) };
        let ((a_no, a_yes), (b_no, b_yes)) = (sides(a, x), sides(b, y));
        let no = self.apply(op, a_no, b_no)?;
        let yes = self.apply(op, a_yes, b_yes)?;
        let made = self.test(variable, no, yes)?;
        self.known.insert(key, made);
        Ok(made)
    }

    fn turned(&mut self, f: Function, known: &mut HashMap<Function, Function>) -> Result<Function, TooComplex> {
        if f <= ALWAYS {
            return Ok(if f == NEVER { ALWAYS } else { NEVER });
        }
        if let Some(known) = known.get(&f) {
            return Ok(*known);
        }
        let test = self.tests[f.0 as usize];
        let (no, yes) = (self.turned(test.no, known)?, self.turned(test.yes, known)?);
        let made = self.test(test.variable, no, yes)?;
        known.insert(f, made);
        Ok(made)
    }
}
