//! An expression's text as tokens. A number takes the unit behind it with it: `9.81 m/s2` is one token.

use std::ops::Range;

use super::error::ExpressionError;
use super::names::{begins_name, continues_name};
use super::unit_tail;
use crate::domain::quantity::Unit;
use crate::domain::quantity::typed::chars::Chars;
use crate::domain::quantity::typed::number;

/// How a text is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Style {
    /// As decks write: no thousands marks, no decimal comma.
    Deck,
    /// As learners type: both, where there is one way to read them.
    Typed,
}

/// A piece of an expression.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Token {
    /// A plain number.
    Number(f64),
    /// A number with its unit.
    Quantity(f64, Unit),
    /// A name, a function or a unit that stands alone.
    Name(String),
    /// `+ - * / ^`
    Sign(char),
    Open,
    Close,
    Comma,
    /// `√`
    Root,
}

/// A token with its place in the text, in bytes.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Placed {
    pub(super) token: Token,
    pub(super) span: Range<usize>,
}

/// An expression may have this many characters.
pub(super) const MOST_CHARS: usize = 400;
/// A power of ten in a number may have this many digits.
const MOST_EXPONENT_DIGITS: usize = 2;

/// Cuts a text into tokens.
///
/// # Errors
/// Where a sign stands in it that no expression has, a number cannot be read, or it is too long.
pub(super) fn tokens(text: &str, style: Style) -> Result<Vec<Placed>, ExpressionError> {
    if text.chars().count() > MOST_CHARS {
        let message = format!("the expression has more than {MOST_CHARS} characters");
        return Err(ExpressionError::unreadable(0..text.len(), message, "make two lines of it"));
    }
    let chars = Chars::new(text);
    let mut lexer = Lexer { chars: &chars, style, out: Vec::new(), calls: Vec::new() };
    let mut at = 0;
    loop {
        at = chars.skip_spaces(at);
        let Some(c) = chars.get(at) else { return Ok(lexer.out) };
        at = lexer.token(at, c)?;
    }
}

struct Lexer<'a> {
    chars: &'a Chars,
    style: Style,
    out: Vec<Placed>,
    /// For each open bracket whether a function's name stands before it.
    calls: Vec<bool>,
}

impl Lexer<'_> {
    fn span(&self, start: usize, end: usize) -> Range<usize> {
        let start = self.chars.place(start);
        start..self.chars.place(end).max(start)
    }

    fn push(&mut self, token: Token, start: usize, end: usize) -> usize {
        let span = self.span(start, end);
        self.out.push(Placed { token, span });
        end
    }

    fn token(&mut self, at: usize, c: char) -> Result<usize, ExpressionError> {
        let after = at + 1;
        Ok(match c {
            '0'..='9' => return self.number(at),
            '.' if self.chars.is_digit(after) => return self.number(at),
            '+' | '-' | '/' => self.push(Token::Sign(c), at, after),
            '*' | '·' if self.chars.get(after) == Some('*') && c == '*' => {
                let mend = "write `^` for a power and one `*` for a product";
                return Err(ExpressionError::unreadable(self.span(at, after + 1), "`**` is no sign here", mend));
            }
            '*' | '·' => self.push(Token::Sign('*'), at, after),
            '^' => self.push(Token::Sign('^'), at, after),
            '√' => self.push(Token::Root, at, after),
            '(' => {
                let named = self.out.last().is_some_and(|last| matches!(last.token, Token::Name(_)));
                self.calls.push(named);
                self.push(Token::Open, at, after)
            }
            ')' => {
                self.calls.pop();
                self.push(Token::Close, at, after)
            }
            ',' => self.push(Token::Comma, at, after),
            '%' | '‰' => self.push(Token::Name(c.to_string()), at, after),
            c if begins_name(c) => {
                let mut end = after;
                while self.chars.get(end).is_some_and(continues_name) {
                    end += 1;
                }
                let name = self.chars.chars[at..end].iter().collect();
                self.push(Token::Name(name), at, end)
            }
            c => return Err(self.stranger(at, c)),
        })
    }

    fn stranger(&self, at: usize, c: char) -> ExpressionError {
        let mend = match c {
            '=' => "write one `=` a line, with a name before it".to_owned(),
            '[' | ']' | '{' | '}' => "use round brackets".to_owned(),
            ':' => "write `/` to divide".to_owned(),
            _ => "use names, numbers with their units, `+ - * / ^` and round brackets".to_owned(),
        };
        ExpressionError::unreadable(self.span(at, at + 1), format!("`{c}` has no meaning in an expression"), mend)
    }

    /// A number with the unit behind it, if there is one.
    fn number(&mut self, at: usize) -> Result<usize, ExpressionError> {
        let separates = self.calls.last().copied().unwrap_or_default();
        let (value, end) = if self.style == Style::Typed && !separates {
            let found = number::plain(self.chars, at);
            found.ok_or_else(|| self.no_number(at, at + 1))?
        } else {
            self.strict_number(at)?
        };
        let bad_exponent = self.chars.chars[at..end]
            .iter()
            .position(|c| matches!(c, 'e' | 'E'))
            .map(|e| self.chars.chars[at + e + 1..end].iter().filter(|c| c.is_ascii_digit()).count())
            .is_some_and(|digits| digits > MOST_EXPONENT_DIGITS);
        if bad_exponent || !value.is_finite() {
            let mend = "use a power of ten of at most two digits";
            return Err(ExpressionError::unreadable(self.span(at, end), "the number is out of range", mend));
        }
        if self.chars.get(end) == Some('.') || (self.chars.get(end) == Some(',') && self.chars.is_digit(end + 1)) {
            let decimal = self.style == Style::Deck || separates || self.chars.get(end) == Some('.');
            if decimal && !(separates && self.chars.get(end) == Some(',')) {
                return Err(self.no_number(at, end + 1));
            }
        }
        match unit_tail::at(self.chars, end) {
            Some(tail) => {
                let text: String = self.chars.chars[tail.clone()].iter().collect();
                let span = self.span(tail.start, tail.end);
                let unit =
                    Unit::parse(&text).map_err(|error| ExpressionError::unreadable(span, error.message, error.mend))?;
                Ok(self.push(Token::Quantity(value, unit), at, tail.end))
            }
            None => Ok(self.push(Token::Number(value), at, end)),
        }
    }

    fn no_number(&self, at: usize, end: usize) -> ExpressionError {
        let mend = "write numbers without thousands marks and with a decimal point, such as `1500` or `0.125`";
        ExpressionError::unreadable(self.span(at, end), "this is no plain number", mend)
    }

    fn strict_number(&self, at: usize) -> Result<(f64, usize), ExpressionError> {
        let digits = |mut at: usize| {
            while self.chars.is_digit(at) {
                at += 1;
            }
            at
        };
        let mut end = digits(at);
        if self.chars.get(end) == Some('.') && self.chars.is_digit(end + 1) {
            end = digits(end + 1);
        }
        if matches!(self.chars.get(end), Some('e' | 'E')) {
            let start = end + 1 + usize::from(matches!(self.chars.get(end + 1), Some('-' | '+')));
            if digits(start) > start {
                end = digits(start);
            }
        }
        let text: String = self.chars.chars[at..end].iter().collect();
        text.parse().map(|value| (value, end)).map_err(|_| self.no_number(at, end))
    }
}
