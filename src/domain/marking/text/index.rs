//! A tokenised text made searchable: where each stem and each family of words stands, and what comes before what.

use std::collections::HashMap;

use super::ignorance;
use super::lexicon::{Family, lexicon};
use super::order::{part_main_clauses, placed, ranks};
use super::token::{Role, Token};
use super::tokens::tokens;

/// A word or a term of several words in a text.
#[derive(Debug, Clone)]
pub(super) struct Term {
    /// First and last token.
    pub start: usize,
    pub end: usize,
    /// What it means.
    pub families: Vec<Family>,
    /// What it implies besides: "slow down" implies speed.
    pub implied: Vec<Family>,
}

/// A text ready to be searched.
pub(super) struct Text {
    pub tokens: Vec<Token>,
    pub terms: Vec<Term>,
    /// Order in time or cause of each token, from what the text says ("before", "then", "because").
    pub rank: Vec<i32>,
    /// The order of each token with whole clauses moved by "first" and "last".
    pub placed: Vec<i32>,
    by_stem: HashMap<String, Vec<usize>>,
    by_family: HashMap<Family, Vec<usize>>,
    by_word: HashMap<String, Vec<usize>>,
    /// By the first letters of the stem.
    by_head: HashMap<String, Vec<usize>>,
    /// Two neighbouring words written as one: "sea water" under "seawater".
    by_pair: HashMap<String, Vec<usize>>,
    /// Words that the lexicon does not know, by first letter, each once.
    unknown: HashMap<char, Vec<(String, Vec<usize>)>>,
    /// Tokens that hold a number.
    pub values: Vec<usize>,
}

/// The longest term of the lexicon, in words that are compared.
const LONGEST_TERM: usize = 6;

/// Stems that share so many first letters are kin.
const KIN: usize = 5;

impl Text {
    /// A phrase of a deck.
    pub(super) fn new(text: &str) -> Self {
        Self::of(tokens(text))
    }

    /// A learner's answer, without what they say not to know.
    pub(super) fn answer(text: &str) -> Self {
        let mut tokens = tokens(text);
        ignorance::leave_out(&mut tokens);
        part_main_clauses(&mut tokens);
        Self::of(tokens)
    }

    fn of(tokens: Vec<Token>) -> Self {
        let rank = ranks(&tokens);
        let placed = placed(&tokens, &rank);
        let mut made = Self {
            terms: Vec::new(),
            rank,
            placed,
            by_stem: HashMap::new(),
            by_family: HashMap::new(),
            by_word: HashMap::new(),
            by_head: HashMap::new(),
            by_pair: HashMap::new(),
            unknown: HashMap::new(),
            values: Vec::new(),
            tokens,
        };
        made.index();
        made
    }

    fn index(&mut self) {
        let lexicon = lexicon();
        let mut strange: HashMap<String, Vec<usize>> = HashMap::new();
        for at in 0..self.tokens.len() {
            let token = &self.tokens[at];
            if token.value.is_some() {
                self.values.push(at);
            }
            if token.role == Role::Quiet {
                continue;
            }
            if token.role == Role::Stop {
                self.by_stem.entry(token.stem.clone()).or_default().push(at);
                let row = self.row(at, true);
                self.take_terms(at, &row);
                continue;
            }
            self.by_stem.entry(token.stem.clone()).or_default().push(at);
            if let Some(head) = token.stem.get(..KIN).filter(|_| token.stem.is_ascii() && token.value.is_none()) {
                self.by_head.entry(head.to_owned()).or_default().push(at);
            }
            self.by_word.entry(token.word.clone()).or_default().push(at);
            if let Some(next) =
                self.tokens.get(at + 1).filter(|n| n.role == Role::Content && n.sentence == token.sentence)
            {
                self.by_pair.entry(format!("{}{}", token.word, next.word)).or_default().push(at);
            }
            if token.word.len() >= 5 && token.value.is_none() && !lexicon.knows(&token.word) {
                strange.entry(token.word.clone()).or_default().push(at);
            }
            for row in [self.row(at, false), self.row(at, true)] {
                self.take_terms(at, &row);
            }
        }
        for (word, places) in strange {
            if let Some(first) = word.chars().next() {
                self.unknown.entry(first).or_default().push((word, places));
            }
        }
    }

    fn take_terms(&mut self, at: usize, row: &[usize]) {
        let stems: Vec<&str> = row.iter().map(|i| self.tokens[*i].stem.as_str()).collect();
        for (length, families) in lexicon().terms_at(&stems) {
            let end = row[length - 1];
            let named =
                |implied: bool| families.iter().filter(|(_, i)| *i == implied).map(|(f, _)| *f).collect::<Vec<_>>();
            let term = Term { start: at, end, families: named(false), implied: named(true) };
            if self
                .terms
                .iter()
                .rev()
                .take_while(|t| t.start == at)
                .any(|t| t.end == end && t.families == term.families)
            {
                continue;
            }
            for family in term.families.iter().chain(&term.implied) {
                self.by_family.entry(*family).or_default().push(self.terms.len());
            }
            self.terms.push(term);
        }
    }

