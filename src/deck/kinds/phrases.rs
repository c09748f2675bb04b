//! What the phrases of key points do to one another: phrases with nothing to look for, phrases that are accepted
//! and refused, and the same phrase in two points.

use std::collections::HashMap;

use crate::deck::checks;
use crate::deck::fields::{Context, Text};
use crate::deck::folding::words;

/// A point's phrases with their places.
pub(super) struct Phrases<'t> {
    /// The point's number in its card, from 1.
    pub(super) number: usize,
    pub(super) say: Text<'t>,
    pub(super) accept: Vec<Text<'t>>,
    pub(super) reject: Vec<Text<'t>>,
}

/// The smallest words of English, which carry no point by themselves.
const SMALL: &[&str] = &[
    "a", "an", "and", "are", "as", "at", "be", "been", "being", "by", "did", "do", "does", "for", "had", "has", "have",
    "he", "her", "his", "i", "is", "it", "its", "of", "or", "our", "she", "that", "the", "their", "them", "there",
    "these", "they", "this", "those", "to", "was", "we", "were", "which", "who", "will", "would", "you", "your",
];
/// A `say` of more words is hardly ever typed as it stands.
const SHORT_SAY: usize = 5;
/// A point may have this many phrases looked at against one another.
const MOST_PHRASES: usize = 60;

/// Checks the points of one card or probe against themselves and one another.
pub(super) fn check(context: &mut Context<'_>, points: &[Phrases<'_>]) {
    let mut owners: HashMap<Vec<String>, usize> = HashMap::new();
    for point in points {
        let accepted: Vec<(Text<'_>, Vec<String>)> = std::iter::once(&point.say)
            .chain(&point.accept)
            .take(MOST_PHRASES)
            .map(|text| (*text, words(text.value).collect()))
            .collect();
        let refused: Vec<(Text<'_>, Vec<String>)> =
            point.reject.iter().take(MOST_PHRASES).map(|text| (*text, words(text.value).collect())).collect();
        one_point(context, &accepted, &refused);
        for (text, phrase) in accepted {
            if phrase.is_empty() {
                continue;
            }
            match owners.get(&phrase) {
                Some(owner) if *owner != point.number => {
                    context.report(checks::recall::shared_phrase(text.site, text.value, *owner));
                }
                Some(_) => {}
                None => {
                    owners.insert(phrase, point.number);
                }
            }
        }
    }
}

/// Checks one point; `accepted` begins with its `say`.
fn one_point(context: &mut Context<'_>, accepted: &[(Text<'_>, Vec<String>)], refused: &[(Text<'_>, Vec<String>)]) {
    for (text, phrase) in accepted.iter().filter(|(_, phrase)| !phrase.is_empty()) {
        if let Some((refusal, _)) = refused.iter().find(|(_, refusal)| refusal == phrase) {
            context.report(checks::recall::accept_and_reject(refusal.site, text.value));
        }
    }
    for (text, _) in accepted.iter().skip(1).filter(|(_, phrase)| !has_content(phrase)) {
        context.report(checks::recall::unmatchable_phrase(text.site, "accept"));
    }
    for (text, _) in refused.iter().filter(|(_, phrase)| !has_content(phrase)) {
        context.report(checks::recall::unmatchable_phrase(text.site, "reject"));
    }
    if let [(say, phrase), accept @ ..] = accepted {
        if !accepted.iter().any(|(_, phrase)| has_content(phrase)) {
            context.report(checks::recall::unmatchable_point(say.site));
        } else if accept.is_empty() && phrase.len() > SHORT_SAY {
            context.report(checks::recall::no_accept(say.site));
        }
    }
}

fn has_content(phrase: &[String]) -> bool {
    phrase.iter().any(|word| !SMALL.contains(&word.as_str()))
}
