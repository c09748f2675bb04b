//! What the clause around matched words does with them beyond the phrase itself: a denied predicate, the opposite of
//! a word of the point's own sentence, another number, and words that dispense with a thing ("no need to").

use super::cluster::Cluster;
use super::hits::{Hit, Met, find_unit};
use super::index::Text;
use super::phrase::{Phrase, Unit};
use super::thresholds::{HEAVY, LOOSE, NAMED, TOPICAL};
use super::token::Role;
use super::vocabulary::vocabulary;

/// How far around matched words their clause is read, in tokens.
pub(super) const AROUND: usize = 6;
/// The longest predicate or dispensed span that is read.
const SPAN: usize = 8;

/// A point's own sentence with the places where its units are met, in the order of the text.
pub(super) struct Located<'a> {
    pub(super) phrase: &'a Phrase,
    hits: Vec<Hit>,
}

impl<'a> Located<'a> {
    pub(super) fn new(text: &Text, phrase: &'a Phrase) -> Self {
        let mut hits = hits(text, phrase);
        hits.sort_by_key(|h| h.start);
        Self { phrase, hits }
    }

    /// Hits that begin from one token to another.
    pub(super) fn between(&self, from: usize, to: usize) -> &[Hit] {
        let start = self.hits.partition_point(|h| h.start < from);
        let end = self.hits.partition_point(|h| h.start <= to);
        self.hits.get(start..end).unwrap_or_default()
    }
}

/// Whether the clause in which a phrase was matched turns the point round.
pub(super) fn turned(text: &Text, say: &[Located], phrase: &Phrase, cluster: &Cluster) -> bool {
    if !phrase.denials.is_empty() || say.iter().any(|s| !s.phrase.denials.is_empty()) {
        return false;
    }
    predicate_denied(text, say, cluster)
        || dismissed(text, cluster)
        || say.iter().any(|s| opposed(text, s, phrase, cluster) || valued_otherwise(text, s, phrase, cluster))
}

/// Whether a denial stands with its verb: "does not", "has no", "never".
pub(super) fn verbal(text: &Text, at: usize) -> bool {
    let word = text.tokens[at].word.as_str();
    vocabulary().denying_verbs.contains(word)
        || at > 0
            && matches!(word, "not" | "no" | "nothing")
            && text.tokens[at - 1].reach == text.tokens[at].reach
            && vocabulary().denied_verbs.contains(text.tokens[at - 1].word.as_str())
}

/// Tokens behind `at` that lie in its reach.
pub(super) fn behind(text: &Text, at: usize, most: usize) -> std::ops::Range<usize> {
    let (reach, sentence) = (text.tokens[at].reach, text.tokens[at].sentence);
    let here = |i: &usize| text.tokens[*i].reach == reach && text.tokens[*i].sentence == sentence;
    let count = (at + 1..text.tokens.len().min(at + 1 + most)).take_while(here).count();
    at + 1..at + 1 + count
}

/// "The attached pump does not supply": the subject was matched, its verb is denied and is the point's own or says
/// nothing but that the thing does not count.
fn predicate_denied(text: &Text, say: &[Located], cluster: &Cluster) -> bool {
    let Some(&last) = cluster.used.last() else { return false };
    let near = behind(text, last, AROUND);
    let Some(at) = near.clone().find(|i| text.tokens[*i].role == Role::Denial) else { return false };
    let between = near.start..at;
    let apart = between.filter(|i| text.tokens[*i].role == Role::Content).count() > 2;
    if apart || !verbal(text, at) || text.in_term(at) {
        return false;
    }
    let predicate = behind(text, at, SPAN);
    let alone = text.tokens[at].word == "nothing";
    let empty = |i: usize| vocabulary().empty_predicates.contains(text.tokens[i].word.as_str());
    // Only the first words of the predicate tell what is denied of the subject.
    let head = predicate.clone().filter(|i| text.tokens[*i].role == Role::Content || empty(*i)).take(1);
    alone || head.into_iter().any(empty) || say.iter().any(|s| shares(s, cluster, predicate.clone()))
}

/// Whether a range holds a telling unit of the point's sentence that is no part of the matched words.
fn shares(say: &Located, cluster: &Cluster, range: std::ops::Range<usize>) -> bool {
    say.between(range.start, range.end.saturating_sub(1)).iter().any(|h| {
        h.met == Met::Same
            && say.phrase.units[h.unit].weight >= TOPICAL
            && range.contains(&h.start)
            && !cluster.used.contains(&h.start)
    })
}

fn hits(text: &Text, phrase: &Phrase) -> Vec<Hit> {
    let mut hits = Vec::new();
    for at in 0..phrase.units.len() {
        find_unit(text, phrase, at, &mut hits);
    }
    hits
}

