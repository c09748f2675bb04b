//! A text as tokens with their places: words, numbers with units, denials, clause and sentence marks.

use std::ops::Range;

use super::lexicon::lexicon;
use super::marks;
use super::token::{Amount, Role, Token};
use super::vocabulary::{is_denial, is_stop};
use super::words::{plain, stem};
use crate::domain::quantity::typed::{ReadUnit, Typed, scan};

/// What `DO`, written as such, is read as.
const DIESEL: &str = "mdo";

/// The most tokens that are read; the rest of a longer text is left.
const MAX_TOKENS: usize = 30_000;

/// Words at which a new clause begins, with whether a denial reaches over them.
fn clause_word(word: &str) -> Option<bool> {
    match word {
        "and" | "but" | "however" | "although" | "though" | "because" | "so" | "then" | "while" | "whereas"
        | "otherwise" | "until" | "till" | "unless" | "before" | "after" | "when" | "once" | "since" | "if"
        | "therefore" | "plus" | "nor" => Some(false),
        "or" | "which" => Some(true),
        _ => None,
    }
}

/// Splits a text into tokens.
pub(super) fn tokens(text: &str) -> Vec<Token> {
    let values = scan(text, None);
    let mut maker = Maker { text, values, next_value: 0, out: Vec::new(), clause: 0, reach: 0, part: 0, sentence: 0 };
    maker.read();
    let mut out = maker.out;
    marks::join_bypass(&mut out);
    marks::keep_particles(&mut out);
    marks::quieten(&mut out);
    marks::bound_values(&mut out);
    out
}

struct Maker<'a> {
    text: &'a str,
    values: Vec<Typed>,
    next_value: usize,
    out: Vec<Token>,
    clause: usize,
    reach: usize,
    part: usize,
    sentence: usize,
}

