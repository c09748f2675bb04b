//! What a learner gives to a card, in the form of `bedplate try` and of the evidence kept with an attempt.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::domain::settings::bounded_lines;

/// An answer to a card. Positions count from 1. `seconds` is the time it took, where known.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Answer {
    /// What was given.
    #[serde(flatten)]
    pub given: Given,
    /// The time it took.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub seconds: Option<f64>,
}

/// What was given, by form.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Given {
    /// Typed words (recall) or a typed figure.
    Text(String),
    /// Key points ticked as said, by number.
    Said(Vec<usize>),
    /// A why's links in the order given, by position in links then false links.
    Links(Vec<usize>),
    /// A sequence's steps in the order given, by key.
    Steps(Vec<String>),
    /// A line-up's valves.
    LinedUp(LinedUp),
    /// A working's figures, lines and answer.
    Worked(Worked),
    /// Where the learner pointed.
    Pointed(Pointed),
}

/// A form in which an answer can be written down: what it gives, and the keys by which it gives that, in
/// the order in which messages name them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Form {
    /// Typed words, or a typed figure.
    Text,
    /// A typed figure with the figures that it was worked out from.
    Worked,
    /// Key points by number.
    Said,
    /// Links by position.
    Links,
    /// Steps by key.
    Steps,
    /// Valves as they are set.
    LinedUp,
    /// A place on a drawing.
    At,
    /// A part of a drawing.
    Part,
}

impl Form {
    /// The keys of the form, as a message names them.
    pub fn name(self) -> &'static str {
        match self {
            Form::Text => "`text`",
            Form::Worked => "`text` with `givens` or `seed`",
            Form::Said => "`said`",
            Form::Links => "`links`",
            Form::Steps => "`steps`",
            Form::LinedUp => "`open` and `ways`",
            Form::At => "`at`",
            Form::Part => "`part`",
        }
    }
}

/// How the learner set a line-up: all that is not named is shut.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct LinedUp {
    /// Keys of the nodes that stand open.
    #[serde(default)]
    pub open: Vec<String>,
    /// For each three-way valve that stands on a way: its key and the key of the neighbour.
    #[serde(default)]
    pub ways: BTreeMap<String, String>,
}

/// What the learner worked out.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Worked {
    /// The seed that the figures were drawn from, where they were.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub seed: Option<u64>,
    /// The figures by name, such as `320 mm`; empty where a seed alone says them.
    #[serde(default)]
    pub givens: BTreeMap<String, String>,
    /// The answer as typed.
    pub text: String,
    /// The worksheet's lines as typed.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub lines: Vec<String>,
    /// What was answered at the first try, where this is the second one on the same figures.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub first: Option<String>,
}

/// Where the learner pointed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Pointed {
    /// Column and row in the drawing's own units.
    At([f64; 2]),
    /// A part by its id.
    Part(String),
}

/// The longest typed answer that is marked and kept, in characters: some ten pages.
pub const LONGEST_TEXT: usize = 20_000;

/// Cuts a text to [`LONGEST_TEXT`]; true where it was longer.
pub fn cut_text(text: &mut String) -> bool {
    match text.char_indices().nth(LONGEST_TEXT) {
        Some((at, _)) => {
            text.truncate(at);
            text.shrink_to_fit();
            true
        }
        None => false,
    }
}

impl Given {
    /// Cuts typed text to [`LONGEST_TEXT`], a worksheet to what any worksheet holds; true where something was cut.
    pub fn cut(&mut self) -> bool {
        match self {
            Given::Text(text) => cut_text(text),
            Given::Worked(worked) => {
                let lines = bounded_lines(worked.lines.clone());
                let cut = lines != worked.lines;
                worked.lines = lines;
                cut | cut_text(&mut worked.text)
            }
            _ => false,
        }
    }
}

impl Answer {
    /// An answer with no time.
    pub fn of(given: Given) -> Self {
        Self { given, seconds: None }
    }
}