/// "Oil in the line is harmless."
fn dismissed(text: &Text, cluster: &Cluster) -> bool {
    let Some(&last) = cluster.used.last() else { return false };
    let near = behind(text, last, AROUND);
    let denied = near.clone().any(|i| text.tokens[i].role == Role::Denial);
    !denied && near.into_iter().any(|i| vocabulary().dismissing.contains(text.tokens[i].word.as_str()))
}

/// The clause holds the opposite of a word of the point's sentence that the matched phrase lacks, and the matched
/// words are words of that sentence too.
fn opposed(text: &Text, say: &Located, phrase: &Phrase, cluster: &Cluster) -> bool {
    let (Some(&first), Some(&last)) = (cluster.used.first(), cluster.used.last()) else { return false };
    if cluster.clauses > 1 || last - first > cluster.used.len() + 4 {
        return false;
    }
    let (clause, sentence) = (text.tokens[first].clause, text.tokens[first].sentence);
    let here = |h: &&Hit| text.tokens[h.start].clause == clause && text.tokens[h.start].sentence == sentence;
    let all: Vec<&Hit> = say.between(first.saturating_sub(AROUND), last + AROUND).iter().filter(here).collect();
    let has = |unit: &Unit| {
        phrase.units.iter().any(|u| u.stem == unit.stem || u.families.iter().any(|f| unit.families.contains(f)))
    };
    let denied = (first.saturating_sub(AROUND)..text.tokens.len().min(last + AROUND)).any(|i| {
        text.tokens[i].role == Role::Denial && text.tokens[i].clause == clause && text.tokens[i].sentence == sentence
    });
    !denied
        && all.iter().filter(|h| h.met == Met::Opposite).any(|h| {
            let unit = &say.phrase.units[h.unit];
            if unit.weight < TOPICAL || vocabulary().order.contains(unit.word.as_str()) {
                return false;
            }
            let both = all.iter().any(|o| o.met == Met::Same && o.start <= h.end && o.end >= h.start);
            let own = all.iter().any(|o| o.unit == h.unit && o.met == Met::Same);
            let other = all.iter().any(|o| {
                o.unit != h.unit
                    && o.met == Met::Same
                    && say.phrase.units[o.unit].weight >= HEAVY
                    && cluster.used.contains(&o.start)
            });
            let used = (h.start..=h.end).any(|i| cluster.used.contains(&i));
            !own && !both && other && !used && !has(unit)
        })
}

/// Beside the matched words stands another number of the kind that the point's sentence has, and its own nowhere.
fn valued_otherwise(text: &Text, say: &Located, phrase: &Phrase, cluster: &Cluster) -> bool {
    let (Some(&first), Some(&last)) = (cluster.used.first(), cluster.used.last()) else { return false };
    if phrase.units.iter().any(|u| u.value.is_some()) {
        return false;
    }
    let sentence = text.tokens[first].sentence;
    let dimensioned = |h: &Hit| say.phrase.units[h.unit].value.as_ref().is_some_and(|v| v.unit.is_some());
    let beside = |h: &Hit| {
        let token = &text.tokens[h.start];
        token.sentence == sentence
            && (token.clause == text.tokens[first].clause || token.clause == text.tokens[last].clause)
    };
    let near = say.between(first.saturating_sub(AROUND), last + AROUND);
    near.iter().filter(|h| h.met == Met::OtherValue && dimensioned(h) && beside(h)).any(|other| {
        let right = |h: &&Hit| h.unit == other.unit && h.met == Met::Same && text.tokens[h.start].sentence == sentence;
        !say.hits.iter().any(|h| right(&h))
    })
}

/// Where the answer dispenses with what a point asks for: "no need to tell the bridge", "the cause does not matter".
pub(super) fn dispensed(text: &Text, phrases: &[&Phrase]) -> Option<Cluster> {
    if phrases.iter().any(|p| !p.denials.is_empty()) {
        return None;
    }
    let spans: Vec<Vec<usize>> = (0..text.tokens.len()).filter_map(|at| span_at(text, at)).collect();
    if spans.is_empty() {
        return None;
    }
    let found: Vec<(&Phrase, Vec<Hit>)> = phrases.iter().map(|p| (*p, same_hits(text, p))).collect();
    spans.into_iter().find_map(|span| {
        let inside = |h: &&Hit| span.contains(&h.start) && span.contains(&h.end);
        let named = found.iter().any(|(phrase, hits)| {
            let close = |h: &Hit| h.quality > LOOSE && phrase.units[h.unit].weight >= HEAVY;
            if !hits.iter().filter(inside).any(close) {
                return false;
            }
            let mut units: Vec<usize> = hits.iter().filter(inside).map(|h| h.unit).collect();
            units.sort_unstable();
            units.dedup();
            let met: f64 = units.iter().map(|u| phrase.units[*u].weight).sum();
            met >= NAMED * phrase.total
        });
        let mut used: Vec<usize> =
            found.iter().flat_map(|(_, hits)| hits).filter(inside).flat_map(|h| h.start..=h.end).collect();
        used.sort_unstable();
        used.dedup();
        let open = span.iter().filter(|i| !used.contains(i) && !passes(text, **i)).count();
        (named && open < used.len()).then(|| Cluster::denied(used))
    })
}

