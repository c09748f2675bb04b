//! Point: a part to find on a drawing. The foremost part under the point counts; a piece of the part that was asked for
//! is right, and a larger part that holds it is not.

use serde::Serialize;

use super::kind::{CardKind, Facts, Handed, Marked, Marks, Weighed};
use crate::domain::answer::{Form, Given, Pointed};
use crate::domain::drawing::{Drawing, Pointing};
use crate::domain::editions::{Line, Part, What};
use crate::domain::key_point::KeyPoint;
use crate::domain::marking::AnswerError;
use crate::domain::outcome::Outcome;

pub(super) const FACTS: Facts =
    Facts { word: "point", forms: &[Form::At, Form::Part], first_seconds: 15.0, oral_seconds: 40.0 };

/// What only the marking of a pointing tells.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Told {
    /// Whether it is the part that was asked for.
    pub hit: bool,
    /// The part that was pointed at, by id; none where there is none.
    pub part: Option<String>,
}

impl CardKind for Pointing {
    fn facts(&self) -> &'static Facts {
        &FACTS
    }

    fn rule(&self, fluent: &str) -> String {
        format!("The right part: Answered{fluent}. Any other: Missed.")
    }

    fn expected(&self) -> Vec<KeyPoint> {
        vec![KeyPoint::plain(right_part(self).to_owned(), false)]
    }

    fn asked(&self) -> Vec<Part> {
        let parts = self.drawing.parts.iter().map(|part| Line::new(&part.name));
        let drawing = Part::any_order(What::Drawing, parts).sealed(format!("{:016x}", self.drawing.print));
        let target = Part::one(What::Target, self.name().unwrap_or(&self.part)).sealed(self.part.clone());
        vec![target, drawing]
    }

    /// The part's name, how it looks, what it is a piece of.
    fn remedy_parts(&self) -> usize {
        let Some(target) = self.target().map(|target| &self.drawing.parts[target]) else { return 0 };
        let whole = target.within.and_then(|whole| self.drawing.parts.get(whole));
        1 + usize::from(target.look.is_some()) + usize::from(whole.is_some())
    }

    fn texts(&self) -> Vec<&str> {
        self.name().into_iter().collect()
    }

    fn shuffled(&self) -> usize {
        self.drawing.parts.len()
    }

    fn pointing(&self) -> Option<&Pointing> {
        Some(self)
    }

    fn can_be_told(&self) -> bool {
        self.target().is_some_and(|target| self.drawing.told_apart(target).is_ok_and(|parts| !parts.is_empty()))
    }

    fn stays_on_the_sheet(&self) -> bool {
        true
    }
}

impl Marks for Pointing {
    type Told = Told;

    fn mark(&self, answer: &Handed<'_>) -> Result<Marked<Told>, AnswerError> {
        match answer.given {
            Given::Pointed(pointed) => mark(self, pointed, answer.in_time),
            _ => Err(FACTS.wrong_form()),
        }
    }

    fn weigh(&self, told: &Told, _: Outcome) -> Vec<Weighed> {
        vec![Weighed::there(right_part(self), told.hit, false)]
    }
}

fn right_part(pointing: &Pointing) -> &str {
    pointing.name().unwrap_or("The right part")
}

/// Marks a pointing.
///
/// # Errors
/// Where the drawing has no part of the id that is given, or the point is no two numbers.
fn mark(pointing: &Pointing, pointed: &Pointed, in_time: bool) -> Result<Marked<Told>, AnswerError> {
    let drawing = &pointing.drawing;
    let target = pointing.target().ok_or_else(|| {
        // A deck with such a card has an error, so that the card cannot be asked.
        AnswerError { message: format!("the drawing has no part `{}`", pointing.part) }
    })?;
    let part = match pointed {
        // An element that is no part is nothing that can be pointed at.
        Pointed::Part(id) if drawing.others.contains(id) => None,
        Pointed::Part(id) => Some(drawing.part(id).ok_or_else(|| unknown(drawing, id))?),
        Pointed::At(at) if at.iter().all(|n| n.is_finite()) => drawing.part_at(*at),
        Pointed::At(_) => return Err(AnswerError { message: "`at` must be two finite numbers".to_owned() }),
    };
    let hit = part.is_some_and(|part| drawing.lies_within(part, target));
    let outcome = match (hit, in_time) {
        (false, _) => Outcome::Missed,
        (true, false) => Outcome::Answered,
        (true, true) => Outcome::Fluent,
    };
    let reason = match (part, pointed) {
        (Some(part), _) => said(drawing, part, target, hit),
        (None, Pointed::At(at)) if !drawing.holds(*at) => "That lies outside the drawing.".to_owned(),
        (None, _) => format!("There is no part there; look for {}.", the(drawing, target)),
    };
    let part = part.map(|part| drawing.parts[part].id.clone());
    Ok(Marked { outcome, reason, told: Told { hit, part } })
}

/// Words that fit one thing and several.
fn said(drawing: &Drawing, part: usize, target: usize, hit: bool) -> String {
    let (named, asked) = (the(drawing, part), the(drawing, target));
    match (hit, part == target) {
        (true, true) => format!("You pointed to {named}."),
        (true, false) => format!("You pointed to {named}, a piece of {asked}."),
        (false, _) if named == asked => {
            format!("You pointed to another part called {}, not to the one asked for.", drawing.parts[part].name)
        }
        (false, _) => format!("You pointed to {named}, not to {asked}."),
    }
}

/// A part's name with its article.
fn the(drawing: &Drawing, part: usize) -> String {
    let name = drawing.parts[part].name.as_str();
    let has_its_own = ["the ", "The ", "a ", "A ", "an ", "An ", "No.", "Nr"].iter().any(|w| name.starts_with(w))
        || name.starts_with(|c: char| c.is_ascii_digit());
    if has_its_own { name.to_owned() } else { format!("the {name}") }
}

fn unknown(drawing: &Drawing, id: &str) -> AnswerError {
    const MOST: usize = 20;
    let shown: String = id.chars().take(60).collect();
    let ids: Vec<&str> = drawing.parts.iter().take(MOST).map(|part| part.id.as_str()).collect();
    let more = if drawing.parts.len() > MOST { ", ..." } else { "" };
    AnswerError { message: format!("the drawing has no part `{shown}`; its parts are `{}`{more}", ids.join("`, `")) }
}
