//! The examiner: shares, draws, follow-ups, what is never asked, and taking a sitting up again.

use bedplate::app::sitting::AskedNow;
use bedplate::domain::card::{After, Card, Probe};
use bedplate::domain::certificate::Certificate;
use bedplate::domain::ids::CardKey;
use bedplate::domain::kinds::Body;
use bedplate::domain::kinds::recall::Recall;
use bedplate::domain::oral::{
    Asked, Blueprint, Candidate, Draw, Length, Manner, Next, Setup, Sitting, Turn, Way, allot, next, verdict,
};
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

use crate::support::cards::{candidates, card, point};
use crate::support::examiner::{What, all_of, answer, asked, mock, sit, some_of};

/// Twelve cards for each competence of A-III/1, with two probes each.
fn cards() -> Vec<Card> {
    let blueprint = Blueprint::standard(Certificate::Watch);
    let mut cards = Vec::new();
    for share in &blueprint.shares {
        for n in 0..12 {
            let id = format!("c{}-{n}", share.competence.replace("A-III/", "").replace('.', "-"));
            let probe = |after, ask: &str| Probe {
                after,
                ask: format!("{ask} ({id})"),
                points: vec![point("Because of it", false)],
            };
            let points = vec![
                point("The first thing is there", n == 0),
                point("The second is there", false),
                point("Third", false),
            ];
            cards.push(Card {
                topic: share.competence.clone(),
                because: Some("It is so. And more.".to_owned()),
                seconds: Some(40.0),
                probes: vec![probe(After::All, "And then?"), probe(After::Missed(2), "What of the second?")],
                ..card("stage", &id, &format!("Tell me about {id}."), Recall { points }.into())
            });
        }
    }
    cards
}

fn dry(_: &AskedNow) -> What {
    What::Nothing
}

#[test]
fn functions_get_their_exact_share() {
    let blueprint = Blueprint::standard(Certificate::Watch);
    // 40, 20, 15 and 25 of a hundred: ten questions by largest remainder, and fractions of a larger oral.
    let counts = |leads| allot(&blueprint, leads, |_| true).into_iter().map(|(_, n)| n).collect::<Vec<_>>();
    assert_eq!(counts(20), vec![8, 4, 3, 5]);
    assert_eq!(counts(10), vec![4, 2, 2, 2], "1.5 and 2.5 are equally far: the earlier in the Code is rounded up");
    assert_eq!(counts(1), vec![1, 0, 0, 0]);
    let without_electrical = allot(&blueprint, 8, |function| function != "A-III/1.2");
    assert_eq!(without_electrical.iter().map(|(_, n)| n).sum::<usize>(), 8);
    let cards = cards();
    let candidates = candidates(&cards);
    for seed in 0..20 {
        let sitting = sit(mock(seed, 20), &candidates, Way::Second, dry);
        let of = |function: &str| sitting.leads().filter(|t| t.question.competence.starts_with(function)).count();
        assert_eq!([of("A-III/1.1"), of("A-III/1.2"), of("A-III/1.3"), of("A-III/1.4")], [8, 4, 3, 5], "seed {seed}");
    }
}

/// Within a function competences come by lot after their weights. Pearson's chi-square over 2,000 sittings of one lead
/// from each function, against the 99.9 % points of the distribution: scipy 1.17.1, `stats.chi2.ppf(0.999, df)` for 1,
/// 4 and 7 degrees of freedom.
#[test]
fn competences_are_drawn_after_their_weights() {
    let critical =
        |df: usize| [10.827_566, 13.815_511, 16.266_236, 18.466_827, 20.515_006, 22.457_744, 24.321_886][df - 1];
    let blueprint = Blueprint::standard(Certificate::Watch);
    let cards = cards();
    let candidates = candidates(&cards);
    for (function, weight) in blueprint.functions() {
        let only = Blueprint {
            shares: blueprint.shares.iter().filter(|s| s.competence.starts_with(function)).cloned().collect(),
            length: Length::Questions(1),
            ..blueprint.clone()
        };
        let sittings = 2_000;
        let mut drawn = vec![0.0; only.shares.len()];
        for seed in 0..sittings {
            let setup = Setup { blueprint: only.clone(), ..mock(seed, 1) };
            let Next::Ask(question) = next(&Sitting::begin(setup), &candidates) else { panic!("a question") };
            let at = only.shares.iter().position(|s| s.competence == question.competence).expect("of the function");
            drawn[at] += 1.0;
        }
        let chi: f64 = only
            .shares
            .iter()
            .zip(&drawn)
            .map(|(share, drawn)| {
                let wanted = sittings as f64 * share.weight / weight;
                (drawn - wanted).powi(2) / wanted
            })
            .sum();
        assert!(chi < critical(only.shares.len() - 1), "{function}: chi-square {chi}, {drawn:?}");
    }
}

