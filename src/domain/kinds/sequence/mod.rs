//! Sequence: steps to put in an order that works, run on the plant.

mod asked;
mod mark;
mod told;
mod weigh;
mod what_if;

pub use told::{BreakMark, Told};

use super::kind::{CardKind, Facts, Handed, Marked, Marks, Weighed, WhatIf};
use crate::domain::answer::{Form, Given};
use crate::domain::editions::Part;
use crate::domain::key_point::KeyPoint;
use crate::domain::marking::AnswerError;
use crate::domain::outcome::Outcome;
use crate::domain::plant::{Procedure, prove};

pub(super) const FACTS: Facts =
    Facts { word: "sequence", forms: &[Form::Steps], first_seconds: 120.0, oral_seconds: 300.0 };

impl CardKind for Procedure {
    fn facts(&self) -> &'static Facts {
        &FACTS
    }

    fn rule(&self, fluent: &str) -> String {
        format!(
            "An order that works: Answered{fluent}. 60 % of the needed steps and the goal: Prompted. Less, or damage or injury: \
             Missed."
        )
    }

    fn expected(&self) -> Vec<KeyPoint> {
        let order = prove(self).ok().and_then(|proof| proof.one).unwrap_or_default();
        let steps = order.into_iter().map(|step| self.steps[step].say.clone());
        steps.chain(["In an order that works".to_owned()]).map(|say| KeyPoint::plain(say, false)).collect()
    }

    fn what_ifs(&self) -> Vec<WhatIf> {
        what_if::all(self)
    }

    fn what_ifs_about(&self, missed: &str) -> Vec<WhatIf> {
        what_if::about(self, missed)
    }

    fn remedy_parts(&self) -> usize {
        prove(self).ok().and_then(|proof| proof.one).map_or(0, |order| order.len())
    }

    fn asked(&self) -> Vec<Part> {
        asked::asked(self)
    }

    fn texts(&self) -> Vec<&str> {
        self.steps.iter().map(|step| step.say.as_str()).collect()
    }

    fn shuffled(&self) -> usize {
        self.steps.len()
    }

    fn order_that_works(&self) -> Option<Vec<String>> {
        let order = prove(self).ok()?.one?;
        Some(order.into_iter().map(|step| self.steps[step].key.clone()).collect())
    }

    fn has_runs(&self) -> bool {
        true
    }
}

impl Marks for Procedure {
    type Told = Told;

    fn mark(&self, answer: &Handed<'_>) -> Result<Marked<Told>, AnswerError> {
        match answer.given {
            Given::Steps(steps) => mark::mark(self, steps, answer.in_time),
            _ => Err(FACTS.wrong_form()),
        }
    }

    fn weigh(&self, told: &Told, _: Outcome) -> Vec<Weighed> {
        weigh::weigh(self, told)
    }
}
