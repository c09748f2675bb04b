//! A seed that was kept gives the same sitting for ever: the questions of two stored sittings on an invented shelf.
//!
//! Whoever changes what these seeds draw changes every sitting that is broken off at that time; do it knowingly.

use bedplate::domain::card::{After, Card, Probe};
use bedplate::domain::certificate::Certificate;
use bedplate::domain::kinds::recall::Recall;
use bedplate::domain::oral::{
    Answered, Blueprint, Candidate, Draw, Length, Manner, Mark, MarkedBy, Next, Setup, Sitting, Turn, next,
};
use bedplate::domain::outcome::Outcome;

use crate::support::cards;

/// Four cards for each competence of A-III/1, each with a probe after a full answer and one after a missed point.
fn shelf() -> Vec<Card> {
    let blueprint = Blueprint::standard(Certificate::Watch);
    let point = |say: &str| cards::point(say, false);
    let card = |competence: &str, n: usize| {
        let id = format!("{}-{n}", competence.trim_start_matches("A-III/").replace('.', "-"));
        let probe = |after, ask: &str| Probe { after, ask: format!("{ask} ({id})"), points: vec![point("It rises")] };
        let points = vec![point("One pump runs"), point("The other stands by")];
        Card {
            topic: competence.to_owned(),
            because: Some("It is so.".to_owned()),
            seconds: Some(40.0),
            probes: vec![probe(After::All, "And then?"), probe(After::Missed(2), "What of the second?")],
            ..cards::card("stage", &id, &format!("Tell me about {id}."), Recall { points }.into())
        }
    };
    blueprint.shares.iter().flat_map(|share| (0..4).map(move |n| card(&share.competence, n))).collect()
}

/// The ids of all questions of a sitting of six leads. Every third answer says the first point alone, the others all.
fn asked(seed: u64, draw: Draw, manner: Manner) -> Vec<String> {
    let cards = shelf();
    let recall = |n: usize| (!n.is_multiple_of(3)).then_some(n as f64 / cards.len() as f64);
    let candidates: Vec<Candidate<'_>> =
        cards.iter().enumerate().map(|(n, card)| Candidate { card, sources: Vec::new(), recall: recall(n) }).collect();
    let blueprint = Blueprint { length: Length::Questions(6), ..Blueprint::standard(Certificate::Watch) };
    let mut sitting = Sitting::begin(Setup { blueprint, draw, manner, seed, recent: Vec::new() });
    while let Next::Ask(question) = next(&sitting, &candidates) {
        let all = !sitting.turns.len().is_multiple_of(3);
        let mark = |at: usize| Mark {
            say: format!("point {at}"),
            earned: if all || at == 0 { 1.0 } else { 0.0 },
            critical: false,
        };
        let points = if question.points.is_empty() { 2 } else { question.points.len() };
        let answer = Answered {
            given: None,
            marks: (0..points).map(mark).collect(),
            outcome: if all { Outcome::Answered } else { Outcome::Prompted },
            ran_dry: false,
            seconds: 20.0,
            by: MarkedBy::Second,
            note: String::new(),
            recording: None,
        };
        sitting.turns.push(Turn { question: *question, answer: Some(answer) });
        assert!(sitting.turns.len() < 100, "the sitting does not end");
    }
    sitting.turns.iter().map(|turn| turn.question.id.replace("stage/", "")).collect()
}

#[test]
fn a_kept_seed_gives_the_same_mock_for_ever() {
    assert_eq!(
        asked(20_261_201, Draw::Mock, Manner::Steady),
        [
            "1-1-4-0",
            "1-1-4-0#probe-2",
            "1-2-1-0",
            "1-2-1-0#probe-1",
            "1-3-1-1",
            "1-3-1-1#probe-1",
            "1-4-6-1",
            "1-4-6-1#probe-2",
            "1-1-4-3",
            "1-1-4-3#probe-1",
            "1-4-1-2",
            "1-4-1-2#probe-1"
        ]
    );
}

#[test]
fn a_kept_seed_gives_the_same_coaching_for_ever() {
    assert_eq!(
        asked(7, Draw::Coaching, Manner::Pressing),
        [
            "1-1-4-2",
            "1-1-4-2#probe-2",
            "1-1-4-2#probe-1",
            "1-2-2-3",
            "1-2-2-3#probe-2",
            "1-2-2-3#probe-1",
            "1-3-2-0",
            "1-3-2-0#probe-2",
            "1-3-2-0#probe-1",
            "1-4-2-3",
            "1-4-2-3#probe-2",
            "1-4-2-3#probe-1",
            "1-1-4-0",
            "1-1-4-0#probe-2",
            "1-1-4-0#probe-1",
            "1-4-3-1",
            "1-4-3-1#probe-2",
            "1-4-3-1#probe-1"
        ]
    );
}
