//! A deck's phrase made ready to be looked for: its units of meaning, their weights, its denials and its order.

use std::cell::RefCell;
use std::collections::{HashMap, HashSet};
use std::rc::Rc;

use super::index::Text;
use super::lexicon::{Family, lexicon};
use super::thresholds::{HEAVY, LIGHT, NUMBER, ONE, SHORT_PHRASE, TERM};
use super::token::{Amount, Role, Token};
use super::vocabulary::vocabulary;

/// One unit of meaning: a word, a term of several words, or a number.
#[derive(Debug, Clone)]
pub(super) struct Unit {
    pub word: String,
    pub stem: String,
    /// A term of several words is found by its families, or by all its stems.
    pub more_stems: Vec<String>,
    pub families: Vec<Family>,
    pub value: Option<Amount>,
    pub weight: f64,
    pub rank: i32,
    reach: usize,
    /// What the longer term means that it is a word of: "emergency" of "emergency stop".
    pub within: Vec<Family>,
    /// Stands behind "until", "unless" or "before" in a phrase that denies.
    pub condition: bool,
}

/// A denial of a phrase, with the units that it denies.
#[derive(Debug, Clone)]
pub(super) struct Denied {
    pub units: Vec<usize>,
    reach: usize,
    /// "do not open" forbids an act; "no seal" says that something is missing.
    pub act: bool,
}

/// A phrase of a point.
#[derive(Debug, Clone)]
pub(super) struct Phrase {
    pub units: Vec<Unit>,
    /// Denials that are no part of a unit.
    pub denials: Vec<Denied>,
    pub total: f64,
    /// The one word that carries a short phrase: "tell" of "tell every gang" where the question names the gangs.
    pub core: Option<usize>,
    /// How many things it names, a term of several words being one.
    pub things: usize,
    /// Every word of it, small ones too.
    pub stems: Vec<String>,
}

impl Phrase {
    /// Prepares a phrase in two ways: with terms of several words as units, and word by word.
    pub(super) fn prepare(text: &str, weigh: &dyn Fn(&str) -> f64) -> Vec<Phrase> {
        let read = read(text);
        let merged = Self::build(&read, true, weigh);
        let single = Self { things: merged.units.len(), ..Self::build(&read, false, weigh) };
        let one = merged.units.len() == single.units.len() && merged.denials.len() == single.denials.len();
        match (one, merged.denials.len() < single.denials.len()) {
            (true, _) => vec![single],
            // A denial inside a term, as in "non return valve", denies nothing.
            (false, true) => vec![merged],
            (false, false) => vec![merged, single],
        }
    }

    /// The parts of a point's sentence that can be turned round each for itself: "Stop the fans" and "shut all
    /// openings". None where the sentence has no parts.
    pub(super) fn parts(text: &str, weigh: &dyn Fn(&str) -> f64) -> Vec<Phrase> {
        let mut cut: Vec<String> = Vec::new();
        for piece in text.split_inclusive([',', ';', ':']).flat_map(|p| p.split(" and ")) {
            let piece = piece.trim();
            let heading = cut.last().is_some_and(|c| c.ends_with(':'));
            let named = |w: &str| ["its ", "the ", "a ", "an "].iter().any(|d| w.starts_with(d));
            let turning = || read(piece).terms.iter().any(|t| t.families.iter().any(|f| turns(*f)));
            let acts = || {
                heading
                    || named(piece) && turning()
                    || read(piece).terms.iter().any(|t| t.start == 0 && t.families.iter().any(|f| turns(*f)))
            };
            match cut.last_mut() {
                Some(last) if !acts() => *last = format!("{last} and {piece}"),
                _ => cut.push(piece.to_owned()),
            }
        }
        if cut.len() < 2 {
            cut.clear();
        }
        let plain = cut.iter().flat_map(|part| Self::prepare(part, weigh));
        let ordered =
            ordered_parts(text).into_iter().flat_map(|part| Self::prepare(&part, weigh)).map(Self::bare_order);
        plain.chain(ordered).filter(|p| p.units.len() >= 2 && p.denials.is_empty()).collect()
    }

