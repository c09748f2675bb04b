//! What the words of a window do with a phrase: affirm it, deny it, say its opposite, another number or the other
//! order. When in doubt, nothing.

use super::hits::{Hit, Met};
use super::index::Text;
use super::phrase::{Denied, Phrase, orders};
use super::thresholds::CONDITION;
use super::token::{Role, Token};
use super::vocabulary::vocabulary;

/// What the words of a window do with a phrase.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sense {
    Affirms,
    /// By not, no, never, without.
    Denies,
    /// By an opposite word.
    Opposes,
    /// By another number.
    OtherValue,
    /// By the other order.
    Reverses,
    Unclear,
}

pub(super) fn sense(text: &Text, phrase: &Phrase, chosen: &[Hit], used: &[usize]) -> (Sense, bool) {
    let opposite = chosen.iter().filter(|h| h.met == Met::Opposite).count();
    let other_value = chosen.iter().any(|h| h.met == Met::OtherValue);
    let (hard, soft) = denials(text, phrase, used);
    let (first, last) = (used.first().copied().unwrap_or(0), used.last().copied().unwrap_or(0));
    let hard = hard + forbidden(text, first, last);
    let (agrees, reversed) = order(text, phrase, chosen);
    if !phrase.denials.is_empty() && condition_met(phrase, chosen) && opposite == 0 && !other_value {
        return (Sense::Affirms, agrees);
    }
    let met = |unit: &usize| chosen.iter().any(|h| h.unit == *unit);
    let live: Vec<_> = phrase.denials.iter().filter(|d| d.units.iter().any(met)).collect();
    // One "no" of the answer may reach all that the phrase denies: "no air, no battery" in "no air or batteries".
    let own = live.len().min(1);
    let hard = if live.len() > 1 { hard.min(1) } else { hard };
    // What the phrase denies must stand in the answer before anything can be said of it.
    let head_missing = live.iter().any(|d| d.units.first().is_some_and(|u| !met(u)));
    let forbids = live.iter().any(|d| d.act);
    let odd = (hard + own) % 2 == 1;
    let softly = soft % 2 == 1;
    // "Leave the feed water shut" forbids it without a "not".
    let plain = own > 0 && hard == 0 && opposite == 0 && !other_value;
    if plain && (shut(text, phrase, used) || live.iter().any(|d| denied_alike(text, chosen, d))) {
        return (Sense::Affirms, agrees);
    }
    let sense = if other_value {
        if odd || opposite > 0 { Sense::Unclear } else { Sense::OtherValue }
    } else if (head_missing && hard == 0) || opposite > 1 {
        Sense::Unclear
    } else if opposite == 1 {
        match (odd, softly) {
            (true, false) => Sense::Affirms,
            (false, false) => Sense::Opposes,
            _ => Sense::Unclear,
        }
    } else if odd {
        match (softly, hard > 0 || forbids) {
            (true, _) => Sense::Affirms,
            (false, true) => Sense::Denies,
            (false, false) => Sense::Unclear,
        }
    } else if softly {
        Sense::Unclear
    } else if reversed && !agrees {
        Sense::Reverses
    } else {
        Sense::Affirms
    };
    (sense, agrees)
}

/// "Do not open until it has cooled": the condition is met in the answer, so that its order is right.
pub(super) fn condition_met(phrase: &Phrase, chosen: &[Hit]) -> bool {
    let total: f64 = phrase.units.iter().filter(|u| u.condition).map(|u| u.weight).sum();
    let met: f64 = chosen
        .iter()
        .filter(|h| h.met == Met::Same && phrase.units[h.unit].condition)
        .map(|h| phrase.units[h.unit].weight)
        .sum();
    total > 0.0 && met >= CONDITION * total
}

/// Whether the answer denies the very word that the phrase denies, though not the rest of it.
fn denied_alike(text: &Text, chosen: &[Hit], denied: &Denied) -> bool {
    let head = denied.units.first().and_then(|u| chosen.iter().find(|h| h.unit == *u));
    head.is_some_and(|h| {
        let token = &text.tokens[h.start];
        (h.start.saturating_sub(4)..h.start)
            .any(|i| text.tokens[i].role == Role::Denial && text.tokens[i].reach == token.reach && !text.in_term(i))
    })
}

/// Whether such a word, which the phrase lacks, stands with the matched words.
fn shut(text: &Text, phrase: &Phrase, used: &[usize]) -> bool {
    let (Some(&first), Some(&last)) = (used.first(), used.last()) else { return false };
    let removes = used.iter().any(|t| vocabulary().removing_stems.contains(text.tokens[*t].stem.as_str()));
    (first.saturating_sub(3)..text.tokens.len().min(last + 4)).any(|at| {
        let token = &text.tokens[at];
        token.reach == text.tokens[first].reach
            && vocabulary().forbidding_stems.contains(token.stem.as_str())
            && !(removes && token.word == "off")
            && !phrase.units.iter().any(|u| u.stem == token.stem)
            && !used.contains(&at)
    })
}

/// How far a prohibition may stand from what it forbids, in tokens.
const FORBIDS_WITHIN: usize = 7;
/// How many words of weight may stand between.
const BETWEEN: usize = 2;

