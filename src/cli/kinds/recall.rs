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
        match self.first_unsure() {
            Some(_) => "y or n answers the first that is not sure; numbers tick or untick",
            None if self.points.is_empty() => "",
            None => "numbers tick or untick",
        }
    }

    fn chosen(&self, line: &str) -> Chosen {
        if let (Some(point), Some(said)) = (self.first_unsure(), yes_or_no(line)) {
            return Chosen::Run(vec![Command::Card(CardCommand::Settle { point, said })]);
        }
        let points = self.points.len();
        match numbers(line) {
            Some(numbers) if points > 0 && numbers.iter().all(|n| (1..=points).contains(n)) => {
                Chosen::Run(numbers.into_iter().map(|it| Command::Card(CardCommand::Tick(it))).collect())
            }
            _ => Chosen::Nothing,
        }
    }
}

impl RecallMarkedView {
    /// The number of the first point that is not sure.
    fn first_unsure(&self) -> Option<usize> {
        self.points.iter().find(|point| point.unsure).map(|point| point.number)
    }
}

/// What a line answers to a question of yes or no.
fn yes_or_no(line: &str) -> Option<bool> {
    match line.to_ascii_lowercase().as_str() {
        "y" | "yes" => Some(true),
        "n" | "no" => Some(false),
        _ => None,
    }
}

fn point(point: &PointRow) -> Vec<String> {
    let tick = match (point.said, point.unsure) {
        (true, _) => "x",
        (false, true) => "?",
        (false, false) => " ",
    };
    let critical = if point.critical { " (safety-critical)" } else { "" };
    let head = labelled(&format!("  {} [{tick}]", point.number), &format!("{}{critical}", point.text), 8);
    let evidence = match (&point.evidence, point.contradicted) {
        (words, _) if point.unsure => {
            let words = words.as_ref().map(|words| format!(", in “{words}”")).unwrap_or_default();
            Some(wrapped(&format!("not sure: did you say this{words}? y or n"), 8))
        }
        (Some(words), true) => Some(wrapped(&format!("denied by “{words}”"), 8)),
        (Some(words), false) => Some(wrapped(&format!("found in “{words}”"), 8)),
        (None, true) => Some("        denied".to_owned()),
        (None, false) => None,
    };
    [Some(head), evidence].into_iter().flatten().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_not_sure_is_asked_in_one_line_and_answered_by_yes_or_no() {
        let row = |number: usize, unsure: bool| PointRow {
            number,
            text: "Isolate the pump".to_owned(),
            said: false,
            contradicted: false,
            unsure,
            critical: unsure,
            evidence: unsure.then(|| "take it off".to_owned()),
        };
        let mut view = RecallMarkedView { points: vec![row(1, false), row(2, true)], typed: None };
        assert!(view.lines().iter().any(|line| line.contains("2 [?] Isolate the pump (safety-critical)")));
        assert!(view.lines().iter().any(|line| line.contains("not sure: did you say this, in “take it off”? y or n")));
        assert!(view.choices().starts_with("y or n answers"));
        for (line, said) in [("y", true), ("Yes", true), ("n", false), ("no", false)] {
            let Chosen::Run(commands) = view.chosen(line) else { panic!("`{line}` is an answer") };
            assert_eq!(commands, [Command::Card(CardCommand::Settle { point: 2, said })]);
        }
        view.points.pop();
        assert!(matches!(view.chosen("y"), Chosen::Nothing), "nothing is asked");
        assert_eq!(view.choices(), "numbers tick or untick");
    }
}