    /// Without its "before" and "after", whose order stays: the answer may state it in other words.
    fn bare_order(mut self) -> Self {
        self.units.retain(|u| !orders(&u.word));
        self.total = self.units.iter().map(|u| u.weight).sum();
        self
    }

    fn build(read: &Text, merge: bool, weigh: &dyn Fn(&str) -> f64) -> Phrase {
        let mut units: Vec<Unit> = Vec::new();
        let mut denials: Vec<Denied> = Vec::new();
        // The denial that still reaches on, by its place in the phrase.
        let mut open: Option<usize> = None;
        let mut condition = false;
        let mut at = 0;
        while at < read.tokens.len() {
            let token = &read.tokens[at];
            condition |= matches!(token.word.as_str(), "until" | "unless" | "till");
            if open.is_some_and(|from| read.tokens[from].reach != token.reach) || token.word == "or" {
                open = None;
            }
            let end = if merge { longest(read, at) } else { at };
            match token.role {
                Role::Denial if end == at => {
                    let act =
                        !matches!(token.word.as_str(), "no" | "without" | "nothing" | "nobody" | "none" | "noone");
                    denials.push(Denied { units: Vec::new(), act, reach: token.reach });
                    open = Some(at);
                }
                role if end > at || matches!(role, Role::Content | Role::Denial) => {
                    if let Some(denied) = denials.last_mut().filter(|_| open.is_some()) {
                        denied.units.push(units.len());
                    }
                    let mut made = unit(read, at, end, condition, weigh);
                    // "Make" of "make-up water" is no giving.
                    if end == at
                        && vocabulary().light_stems.contains(token.stem.as_str())
                        && read.close_terms(at).next().is_some()
                    {
                        made.families.clear();
                    }
                    units.push(made);
                }
                _ => {}
            }
            at = end + 1;
        }
        for denied in denials.iter_mut().filter(|d| d.units.is_empty()) {
            // "Vanadium cannot": it denies what stands before it.
            denied.units = (0..units.len()).filter(|u| units[*u].reach == denied.reach).collect();
        }
        // In a short phrase every word counts in full: "turning gear in".
        let mut core = None;
        if units.iter().filter(|u| u.weight >= HEAVY).count() < 2 && units.len() > 1 {
            core = units.iter().position(|u| u.weight >= HEAVY);
            for unit in units.iter_mut().filter(|u| u.word != "one") {
                unit.weight = unit.weight.max(SHORT_PHRASE);
            }
        }
        let total = units.iter().map(|u| u.weight).sum();
        let stems = read.tokens.iter().map(|t| t.stem.clone()).collect();
        Phrase { things: units.len(), core, units, denials, total, stems }
    }

    /// How many units of weight it has.
    pub(super) fn heavy(&self) -> usize {
        self.units.iter().filter(|u| u.weight >= HEAVY).count()
    }

    /// Whether it is one unit of weight.
    pub(super) fn is_thin(&self) -> bool {
        self.heavy() <= 1
    }

    /// Whether it states an order of its units.
    pub(super) fn has_order(&self) -> bool {
        self.units.iter().any(|u| u.rank != self.units[0].rank)
    }

    /// Whether it puts a thing first or last, or two things in order.
    pub(super) fn puts_in_order(&self) -> bool {
        self.has_order() || self.units.iter().any(|u| matches!(u.word.as_str(), "first" | "last"))
    }

    /// Whether every word of it belongs to a unit, so that no small word was left out.
    pub(super) fn is_whole(&self) -> bool {
        self.stems.len() == self.denials.len() + self.units.iter().map(|u| 1 + u.more_stems.len()).sum::<usize>()
    }