/// How many words forbid the words from `first` to `last` without a "not". They lie outside and in the same reach.
pub(super) fn forbidden(text: &Text, first: usize, last: usize) -> usize {
    let (tokens, words) = (&text.tokens, vocabulary());
    let here =
        |at: usize, of: usize| tokens[at].reach == tokens[of].reach && tokens[at].sentence == tokens[of].sentence;
    let clear = |from: usize, to: usize| (from..to).filter(|i| tokens[*i].role == Role::Content).count() <= BETWEEN;
    let before = (first.saturating_sub(FORBIDS_WITHIN)..first).filter(|&at| {
        let stem = tokens[at].stem.as_str();
        // "Refrain from", "avoid", "forbidden to"; behind "is" alone it closes what came before.
        let verb = words.forbidding_verb_stems.contains(stem) || law(tokens, at);
        let judged = words.warning_stems.contains(stem) && tokens.get(at + 1).is_some_and(|n| n.word == "to");
        (verb || judged) && here(at, first) && clear(at + 1, first)
    });
    let behind = (last + 1..tokens.len().min(last + 1 + FORBIDS_WITHIN)).filter(|&at| {
        let said_of =
            (last + 1..at).any(|i| words.copulas_and_participles.contains(tokens[i].word.as_str())) || at == last + 1;
        (law(tokens, at) || words.forbidden_stems.contains(tokens[at].stem.as_str()))
            && said_of
            && here(at, last)
            && clear(last + 1, at)
    });
    before.count() + behind.count()
}

/// "Against the law", "against all rules".
fn law(tokens: &[Token], at: usize) -> bool {
    let rules = |t: &Token| matches!(t.word.as_str(), "law" | "rules" | "regulations");
    tokens[at].word == "against" && tokens[at + 1..].iter().take(2).any(rules)
}

/// Whether a denial is used up by the order that it states: "nobody enters until it is aired" denies no airing.
fn orders_only(text: &Text, phrase: &Phrase, at: usize) -> bool {
    phrase.has_order()
        && phrase.denials.is_empty()
        && text.tokens[at + 1..]
            .iter()
            .take(10)
            .take_while(|t| t.part == text.tokens[at].part)
            .any(|t| matches!(t.word.as_str(), "until" | "till" | "unless" | "before"))
}

/// Denials that reach the matched words: hard ones (not, no, without) and soft ones (lost, missing).
fn denials(text: &Text, phrase: &Phrase, used: &[usize]) -> (usize, usize) {
    let (Some(&first), Some(&last)) = (used.first(), used.last()) else { return (0, 0) };
    let from = first.saturating_sub(7);
    let to = (last + 4).min(text.tokens.len().saturating_sub(1));
    let (mut hard, mut soft) = (0, 0);
    for at in from..=to {
        if used.binary_search(&at).is_ok() {
            continue;
        }
        let token = &text.tokens[at];
        let denial = token.role == Role::Denial;
        let apart = at + 1 >= text.tokens.len() || used.binary_search(&(at + 1)).is_err();
        let permits = text.tokens.get(at + 1).is_some_and(|n| matches!(n.stem.as_str(), "allow" | "permit"));
        if denial && (apart && text.denial_in_term(at) && !permits || orders_only(text, phrase, at)) {
            continue;
        }
        if !denial && !vocabulary().missing_stems.contains(token.stem.as_str()) {
            continue;
        }
        let same = |t: &&usize| text.tokens[**t].reach == token.reach && text.tokens[**t].sentence == token.sentence;
        let reached = used.iter().filter(|t| **t > at && **t - at <= 8).filter(same).count();
        let beside = used.iter().filter(|t| t.abs_diff(at) <= 8).filter(same).count();
        let before = reached > 0 && 10 * beside >= 7 * used.len();
        let partly = 2 * reached >= used.len();
        let behind = used.iter().rev().filter(|t| **t < at).find(same).is_some_and(|t| at - t <= 4);
        let closing = behind && closes(text, at);
        if partly && !before && !closing {
            soft += 1;
        } else if before || closing {
            *(if denial { &mut hard } else { &mut soft }) += 1;
        }
    }
    (hard, soft)
}

/// Whether a word is the last of its reach.
fn ends(text: &Text, at: usize) -> bool {
    text.tokens.get(at + 1).is_none_or(|n| n.reach != text.tokens[at].reach || n.sentence != text.tokens[at].sentence)
}

/// Whether a denial behind matched words denies them: "is not needed", "are not the reason", or at the end.
pub(super) fn closes(text: &Text, at: usize) -> bool {
    match text.tokens.get(at + 1) {
        // "Into the sea it must not go."
        Some(next) if matches!(next.word.as_str(), "go" | "come" | "enter" | "happen" | "be") && ends(text, at + 1) => {
            true
        }
        Some(next) if next.reach == text.tokens[at].reach => {
            let predicates = &vocabulary().denied_predicates;
            predicates.contains(next.stem.as_str()) || predicates.contains(next.word.as_str())
        }
        Some(next) => next.sentence != text.tokens[at].sentence,
        None => true,
    }
}

/// Whether the text states the phrase's own order of two of its units, and whether the other one.
fn order(text: &Text, phrase: &Phrase, chosen: &[Hit]) -> (bool, bool) {
    let (mut agrees, mut reversed) = (0, 0);
    let things = || chosen.iter().filter(|h| !orders(&phrase.units[h.unit].word));
    for a in things() {
        for b in things() {
            if phrase.units[a.unit].rank < phrase.units[b.unit].rank && a.start != b.start {
                let (x, y) = (text.placed[a.start], text.placed[b.start]);
                let same_sentence = text.tokens[a.start].sentence == text.tokens[b.start].sentence;
                if same_sentence {
                    agrees += usize::from(x < y);
                    reversed += usize::from(x > y);
                }
            }
        }
    }
    // A word that both sides share may stand on either: most pairs tell.
    (agrees > 0 && agrees >= reversed, reversed > agrees)
}
