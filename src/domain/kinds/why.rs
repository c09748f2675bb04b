//! Why: causes to put in their order, and such as belong nowhere to refuse.

use serde::Serialize;

use super::kind::{CardKind, Facts, Handed, Marked, Marks, Weighed};
use crate::domain::answer::{Form, Given};
use crate::domain::editions::{Line, Part, What};
use crate::domain::english::{capital as sentence, in_words};
use crate::domain::key_point::KeyPoint;
use crate::domain::marking::AnswerError;
use crate::domain::marking::common::{check_positions, counted};
use crate::domain::outcome::Outcome;

pub(super) const FACTS: Facts = Facts { word: "why", forms: &[Form::Links], first_seconds: 50.0, oral_seconds: 120.0 };

/// Causes to put in order.
#[derive(Debug, Clone, PartialEq)]
pub struct Why {
    /// In causal order.
    pub links: Vec<String>,
    /// Belong nowhere.
    pub false_links: Vec<String>,
}

/// What only the marking of a why tells: links compared.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Told {
    /// The most true links that stand in their right order.
    pub in_order: usize,
    /// How many false links were used.
    pub false_links: usize,
}

impl CardKind for Why {
    fn facts(&self) -> &'static Facts {
        &FACTS
    }

    fn rule(&self, fluent: &str) -> String {
        counted(self.links.len(), "in order", " A cause that does not belong takes one away.", fluent, None)
    }

    fn expected(&self) -> Vec<KeyPoint> {
        self.links.iter().map(|link| KeyPoint::plain(link.clone(), false)).collect()
    }

    fn asked(&self) -> Vec<Part> {
        let lines = |links: &[String]| links.iter().map(|link| Line::new(link)).collect::<Vec<_>>();
        let links = Part::in_order(What::Links, lines(&self.links));
        vec![links, Part::any_order(What::FalseLinks, lines(&self.false_links))]
    }

    fn texts(&self) -> Vec<&str> {
        self.links.iter().chain(&self.false_links).map(String::as_str).collect()
    }

    fn is_plain_question(&self) -> bool {
        true
    }

    fn answer_in_words(&self) -> String {
        self.links.join(" ")
    }

    fn shuffled(&self) -> usize {
        self.links.len() + self.false_links.len()
    }
}

impl Marks for Why {
    type Told = Told;

    fn mark(&self, answer: &Handed<'_>) -> Result<Marked<Told>, AnswerError> {
        match answer.given {
            Given::Links(links) => mark(self, links, answer.in_time),
            _ => Err(FACTS.wrong_form()),
        }
    }

    fn weigh(&self, told: &Told, _: Outcome) -> Vec<Weighed> {
        let earned = told.in_order.saturating_sub(told.false_links) as f64 / self.links.len().max(1) as f64;
        vec![Weighed { say: format!("In order: {}", self.links.join("; ")), earned, critical: false }]
    }
}

/// Marks links given by position from 1, in `links` then `false_links`.
fn mark(why: &Why, given: &[usize], in_time: bool) -> Result<Marked<Told>, AnswerError> {
    let count = why.links.len();
    check_positions(given, count + why.false_links.len(), "link")?;
    let right: Vec<usize> = given.iter().copied().filter(|p| *p <= count).collect();
    let false_links = given.len() - right.len();
    let in_order = longest_rising(&right).len();
    let evidence = in_order.saturating_sub(false_links);
    let outcome = Outcome::from_share(evidence as f64, count as f64, in_time);
    let reason = reason(in_order, false_links, right.len(), count);
    Ok(Marked { outcome, reason, told: Told { in_order, false_links } })
}

fn reason(in_order: usize, false_links: usize, given: usize, count: usize) -> String {
    let order = match in_order {
        n if n == count => format!("all {} links are in order", in_words(count)),
        n => format!("{} of {} links {} in order", in_words(n), in_words(count), if n == 1 { "is" } else { "are" }),
    };
    let missing = match count - given {
        0 => String::new(),
        1 => ", one was left out".to_owned(),
        n => format!(", {} were left out", in_words(n)),
    };
    let wrong = match false_links {
        0 => String::new(),
        1 => ", and one that does not belong was used".to_owned(),
        n => format!(", and {} that do not belong were used", in_words(n)),
    };
    format!("{}{missing}{wrong}.", sentence(&order))
}

/// The longest rising run, not necessarily of neighbours: the links that stand in their right order.
pub fn longest_rising(positions: &[usize]) -> Vec<usize> {
    // `ends[n]` is where the smallest last link of a rising run of n + 1 links stands; `before` leads back along each.
    let mut ends: Vec<usize> = Vec::new();
    let mut before: Vec<Option<usize>> = Vec::with_capacity(positions.len());
    for (here, position) in positions.iter().enumerate() {
        let at = ends.partition_point(|end| positions[*end] < *position);
        before.push(at.checked_sub(1).map(|n| ends[n]));
        match ends.get_mut(at) {
            Some(end) => *end = here,
            None => ends.push(here),
        }
    }
    let mut run: Vec<usize> =
        std::iter::successors(ends.last().copied(), |here| before[*here]).map(|here| positions[here]).collect();
    run.reverse();
    run
}

#[cfg(test)]
mod tests {
    use super::longest_rising;

    #[test]
    fn the_longest_rising_run_may_skip() {
        for (positions, longest) in [
            (&[][..], 0),
            (&[1], 1),
            (&[1, 2, 3, 4], 4),
            (&[4, 3, 2, 1], 1),
            (&[2, 1, 3, 4], 3),
            (&[4, 1, 2, 3], 3),
            (&[3, 1, 4, 2, 5], 3),
        ] {
            assert_eq!(longest_rising(positions).len(), longest, "{positions:?}");
        }
    }
}