#[test]
fn no_question_comes_twice_and_none_is_deeper_than_three() {
    let cards = cards();
    let candidates = candidates(&cards);
    let mut rng = StdRng::seed_from_u64(8);
    for seed in 0..60 {
        for manner in [Manner::Steady, Manner::Pressing] {
            let setup =
                Setup { manner, draw: if seed % 2 == 0 { Draw::Mock } else { Draw::Coaching }, ..mock(seed, 12) };
            let sitting = sit(setup, &candidates, Way::Second, |asked| match rng.random_range(0..4) {
                0 => What::Nothing,
                1 => all_of(asked),
                _ => some_of(asked, || rng.random_bool(0.6)),
            });
            let mut ids: Vec<&str> = sitting.turns.iter().map(|t| t.question.id.as_str()).collect();
            let count = ids.len();
            ids.sort_unstable();
            ids.dedup();
            assert_eq!(ids.len(), count, "seed {seed}: a question came twice");
            assert!(sitting.turns.iter().all(|t| t.question.depth <= 3));
            assert_eq!(sitting.leads().count(), 12);
            assert!(verdict(&sitting).share() <= 1.0);
        }
    }
}

#[test]
fn a_sitting_is_taken_up_where_it_was_left_whatever_happened_in_between() {
    let cards = cards();
    let candidates = candidates(&cards);
    let whole = sit(mock(5, 6), &candidates, Way::Second, |asked| match all_of(asked) {
        What::Said(points) => What::Said(points.into_iter().skip(asked.question.depth as usize % 2).collect()),
        other => other,
    });
    for turns in 0..whole.turns.len() {
        let mut part = Sitting { setup: whole.setup.clone(), turns: whole.turns[..turns].to_vec() };
        let text = serde_json::to_string(&part).expect("plain data");
        part = serde_json::from_str(&text).expect("what was written");
        let Next::Ask(question) = next(&part, &candidates) else { panic!("more was asked after {turns} turns") };
        assert_eq!(*question, whole.turns[turns].question, "after {turns} turns");
        part.turns.push(Turn { question: *question.clone(), answer: None });
        assert_eq!(next(&part, &candidates), Next::Ask(question), "the question that stands is asked again");
    }
}

#[test]
fn recent_questions_are_avoided_while_others_are_left() {
    let cards: Vec<Card> = cards().into_iter().filter(|card| card.topic == "A-III/1.1.1").collect();
    let candidates = candidates(&cards);
    let recent: Vec<CardKey> = cards[..9].iter().map(|card| card.key.clone()).collect();
    let sitting = sit(Setup { recent: recent.clone(), ..mock(3, 5) }, &candidates, Way::Second, dry);
    let leads: Vec<&CardKey> = sitting.leads().map(|t| &t.question.card).collect();
    assert_eq!(leads.len(), 5);
    assert!(leads[..3].iter().all(|key| !recent.contains(key)), "three are left that were not asked lately");
    assert!(leads[3..].iter().all(|key| recent.contains(key)), "then the others");
}

#[test]
fn coaching_goes_for_what_is_weak_and_a_mock_does_not() {
    let cards = cards();
    let weak = |card: &Card| card.key.card.ends_with("-3");
    let known: Vec<Candidate<'_>> = cards
        .iter()
        .map(|card| Candidate { card, sources: Vec::new(), recall: Some(if weak(card) { 0.3 } else { 0.95 }) })
        .collect();
    let hits = |draw| -> usize {
        (0..40)
            .map(|seed| {
                sit(Setup { draw, ..mock(seed, 10) }, &known, Way::Second, dry)
                    .leads()
                    .filter(|t| t.question.card.card.ends_with("-3"))
                    .count()
            })
            .sum()
    };
    let (coaching, mock) = (hits(Draw::Coaching), hits(Draw::Mock));
    assert!(coaching > 300, "{coaching} of 400");
    assert!((15..=55).contains(&mock), "{mock} of 400, one in twelve by chance");
}

