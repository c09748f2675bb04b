//! Looks for a phrase in a text: the window of a clause or two in which most of its meaning stands, and whether the
//! words there affirm or deny it.

use std::ops::RangeInclusive;

use super::hits::{Hit, Met, find_joined, find_unit};
use super::index::Text;
use super::phrase::{Phrase, Unit, orders};
use super::sense::{Sense, closes, condition_met, forbidden, sense};
use super::thresholds::{
    CLAUSE_ON, COMPANION, EQUAL, FURTHER_CLAUSE, FURTHER_MARK, HEAVY, LOOSE, MET_TWICE, NEXT_SENTENCE, ORDER_STATED,
    SAME_FIRST, SAYS_ALL, WITHOUT_CONDITION, WITHOUT_CORE,
};
use super::token::{Role, Token};

/// A window in which a phrase was found.
#[derive(Debug, Clone)]
pub(super) struct Cluster {
    /// What its words do with the phrase.
    pub sense: Sense,
    /// First and last token.
    pub tokens: RangeInclusive<usize>,
    /// Tokens that matched.
    pub used: Vec<usize>,
    /// How many clauses it stretches over.
    pub clauses: usize,
    /// The text states the phrase's own order.
    pub ordered: bool,
    /// What the phrase waits for ("until") was met.
    pub conditional: bool,
    /// How much of the phrase was met.
    pub share: Share,
    /// By which words the phrase was met.
    pub words: WordsMet,
}

/// How much of a phrase a window holds.
#[derive(Debug, Clone, Copy)]
pub(super) struct Share {
    /// The share of the phrase's weight that was met, 0 to 1.
    pub coverage: f64,
    /// The share of its weight, without what was met by its opposite or by another number, that was met otherwise.
    pub rest: f64,
    /// The weight met otherwise than by an opposite or by another number.
    pub rest_weight: f64,
    /// The smaller share that was met of what comes first and of what comes later in the phrase.
    pub both_sides: f64,
}

/// By which words a phrase was met.
#[derive(Debug, Clone, Copy)]
pub(super) struct WordsMet {
    /// How many units of weight were met, terms of several words counting twice.
    pub heavy: usize,
    /// How many units of weight were met by the phrase's own words.
    pub own_words: usize,
    /// A unit of weight was met by its own words or words that mean the same; not only by words that come near.
    pub close: bool,
    /// A number of the phrase was met.
    pub valued: bool,
    /// The units stand in the order of the phrase.
    pub straight: bool,
    /// Every unit was met by the phrase's own word, in its order.
    pub whole: bool,
    /// The text has the phrase word for word.
    pub verbatim: bool,
}

impl Cluster {
    /// Words with which an answer dispenses.
    pub(super) fn denied(used: Vec<usize>) -> Self {
        let (first, last) = ends(&used);
        let count = used.len();
        Self {
            sense: Sense::Denies,
            tokens: first..=last,
            used,
            clauses: 1,
            ordered: false,
            conditional: false,
            share: Share { coverage: 1.0, rest: 1.0, rest_weight: 1.0, both_sides: 0.0 },
            words: WordsMet {
                heavy: count,
                own_words: count,
                close: true,
                valued: false,
                straight: true,
                whole: false,
                verbatim: false,
            },
        }
    }
}