    /// The tokens from `at` on that one term may take, with or without small words.
    fn row(&self, at: usize, small: bool) -> Vec<usize> {
        let first = &self.tokens[at];
        let near = self.tokens.iter().enumerate().skip(at).take(LONGEST_TERM * 2);
        near.take_while(|(_, t)| t.clause == first.clause && t.sentence == first.sentence)
            .filter(|(_, t)| small || matches!(t.role, Role::Content | Role::Denial))
            .map(|(i, _)| i)
            .take(LONGEST_TERM)
            .collect()
    }

    /// Whether a denial is part of a term, as in "not enough" and "non return valve".
    pub(super) fn in_term(&self, at: usize) -> bool {
        let from = self.terms.partition_point(|t| t.start + LONGEST_TERM * 2 < at);
        self.terms[from..].iter().take_while(|t| t.start <= at).any(|t| t.end > t.start && t.end >= at)
    }

    /// The longer terms that a word is part of and whose words mean the same.
    pub(super) fn close_terms(&self, at: usize) -> impl Iterator<Item = &Term> {
        let from = self.terms.partition_point(|t| t.start + LONGEST_TERM * 2 < at);
        let near = self.terms[from..].iter().take_while(move |t| t.start <= at);
        near.filter(move |t| t.end > t.start && t.end >= at && t.families.iter().any(|f| !lexicon().is_loose(*f)))
    }

    /// Whether a word that belongs to a term of the phrase belongs to another one here: "emergency" of "emergency stop"
    /// is not met in "emergency generator".
    pub(super) fn of_another(&self, at: usize, within: &[Family]) -> bool {
        let mut terms = self.close_terms(at).peekable();
        !within.is_empty()
            && terms.peek().is_some()
            && terms.all(|t| t.end > at && !t.families.iter().chain(&t.implied).any(|f| within.contains(f)))
    }

    /// Whether a term is only part of a longer one that means something else: "engine" in "auxiliary engine" is no
    /// main engine.
    pub(super) fn shadowed(&self, term: &Term, family: Family) -> bool {
        let from = self.terms.partition_point(|t| t.start + LONGEST_TERM * 2 < term.end);
        let near = self.terms[from..].iter().take_while(|t| t.start <= term.start);
        let longer = near.filter(|t| t.end >= term.end && t.end - t.start > term.end - term.start);
        let mut any = false;
        for t in longer {
            if t.families.contains(&family) || t.implied.contains(&family) {
                return false;
            }
            any |= t.families.iter().any(|f| !lexicon().is_loose(*f));
        }
        any
    }

    /// Whether a denial belongs to a term and denies nothing else: "does not start" tells a fault. "I do not start it" and
    /// "do not start" deny.
    pub(super) fn denial_in_term(&self, at: usize) -> bool {
        let word = |back: usize| {
            let near = at.checked_sub(back).map(|i| &self.tokens[i]).filter(|t| t.reach == self.tokens[at].reach);
            near.map_or("", |t| t.word.as_str())
        };
        let speaker = |w: &str| matches!(w, "" | "i" | "we" | "you");
        let told = speaker(word(1)) && !word(1).is_empty()
            || word(1) == "do" && speaker(word(2))
            || self.tokens[at].word == "dont" && speaker(word(1));
        self.in_term(at) && !told
    }

    /// Whether a word may carry an opposite: "on" only at the end of its clause and in no longer term,
    /// "up" never.
    pub(super) fn particle_stands(&self, at: usize) -> bool {
        let token = &self.tokens[at];
        let next = self.tokens.get(at + 1).filter(|n| n.clause == token.clause && n.sentence == token.sentence);
        let goes_on = |n: &Token| !matches!(n.word.as_str(), "all" | "always" | "during" | "as");
        match token.word.as_str() {
            "up" | "down" => false,
            "on" | "off" | "in" | "out" => !next.is_some_and(goes_on) && !self.in_term(at),
            _ => true,
        }
    }

    /// Tokens of this stem.
    pub(super) fn stem(&self, stem: &str) -> &[usize] {
        self.by_stem.get(stem).map_or(&[], Vec::as_slice)
    }

    /// Terms of this family.
    pub(super) fn family(&self, family: Family) -> impl Iterator<Item = &Term> {
        self.by_family.get(&family).into_iter().flatten().map(|t| &self.terms[*t])
    }

    /// Tokens whose stem begins as this one does: "viscometer" beside "viscosity".
    pub(super) fn kin<'a>(&'a self, stem: &'a str) -> impl Iterator<Item = usize> + 'a {
        let head = stem.get(..KIN).filter(|_| stem.is_ascii());
        let near = head.and_then(|h| self.by_head.get(h));
        near.into_iter().flatten().copied().filter(move |at| self.tokens[*at].stem != stem)
    }

    /// Tokens of this word as written.
    pub(super) fn word(&self, word: &str) -> &[usize] {
        self.by_word.get(word).map_or(&[], Vec::as_slice)
    }

    /// First tokens of two neighbours that make this word.
    pub(super) fn pair(&self, word: &str) -> &[usize] {
        self.by_pair.get(word).map_or(&[], Vec::as_slice)
    }

    /// Tokens that are misspellings of a word.
    pub(super) fn misspelt<'a>(&'a self, word: &'a str) -> impl Iterator<Item = usize> + 'a {
        let near = word.chars().next().and_then(|c| self.unknown.get(&c));
        let fits = near.into_iter().flatten().filter(move |(w, _)| super::lexicon::misspelt(word, w));
        fits.flat_map(|(_, places)| places.iter().copied())
    }
}