#[test]
fn a_prompt_recovers_half_a_point_and_a_safety_miss_is_asked_for_first() {
    let cards: Vec<Card> =
        cards().into_iter().filter(|card| card.topic == "A-III/1.1.1" && card.key.card.ends_with("-0")).collect();
    let candidates = candidates(&cards);
    let sitting = sit(mock(1, 1), &candidates, Way::Second, |asked| match asked.question.asked {
        Asked::Lead => What::Said(vec![3]),
        // The safety-critical one comes at "What else?"; the second only at its own probe.
        Asked::WhatElse => What::Said(vec![1]),
        _ => all_of(asked),
    });
    let asked: Vec<Asked> = sitting.turns.iter().map(|t| t.question.asked).collect();
    assert_eq!(
        asked,
        vec![Asked::Lead, Asked::WhatElse, Asked::Missed(2)],
        "what is critical first, then the deck's probe"
    );
    let else_asked: Vec<&str> = sitting.turns[1].question.points.iter().map(|point| point.say.as_str()).collect();
    assert_eq!(else_asked, ["The first thing is there", "The second is there"], "all that is still missing");
    assert_eq!(sitting.turns[2].question.ask, format!("What of the second? ({})", cards[0].key.card));
    let verdict = verdict(&sitting);
    assert_eq!((verdict.earned, verdict.of), (2.0, 3.0));
    assert!(verdict.passes, "{:?}", verdict.failings);
}

#[test]
fn when_the_minutes_are_up_only_what_is_unsafe_is_still_asked() {
    let cards: Vec<Card> =
        cards().into_iter().filter(|card| card.topic == "A-III/1.1.1" && card.key.card.ends_with("-0")).collect();
    let candidates = candidates(&cards);
    let blueprint = Blueprint { length: Length::Minutes(5), ..Blueprint::standard(Certificate::Watch) };
    let mut sitting = Sitting::begin(Setup { blueprint, ..mock(1, 1) });
    let Next::Ask(question) = next(&sitting, &candidates) else { panic!("a question") };
    sitting.turns.push(answer(asked(Way::Second, *question, &cards[0]), What::Said(vec![3]), 400));
    let Next::Ask(question) = next(&sitting, &candidates) else { panic!("the critical point") };
    assert_eq!(question.asked, Asked::WhatElse);
    sitting.turns.push(answer(asked(Way::Second, *question, &cards[0]), What::Nothing, 400));
    assert!(matches!(next(&sitting, &candidates), Next::End(_)));
    assert!(!verdict(&sitting).passes);
}

#[test]
fn a_blueprint_that_cannot_be_used_says_why() {
    let ours = Blueprint::standard(Certificate::Watch);
    assert!(ours.clone().checked().is_ok());
    let with = |change: &dyn Fn(&mut Blueprint)| {
        let mut blueprint = ours.clone();
        change(&mut blueprint);
        blueprint.checked().expect_err("not usable").message
    };
    assert!(with(&|b| b.shares[0].weight = f64::NAN).contains("number from 0"));
    assert!(with(&|b| b.shares.iter_mut().for_each(|s| s.weight = 0.0)).contains("above 0"));
    assert!(with(&|b| b.shares[1].competence = "A-III/1.1.1".to_owned()).contains("two weights"));
    assert!(with(&|b| b.shares[1].competence = "A-III/2.1.1".to_owned()).contains("not in table A-III/1"));
    assert!(with(&|b| b.length = Length::Questions(0)).contains("1 to 60"));
    assert!(with(&|b| b.length = Length::Minutes(1)).contains("5 to 240"));
    assert!(with(&|b| b.rules.overall = 60.0).contains("0 to 1"));
}

#[test]
fn a_line_up_answered_in_full_is_followed_by_what_the_model_of_the_piping_says() {
    let cards = crate::support::bundled::of_kind(bedplate::domain::kinds::Kind::Lineup);
    let cards: Vec<Card> = cards.into_iter().filter(|card| card.topic.starts_with("A-III/1.")).collect();
    let mut what_ifs = Vec::new();
    for card in &cards {
        // A line-up is the only lead; everything is said.
        let alone = std::slice::from_ref(card);
        let sitting = sit(mock(3, 1), &candidates(alone), Way::Second, all_of);
        what_ifs.extend(
            sitting
                .turns
                .into_iter()
                .filter(|turn| turn.question.asked == Asked::WhatIf)
                .map(|turn| (card, turn.question)),
        );
    }
    assert!(what_ifs.len() >= cards.len() / 2, "{} of {} line-ups ask what if", what_ifs.len(), cards.len());
    for (card, question) in what_ifs {
        let Body::Lineup(network) = &card.body else { panic!("a line-up") };
        assert!(question.ask.contains("What happens?") && !question.points.is_empty(), "{question:?}");
        let named = |say: &str| network.demands.iter().any(|demand| say.ends_with(&demand.name));
        assert!(question.points.iter().all(|point| named(&point.say)), "{question:?}");
        // The answer is not in the question.
        assert!(!question.points.iter().any(|point| question.ask.contains(&point.say)), "{question:?}");
    }
}
