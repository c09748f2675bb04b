//! What the checker says of phrases against the marking itself: a point without a word is found in none of its own
//! phrases, and the points of a sound deck are.

use std::path::Path;

use bedplate::deck::read_deck;
use bedplate::domain::answer::{Answer, Given};
use bedplate::domain::card::Card;
use bedplate::domain::kinds::{Body, Detail, recall};
use bedplate::domain::marking::mark;

fn cards(name: &str) -> Vec<Card> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/decks").join(name);
    read_deck(&folder).deck.expect("a deck").cards
}

/// Whether a typed answer makes the point (from 0), and whether it contradicts it.
fn typed(card: &Card, point: usize, text: &str) -> (bool, bool) {
    let marking = mark(card, &Answer::of(Given::Text(text.to_owned()))).expect("a typed answer to a recall card");
    let Detail::Recall(recall::Told { points }) = marking.detail else { panic!("a recall card") };
    (points[point].said, points[point].contradicted)
}

/// Each point's number (from 0) with its accepted phrases.
fn phrases(card: &Card) -> Vec<(usize, Vec<String>)> {
    let Body::Recall(recall) = &card.body else { return Vec::new() };
    let all = recall.points.iter().map(|point| std::iter::once(&point.say).chain(&point.accept).cloned().collect());
    all.enumerate().collect()
}

#[test]
fn a_point_of_signs_alone_is_found_in_none_of_its_phrases() {
    let cards = cards("unmatchable-point");
    for (point, phrases) in phrases(&cards[0]) {
        for phrase in phrases {
            assert!(!typed(&cards[0], point, &phrase).0, "`{phrase}`");
        }
    }
    assert!(typed(&cards[1], 1, "low pressure").0);
}

#[test]
fn a_refused_phrase_denies_the_point_and_a_longer_accepted_one_makes_it() {
    let cards = cards("accept-and-reject");
    assert_eq!(typed(&cards[0], 0, "the pressure switch"), (false, true));
    assert!(typed(&cards[0], 0, "it is not running").0);
    assert_eq!(typed(&cards[0], 0, "it is running"), (false, true));
}

#[test]
fn the_points_of_sound_decks_are_found_in_their_own_phrases() {
    for name in ["sound", "unmatchable-phrase", "shared-phrase", "no-accept"] {
        for card in cards(name) {
            for (point, phrases) in phrases(&card) {
                assert!(phrases.iter().any(|phrase| typed(&card, point, phrase).0), "{}: {phrases:?}", card.key);
            }
        }
    }
}
