//! What a publisher looks at in the points of cards: accepted phrases that name a topic and claim nothing, and
//! safety-critical points without what keeps a dangerous answer from being credited.

use super::claims::{asks_for_a_name, is_a_name, is_claim};
use super::finding::{Finding, Sort};
use crate::domain::card::Card;
use crate::domain::deck::Deck;
use crate::domain::key_point::KeyPoint;

/// The fewest refused phrases of a safety-critical point.
const LEAST_REFUSED: usize = 2;

pub(super) fn check(decks: &[&Deck]) -> Vec<Finding> {
    decks.iter().flat_map(|deck| &deck.cards).flat_map(|card| bare(card).into_iter().chain(critical(card))).collect()
}

/// Points that accept a topic where a claim is wanted: those of the card, of its reason and of its probes.
fn bare(card: &Card) -> Vec<Finding> {
    let own = points_of("point", &card.ask, card.key_points().unwrap_or_default());
    let reason = points_of("the reason's point", "", &card.because_points);
    let probes = card.probes.iter().enumerate().flat_map(|(at, probe)| {
        let what = format!("probe {}, point", at + 1);
        points_of(&what, &probe.ask, &probe.points)
    });
    let found = own.into_iter().chain(reason).chain(probes).map(|message| {
        const MEND: &str = "say what is the case or what is done: a verb, or a state, with what it is about";
        Finding::of_card(Sort::BareAccept, &card.key, message, MEND)
    });
    found.collect()
}

/// A message for each point with such a phrase.
fn points_of(what: &str, question: &str, points: &[KeyPoint]) -> Vec<String> {
    if asks_for_a_name(question) {
        return Vec::new();
    }
    let message = |(at, point): (usize, &KeyPoint)| {
        let bare = point.accept.iter().filter(|phrase| !is_claim(phrase)).map(|phrase| format!("`{phrase}`"));
        let bare: Vec<String> = bare.collect();
        let is_any = !bare.is_empty() && !is_a_name(&point.say);
        is_any.then(|| format!("{what} {} accepts a topic and no claim: {}", at + 1, bare.join(", ")))
    };
    points.iter().enumerate().filter_map(message).collect()
}

/// Safety-critical points with too few refused phrases, and those with no sample that denies them.
fn critical(card: &Card) -> Vec<Finding> {
    let mut found = Vec::new();
    for (at, point) in card.key_points().unwrap_or_default().iter().enumerate().filter(|(_, point)| point.critical) {
        let number = at + 1;
        if point.reject.len() < LEAST_REFUSED {
            let has = if point.reject.is_empty() { "no phrase" } else { "one phrase only" };
            found.push(Finding::of_card(
                Sort::CriticalWithoutReject,
                &card.key,
                format!("safety-critical point {number} has {has} in `reject`"),
                "add the point turned round, as people say it: two phrases or more",
            ));
        }
        if !card.samples.iter().any(|sample| sample.expected.denies.contains(&number)) {
            found.push(Finding::of_card(
                Sort::CriticalWithoutSample,
                &card.key,
                format!("safety-critical point {number} has no sample that denies it"),
                "add a sample with the dangerous answer: samples = [{ text = \"...\", denies = [1] }] with its number",
            ));
        }
    }
    found
}
