//! Where single units of a phrase are met in a text: by their own words, words that mean the same, opposites, numbers.

use super::index::{Term, Text};
use super::lexicon::lexicon;
use super::phrase::{Phrase, Unit, orders};
use super::token::{Bound, Role, Value};

/// What a word of the same root is worth.
const KIN: f64 = 0.8;
/// What a word of the same family is worth beside the phrase's own.
const CLOSE: f64 = 0.94;
pub(super) const LOOSE: f64 = 0.88;
/// How a unit of a phrase was met.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Met {
    Same,
    /// By a word of the opposite meaning.
    Opposite,
    /// By another number of the same kind.
    OtherValue,
}

#[derive(Debug, Clone)]
pub(super) struct Hit {
    pub unit: usize,
    pub start: usize,
    pub end: usize,
    pub quality: f64,
    pub met: Met,
    /// By the phrase's own word, not by another of its family.
    pub own: bool,
}

/// All places where one unit is met.
pub(super) fn find_unit(text: &Text, phrase: &Phrase, at: usize, hits: &mut Vec<Hit>) {
    let (unit, next) = (&phrase.units[at], phrase.units.get(at + 1));
    let mut push = |start: usize, end: usize, quality: f64, met: Met| {
        let own = quality > 0.95 || quality == 0.9 || quality == 0.45;
        hits.push(Hit { unit: at, start, end, quality, met, own });
    };
    if let Some(value) = &unit.value {
        for &place in &text.values {
            if let Some(other) = &text.tokens[place].value
                && let Some((quality, met)) = compare(value, other)
                && (met == Met::Same || value.unit.is_some() || counts_the_same(text, place, next))
            {
                push(place, place, quality, met);
            }
        }
        if value.unit.is_some() || unit.families.is_empty() {
            return;
        }
    }
    for &place in text.stem(&unit.stem).iter().filter(|p| !text.of_another(**p, &unit.within)) {
        match stems_follow(text, place, &unit.more_stems) {
            Some(end) => push(place, end, 1.0, Met::Same),
            None if unit.more_stems.len() == 1 => push(place, place, 0.45, Met::Same),
            None => {}
        }
    }
    if unit.more_stems.is_empty() {
        for place in text.misspelt(&unit.word) {
            push(place, place, 0.9, Met::Same);
        }
        for place in text.kin(&unit.stem) {
            push(place, place, KIN, Met::Same);
        }
        for &place in text.pair(&unit.word) {
            push(place, place + 1, 1.0, Met::Same);
        }
    }
    let lexicon = lexicon();
    for family in &unit.families {
        let quality = if lexicon.is_loose(*family) { LOOSE } else { CLOSE };
        // A word of a longer term is not met by a kind of what it stands for alone: "fuel" of "heavy fuel" by gas oil.
        let fits = |t: &&Term| !text.shadowed(t, *family) && (unit.within.is_empty() || t.families.contains(family));
        for term in text.family(*family).filter(fits) {
            push(term.start, term.end, quality, Met::Same);
        }
    }
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
                push(term.start, term.end, 0.9, Met::Opposite);
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
                hits.push(Hit { unit, start: place, end: place, quality: 1.0, met: Met::Same, own: true });
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

/// Compares a phrase's number with one of the text.
fn compare(wanted: &Value, found: &Value) -> Option<(f64, Met)> {
    let (low, high) = match (&wanted.unit, &found.unit) {
        (Some(to), Some(from)) if from.dimension == to.dimension => {
            (from.convert(found.low, to)?, from.convert(found.high, to)?)
        }
        (Some(to), Some(from)) if degrees(&to.spelling) && degrees(&from.spelling) => (found.low, found.high),
        (Some(_), Some(_)) => return None,
        _ => (found.low, found.high),
    };
    let room = 1e-3 * wanted.low.abs().max(wanted.high.abs());
    let equal = low <= wanted.low + room && high >= wanted.high - room || (low - wanted.low).abs() <= room;
    let same_kind = wanted.unit.is_some() == found.unit.is_some();
    if equal {
        return Some(match (wanted.bound, found.bound) {
            (Some(a), Some(b)) if a != b => (0.9, Met::OtherValue),
            _ if same_kind => (1.0, Met::Same),
            _ => (0.8, Met::Same),
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
    let comparable = small <= 0.0 || large / small < 1e3;
    (!satisfies && comparable).then_some((0.9, Met::OtherValue))
}

fn degrees(unit: &str) -> bool {
    unit.starts_with("deg")
}
