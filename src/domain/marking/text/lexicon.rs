//! The families of words that mean the same, from `vocabulary/families.txt`, and the misspellings of their words.

use std::cell::RefCell;
use std::collections::HashMap;
use std::sync::OnceLock;

use super::vocabulary::{FAMILIES, family_of, is_stop, vocabulary};
use super::words::stem;

/// A family's number.
pub(super) type Family = u16;

/// One spelling of a family: stems in a row.
struct Term {
    stems: Vec<String>,
    /// Families that it means, and (with `true`) those that it only implies.
    families: Vec<(Family, bool)>,
}

/// The families, ready to be searched.
pub(super) struct Lexicon {
    names: HashMap<String, Family>,
    opposites: HashMap<Family, Family>,
    loose: std::collections::HashSet<Family>,
    /// Terms by their first stem, longest first.
    terms: HashMap<String, Vec<Term>>,
    /// Words as written, by first letter, for misspellings.
    words: HashMap<char, Vec<String>>,
    known: std::collections::HashSet<String>,
    /// Stems of the known words: "checks" is "check", not a misspelling of another word.
    stems: std::collections::HashSet<String>,
}

/// Corrections that are kept.
const KEPT: usize = 10_000;

thread_local! {
    static CORRECTIONS: RefCell<HashMap<String, Option<String>>> = RefCell::new(HashMap::new());
}

/// The one lexicon.
pub(super) fn lexicon() -> &'static Lexicon {
    static LEXICON: OnceLock<Lexicon> = OnceLock::new();
    LEXICON.get_or_init(Lexicon::read)
}

impl Lexicon {
    fn read() -> Self {
        let mut lexicon = Lexicon {
            names: HashMap::new(),
            opposites: HashMap::new(),
            loose: Default::default(),
            terms: HashMap::new(),
            words: HashMap::new(),
            known: Default::default(),
            stems: Default::default(),
        };
        let mut spellings: HashMap<Vec<String>, Vec<(Family, bool)>> = HashMap::new();
        for row in FAMILIES.rows() {
            let (name, opposite) = family_of(row.head);
            let family = lexicon.family(name);
            if row.section == "loose" {
                lexicon.loose.insert(family);
            }
            if let Some(opposite) = opposite {
                let opposite = lexicon.family(opposite);
                lexicon.opposites.insert(family, opposite);
            }
            for term in row.words() {
                let (term, implied) = term.strip_prefix('>').map_or((term, false), |t| (t, true));
                let stems = lexicon.stems_of(term);
                let families = spellings.entry(stems).or_default();
                if !families.iter().any(|(f, _)| *f == family) {
                    families.push((family, implied));
                }
            }
        }
        for (stems, families) in spellings {
            if let Some(first) = stems.first().cloned() {
                lexicon.terms.entry(first).or_default().push(Term { stems, families });
            }
        }
        for terms in lexicon.terms.values_mut() {
            terms.sort_by_key(|t| (usize::MAX - t.stems.len(), t.stems.clone()));
        }
        lexicon
    }

    /// The stems of a term. Small words are left out where two others remain; else "at once" would be "once".
    fn stems_of(&mut self, term: &str) -> Vec<String> {
        let words: Vec<&str> = term.split([' ', '-', '\'', '/']).filter(|w| !w.is_empty()).collect();
        for word in &words {
            self.learn(word);
        }
        let heavy: Vec<&str> = words.iter().copied().filter(|w| !is_stop(w)).collect();
        let kept = if heavy.len() >= 2 { heavy } else { words };
        kept.into_iter().map(stem).collect()
    }

    fn family(&mut self, name: &str) -> Family {
        let next = Family::try_from(self.names.len()).unwrap_or(Family::MAX);
        *self.names.entry(name.to_owned()).or_insert(next)
    }

    fn learn(&mut self, word: &str) {
        self.stems.insert(stem(word));
        if self.known.insert(word.to_owned())
            && word.len() >= 5
            && let Some(first) = word.chars().next()
        {
            self.words.entry(first).or_default().push(word.to_owned());
        }
    }

    /// The family of the opposite meaning.
    pub(super) fn opposite(&self, family: Family) -> Option<Family> {
        self.opposites.get(&family).copied()
    }

    /// Whether a family's words only come near one another.
    pub(super) fn is_loose(&self, family: Family) -> bool {
        self.loose.contains(&family)
    }

    /// Whether a word stands in the families as written.
    pub(super) fn knows(&self, word: &str) -> bool {
        self.known.contains(word)
    }

    /// Every term that begins at the front of a row of stems: how many stems it takes, and its families.
    pub(super) fn terms_at<'a>(&'a self, stems: &[&str]) -> impl Iterator<Item = (usize, &'a [(Family, bool)])> {
        let first = stems.first().and_then(|s| self.terms.get(*s));
        let fits: Vec<(usize, &'a [(Family, bool)])> = first
            .into_iter()
            .flatten()
            .filter(|t| t.stems.len() <= stems.len() && t.stems.iter().zip(stems).all(|(a, b)| a == b))
            .map(|t| (t.stems.len(), t.families.as_slice()))
            .collect();
        fits.into_iter()
    }

    /// The known word that a word is a misspelling of.
    pub(super) fn correct(&self, word: &str) -> Option<String> {
        if word.len() < 5 || word.len() > 24 || self.knows(word) || !word.is_ascii() {
            return None;
        }
        if let Some(kept) = CORRECTIONS.with_borrow(|kept| kept.get(word).cloned()) {
            return kept;
        }
        if self.stems.contains(&stem(word)) {
            return None;
        }
        let first = word.chars().next()?;
        let found = self.words.get(&first).and_then(|near| {
            let near = near.iter().filter(|w| w.len().abs_diff(word.len()) <= 2 && misspelt(word, w));
            near.min_by_key(|w| strsim::osa_distance(word, w)).cloned()
        });
        CORRECTIONS.with_borrow_mut(|kept| {
            if kept.len() >= KEPT {
                kept.clear();
            }
            kept.insert(word.to_owned(), found.clone());
        });
        found
    }
}

/// Whether one word is a misspelling of the other: one slip from six letters on, two from nine; with five letters
/// only two that changed places. The first letters must be the same.
pub(super) fn misspelt(a: &str, b: &str) -> bool {
    if a == b || a.is_empty() || a.as_bytes().first() != b.as_bytes().first() {
        return false;
    }
    let (short, long) = (a.len().min(b.len()), a.len().max(b.len()));
    // Forms of one word are the stemmer's business.
    let distance = match short {
        0..=4 => return false,
        5 if long == 5 => return transposed(a, b),
        5 => return long == 6 && doubled(a, b),
        6..=8 => 1,
        _ => 2,
    };
    long - short <= distance && strsim::osa_distance(a, b) <= distance && !vocabulary().are_confusable(a, b)
}

/// Two neighbouring letters that changed places.
fn transposed(a: &str, b: &str) -> bool {
    strsim::osa_distance(a, b) == 1 && {
        let mut x: Vec<u8> = a.bytes().collect();
        let mut y: Vec<u8> = b.bytes().collect();
        x.sort_unstable();
        y.sort_unstable();
        x == y
    }
}

/// A letter doubled or left single.
fn doubled(a: &str, b: &str) -> bool {
    let single = |s: &str| {
        let mut letters: Vec<char> = s.chars().collect();
        letters.dedup();
        letters
    };
    single(a) == single(b)
}
