//! A working's question with its figures: `{bore}` becomes `320 mm`. `{{` and `}}` are braces as they stand.

use std::ops::Range;

use super::card::Working;
use super::draw;
use crate::domain::quantity::{Quantity, pretty_unit};

/// A piece of a question.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Piece<'t> {
    /// Text as it stands.
    Text(&'t str),
    /// A name in braces, with its place and that of its braces, in bytes.
    Name(&'t str, Range<usize>),
    /// A brace that opens and is not closed, with its place.
    Open(Range<usize>),
}

/// Cuts a question at its braces.
pub fn pieces(text: &str) -> Vec<Piece<'_>> {
    let mut pieces = Vec::new();
    let mut from = 0;
    let mut at = 0;
    while let Some(found) = text[at..].find(['{', '}']) {
        let brace = at + found;
        let rest = &text[brace..];
        if rest.starts_with("{{") || rest.starts_with("}}") {
            pieces.push(Piece::Text(&text[from..brace + 1]));
            (from, at) = (brace + 2, brace + 2);
        } else if rest.starts_with('}') {
            at = brace + 1;
        } else {
            pieces.push(Piece::Text(&text[from..brace]));
            let inner = &rest[1..];
            match inner.find(['{', '}', '\n']).filter(|end| inner[*end..].starts_with('}')) {
                Some(end) => {
                    let close = brace + 1 + end + 1;
                    pieces.push(Piece::Name(inner[..end].trim(), brace..close));
                    (from, at) = (close, close);
                }
                None => {
                    pieces.push(Piece::Open(brace..brace + 1));
                    (from, at) = (brace + 1, brace + 1);
                }
            }
        }
    }
    pieces.push(Piece::Text(&text[from..]));
    pieces
}

/// The question with these figures (in the order of the working's givens). A name that is none of the givens', which
/// reading a deck excludes, stays in its braces.
pub fn ask(working: &Working, text: &str, figures: &[Quantity]) -> String {
    let mut out = String::with_capacity(text.len());
    for piece in pieces(text) {
        match piece {
            Piece::Text(text) => out += text,
            Piece::Open(_) => out.push('{'),
            Piece::Name(name, span) => match working.givens.iter().position(|given| given.name == name) {
                Some(at) if at < figures.len() => out += &shown(&working.givens[at], &figures[at]),
                _ => out += &text[span],
            },
        }
    }
    out
}

/// A given's figure with the signs that people read, such as `85 °C`.
pub fn shown(given: &super::Given, figure: &Quantity) -> String {
    let text = draw::text(given, figure);
    match text.split_once(' ') {
        Some((number, unit)) => format!("{number} {}", pretty_unit(unit)),
        None => text,
    }
}
