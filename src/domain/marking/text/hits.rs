//! Where single units of a phrase are met in a text: by their own words, words that mean the same, opposites, numbers.

use super::index::{Term, Text};
use super::lexicon::lexicon;
use super::phrase::{Phrase, Unit, orders};
use super::thresholds::{
    BARE_NUMBER, CLOSE, HALF_TERM, KIN, LOOSE, MISSPELT, OPPOSITE, OTHER_NUMBER, OTHER_THING, OWN, SAME_NUMBER,
};
use super::token::{Amount, Bound, Role};

/// How a unit of a phrase was met.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Met {
    /// By a word or a number that says the same.
    Same,
    /// By a word of the opposite meaning.
    Opposite,
    /// By another number of the same kind.
    OtherValue,
}

/// A place in the text where a unit of a phrase is met.
#[derive(Debug, Clone)]
pub(super) struct Hit {
    /// The unit's position in the phrase.
    pub unit: usize,
    /// The first token.
    pub start: usize,
    /// The last token.
    pub end: usize,
    /// What the meeting is worth, from 0 to 1.
    pub quality: f64,
    pub met: Met,
    /// By the phrase's own word, not by another of its family or its root.
    pub own: bool,
}

/// Hits of one unit as they are found.
struct Finder<'a> {
    unit: usize,
    hits: &'a mut Vec<Hit>,
}

impl Finder<'_> {
    /// By the phrase's own word or number.
    fn own(&mut self, start: usize, end: usize, quality: f64) {
        self.push(start, end, quality, Met::Same, true);
    }

    /// By a word that says the same, or comes near.
    fn alike(&mut self, start: usize, end: usize, quality: f64) {
        self.push(start, end, quality, Met::Same, false);
    }

    /// By what speaks against it.
    fn against(&mut self, start: usize, end: usize, quality: f64, met: Met) {
        self.push(start, end, quality, met, false);
    }

    fn push(&mut self, start: usize, end: usize, quality: f64, met: Met, own: bool) {
        self.hits.push(Hit { unit: self.unit, start, end, quality, met, own });
    }
}

/// All places where one unit is met.
pub(super) fn find_unit(text: &Text, phrase: &Phrase, at: usize, hits: &mut Vec<Hit>) {
    let unit = &phrase.units[at];
    let mut found = Finder { unit: at, hits };
    if let Some(value) = &unit.value {
        find_number(text, value, phrase.units.get(at + 1), &mut found);
        if value.unit.is_some() || unit.families.is_empty() {
            return;
        }
    }
    find_word(text, unit, &mut found);
    find_family(text, unit, &mut found);
    find_opposite(text, phrase, unit, &mut found);
}

/// By a number of the same kind; a bare one only where it counts the same things, as the unit `next` of the phrase says.
fn find_number(text: &Text, value: &Amount, next: Option<&Unit>, found: &mut Finder) {
    for &place in &text.values {
        let Some(comparison) = text.tokens[place].value.as_ref().and_then(|other| compare(value, other)) else {
            continue;
        };
        match comparison {
            Comparison::Same => found.own(place, place, OWN),
            Comparison::SameWithoutUnit => found.alike(place, place, BARE_NUMBER),
            Comparison::Other if value.unit.is_some() || counts_the_same(text, place, next) => {
                found.against(place, place, OTHER_NUMBER, Met::OtherValue);
            }
            Comparison::Other => {}
        }
    }
}

/// By the word itself, a misspelling, a word of its root, or two words that make it.
fn find_word(text: &Text, unit: &Unit, found: &mut Finder) {
    for &place in text.stem(&unit.stem).iter().filter(|p| !text.of_another(**p, &unit.within)) {
        match stems_follow(text, place, &unit.more_stems) {
            Some(end) => found.own(place, end, OWN),
            None if unit.more_stems.len() == 1 => found.own(place, place, HALF_TERM),
            None => {}
        }
    }
    if unit.more_stems.is_empty() {
        for place in text.misspelt(&unit.word) {
            found.own(place, place, MISSPELT);
        }
        for place in text.kin(&unit.stem) {
            found.alike(place, place, KIN);
        }
        for &place in text.pair(&unit.word) {
            found.own(place, place + 1, OWN);
        }
    }
}

