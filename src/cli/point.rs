//! A point in the terminal: nothing can be drawn there, so the parts are told by how they look, in an order of their
//! own, and one is chosen by its number.

use crate::cli::say::{labelled, wrapped};
use crate::domain::answer::{Given, Pointed};
use crate::present::point::{PointAskedView, PointMarkedView};
use crate::present::words;

/// What stands over the prompt, as lines of text.
pub fn asked(view: &PointAskedView) -> Vec<String> {
    let mut lines = vec![wrapped("The drawing cannot be shown here. These are its parts, as they look on it:", 0)];
    let look = |(n, part): (usize, &crate::present::point::Choice)| labelled(&format!("  {}", n + 1), &part.look, 6);
    lines.extend(view.choice.iter().enumerate().map(look));
    lines
}

/// The prompt.
pub fn prompt(_view: &PointAskedView) -> String {
    "The number of the part: ".to_owned()
}

/// What a line gives.
///
/// # Errors
/// Where it is no number of a part.
pub fn given(line: &str, view: &PointAskedView) -> Result<Given, String> {
    let part = line.trim().parse::<usize>().ok().and_then(|n| n.checked_sub(1)).and_then(|n| view.choice.get(n));
    match part {
        Some(part) => Ok(Given::Pointed(Pointed::Part(part.id.clone()))),
        None => Err(format!("Type one number from 1 to {}.", view.choice.len())),
    }
}

/// The marking, as lines of text.
pub fn told(view: &PointMarkedView) -> Vec<String> {
    let mut lines = vec![wrapped(&view.reason, 0)];
    let target = view.drawing.drawing.parts.get(view.target).filter(|_| !view.hit);
    if let Some((name, look)) = target.and_then(|part| Some((&part.name, part.look.as_ref()?))) {
        lines.push(wrapped(&format!("{}: {look}.", words::capital(name)), 0));
    }
    lines
}
