//! Marks a point: where the learner pointed, against the part that was asked for. The foremost part under the point
//! counts; a piece of the part that was asked for is right, and a larger part that holds it is not.

use super::{AnswerError, Detail, Marked};
use crate::domain::answer::Pointed;
use crate::domain::drawing::{Drawing, Pointing};
use crate::domain::outcome::Outcome;

/// Marks a pointing.
///
/// # Errors
/// Where the drawing has no part of the id that is given, or the point is no two numbers.
pub(super) fn mark(pointing: &Pointing, pointed: &Pointed, in_time: bool) -> Result<Marked, AnswerError> {
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
    Ok((outcome, reason, Detail::Point { hit, part }))
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