impl Maker<'_> {
    fn read(&mut self) {
        let mut at = 0;
        while at < self.text.len() && self.out.len() < MAX_TOKENS {
            if let Some(end) = self.value_at(at) {
                at = end;
                continue;
            }
            let rest = &self.text[at..];
            let Some(c) = rest.chars().next() else { break };
            if c.is_alphanumeric() || matches!(c, '%' | '‰' | '^') {
                at = self.word_at(at);
            } else {
                self.mark(c, at);
                at += c.len_utf8();
            }
        }
    }

    /// A number at this place, in figures: it becomes one token. Number words stay words that have a value.
    fn value_at(&mut self, at: usize) -> Option<usize> {
        while self.values.get(self.next_value).is_some_and(|v| v.span.start < at) {
            self.next_value += 1;
        }
        let typed = self.values.get(self.next_value).filter(|v| v.span.start == at && v.span.end > at)?.clone();
        self.next_value += 1;
        let unit = match typed.unit {
            ReadUnit::Known(unit) => Some(unit),
            _ => None,
        };
        let text = self.text.get(typed.span.clone()).unwrap_or_default();
        if typed.in_words && unit.is_none() && !text.contains([' ', '-']) {
            let end = typed.span.end;
            self.word_at(at);
            if let Some(last) = self.out.last_mut() {
                last.value = Some(Amount { low: typed.low, high: typed.high, unit: None, bound: None });
            }
            return Some(end);
        }
        let word = if unit.is_none() && typed.low == typed.high { typed.low.to_string() } else { plain(text) };
        let value = Amount { low: typed.low, high: typed.high, unit, bound: None };
        self.push(word.clone(), word, Role::Content, Some(value), typed.span.clone());
        Some(typed.span.end)
    }

    fn word_at(&mut self, at: usize) -> usize {
        let rest = &self.text[at..];
        let mut end = at;
        for (offset, c) in rest.char_indices() {
            let here = at + offset;
            let next = self.text[here + c.len_utf8()..].chars().next();
            let inside = c.is_alphanumeric() || matches!(c, '%' | '‰') || (c == '^' && offset == 0);
            let apostrophe = matches!(c, '\'' | '’') && next.is_some_and(char::is_alphabetic);
            let abbreviation = matches!(c, '.' | '/') && short_parts(self.text, at, here);
            if !(inside || apostrophe || abbreviation) {
                break;
            }
            end = here + c.len_utf8();
        }
        if end == at {
            return at + rest.chars().next().map_or(1, char::len_utf8);
        }
        let raw = &self.text[at..end];
        let mut word: String = plain(raw).chars().filter(|c| !matches!(c, '\'' | '’' | '.' | '/')).collect();
        if word == "do" && self.names_diesel(at, end) {
            DIESEL.clone_into(&mut word);
        }
        if let Some(over) = clause_word(&word) {
            self.clause += 1;
            self.reach += usize::from(!over);
        }
        let role = if is_denial(&word) {
            Role::Denial
        } else if is_stop(&word) {
            Role::Stop
        } else {
            Role::Content
        };
        let corrected = if role == Role::Content { lexicon().correct(&word) } else { None };
        let stem = stem(corrected.as_deref().unwrap_or(&word));
        self.push(word, stem, role, None, at..end);
        end
    }

    /// Whether `DO` names diesel oil: written in capitals as such, in a text that is not all capitals or between two
    /// marks. "DO NOT" is a verb.
    fn names_diesel(&self, at: usize, end: usize) -> bool {
        let raw = &self.text[at..end];
        if raw.chars().any(char::is_lowercase) {
            return false;
        }
        if raw.contains(['.', '/']) {
            return true;
        }
        let next = self.text[end..].trim_start();
        let denied = ["not", "nt", "n't"].iter().any(|d| plain(next.get(..d.len()).unwrap_or_default()) == **d);
        let between = |c: Option<char>| c.is_none_or(|c| !c.is_alphanumeric());
        let alone = between(self.text[..at].trim_end().chars().next_back()) && between(next.chars().next());
        !denied && (alone || self.text.chars().any(char::is_lowercase))
    }

    fn push(&mut self, word: String, stem: String, role: Role, value: Option<Amount>, span: Range<usize>) {
        let (clause, reach, part, sentence) = (self.clause, self.reach, self.part, self.sentence);
        self.out.push(Token { word, stem, role, value, span, clause, reach, part, sentence });
    }

    fn mark(&mut self, c: char, at: usize) {
        let ends = match c {
            '.' => !self.abbreviated(at),
            ';' | '!' | '?' | '\n' => true,
            _ => false,
        };
        if ends {
            self.sentence += 1;
        }
        let dash = matches!(c, '-' | '–' | '—') && self.text[..at].ends_with(' ');
        if ends || dash || matches!(c, ',' | ':' | '(' | ')' | '&' | '+' | '=' | '>' | '→' | '/') {
            self.clause += 1;
            self.reach += 1;
            self.part += 1;
        }
    }

    /// A full stop behind "max", "no", "temp" or a single letter ends no sentence.
    fn abbreviated(&self, at: usize) -> bool {
        let next = self.text[at + 1..].trim_start().chars().next();
        let number = next.is_some_and(|c| c.is_ascii_digit());
        let small = next.is_some_and(char::is_lowercase);
        let Some(last) = self.out.last().filter(|t| t.span.end == at && t.value.is_none()) else { return false };
        match last.word.as_str() {
            "no" | "nr" | "fig" | "reg" => number,
            "max" | "min" | "approx" | "temp" | "press" | "emerg" | "aux" | "eg" | "ie" | "etc" | "vs" | "alt"
            | "gen" => small || number,
            word => word.chars().count() == 1 && small,
        }
    }
}

/// Whether a `.` or `/` at `here` stands inside an abbreviation such as `L.O.`, `T/C`, `E/R` or `2/E`.
fn short_parts(text: &str, start: usize, here: usize) -> bool {
    let before = &text[start..here];
    let after = &text[here + 1..];
    let sign = text[here..].chars().next();
    let run = |s: &str| s.chars().take_while(|c| c.is_alphabetic()).count();
    let head = before.rsplit(['.', '/']).next().map_or(0, |s| s.chars().count());
    let next = run(after);
    match sign {
        Some('/') => head == 1 && next == 1 && before.chars().all(|c| c.is_alphanumeric()),
        Some('.') => head == 1 && (next == 1 || (next == 0 && before.contains('.'))),
        _ => false,
    }
}