/// Where a phrase's units are met.
fn same_hits(text: &Text, phrase: &Phrase) -> Vec<Hit> {
    hits(text, phrase).into_iter().filter(|h| h.met == Met::Same).collect()
}

/// Small words, and verbs that ask for a thing without naming it.
fn passes(text: &Text, at: usize) -> bool {
    let token = &text.tokens[at];
    token.role != Role::Content || vocabulary().passing.contains(token.word.as_str())
}

/// The span that is dispensed with, where such words stand at `at`.
fn span_at(text: &Text, at: usize) -> Option<Vec<usize>> {
    let word = |n: usize| text.tokens.get(at + n).map_or("", |t| t.word.as_str());
    let needs = |w: &str| matches!(w, "need" | "needed" | "necessary" | "required" | "require" | "reason" | "use");
    let denial = |i: usize| text.tokens.get(i).is_some_and(|t| t.role == Role::Denial);
    let before = || {
        let (reach, sentence) = (text.tokens[at].reach, text.tokens[at].sentence);
        let here = |i: &usize| text.tokens[*i].reach == reach && text.tokens[*i].sentence == sentence;
        (at.saturating_sub(SPAN)..at).rev().take_while(here).collect::<Vec<usize>>()
    };
    let goes_on = |i: &usize| !matches!(text.tokens[*i].word.as_str(), "as" | "since" | "by" | "at");
    let after = |n: usize| behind(text, at + n, SPAN).take_while(goes_on).collect::<Vec<usize>>();
    let denied_before = at > 0 && denial(at - 1);
    let marked = match word(0) {
        "no" if needs(word(1)) => after(1),
        "not" if needs(word(1)) && matches!(word(2), "to" | "that" | "for") => after(1),
        "not" if needs(word(1)) => before(),
        "not" if at > 0 && text.tokens[at - 1].word == "need" => [before(), after(0)].concat(),
        "neednt" => [before(), after(0)].concat(),
        "not" | "dont" | "doesnt" | "never"
            if matches!(word(1), "have" | "need" | "bother" | "mind" | "worry" | "touch") =>
        {
            after(1)
        }
        "not" | "doesnt" if matches!(word(1), "matter") => before(),
        "not" | "dont" | "never" if matches!(word(1), "disturb" | "bother" | "wake") => after(1),
        "not" if word(1) == "be" && matches!(word(2), "disturbed" | "bothered" | "woken") => before(),
        "no" if matches!(word(1), "influence" | "effect" | "importance" | "role" | "matter") => before(),
        "never" if word(1) == "mind" => after(1),
        "no" if (1..=5).any(|n| needs(word(n)) && text.tokens[at + n].reach == text.tokens[at].reach) => after(0),
        "no" if at > 0 && matches!(text.tokens[at - 1].word.as_str(), "need" | "needs" | "requires") => after(0),
        "skip" | "omit" | "ignore" if !denied_before => after(0),
        "unnecessary" | "needless" | "superfluous" | "skipped" | "omitted" | "ignored" if !denied_before => before(),
        _ => return None,
    };
    Some(marked).filter(|span| !span.is_empty())
}

/// Whether another part of a point's own sentence stands beside a window: what a bare word is about.
pub(super) fn in_context(text: &Text, say: &Located, phrase: &Phrase, cluster: &Cluster) -> bool {
    let Some(&first) = cluster.used.first() else { return false };
    let sentence = text.tokens[first].sentence;
    let known = |unit: &Unit| {
        phrase.units.iter().any(|u| u.stem == unit.stem || u.families.iter().any(|f| unit.families.contains(f)))
    };
    say.between(first.saturating_sub(10), first + 10).iter().any(|h| {
        let unit = &say.phrase.units[h.unit];
        h.met == Met::Same
            && unit.weight >= TOPICAL
            && !known(unit)
            && text.tokens[h.start].sentence == sentence
            && !cluster.used.contains(&h.start)
    })
}
