//! Tokens to a tree. Products bind closer than sums, powers closer than signs; `2 ^ 3 ^ 2` is `2 ^ (3 ^ 2)`.

use std::ops::Range;

use super::error::ExpressionError;
use super::functions::Function;
use super::token::{Placed, Token};
use super::tree::{Node, NodeId, Part, Tree};

/// Brackets may stand this deep.
const MOST_DEPTH: usize = 32;

/// Reads tokens as one expression.
///
/// # Errors
/// Where they are none.
pub(super) fn parse(tokens: &[Placed], text: &str) -> Result<Tree, ExpressionError> {
    let mut parser = Parser { tokens, at: 0, depth: 0, end: text.trim_end().len(), tree: Tree::default() };
    if tokens.is_empty() {
        let mend = "write names, numbers with their units, `+ - * / ^` and brackets";
        return Err(ExpressionError::unreadable(0..text.len(), "there is no expression", mend));
    }
    parser.tree.root = parser.sum()?;
    match parser.peek() {
        None => Ok(parser.tree),
        Some(_) => Err(parser.unexpected()),
    }
}

struct Parser<'a> {
    tokens: &'a [Placed],
    at: usize,
    depth: usize,
    end: usize,
    tree: Tree,
}

impl Parser<'_> {
    fn peek(&self) -> Option<&Token> {
        self.tokens.get(self.at).map(|placed| &placed.token)
    }

    fn here(&self) -> Range<usize> {
        self.tokens.get(self.at).map_or(self.end..self.end, |placed| placed.span.clone())
    }

    fn take(&mut self, signs: &[char]) -> Option<char> {
        match self.peek() {
            Some(Token::Sign(sign)) if signs.contains(sign) => {
                let sign = *sign;
                self.at += 1;
                Some(sign)
            }
            _ => None,
        }
    }

    fn add(&mut self, part: Part, span: Range<usize>) -> NodeId {
        self.tree.nodes.push(Node { part, span });
        self.tree.nodes.len() - 1
    }

    fn span(&self, left: NodeId, right: NodeId) -> Range<usize> {
        self.tree.nodes[left].span.start..self.tree.nodes[right].span.end
    }

    fn sum(&mut self) -> Result<NodeId, ExpressionError> {
        let mut left = self.product()?;
        while let Some(sign) = self.take(&['+', '-']) {
            let right = self.product()?;
            let span = self.span(left, right);
            left = self.add(if sign == '+' { Part::Add(left, right) } else { Part::Subtract(left, right) }, span);
        }
        Ok(left)
    }

    fn product(&mut self) -> Result<NodeId, ExpressionError> {
        let mut left = self.signed()?;
        while let Some(sign) = self.take(&['*', '/']) {
            let right = self.signed()?;
            let span = self.span(left, right);
            left = self.add(if sign == '*' { Part::Multiply(left, right) } else { Part::Divide(left, right) }, span);
        }
        Ok(left)
    }

    /// A power with the signs before it.
    fn signed(&mut self) -> Result<NodeId, ExpressionError> {
        let start = self.here().start;
        match self.take(&['-', '+']) {
            None => self.power(),
            Some('+') => self.signed(),
            Some(_) => {
                let of = self.signed()?;
                let node = &mut self.tree.nodes[of];
                node.span.start = node.span.start.min(start);
                match &mut node.part {
                    // "-18 degC" is a reading below zero.
                    Part::Number(number) | Part::Quantity(number, _) => {
                        *number = -*number;
                        Ok(of)
                    }
                    _ => {
                        let span = node.span.clone();
                        Ok(self.add(Part::Negate(of), span))
                    }
                }
            }
        }
    }

    fn power(&mut self) -> Result<NodeId, ExpressionError> {
        let base = self.atom()?;
        if self.take(&['^']).is_none() {
            return Ok(base);
        }
        let exponent = self.signed()?;
        let span = self.span(base, exponent);
        Ok(self.add(Part::Power(base, exponent), span))
    }

    fn atom(&mut self) -> Result<NodeId, ExpressionError> {
        let span = self.here();
        let Some(token) = self.peek().cloned() else { return Err(self.unexpected()) };
        let found = match token {
            Token::Number(number) => {
                self.at += 1;
                let node = self.add(Part::Number(number), span);
                self.twice_pi(node)
            }
            Token::Quantity(number, unit) => {
                self.at += 1;
                self.add(Part::Quantity(number, unit), span)
            }
            Token::Name(name) => {
                self.at += 1;
                match self.peek() {
                    Some(Token::Open) => self.call(&name, span)?,
                    _ => self.add(Part::Name(name), span),
                }
            }
            Token::Open => self.bracket(span)?,
            Token::Root => {
                self.at += 1;
                self.deeper(span.clone())?;
                let of = self.atom()?;
                self.depth -= 1;
                let span = span.start..self.tree.nodes[of].span.end;
                self.add(Part::Call(Function::Sqrt, vec![of]), span)
            }
            Token::Sign(_) | Token::Close | Token::Comma => return Err(self.unexpected()),
        };
        match self.peek() {
            Some(Token::Number(_) | Token::Quantity(..) | Token::Name(_) | Token::Open | Token::Root) => {
                Err(self.no_sign(found))
            }
            _ => Ok(found),
        }
    }

    /// `2 pi` is read as the one number that it is.
    fn twice_pi(&mut self, number: NodeId) -> NodeId {
        match self.peek() {
            Some(Token::Name(name)) if matches!(name.as_str(), "pi" | "π") => {
                let span = self.here();
                self.at += 1;
                let pi = self.add(Part::Name("pi".to_owned()), span);
                let span = self.span(number, pi);
                self.add(Part::Multiply(number, pi), span)
            }
            _ => number,
        }
    }

    fn deeper(&mut self, span: Range<usize>) -> Result<(), ExpressionError> {
        self.depth += 1;
        if self.depth > MOST_DEPTH {
            let message = format!("brackets stand more than {MOST_DEPTH} deep");
            return Err(ExpressionError::unreadable(span, message, "make two lines of it"));
        }
        Ok(())
    }

    fn bracket(&mut self, open: Range<usize>) -> Result<NodeId, ExpressionError> {
        self.at += 1;
        self.deeper(open.clone())?;
        let inner = self.sum()?;
        let end = self.close(&open)?;
        self.depth -= 1;
        let node = &mut self.tree.nodes[inner];
        if !matches!(node.part, Part::Name(_)) {
            node.span = open.start..end;
        }
        Ok(inner)
    }

    fn close(&mut self, open: &Range<usize>) -> Result<usize, ExpressionError> {
        match self.peek() {
            Some(Token::Close) => {
                let end = self.here().end;
                self.at += 1;
                Ok(end)
            }
            None => {
                Err(ExpressionError::unreadable(open.clone(), "this bracket is not closed", "write `)` at its end"))
            }
            Some(_) => Err(self.unexpected()),
        }
    }

    fn call(&mut self, name: &str, span: Range<usize>) -> Result<NodeId, ExpressionError> {
        let Some(function) = Function::named(name) else {
            let mend = match Function::nearest(name) {
                Some(near) => format!("did you mean `{near}`? For a product write `{name} * (`"),
                None => format!("for a product write `{name} * (`"),
            };
            return Err(ExpressionError::unreadable(span, format!("there is no function `{name}`"), mend));
        };
        let open = self.here();
        self.at += 1;
        self.deeper(open.clone())?;
        let mut given = vec![self.sum()?];
        while self.peek() == Some(&Token::Comma) {
            self.at += 1;
            given.push(self.sum()?);
        }
        let end = self.close(&open)?;
        self.depth -= 1;
        let (least, most) = function.takes();
        if given.len() < least || given.len() > most {
            let message = format!("`{name}` is given {} of {}", given.len(), function.takes_in_words());
            return Err(ExpressionError::unreadable(
                span.start..end,
                message,
                format!("write `{}`", function.written()),
            ));
        }
        Ok(self.add(Part::Call(function, given), span.start..end))
    }

    fn no_sign(&self, before: NodeId) -> ExpressionError {
        let is_number = matches!(self.tree.nodes[before].part, Part::Number(_));
        match self.peek() {
            Some(Token::Name(name)) if name == "in" => ExpressionError::unreadable(
                self.here(),
                "`in` for another unit stands at the end of a worksheet's line, and one unit follows",
                "write it as in `1 m in cm`; for inches write the number close to it, as in `12 in`",
            ),
            Some(Token::Name(name)) if is_number => ExpressionError::unreadable(
                self.here(),
                format!("`{name}` behind a number is no unit"),
                format!("write `*` before it for a product, or use a unit that the program knows{}", near_unit(name)),
            ),
            _ => ExpressionError::unreadable(self.here(), "a sign is missing before this", "write `*` for a product"),
        }
    }

    fn unexpected(&self) -> ExpressionError {
        let here = self.here();
        let (message, mend) = match self.peek() {
            None => ("the expression ends too early", "write what is missing at its end, or take the last sign away"),
            Some(Token::Close) => ("this bracket closes nothing, or nothing stands before it", "take it away"),
            Some(Token::Comma) => (
                "a comma stands between the parts that a function is given, and nowhere else",
                "write a decimal point for a decimal comma, and no thousands marks",
            ),
            Some(_) => ("a number or a name is missing before this", "write it, or take one of the signs away"),
        };
        ExpressionError::unreadable(here, message, mend)
    }
}

fn near_unit(name: &str) -> String {
    crate::domain::quantity::nearest_unit(name).map_or_else(String::new, |near| format!(", such as `{near}`"))
}
