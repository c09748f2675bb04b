//! A recall in the terminal: the answer is typed, or said and then ticked by numbers.

use crate::app::program::command::{CardCommand, Command};
use crate::cli::kinds::kind::{Asked, Chosen, Marked, numbers};
use crate::cli::say::{labelled, wrapped};
use crate::domain::answer::Given;
use crate::present::kinds::recall::{PointRow, RecallAskedView, RecallMarkedView};

impl Asked for RecallAskedView {
    fn given(&self, line: &str) -> Result<Given, String> {
        Ok(if line.is_empty() { Given::Said(Vec::new()) } else { Given::Text(line.to_owned()) })
    }
}

impl Marked for RecallMarkedView {
    fn lines(&self) -> Vec<String> {
        self.points.iter().flat_map(point).collect()
    }

    fn choices(&self) -> &'static str {
        if self.points.is_empty() { "" } else { "numbers tick or untick" }
    }

    fn chosen(&self, line: &str) -> Chosen {
        let points = self.points.len();
        match numbers(line) {
            Some(numbers) if points > 0 && numbers.iter().all(|n| (1..=points).contains(n)) => {
                Chosen::Run(numbers.into_iter().map(|it| Command::Card(CardCommand::Tick(it))).collect())
            }
            _ => Chosen::Nothing,
        }
    }
}

fn point(point: &PointRow) -> Vec<String> {
    let tick = if point.said { "x" } else { " " };
    let critical = if point.critical { " (safety-critical)" } else { "" };
    let head = labelled(&format!("  {} [{tick}]", point.number), &format!("{}{critical}", point.text), 8);
    let evidence = match (&point.evidence, point.contradicted) {
        (Some(words), true) => Some(wrapped(&format!("denied by “{words}”"), 8)),
        (Some(words), false) => Some(wrapped(&format!("found in “{words}”"), 8)),
        (None, true) => Some("        denied".to_owned()),
        (None, false) => None,
    };
    [Some(head), evidence].into_iter().flatten().collect()
}
