//! A tokenised text made searchable: where each stem and each family of words stands, and what comes before what.

use std::collections::HashMap;

use super::ignorance;
use super::lexicon::{Family, lexicon};
use super::tokens::{Role, Token, tokens};

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
    /// The same with whole clauses moved by "first" and "last".
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

/// The order that a text states: a greater number is later in time, or the effect of a cause.
fn ranks(tokens: &[Token]) -> Vec<i32> {
    let mut rank = vec![0; tokens.len()];
    let mut at = 0;
    while at < tokens.len() {
        let sentence = tokens[at].sentence;
        let end = (at..tokens.len()).find(|i| tokens[*i].sentence != sentence).unwrap_or(tokens.len());
        rank_sentence(tokens, at, end, &mut rank);
        at = end;
    }
    rank
}

fn rank_sentence(tokens: &[Token], from: usize, end: usize, rank: &mut [i32]) {
    let mut current = 0;
    // What the next comma brings back, where a sentence begins with "before" or "after".
    let mut turn: Option<(usize, i32)> = None;
    let mut main = None;
    for at in from..end {
        let token = &tokens[at];
        if let Some((clause, value)) = turn
            && (token.clause != clause || main == Some(at))
        {
            current = value;
            turn = None;
        }
        let opening = at == from
            || tokens[at - 1].clause != token.clause && matches!(token.word.as_str(), "before" | "after" | "once");
        match token.word.as_str() {
            "after"
                if tokens.get(at + 1).is_some_and(|n| matches!(n.word.as_str(), "the" | "another" | "each"))
                    && turn_about(tokens, at) => {}
            "after" if tokens.get(at + 1).is_some_and(|n| matches!(n.word.as_str(), "that" | "this" | "which")) => {
                current += 1;
            }
            "next" if names_a_thing(tokens, from, at) => {}
            "then" | "afterwards" | "next" | "later" | "subsequently" | "therefore" | "thereafter" => current += 1,
            "before" | "prior" if opening && at == from => {
                main = main_clause(tokens, at, end);
                turn = Some((token.clause, current));
                current += 1;
            }
            // "Nobody enters before it is aired": airing comes first.
            "before" | "until" | "till" | "unless" if denied_earlier(tokens, from, at) => current -= 1,
            "when" | "if" if at > from && tokens[at - 1].word == "only" => current -= 1,
            "before" | "prior" | "until" | "till" | "causes" | "causing" => current += 1,
            "after" | "once" if opening && (at == from || tokens[at - 1].word == "and") => {
                main = main_clause(tokens, at, end);
                turn = Some((token.clause, current + 1));
            }
            "after" | "because" | "since" | "due" | "once" => current -= 1,
            _ => {}
        }
        rank[at] = current;
    }
}

/// Gives the main clause behind an opening "if" or "when" without a mark a clause and a reach of its own: in "if it
/// does not drop the steam side is choked" nothing is denied of the steam side.
fn part_main_clauses(tokens: &mut [Token]) {
    let mut at = 0;
    while at < tokens.len() {
        let (part, sentence) = (tokens[at].part, tokens[at].sentence);
        let end = (at..tokens.len()).find(|i| tokens[*i].part != part || tokens[*i].sentence != sentence);
        let end = end.unwrap_or(tokens.len());
        if matches!(tokens[at].word.as_str(), "if" | "when" | "once" | "after" | "as")
            && let Some(main) = second_statement(tokens, at, end)
        {
            for token in &mut tokens[main..] {
                token.clause += 1;
                token.reach += 1;
            }
        }
        at = end;
    }
}

/// Verbs of a statement, by which its subject is found.
const FINITE: &[&str] = &["is", "are", "was", "were", "has", "will", "must", "can", "should", "means", "have"];

/// Where the second statement begins in a run of words that holds two: at the subject of its verb.
fn second_statement(tokens: &[Token], from: usize, end: usize) -> Option<usize> {
    let word = |i: usize| tokens[i].word.as_str();
    if tokens[from..end].iter().any(|t| t.clause != tokens[from].clause) {
        return None;
    }
    (from + 4..end).filter(|i| FINITE.contains(&word(*i))).find_map(|verb| {
        let subject = (from + 3..verb).rev().find(|i| SUBJECTS.contains(&word(*i)))?;
        let states = |i: usize| {
            FINITE.contains(&word(i)) || matches!(word(i), "does" | "do" | "did") || tokens[i].role == Role::Denial
        };
        ((from + 1..subject).any(states) && tokens[subject - 1].role == Role::Content).then_some(subject)
    })
}

/// Words at which the subject of a statement begins.
const SUBJECTS: &[&str] = &["the", "a", "it", "my", "its", "i", "we", "you"];

