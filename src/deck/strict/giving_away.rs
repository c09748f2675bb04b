//! Answers that are given away: by the question itself, or by another card's question; and points that their own
//! words, or no phrase, would not make. Typed marking is the judge, as it will be for the learner.

use std::collections::{HashMap, HashSet};

use super::finding::{Finding, Sort};
use crate::deck::folding::words;
use crate::domain::answer::{Answer, Given};
use crate::domain::card::Card;
use crate::domain::deck::Deck;
use crate::domain::key_point::KeyPoint;
use crate::domain::marking::mark;

pub(super) fn check(decks: &[&Deck]) -> Vec<Finding> {
    let cards: Vec<&Card> = decks.iter().flat_map(|deck| &deck.cards).collect();
    let mut found = Vec::new();
    for card in &cards {
        by_itself(card, &mut found);
        found.extend(phrases(card));
    }
    found.extend(by_others(&cards));
    found
}

/// Points (from 0) that a text makes.
fn said(card: &Card, text: &str) -> Vec<usize> {
    let answer = Answer { given: Given::Text(text.to_owned()), seconds: None };
    let marking = mark(card, &answer).ok();
    let points = marking.as_ref().and_then(|marking| marking.detail.points()).unwrap_or_default();
    (0..points.len()).filter(|at| points[*at].said).collect()
}

fn by_itself(card: &Card, found: &mut Vec<Finding>) {
    const MEND: &str = "reword the question, or make the phrases more specific";
    for point in said(card, &card.ask) {
        let message = format!("the question makes point {} by itself", point + 1);
        found.push(Finding::of_card(Sort::GivenAway, &card.key, message, MEND));
    }
    let of_reason = with_points(card, &card.because_points);
    for point in said(&of_reason, &card.ask) {
        let message = format!("the question makes point {} of the reason by itself", point + 1);
        found.push(Finding::of_card(Sort::GivenAway, &card.key, message, MEND));
    }
    for (at, probe) in card.probes.iter().enumerate() {
        let about = with_points(card, &probe.points);
        for point in said(&about, &probe.ask) {
            let message = format!("probe {} makes its point {} by itself", at + 1, point + 1);
            found.push(Finding::of_card(Sort::GivenAway, &card.key, message, MEND));
        }
    }
}

fn with_points(card: &Card, points: &[KeyPoint]) -> Card {
    Card { probes: Vec::new(), ..card.saying(points.to_vec()) }
}

/// Points that no phrase makes, or that their own words do not make.
fn phrases(card: &Card) -> Vec<Finding> {
    let mut found = Vec::new();
    for (at, point) in card.key_points().unwrap_or_default().iter().enumerate() {
        if point.accept.is_empty() {
            found.push(Finding::of_card(
                Sort::NoPhrase,
                &card.key,
                format!("point {} has no phrase beside its own words", at + 1),
                "add what people say to make it",
            ));
        }
        if !said(card, &point.say).contains(&at) {
            found.push(Finding::of_card(
                Sort::NoPhrase,
                &card.key,
                format!("point {} is not found in its own words", at + 1),
                "see that no reject phrase stands in it, and give phrases that are in it",
            ));
        }
    }
    found
}

/// Questions that make most of another card's points. Only cards that share a rare word are compared.
fn by_others(cards: &[&Card]) -> Vec<Finding> {
    let asks: Vec<HashSet<String>> = cards.iter().map(|card| words(&card.ask).collect()).collect();
    let mut uses: HashMap<&str, usize> = HashMap::new();
    for word in asks.iter().flatten() {
        *uses.entry(word).or_default() += 1;
    }
    let mut found = Vec::new();
    for card in cards {
        let Some(points) = card.key_points() else { continue };
        let answer: HashSet<String> =
            points.iter().flat_map(|p| words(&p.say).chain(p.accept.iter().flat_map(|a| words(a)))).collect();
        for (other, ask) in cards.iter().zip(&asks) {
            let shared =
                ask.iter().filter(|word| uses[word.as_str()] * 20 <= cards.len().max(20) && answer.contains(*word));
            // A scenario of a sequence or a working tells of many things; it is a puzzle, not an answer.
            let is_question = other.body.as_kind().is_plain_question();
            if other.key == card.key || !is_question || shared.count() < 3 {
                continue;
            }
            let made = said(card, &other.ask).len();
            if made >= 2 && made * 3 >= points.len() * 2 {
                found.push(Finding::of_card(
                    Sort::GivenAway,
                    &other.key,
                    format!("its question gives {made} of {} points of {} away", points.len(), card.key),
                    "reword the question so that it does not say the other card's answer",
                ));
            }
        }
    }
    found
}