    /// Stems of the phrase, to know what several points share.
    pub(super) fn stems(text: &str) -> HashSet<String> {
        let read = read(text);
        read.tokens.iter().filter(|t| t.role == Role::Content).map(|t| t.stem.clone()).collect()
    }
}

thread_local! {
    static READ: RefCell<HashMap<String, Rc<Text>>> = RefCell::new(HashMap::new());
}

/// Phrases that are kept read; beyond it the store is emptied.
const KEPT: usize = 2_000;

/// A phrase as tokens. Decks ask the same cards again and again, so phrases are read once and kept.
fn read(text: &str) -> Rc<Text> {
    if let Some(known) = READ.with_borrow(|kept| kept.get(text).cloned()) {
        return known;
    }
    let made = Rc::new(Text::new(text));
    READ.with_borrow_mut(|kept| {
        if kept.len() >= KEPT {
            kept.clear();
        }
        kept.insert(text.to_owned(), Rc::clone(&made));
    });
    made
}

/// "Give sealing water, before the oil": what a sentence of several parts says of their order.
fn ordered_parts(text: &str) -> Vec<String> {
    let pieces: Vec<&str> = text.split([',', ';', ':']).flat_map(|p| p.split(" and ")).map(str::trim).collect();
    let opens = |piece: &str| piece.split(' ').next().is_some_and(orders);
    let mut found: Vec<String> =
        pieces.windows(2).filter(|two| opens(two[1])).map(|two| format!("{} {}", two[0], two[1])).collect();
    let inside = |piece: &&&str| piece.split(' ').skip(1).any(orders);
    found.extend(pieces.iter().filter(inside).map(|p| (*p).to_owned()));
    found
}

/// Words that put two things in order.
pub(super) fn orders(word: &str) -> bool {
    matches!(word, "before" | "after")
}

/// Whether a family has an opposite.
fn turns(family: Family) -> bool {
    lexicon().opposite(family).is_some()
}

/// The last token of the longest term that begins at `at`.
fn longest(read: &Text, at: usize) -> usize {
    read.terms.iter().filter(|t| t.start == at).map(|t| t.end).max().unwrap_or(at)
}

fn unit(read: &Text, at: usize, end: usize, condition: bool, weigh: &dyn Fn(&str) -> f64) -> Unit {
    let token = &read.tokens[at];
    let mut families = Vec::new();
    for term in read.terms.iter().filter(|t| t.start == at && t.end == end) {
        families.extend(term.families.iter().copied());
    }
    let bare = |t: &&Token| matches!(t.role, Role::Content | Role::Denial);
    let several = read.tokens[at..=end].iter().filter(bare).count() != 1 || end == at;
    // "At once" is looked for with its small word, "sea water" without any.
    let inside = || read.tokens[at..=end].iter().filter(move |t| bare(t) || !several);
    let weight = |t: &Token| {
        let light = vocabulary().light_stems.contains(t.stem.as_str());
        let bare_word_number = t.value.as_ref().is_some_and(|v| v.unit.is_none()) && t.word == "one";
        weigh(&t.stem)
            * if bare_word_number {
                ONE
            } else if light {
                LIGHT
            } else if t.value.is_some() {
                NUMBER
            } else {
                1.0
            }
    };
    let heaviest = inside().filter(bare).map(weight).fold(0.0, f64::max);
    let first = inside().next().unwrap_or(token);
    Unit {
        word: first.word.clone(),
        stem: first.stem.clone(),
        more_stems: inside().skip(1).map(|t| t.stem.clone()).collect(),
        families,
        value: token.value.clone().filter(|_| end == at),
        // A term of several words weighs a little more than its heaviest word.
        weight: heaviest * if end > at { TERM } else { 1.0 },
        rank: read.rank[at],
        reach: token.reach,
        within: if end == at {
            read.close_terms(at).flat_map(|t| t.families.iter().copied()).collect()
        } else {
            Vec::new()
        },
        condition,
    }
}