/// "The next tank", "next to it": no order in time. "Next I open it" begins its clause.
fn names_a_thing(tokens: &[Token], from: usize, at: usize) -> bool {
    let begins = at == from
        || tokens[at - 1].clause != tokens[at].clause
        || matches!(tokens[at - 1].word.as_str(), "and" | "then");
    !begins || tokens.get(at + 1).is_some_and(|n| n.word == "to")
}

/// Verbs of the engine room that begin the main clause of an order.
const ACTS: &[&str] = &[
    "open",
    "close",
    "shut",
    "start",
    "stop",
    "check",
    "test",
    "prove",
    "earth",
    "drain",
    "fill",
    "enter",
    "flush",
    "tell",
    "call",
    "put",
    "take",
    "change",
    "clean",
    "remove",
    "fit",
    "turn",
    "blow",
    "vent",
    "isolate",
    "lock",
    "inform",
    "slow",
    "warm",
    "heat",
    "cool",
    "use",
    "keep",
    "let",
    "wait",
    "bring",
    "make",
    "give",
    "set",
    "reduce",
    "raise",
    "lower",
    "pump",
    "transfer",
    "measure",
    "sound",
    "go",
    "ventilate",
    "write",
];

/// Where the main clause begins in a sentence that opens with "after", "once" or "before" and has no mark: "after
/// opening the next tank close the full one", "once it is earthed I prove it dead".
fn main_clause(tokens: &[Token], from: usize, end: usize) -> Option<usize> {
    let first = tokens.get(from)?;
    let opens = matches!(first.word.as_str(), "after" | "once" | "before" | "when");
    let end = (from + 1..end).find(|i| tokens[*i].clause != first.clause).unwrap_or(end);
    let marked = tokens.get(end).is_some_and(|t| t.sentence == first.sentence && t.part != first.part);
    if !opens || marked || end - from < 5 {
        return None;
    }
    let word = |i: usize| tokens[i].word.as_str();
    let named =
        |i: usize| matches!(word(i), "the" | "a" | "an" | "of" | "to" | "its" | "is" | "are" | "and" | "have" | "has");
    let late = from + 3..end;
    let speaker = late.clone().find(|&i| matches!(word(i), "i" | "we" | "you" | "they") && !named(i - 1));
    let act = || {
        late.clone()
            .find(|&i| ACTS.contains(&word(i)) && !named(i - 1) && !matches!(word(i - 1), "i" | "we" | "you" | "they"))
    };
    // The last "the" behind a word of weight: "after we have entered the area the system is flushed".
    let subject = || {
        late.clone().rev().find(|&i| {
            word(i) == "the" && tokens[i - 1].role == Role::Content && tokens[from..i].iter().any(|t| t.word == "the")
        })
    };
    speaker.or_else(act).or_else(subject)
}

/// Whether a denial stands before a word in the same run of words between marks.
fn denied_earlier(tokens: &[Token], from: usize, at: usize) -> bool {
    tokens[from.max(at.saturating_sub(9))..at].iter().any(|t| t.role == Role::Denial && t.part == tokens[at].part)
}

/// "One after the other", "after another": no order of two things.
fn turn_about(tokens: &[Token], at: usize) -> bool {
    let near = |n: usize| tokens.get(at + n).map_or("", |t| t.word.as_str());
    near(1) == "another" || near(2) == "other"
}

/// "Water cock first", "steam last", "the drain afterwards": the whole clause is moved.
fn placed(tokens: &[Token], rank: &[i32]) -> Vec<i32> {
    let mut placed = rank.to_vec();
    for (at, token) in tokens.iter().enumerate() {
        // "First I shut both and open the drain": at the head it moves all up to the next mark.
        let heads = at == 0 || tokens[at - 1].part != token.part || tokens[at - 1].sentence != token.sentence;
        let here =
            |t: &Token| (t.clause == token.clause || heads && t.part == token.part) && t.sentence == token.sentence;
        let closing = tokens.get(at + 1).is_none_or(|next| !here(next));
        let shift = match token.word.as_str() {
            "first" | "firstly" => -1,
            "last" | "lastly" | "finally" => 1,
            "afterwards" | "later" | "after" | "subsequently" if closing => 1,
            _ => continue,
        };
        let from = tokens[..at].iter().rposition(|t| !here(t) || turns(t)).map_or(0, |p| p + 1);
        let end = tokens[at + 1..].iter().position(|t| !here(t) || turns(t)).map_or(tokens.len(), |p| at + 1 + p);
        for place in &mut placed[from..end] {
            *place += shift;
        }
    }
    placed
}

/// Words that carry on to what comes next.
fn turns(token: &Token) -> bool {
    matches!(token.word.as_str(), "then" | "afterwards" | "before" | "after" | "next" | "later")
}
