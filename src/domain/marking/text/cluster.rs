//! Looks for a phrase in a text: the window of a clause or two in which most of its meaning stands, and whether the
//! words there affirm or deny it.

use std::ops::RangeInclusive;

use super::hits::{Hit, LOOSE, Met, find_joined, find_unit};
use super::index::Text;
use super::phrase::{Phrase, Unit, orders};
use super::sense::{Sense, closes, condition_met, forbidden, sense};
use super::token::Role;

/// A window in which a phrase was found.
#[derive(Debug, Clone)]
pub(super) struct Cluster {
    /// The share of the phrase's weight that was met, 0 to 1.
    pub coverage: f64,
    /// The same without what was met by its opposite or by another number, of what remains.
    pub rest: f64,
    /// The weight met apart from that.
    pub rest_weight: f64,
    pub sense: Sense,
    /// First and last token.
    pub tokens: RangeInclusive<usize>,
    /// Tokens that matched.
    pub used: Vec<usize>,
    /// The text states the phrase's own order.
    pub ordered: bool,
    /// The smaller share that was met of what comes first and of what comes later in the phrase.
    pub both_sides: f64,
    /// What the phrase waits for ("until") was met.
    pub conditional: bool,
    /// A number of the phrase was met.
    pub valued: bool,
    /// How many clauses it stretches over.
    pub clauses: usize,
    /// How many units of weight were met, terms of several words counting twice.
    pub heavy: usize,
    /// How many of them by the phrase's own words.
    pub own_words: usize,
    /// By its own words or words that mean the same; not only by words that come near.
    pub close: bool,
    /// Its units stand in the order of the phrase.
    pub straight: bool,
    /// Every unit was met by the phrase's own word, in its order.
    pub whole: bool,
    /// The text has the phrase word for word.
    pub verbatim: bool,
}

impl Cluster {
    /// Words with which an answer dispenses.
    pub(super) fn denied(used: Vec<usize>) -> Self {
        let (first, last) = (used.first().copied().unwrap_or(0), used.last().copied().unwrap_or(0));
        let (heavy, own_words) = (used.len(), used.len());
        Self {
            coverage: 1.0,
            rest: 1.0,
            rest_weight: 1.0,
            sense: Sense::Denies,
            tokens: first..=last,
            used,
            ordered: false,
            both_sides: 0.0,
            conditional: false,
            valued: false,
            clauses: 1,
            heavy,
            own_words,
            close: true,
            straight: true,
            whole: false,
            verbatim: false,
        }
    }
}

const WINDOW_MAX: usize = 40;
/// What the rest of a short phrase is worth without the word that carries it.
const WITHOUT_CORE: f64 = 0.8;
/// What runs on into the next sentence is worth.
const NEXT_SENTENCE: f64 = 0.75;

/// Where the text has a phrase word for word, without a denial before it.
pub(super) fn verbatim(text: &Text, phrase: &Phrase) -> Option<Cluster> {
    let first = phrase.stems.first()?;
    let length = phrase.stems.len();
    let fits = |at: &usize| {
        text.tokens[*at].stem == *first
            && text
                .tokens
                .get(*at..*at + length)
                .is_some_and(|row| row.iter().zip(&phrase.stems).all(|(t, s)| t.stem == *s))
            && (denied_before(text, *at)
                + denied_behind(text, *at + length - 1)
                + forbidden(text, *at, *at + length - 1))
            .is_multiple_of(2)
    };
    let at = (0..text.tokens.len()).find(fits)?;
    let end = at + length - 1;
    Some(Cluster {
        coverage: 1.0,
        rest: 1.0,
        rest_weight: phrase.total,
        sense: Sense::Affirms,
        tokens: at..=end,
        used: (at..=end).collect(),
        ordered: true,
        both_sides: 1.0,
        conditional: false,
        valued: phrase.units.iter().any(|u| u.value.is_some()),
        clauses: 1,
        heavy: phrase.units.len(),
        own_words: phrase.units.len(),
        close: true,
        straight: true,
        whole: true,
        verbatim: true,
    })
}

fn denied_before(text: &Text, at: usize) -> usize {
    let (reach, sentence) = (text.tokens[at].reach, text.tokens[at].sentence);
    let near = text.tokens[at.saturating_sub(7)..at].iter().filter(|t| t.reach == reach && t.sentence == sentence);
    near.filter(|t| t.role == Role::Denial).count()
}

/// Every window of a text in which at least `floor` of a phrase stands.
pub(super) fn clusters(text: &Text, phrase: &Phrase, floor: f64) -> Vec<Cluster> {
    let mut hits: Vec<Hit> = Vec::new();
    for at in 0..phrase.units.len() {
        find_unit(text, phrase, at, &mut hits);
    }
    find_joined(text, phrase, &mut hits);
    hits.sort_by_key(|h| (h.start, h.unit));
    let width = (8 + 3 * phrase.units.len()).min(WINDOW_MAX);
    let mut found = Vec::new();
    let mut last_used: Vec<usize> = Vec::new();
    for left in 0..hits.len() {
        let chosen = choose(text, phrase, &hits[left..], width);
        let met: f64 = chosen.iter().map(|h| phrase.units[h.unit].weight * h.quality).sum();
        if met < floor * phrase.total {
            continue;
        }
        let cluster = judge(text, phrase, &chosen);
        if cluster.coverage >= floor && cluster.used != last_used {
            last_used.clone_from(&cluster.used);
            found.push(cluster);
        }
    }
    found
}

