//! A sequence in the terminal: the steps with numbers, a list read from numbers, a run told line by line.

use crate::app::program::command::{CardCommand, Command};
use crate::cli::kinds::kind::{Asked, Chosen, Marked, listed};
use crate::cli::say::{labelled, wrapped};
use crate::domain::answer::Given;
use crate::domain::english;
use crate::present::kinds::sequence::{
    EffectView, FailureView, How, ReflexView, RunLine, SequenceAskedView, SequenceRunView, Severity,
};

impl Asked for SequenceAskedView {
    fn lines(&self) -> Vec<String> {
        asked(self)
    }

    fn prompt(&self) -> String {
        "Numbers in order (some may belong nowhere): ".to_owned()
    }

    fn given(&self, line: &str) -> Result<Given, String> {
        steps(line, self).map(Given::Steps)
    }
}

impl Marked for SequenceRunView {
    fn lines(&self) -> Vec<String> {
        told(self)
    }

    fn choices(&self) -> &'static str {
        if self.explain {
            "numbers run a mended list, w shows a right order, x asks why"
        } else {
            "numbers run a mended list, w shows a right order"
        }
    }

    fn chosen(&self, line: &str) -> Chosen {
        match line {
            "w" => Chosen::Run(vec![Command::Card(CardCommand::ShowRightOrder)]),
            "x" if self.explain => Chosen::Ask(Command::Card(CardCommand::Explain)),
            _ => match steps(line, &self.asked) {
                Ok(steps) => Chosen::Run(vec![Command::Card(CardCommand::RunAgain(steps))]),
                Err(message) => Chosen::Unread(message),
            },
        }
    }
}

/// The facts and the steps, as lines of text.
fn asked(view: &SequenceAskedView) -> Vec<String> {
    let fact = |f: &crate::present::kinds::sequence::FactView| {
        wrapped(&format!("{}: {}", f.name, if f.holds { "holds" } else { "does not hold" }), 2)
    };
    let step =
        |(n, s): (usize, &crate::present::kinds::sequence::StepView)| labelled(&format!("  {}", n + 1), &s.words, 5);
    view.facts.iter().map(fact).chain(view.steps.iter().enumerate().map(step)).collect()
}

/// The keys of the steps whose numbers stand in a line, in that order.
///
/// # Errors
/// Where something else stands there, a number is no step's, or one stands there twice.
fn steps(line: &str, view: &SequenceAskedView) -> Result<Vec<String>, String> {
    let wanted = "Type the numbers of the steps in order, such as 3 1 4.";
    let mut keys = Vec::new();
    for part in listed(line) {
        let number: usize = part.parse().map_err(|_| wanted.to_owned())?;
        let step = number.checked_sub(1).and_then(|n| view.steps.get(n));
        let step = step.ok_or_else(|| format!("There is no step {number}. {wanted}"))?;
        if keys.contains(&step.key) {
            return Err(format!("{number} stands there twice. {wanted}"));
        }
        keys.push(step.key.clone());
    }
    if keys.is_empty() { Err(wanted.to_owned()) } else { Ok(keys) }
}

/// A run, as lines of text: every line with what it did, the break with its reason, what did not run.
fn told(run: &SequenceRunView) -> Vec<String> {
    let mut out = vec![english::capital(&run.note())];
    out.extend(run.begun.iter().map(reflex));
    for (n, line) in run.lines.iter().enumerate() {
        out.push(labelled(&format!("  {}", n + 1), &format!("{}: {}", line.words, how(line)), 5));
        out.extend(line.reflexes.iter().filter(|_| line.how == How::Done).map(reflex));
        if let Some(first) = run.failures.first().filter(|f| f.line == n + 1) {
            out.push(failure(first));
        }
    }
    for later in run.failures.iter().skip(1) {
        out.push(format!("Also wrong, at line {}:", later.line));
        out.push(failure(later));
    }
    if run.works() {
        out.push("It works: every line did its work, and the goal is reached.".to_owned());
    }
    if !run.unmet.is_empty() {
        out.push("The goal is not reached.".to_owned());
        out.extend(run.unmet.iter().map(|m| wrapped(&m.sentence(None), 2)));
    }
    if let Some(order) = &run.right_order {
        out.push(format!("A right order. {}", order.note).trim_end().to_owned());
        let step = |(n, words): (usize, &String)| labelled(&format!("  {}", n + 1), words, 5);
        out.extend(order.words.iter().enumerate().map(step));
    }
    out
}

fn how(line: &RunLine) -> String {
    match line.how {
        How::Done if line.effects.is_empty() => "done".to_owned(),
        How::Done => line.effects.iter().map(EffectView::words).collect::<Vec<_>>().join(", "),
        How::Broken => "fails".to_owned(),
        How::Trap => "belongs nowhere".to_owned(),
        How::NotRun => "not run".to_owned(),
    }
}

fn reflex(reflex: &ReflexView) -> String {
    labelled("     by itself:", &reflex.tell, 16)
}

fn failure(failure: &FailureView) -> String {
    let severity = format!("Severity: {} ({}).", failure.severity.word().to_lowercase(), Severity::SCALE);
    wrapped(&format!("{} {} {severity}", failure.cause, failure.reason()), 5)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::present::kinds::sequence::{GiverView, MissingView, Stands, StepView};

    fn view() -> SequenceAskedView {
        let step = |key: &str, words: &str| StepView { key: key.to_owned(), words: words.to_owned() };
        SequenceAskedView {
            facts: vec![],
            steps: vec![step("open", "Open the valve"), step("start", "Start the pump")],
        }
    }

    #[test]
    fn a_list_is_read_from_numbers() {
        assert_eq!(steps("2, 1", &view()), Ok(vec!["start".to_owned(), "open".to_owned()]));
        for (line, says) in
            [("", "Type the numbers"), ("1 x", "Type the numbers"), ("1 1", "twice"), ("0", "no step 0")]
        {
            let error = steps(line, &view()).expect_err(line);
            assert!(error.contains(says), "{line}: {error}");
        }
    }

    #[test]
    fn a_run_is_told_with_its_break_and_the_reason() {
        let line = |key: &str, how| RunLine {
            key: key.to_owned(),
            words: format!("Step {key}"),
            how,
            effects: vec![],
            reflexes: vec![],
            facts_after: vec![],
        };
        let giver = GiverView { words: "Open the valve".to_owned(), stands: Stands::Line(2) };
        let missing = MissingView {
            key: "lined-up".to_owned(),
            name: "Suction lined up".to_owned(),
            must_not: false,
            undone_at: None,
            givers: vec![giver],
        };
        let run = SequenceRunView {
            asked: view(),
            run: 1,
            facts: vec![],
            begun: vec![],
            lines: vec![line("start", How::Broken), line("open", How::NotRun)],
            failures: vec![FailureView {
                line: 1,
                cause: "The pump runs dry.".to_owned(),
                severity: Severity::Damage,
                missing: vec![missing],
            }],
            unmet: vec![],
            right_order: None,
            explain: false,
        };
        let text = told(&run).join("\n");
        let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
        let wanted = "First run, which counts: 0 of 2 lines 1 Step start: fails The pump runs dry. Missing: “Suction \
                      lined up”. “Open the valve” gives it; that step stands at line 2 of your procedure. Severity: \
                      damage (on the scale: no effect, trip, damage, injury). 2 Step open: not run";
        assert_eq!(flat, wanted);
    }
}
