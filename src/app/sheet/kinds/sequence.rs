//! A sequence on its sheet: run once, mended and run again, and the question about what happened in a run.

use super::kind::OnSheet;
use crate::app::sheet::answer_sheet::{AnswerSheet, Explaining, Stage};
use crate::domain::answer::Given;
use crate::domain::card::{Card, about_a_run};
use crate::domain::day::Instant;
use crate::domain::kinds::Body;
use crate::domain::plant::{Procedure, explain, run};

impl OnSheet for Procedure {
    fn marked(&self, sheet: &mut AnswerSheet) {
        sheet.sequence.runs = 1;
        sheet.look_for_a_question(self);
    }
}

impl AnswerSheet {
    /// Runs a mended list on the plant. The first run's outcome stands.
    pub fn run_again(&mut self, procedure: &Procedure, steps: Vec<String>) {
        if matches!(self.stage, Stage::Marked(_)) {
            self.sequence.runs += 1;
            self.sequence.last = Some(steps);
            self.look_for_a_question(procedure);
        }
    }

    /// The list that stands on the sheet, by position: the last one that was run.
    pub fn list(&self, procedure: &Procedure) -> Vec<usize> {
        let keys: &[String] = match (&self.sequence.last, &self.stage) {
            (Some(last), _) => last,
            (None, Stage::Marked(marked)) => match &marked.given {
                Given::Steps(first) => first,
                _ => &[],
            },
            _ => &[],
        };
        keys.iter().filter_map(|key| procedure.step_of(key)).collect()
    }

    fn look_for_a_question(&mut self, procedure: &Procedure) {
        self.sequence.may_explain = explain(procedure, &run(procedure, &self.list(procedure))).is_some();
    }

    /// Lays the question about the last run on the sheet, in front of the card.
    pub fn explain(&mut self, card: &Card, now: Instant, shuffle: impl FnOnce(usize) -> Vec<usize>) {
        let Body::Sequence(procedure) = &card.body else { return };
        let Some(question) = explain(procedure, &run(procedure, &self.list(procedure))) else { return };
        let about = Card {
            key: about_a_run(&card.key),
            ask: format!("{} Give the causes in order, from the first to that.", full_stop(&question.tell)),
            because: None,
            because_points: Vec::new(),
            caution: None,
            seconds: None,
            probes: Vec::new(),
            samples: Vec::new(),
            was: Vec::new(),
            body: Body::Why(question.why),
            ..card.clone()
        };
        let sheet = AnswerSheet::of(&about, Stage::Asked, now, 0, shuffle);
        self.explaining = Some(Explaining { card: about, sheet: Box::new(sheet) });
    }

    /// The question has been answered and kept: the run stands on the sheet again.
    pub fn explained(&mut self) {
        self.explaining = None;
        self.sequence.may_explain = false;
    }
}

fn full_stop(text: &str) -> String {
    let text = text.trim();
    if text.ends_with(['.', '?', '!']) { text.to_owned() } else { format!("{text}.") }
}