fn denied_behind(text: &Text, end: usize) -> usize {
    let reach = text.tokens[end].reach;
    let near = (end + 1..text.tokens.len().min(end + 5)).take_while(|i| text.tokens[*i].reach == reach);
    near.filter(|i| text.tokens[*i].role == Role::Denial && closes(text, *i)).count()
}

/// The best hit for each unit in the window that begins with the first hit.
fn choose(text: &Text, phrase: &Phrase, hits: &[Hit], width: usize) -> Vec<Hit> {
    let Some(first) = hits.first() else { return Vec::new() };
    let (from, sentence) = (first.start, text.tokens[first.start].sentence);
    let clause = text.tokens[first.start].clause;
    let mut best: Vec<Option<&Hit>> = vec![None; phrase.units.len()];
    let worth = |h: &Hit| {
        let near = 0.05 * (text.tokens[h.start].clause.saturating_sub(clause)).min(10) as f64;
        let straight = if h.met == Met::Same { 0.2 } else { 0.0 };
        h.quality + straight - near
    };
    for hit in hits.iter().take_while(|h| h.start <= from + width && text.tokens[h.start].sentence <= sentence + 1) {
        let slot = &mut best[hit.unit];
        if slot.is_none_or(|old| worth(hit) > worth(old) + 1e-9) {
            *slot = Some(hit);
        }
    }
    let mut chosen: Vec<Hit> = best.into_iter().flatten().cloned().collect();
    once_only(phrase, &mut chosen);
    let same: Vec<(usize, usize)> = chosen.iter().filter(|h| h.met == Met::Same).map(|h| (h.start, h.end)).collect();
    chosen.retain(|h| h.met == Met::Same || same.iter().all(|(start, end)| h.end < *start || h.start > *end));
    chosen
}

/// Whether an opposite or another number stands in one clause with words that the phrase has, or says all of it.
fn turned_beside(text: &Text, phrase: &Phrase, chosen: &[Hit]) -> bool {
    let clause = |h: &Hit| (text.tokens[h.start].clause, text.tokens[h.start].sentence);
    let same = |h: &&Hit| h.met == Met::Same && phrase.units[h.unit].weight >= 0.3;
    let turned: Vec<&Hit> = chosen.iter().filter(|h| h.met != Met::Same).collect();
    turned.iter().all(|t| {
        chosen
            .iter()
            .filter(same)
            .any(|h| clause(h) == clause(t) || text.tokens[h.start].reach == text.tokens[t.start].reach)
            || says_all(phrase, t)
    })
}

fn both_sides(phrase: &Phrase, chosen: &[Hit]) -> f64 {
    let first = phrase.units.iter().map(|u| u.rank).min().unwrap_or(0);
    let share = |early: bool| {
        let side = |u: &&Unit| (u.rank == first) == early && !orders(&u.word);
        let total: f64 = phrase.units.iter().filter(side).map(|u| u.weight).sum();
        let met = chosen.iter().filter(|h| h.met == Met::Same && side(&&phrase.units[h.unit]));
        met.map(|h| phrase.units[h.unit].weight * h.quality).sum::<f64>() / total.max(1e-9)
    };
    share(true).min(share(false))
}

/// "Steam first and the drain afterwards" does not put the drain first.
fn misplaced(text: &Text, phrase: &Phrase, chosen: &[Hit]) -> bool {
    let places = |h: &&Hit| matches!(phrase.units[h.unit].word.as_str(), "first" | "last");
    chosen.iter().filter(places).any(|p| {
        let beside = |h: &Hit| h.unit != p.unit && text.tokens[h.start].clause == text.tokens[p.start].clause;
        chosen.len() > 1 && !chosen.iter().any(beside)
    })
}

/// "Full ahead" is all that speaks against "slow down".
fn says_all(phrase: &Phrase, hit: &Hit) -> bool {
    hit.met == Met::Opposite && hit.end > hit.start && phrase.total - phrase.units[hit.unit].weight < 0.4
}

/// One word of the text that meets two units of one meaning counts once: "count" is not "muster and head count".
/// It may meet two of different meaning ("hot" is a temperature, and high), but not three.
fn once_only(phrase: &Phrase, chosen: &mut [Hit]) {
    for at in 1..chosen.len() {
        let (earlier, rest) = chosen.split_at_mut(at);
        let hit = &mut rest[0];
        let same: Vec<&Hit> = earlier.iter().filter(|h| h.start == hit.start && h.end == hit.end).collect();
        let alike = same.iter().any(|h| {
            let (a, b) = (&phrase.units[h.unit], &phrase.units[hit.unit]);
            a.families.iter().any(|f| b.families.contains(f))
        });
        if alike || same.len() > 1 {
            hit.quality *= 0.4;
        }
    }
}

