//! Line-up: valves to set, against what the network must do.

mod asked;
mod mark;
mod told;
mod what_if;

pub use told::{DemandMark, Leak, Told};

use super::kind::{CardKind, Facts, Handed, Marked, Marks, Weighed, WhatIf};
use crate::domain::answer::{Form, Given};
use crate::domain::editions::Part;
use crate::domain::key_point::KeyPoint;
use crate::domain::marking::AnswerError;
use crate::domain::marking::common::{at_least, least_for_prompted};
use crate::domain::outcome::Outcome;
use crate::domain::piping::{Demand, Network, Want, prove};

pub(super) const FACTS: Facts =
    Facts { word: "line-up", forms: &[Form::LinedUp], first_seconds: 90.0, oral_seconds: 240.0 };

impl CardKind for Network {
    fn facts(&self) -> &'static Facts {
        &FACTS
    }

    fn rule(&self, fluent: &str) -> String {
        let most = least_for_prompted(self.demands.iter().filter(|demand| is_flow(demand)).count());
        let some = most.map_or_else(String::new, |least| format!(" {} of them: Prompted.", at_least(least)));
        format!("Every flow there: Answered{fluent}.{some} Less, or a flow that must not be: Missed.")
    }

    fn expected(&self) -> Vec<KeyPoint> {
        self.demands.iter().map(|demand| KeyPoint::plain(demand.name.clone(), !is_flow(demand))).collect()
    }

    fn what_ifs(&self) -> Vec<WhatIf> {
        what_if::all(self)
    }

    fn what_ifs_about(&self, missed: &str) -> Vec<WhatIf> {
        what_if::about(self, missed)
    }

    /// The demands, the valves always open, those always shut, a setting that works.
    fn remedy_parts(&self) -> usize {
        let proof = prove(self).ok();
        let said = proof
            .map(|proof| [!proof.needed_open.is_empty(), !proof.needed_shut.is_empty(), proof.least_open.is_some()]);
        self.demands.len() + said.unwrap_or_default().into_iter().filter(|said| *said).count()
    }

    fn asked(&self) -> Vec<Part> {
        asked::asked(self)
    }

    fn texts(&self) -> Vec<&str> {
        let nodes = self.nodes.iter().map(|node| node.name.as_str());
        nodes.chain(self.demands.iter().map(|demand| demand.name.as_str())).collect()
    }

    fn is_critical(&self) -> bool {
        self.demands.iter().any(|demand| !is_flow(demand))
    }
}

impl Marks for Network {
    type Told = Told;

    fn mark(&self, answer: &Handed<'_>) -> Result<Marked<Told>, AnswerError> {
        match answer.given {
            Given::LinedUp(set) => mark::mark(self, set, answer.in_time),
            _ => Err(FACTS.wrong_form()),
        }
    }

    fn weigh(&self, told: &Told, _: Outcome) -> Vec<Weighed> {
        let demands = self.demands.iter().zip(&told.demands);
        demands.map(|(demand, mark)| Weighed::there(&demand.name, mark.met, !is_flow(demand))).collect()
    }
}

/// Something that must flow; the other demands are what must never be.
fn is_flow(demand: &Demand) -> bool {
    matches!(demand.want, Want::Flow(_))
}