/// The longest window, in tokens.
const WINDOW_MAX: usize = 40;

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
    let count = phrase.units.len();
    Some(Cluster {
        sense: Sense::Affirms,
        tokens: at..=end,
        used: (at..=end).collect(),
        clauses: 1,
        ordered: true,
        conditional: false,
        share: Share { coverage: 1.0, rest: 1.0, rest_weight: phrase.total, both_sides: 1.0 },
        words: WordsMet {
            heavy: count,
            own_words: count,
            close: true,
            valued: phrase.units.iter().any(|u| u.value.is_some()),
            straight: true,
            whole: true,
            verbatim: true,
        },
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
        if cluster.share.coverage >= floor && cluster.used != last_used {
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
        let near = CLAUSE_ON * (text.tokens[h.start].clause.saturating_sub(clause)).min(10) as f64;
        let straight = if h.met == Met::Same { SAME_FIRST } else { 0.0 };
        h.quality + straight - near
    };
    for hit in hits.iter().take_while(|h| h.start <= from + width && text.tokens[h.start].sentence <= sentence + 1) {
        let slot = &mut best[hit.unit];
        if slot.is_none_or(|old| worth(hit) > worth(old) + EQUAL) {
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
    let same = |h: &&Hit| h.met == Met::Same && phrase.units[h.unit].weight >= COMPANION;
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
        met.map(|h| phrase.units[h.unit].weight * h.quality).sum::<f64>() / total.max(EQUAL)
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
    hit.met == Met::Opposite && hit.end > hit.start && phrase.total - phrase.units[hit.unit].weight < SAYS_ALL
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
            hit.quality *= MET_TWICE;
        }
    }
}

/// What the chosen hits of a window make of a phrase.
fn judge(text: &Text, phrase: &Phrase, chosen: &[Hit]) -> Cluster {
    let mut used: Vec<usize> = chosen.iter().flat_map(|h| h.start..=h.end).collect();
    used.sort_unstable();
    used.dedup();
    let (first, last) = ends(&used);
    let mut clauses: Vec<usize> = used.iter().map(|t| text.tokens[*t].clause).collect();
    clauses.dedup();
    let (read, ordered) = sense(text, phrase, chosen, &used);
    let all_said = chosen.iter().any(|h| says_all(phrase, h));
    let stated = order_stated(phrase, chosen, ordered || read == Sense::Reverses);
    let spread = spread(text, phrase, (first, last), clauses.len()) * core_met(phrase, chosen);
    let share = if all_said {
        Share { rest: 1.0, rest_weight: 1.0, ..share(phrase, chosen, stated, spread) }
    } else {
        share(phrase, chosen, stated, spread)
    };
    Cluster {
        sense: settled(text, phrase, chosen, read, used.len()),
        tokens: first..=last,
        used,
        clauses: clauses.len(),
        ordered,
        conditional: condition_met(phrase, chosen),
        share,
        words: words_met(phrase, chosen, all_said),
    }
}

/// The first and the last of the tokens that matched.
fn ends(used: &[usize]) -> (usize, usize) {
    (used.first().copied().unwrap_or(0), used.last().copied().unwrap_or(0))
}

/// What a window is worth for how far its words are spread over clauses, marks and sentences.
fn spread(text: &Text, phrase: &Phrase, (first, last): (usize, usize), clauses: usize) -> f64 {
    let of = |part: fn(&Token) -> usize| text.tokens.get(last).map_or(0, part) - text.tokens.get(first).map_or(0, part);
    let (sentences, parts) = (of(|t| t.sentence), of(|t| t.part));
    // A phrase of two words must stand between two marks.
    let mark: f64 = if phrase.units.len() <= 2 { FURTHER_MARK } else { 1.0 };
    let times = |factor: f64, count: usize| factor.powi(i32::try_from(count).unwrap_or(99));
    times(FURTHER_CLAUSE, clauses.saturating_sub(1)) * times(mark, parts) * times(NEXT_SENTENCE, sentences)
}

/// What a window is worth for the word that carries a short phrase.
fn core_met(phrase: &Phrase, chosen: &[Hit]) -> f64 {
    let met = phrase.core.is_none_or(|core| chosen.iter().any(|h| h.unit == core));
    if met { 1.0 } else { WITHOUT_CORE }
}

/// The weight of the phrase's "before" and "after" that an order stated in the answer's own way stands for.
fn order_stated(phrase: &Phrase, chosen: &[Hit], states: bool) -> f64 {
    let open = phrase.units.iter().enumerate().filter(|(at, _)| chosen.iter().all(|h| h.unit != *at)).map(|(_, u)| u);
    let (words, things): (Vec<&Unit>, Vec<&Unit>) = open.partition(|u| orders(&u.word));
    let weight_of = |units: &[&Unit]| units.iter().map(|u| u.weight).sum::<f64>();
    if states && weight_of(&things) < ORDER_STATED { weight_of(&words) } else { 0.0 }
}

/// How much of the phrase the hits make up, `stated` being met besides and `spread` what the window is worth.
fn share(phrase: &Phrase, chosen: &[Hit], stated: f64, spread: f64) -> Share {
    let weight = |h: &Hit| phrase.units[h.unit].weight * h.quality;
    // "Do not open it until it has cooled" is said or denied without its condition too.
    let core = |at: usize| phrase.denials.is_empty() || !phrase.units[at].condition;
    let core_met: f64 = chosen.iter().filter(|h| core(h.unit)).map(weight).sum();
    let core_total: f64 = (0..phrase.units.len()).filter(|at| core(*at)).map(|at| phrase.units[at].weight).sum();
    let all_met: f64 = stated + chosen.iter().map(weight).sum::<f64>();
    let part = |met: f64, total: f64| if total > 0.0 { met / total } else { 0.0 };
    let turned: f64 = chosen.iter().filter(|h| h.met != Met::Same).map(|h| phrase.units[h.unit].weight).sum();
    let rest_weight: f64 = stated + chosen.iter().filter(|h| h.met == Met::Same).map(weight).sum::<f64>();
    Share {
        coverage: spread * part(all_met, phrase.total).max(WITHOUT_CONDITION * part(core_met, core_total)),
        rest: spread * rest_weight / (phrase.total - turned).max(EQUAL),
        rest_weight,
        both_sides: both_sides(phrase, chosen),
    }
}

/// The sense as read, where nothing in the window makes it doubtful.
fn settled(text: &Text, phrase: &Phrase, chosen: &[Hit], read: Sense, used: usize) -> Sense {
    // "Pass" is not the transfer and the pump at once.
    let one_loose_word = used == 1 && chosen.len() > 1 && chosen.iter().all(|h| h.quality <= LOOSE);
    let turns = matches!(read, Sense::Opposes | Sense::OtherValue);
    let doubtful = misplaced(text, phrase, chosen) || one_loose_word || turns && !turned_beside(text, phrase, chosen);
    if doubtful { Sense::Unclear } else { read }
}

/// By which words the hits meet the phrase. Where one opposite says all of it, that counts as an own word.
fn words_met(phrase: &Phrase, chosen: &[Hit], all_said: bool) -> WordsMet {
    let heavy = |h: &&Hit| phrase.units[h.unit].weight >= HEAVY;
    let straight = chosen.is_sorted_by_key(|h| h.start);
    let own = |h: &Hit| h.own && h.met == Met::Same;
    WordsMet {
        heavy: chosen.iter().filter(heavy).map(|h| 1 + usize::from(h.end > h.start)).sum(),
        own_words: usize::from(all_said) + chosen.iter().filter(heavy).filter(|h| own(h)).count(),
        close: chosen.iter().filter(heavy).any(|h| h.met == Met::Same && h.quality > LOOSE),
        valued: chosen.iter().any(|h| h.met == Met::Same && phrase.units[h.unit].value.is_some()),
        straight,
        whole: straight && chosen.len() == phrase.units.len() && chosen.iter().all(own),
        verbatim: false,
    }
}
