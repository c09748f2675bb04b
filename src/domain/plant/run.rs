//! A learner's whole list, run to its end so that everything wrong is seen at once.

use super::facts::Facts;
use super::procedure::{Procedure, Severity};
use super::state::{Became, Break, Feedback, Stir, apply, begin};

/// What came of a list of steps.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Run {
    /// What the plant did before the first step.
    pub begun: Stir,
    /// One for each step of the list, in its order.
    pub lines: Vec<Feedback>,
    /// What held before the first step, and then after each.
    pub facts: Vec<Facts>,
    /// Whether the goal holds at the end.
    pub reaches_goal: bool,
}

/// Runs the steps, by position, in this order. Broken steps and traps are passed over.
pub fn run(procedure: &Procedure, list: &[usize]) -> Run {
    let (mut state, begun) = begin(procedure);
    let mut facts = vec![state.facts];
    let mut lines = Vec::with_capacity(list.len());
    for &step in list {
        let (after, feedback) = apply(procedure, &state, step);
        state = after;
        facts.push(state.facts);
        lines.push(feedback);
    }
    Run { begun, lines, facts, reaches_goal: procedure.reaches_goal(&state.facts) }
}

impl Run {
    /// What holds at the end.
    pub fn facts_after(&self) -> Facts {
        self.facts.last().copied().unwrap_or_default()
    }

    /// Steps tried with needs unmet, in the order of the list.
    pub fn breaks(&self) -> impl Iterator<Item = &Break> {
        self.lines.iter().filter_map(|line| match &line.became {
            Became::Broken(broken) => Some(broken),
            _ => None,
        })
    }

    /// Traps used, in the order of the list.
    pub fn traps(&self) -> impl Iterator<Item = (usize, Severity)> + '_ {
        self.lines.iter().filter_map(|line| match line.became {
            Became::Trapped(severity) => Some((line.step, severity)),
            _ => None,
        })
    }

    /// Steps that were done, in the order of the list.
    pub fn done(&self) -> impl Iterator<Item = usize> + '_ {
        self.lines.iter().filter(|line| line.became == Became::Done).map(|line| line.step)
    }

    /// Reflexes in the order they fired, those of the start included.
    pub fn firings(&self) -> impl Iterator<Item = usize> + '_ {
        let stirs = std::iter::once(&self.begun).chain(self.lines.iter().map(|line| &line.stir));
        stirs.flat_map(|stir| &stir.firings).map(|firing| firing.reflex)
    }

    /// Whether the list breaks nothing, uses no trap and reaches the goal.
    pub fn works(&self) -> bool {
        self.reaches_goal && self.lines.iter().all(|line| line.became == Became::Done)
    }
}