fn judge(text: &Text, phrase: &Phrase, chosen: &[Hit]) -> Cluster {
    let weight = |h: &Hit| phrase.units[h.unit].weight * h.quality;
    let mut used: Vec<usize> = chosen.iter().flat_map(|h| h.start..=h.end).collect();
    used.sort_unstable();
    used.dedup();
    let (first, last) = (used.first().copied().unwrap_or(0), used.last().copied().unwrap_or(0));
    let mut clauses: Vec<usize> = used.iter().map(|t| text.tokens[*t].clause).collect();
    clauses.dedup();
    let sentences = text.tokens.get(last).map_or(0, |t| t.sentence) - text.tokens.get(first).map_or(0, |t| t.sentence);
    let parts = text.tokens.get(last).map_or(0, |t| t.part) - text.tokens.get(first).map_or(0, |t| t.part);
    // A phrase of two words must stand between two marks.
    let mark: f64 = if phrase.units.len() <= 2 { 0.92 } else { 1.0 };
    let times = |factor: f64, count: usize| factor.powi(i32::try_from(count).unwrap_or(99));
    let spread = times(0.97, clauses.len().saturating_sub(1)) * times(mark, parts) * times(NEXT_SENTENCE, sentences);
    let (mut sense, ordered) = sense(text, phrase, chosen, &used);
    // An order that the answer states in its own way stands for the phrase's "before".
    let open: Vec<&Unit> = phrase
        .units
        .iter()
        .enumerate()
        .filter(|(at, _)| chosen.iter().all(|h| h.unit != *at))
        .map(|(_, u)| u)
        .collect();
    let (words, things): (Vec<&Unit>, Vec<&Unit>) = open.into_iter().partition(|u| orders(&u.word));
    let weight_of = |units: &[&Unit]| units.iter().map(|u| u.weight).sum::<f64>();
    let states = (ordered || sense == Sense::Reverses) && weight_of(&things) < 0.36;
    let stated = if states { weight_of(&words) } else { 0.0 };
    // "Pass" is not the transfer and the pump at once.
    let one_loose_word = used.len() == 1 && chosen.len() > 1 && chosen.iter().all(|h| h.quality <= LOOSE);
    if misplaced(text, phrase, chosen) || one_loose_word {
        sense = Sense::Unclear;
    }
    // "Do not open it until it has cooled" is said or denied without its condition too.
    let core = |at: usize| phrase.denials.is_empty() || !phrase.units[at].condition;
    let core_met: f64 = chosen.iter().filter(|h| core(h.unit)).map(weight).sum();
    let core_total: f64 = (0..phrase.units.len()).filter(|at| core(*at)).map(|at| phrase.units[at].weight).sum();
    let all_met: f64 = stated + chosen.iter().map(weight).sum::<f64>();
    let share = |met: f64, total: f64| if total > 0.0 { met / total } else { 0.0 };
    let turned: f64 = chosen.iter().filter(|h| h.met != Met::Same).map(|h| phrase.units[h.unit].weight).sum();
    let rest_weight: f64 = stated + chosen.iter().filter(|h| h.met == Met::Same).map(weight).sum::<f64>();
    let all_said = chosen.iter().any(|h| says_all(phrase, h));
    let rest_total = (phrase.total - turned).max(1e-9);
    if matches!(sense, Sense::Opposes | Sense::OtherValue) && !turned_beside(text, phrase, chosen) {
        sense = Sense::Unclear;
    }
    let core = phrase.core.is_none_or(|core| chosen.iter().any(|h| h.unit == core));
    let spread = if core { spread } else { WITHOUT_CORE * spread };
    Cluster {
        coverage: spread * share(all_met, phrase.total).max(0.95 * share(core_met, core_total)),
        rest: if all_said { 1.0 } else { spread * rest_weight / rest_total },
        rest_weight: if all_said { 1.0 } else { rest_weight },
        sense,
        tokens: first..=last,
        used,
        ordered,
        both_sides: both_sides(phrase, chosen),
        conditional: condition_met(phrase, chosen),
        valued: chosen.iter().any(|h| h.met == Met::Same && phrase.units[h.unit].value.is_some()),
        clauses: clauses.len(),
        heavy: chosen
            .iter()
            .filter(|h| phrase.units[h.unit].weight >= 0.5)
            .map(|h| 1 + usize::from(h.end > h.start))
            .sum(),
        own_words: usize::from(all_said)
            + chosen.iter().filter(|h| h.own && h.met == Met::Same && phrase.units[h.unit].weight >= 0.5).count(),
        close: chosen.iter().any(|h| h.met == Met::Same && h.quality > LOOSE && phrase.units[h.unit].weight >= 0.5),
        straight: chosen.is_sorted_by_key(|h| h.start),
        whole: chosen.len() == phrase.units.len()
            && chosen.is_sorted_by_key(|h| h.start)
            && chosen.iter().all(|h| h.own && h.met == Met::Same),
        verbatim: false,
    }
}
