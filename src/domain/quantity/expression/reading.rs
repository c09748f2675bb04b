//! An expression as read from a text.

use std::ops::Range;

use super::error::ExpressionError;
use super::parser;
use super::token::{self, Style};
use super::tree::{Part, Tree};
use crate::domain::quantity::Unit;

/// An expression as read.
#[derive(Debug, Clone, PartialEq)]
pub struct Expression {
    pub(super) tree: Tree,
}

impl Expression {
    /// Reads an expression of a deck.
    ///
    /// # Errors
    /// Where it is no expression, or beyond the bounds: 400 characters, brackets 32 deep.
    pub fn parse(text: &str) -> Result<Self, ExpressionError> {
        Self::read(text, Style::Deck)
    }

    /// Reads an expression that a learner typed: decimal commas and thousands marks are understood where there is one
    /// way to read them.
    ///
    /// # Errors
    /// As [`Expression::parse`].
    pub fn parse_typed(text: &str) -> Result<Self, ExpressionError> {
        Self::read(text, Style::Typed)
    }

    fn read(text: &str, style: Style) -> Result<Self, ExpressionError> {
        let tokens = token::tokens(text, style)?;
        Ok(Self { tree: parser::parse(&tokens, text)? })
    }

    /// The names in it with their places, in the order of the text; units that stand alone are among them, functions
    /// are not.
    pub fn names(&self) -> Vec<(&str, Range<usize>)> {
        let mut names: Vec<_> = self
            .tree
            .nodes
            .iter()
            .filter_map(|node| match &node.part {
                Part::Name(name) => Some((name.as_str(), node.span.clone())),
                _ => None,
            })
            .collect();
        names.sort_by_key(|(_, span)| span.start);
        names
    }

    /// The number and the unit, where the expression is one quantity as written.
    pub fn quantity(&self) -> Option<(f64, &Unit)> {
        match &self.tree.node(self.tree.root).part {
            Part::Quantity(number, unit) => Some((*number, unit)),
            _ => None,
        }
    }
}