/// By words that mean the same or come near.
fn find_family(text: &Text, unit: &Unit, found: &mut Finder) {
    let lexicon = lexicon();
    for family in &unit.families {
        let quality = if lexicon.is_loose(*family) { LOOSE } else { CLOSE };
        // A word of a longer term is not met by a kind of what it stands for alone: "fuel" of "heavy fuel" by gas oil.
        let fits = |t: &&Term| !text.shadowed(t, *family) && (unit.within.is_empty() || t.families.contains(family));
        for term in text.family(*family).filter(fits) {
            found.alike(term.start, term.end, quality);
        }
    }
}

/// By words of the opposite meaning.
fn find_opposite(text: &Text, phrase: &Phrase, unit: &Unit, found: &mut Finder) {
    let lexicon = lexicon();
    for family in &unit.families {
        let Some(opposite) = lexicon.opposite(*family) else { continue };
        // The order of things is compared as a whole.
        if orders(&unit.word) && phrase.has_order() {
            continue;
        }
        // "Full or empty": the phrase itself speaks of both.
        if phrase.units.iter().any(|u| u.families.contains(&opposite)) {
            continue;
        }
        for term in text.family(opposite) {
            let shares = term.families.iter().chain(&term.implied).any(|f| unit.families.contains(f));
            let bare = term.start == term.end && !text.particle_stands(term.start);
            if !shares && !bare && term.families.contains(&opposite) && text.tokens[term.start].stem != unit.stem {
                found.against(term.start, term.end, OPPOSITE, Met::Opposite);
            }
        }
    }
}

/// Whether a bare number of the text counts the same things as the phrase's: starts beside starts.
fn counts_the_same(text: &Text, place: usize, next: Option<&Unit>) -> bool {
    let counted = text.tokens[place + 1..].iter().find(|t| t.role == Role::Content);
    matches!((counted, next), (Some(token), Some(unit)) if token.stem == unit.stem && token.clause == text.tokens[place].clause)
}

/// Two neighbouring words of the phrase that the text writes as one: "non return" as "nonreturn".
pub(super) fn find_joined(text: &Text, phrase: &Phrase, hits: &mut Vec<Hit>) {
    for (at, pair) in phrase.units.windows(2).enumerate() {
        let joined = format!("{}{}", pair[0].word, pair[1].word);
        for &place in text.word(&joined) {
            for unit in [at, at + 1] {
                Finder { unit, hits }.own(place, place, OWN);
            }
        }
    }
}

fn stems_follow(text: &Text, place: usize, stems: &[String]) -> Option<usize> {
    let mut end = place;
    for stem in stems {
        end = (end + 1..text.tokens.len().min(end + 4)).find(|i| text.tokens[*i].stem == *stem)?;
    }
    Some(end)
}

/// What a number of the text is beside one of a phrase.
enum Comparison {
    /// An equal number of the same kind.
    Same,
    /// An equal number, where one of the two has no unit.
    SameWithoutUnit,
    /// Another number of the kind, or the same with the opposite bound.
    Other,
}

/// Compares a phrase's number with one of the text; none where they have nothing to do with one another.
fn compare(wanted: &Amount, found: &Amount) -> Option<Comparison> {
    let (low, high) = match (&wanted.unit, &found.unit) {
        (Some(to), Some(from)) if from.dimension == to.dimension => {
            (from.convert(found.low, to)?, from.convert(found.high, to)?)
        }
        (Some(to), Some(from)) if degrees(&to.spelling) && degrees(&from.spelling) => (found.low, found.high),
        (Some(_), Some(_)) => return None,
        _ => (found.low, found.high),
    };
    let room = SAME_NUMBER * wanted.low.abs().max(wanted.high.abs());
    let equal = low <= wanted.low + room && high >= wanted.high - room || (low - wanted.low).abs() <= room;
    let same_kind = wanted.unit.is_some() == found.unit.is_some();
    if equal {
        return Some(match (wanted.bound, found.bound) {
            (Some(a), Some(b)) if a != b => Comparison::Other,
            _ if same_kind => Comparison::Same,
            _ => Comparison::SameWithoutUnit,
        });
    }
    if !same_kind {
        return None;
    }
    let satisfies = match wanted.bound {
        Some(Bound::AtLeast) => low >= wanted.low && found.bound != Some(Bound::AtLeast),
        Some(Bound::AtMost) => high <= wanted.high && found.bound != Some(Bound::AtMost),
        None => false,
    };
    // Millimetres beside miles are another thing's number.
    let (small, large) = (high.abs().min(wanted.high.abs()), high.abs().max(wanted.high.abs()));
    let comparable = small <= 0.0 || large / small < OTHER_THING;
    (!satisfies && comparable).then_some(Comparison::Other)
}

fn degrees(unit: &str) -> bool {
    unit.starts_with("deg")
}
