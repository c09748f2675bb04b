//! What an examiner asks after an answer: the deck's own probes, what-ifs of the models, one of a few fixed sentences, or
//! the reason where the deck marks it. Never a sentence made from a point's words. On the decks that come with the
//! program.

use bedplate::domain::answer::{Answer, Given};
use bedplate::domain::card::Card;
use bedplate::domain::kinds::recall::Recall;
use bedplate::domain::kinds::{Body, Detail, Kind, recall};
use bedplate::domain::marking::mark;
use bedplate::domain::oral::{Asked, Failing, Manner, Setup, Way, verdict};
use bedplate::domain::plant::{Became, run};
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

use crate::support::bundled;
use crate::support::cards::candidates;
use crate::support::examiner::{What, all_of, mock, sit, some_of};

/// Every sentence in which the examiner asks for what is missing.
const FIXED: [&str; 6] = [
    "What else?",
    "What have you left out?",
    "What else belongs to a full answer?",
    "What is still missing?",
    "Something here is a matter of safety. What is it?",
    "And the reason behind it?",
];
/// Everything that the examiner says first.
const LEAD_INS: [&str; 8] = [
    "",
    "Next question.",
    "That is not all.",
    "That is not yet safe.",
    "That does not answer it yet.",
    "Suppose this.",
    "Think again.",
    "Good.",
];

fn setup(seed: u64, leads: usize, manner: Manner) -> Setup {
    Setup { manner, ..mock(seed, leads) }
}

#[test]
fn every_follow_up_is_the_decks_the_models_or_a_fixed_sentence() {
    let cards: Vec<Card> = bundled::cards().into_iter().filter(|card| card.topic.starts_with("A-III/1.")).collect();
    let mut random = StdRng::seed_from_u64(20_261_130);
    let mut seen = [0usize; 4];
    let candidates = candidates(&cards);
    for seed in 0..40 {
        let manner = if seed % 2 == 0 { Manner::Steady } else { Manner::Pressing };
        let sitting = sit(setup(seed, 20, manner), &candidates, Way::Second, |asked| match random.random_range(0..5) {
            0 => What::Nothing,
            1 | 2 => all_of(asked),
            _ => some_of(asked, || random.random_bool(0.5)),
        });
        for turn in &sitting.turns {
            let question = &turn.question;
            let card = cards.iter().find(|card| card.key == question.card).expect("its card");
            assert!(LEAD_INS.contains(&question.lead_in.as_str()), "{question:?}");
            let of_deck = card.probes.iter().any(|probe| probe.ask == question.ask);
            match question.asked {
                // A calculation is kept with the figures that it was asked with.
                Asked::Lead if card.kind() == Kind::Working => {
                    let begin = card.ask.split('{').next().expect("words before a figure");
                    assert!(question.ask.starts_with(begin) && !question.ask.contains('{'), "{question:?}");
                }
                Asked::Lead => assert_eq!(question.ask, card.ask),
                Asked::WhatElse => {
                    seen[0] += 1;
                    assert!(FIXED.contains(&question.ask.as_str()), "{question:?}");
                    let about = &sitting.turns[question.about.expect("a turn")];
                    let marks = &about.answer.as_ref().expect("answered").marks;
                    for point in &question.points {
                        let missing = marks.iter().any(|mark| mark.say == point.say && mark.earned <= 0.0);
                        assert!(missing, "it asks for what is missing alone: {question:?}");
                    }
                }
                Asked::Missed(_) | Asked::WhatIf if !of_deck => {
                    seen[1] += 1;
                    assert!(question.ask.ends_with(" What happens?"), "{question:?}");
                    assert!(matches!(card.kind(), Kind::Sequence | Kind::Lineup), "{question:?}");
                }
                Asked::Deeper if !of_deck => {
                    seen[2] += 1;
                    assert_eq!(question.ask, "And the reason behind it?");
                    assert!(
                        !card.because_points.is_empty(),
                        "a reason is asked for where the deck marks it: {question:?}"
                    );
                    let says: Vec<&str> = question.points.iter().map(|point| point.say.as_str()).collect();
                    assert_eq!(says, card.because_points.iter().map(|p| p.say.as_str()).collect::<Vec<_>>());
                }
                _ => {
                    seen[3] += 1;
                    assert!(of_deck, "{question:?}");
                }
            }
        }
    }
    assert!(seen.iter().all(|n| *n > 5), "each sort is asked: {seen:?}");
}

#[test]
fn whoever_has_seen_the_points_is_not_asked_what_else() {
    let cards: Vec<Card> = bundled::of_kind(Kind::Recall).into_iter().filter(|c| c.topic == "A-III/1.1.4").collect();
    for seed in 0..20 {
        for (way, asks) in [(Way::Speak, false), (Way::Second, true)] {
            let setup = setup(seed, 6, Manner::Steady);
            let sitting = sit(setup, &candidates(&cards), way, |_| What::Said(vec![1]));
            let asked = sitting.turns.iter().any(|turn| turn.question.asked == Asked::WhatElse);
            assert_eq!(asked, asks, "seed {seed}, {way:?}");
        }
    }
}

#[test]
fn what_is_set_or_known_as_a_figure_has_no_what_else() {
    for kind in [Kind::Figure, Kind::Lineup, Kind::Why, Kind::Point, Kind::Working] {
        let cards: Vec<Card> =
            bundled::of_kind(kind).into_iter().filter(|c| c.topic.starts_with("A-III/1.")).take(40).collect();
        let setup = setup(4, 8, Manner::Pressing);
        let sitting = sit(setup, &candidates(&cards), Way::Write, |asked| match &asked.card.body {
            Body::Lineup(_) => What::Given(Given::LinedUp(Default::default())),
            Body::Why(_) => What::Given(Given::Links(vec![1])),
            Body::Working(_) | Body::Point(_) => some_of(asked, || false),
            _ => What::Nothing,
        });
        let asked = sitting.turns.iter().find(|turn| turn.question.asked == Asked::WhatElse);
        assert!(asked.is_none(), "{kind:?}: {asked:?}");
    }
}

/// A grave break is followed by the model's own question about it, and whoever knows it has the point at half.
#[test]
fn a_step_done_too_early_is_followed_by_what_the_model_says_of_it() {
    let mut followed = 0;
    let cards: Vec<Card> =
        bundled::of_kind(Kind::Sequence).into_iter().filter(|c| c.topic.starts_with("A-III/1.")).collect();
    for card in &cards {
        let Body::Sequence(procedure) = &card.body else { panic!("a sequence") };
        // The step with the gravest known fault, done first.
        let grave = procedure.right_steps().find(|step| {
            let run = run(procedure, &[*step]);
            matches!(&run.lines[0].became, Became::Broken(broken)
                if broken.severity.is_grave() && procedure.steps[*step].faults.iter().any(|f| f.tell.as_ref() == Some(&broken.tell)))
        });
        let Some(step) = grave else { continue };
        let broken = run(procedure, &[step]);
        let Became::Broken(broken) = &broken.lines[0].became else { panic!("it breaks") };
        let alone = std::slice::from_ref(card);
        let sitting = sit(mock(1, 1), &candidates(alone), Way::Write, |asked| match asked.question.asked {
            Asked::Lead => What::Given(Given::Steps(vec![procedure.steps[step].key.clone()])),
            _ => What::Given(Given::Text(asked.question.points[0].say.clone())),
        });
        let prompt = &sitting.turns[1].question;
        assert!(matches!(prompt.asked, Asked::Missed(_)), "{}: {prompt:?}", card.key);
        assert!(prompt.ask.contains("What happens?"), "{prompt:?}");
        assert_eq!(prompt.points[0].say, broken.tell, "{}", card.key);
        assert!(!prompt.ask.contains(&broken.tell), "the answer is not in the question: {prompt:?}");
        let missed = verdict(&sitting).failings.into_iter().find(|failing| matches!(failing, Failing::Critical(..)));
        assert!(missed.is_none(), "{}: after a right answer it no longer fails: {missed:?}", card.key);
        followed += 1;
    }
    assert!(followed >= 5, "{followed} of {} sequences", cards.len());
}

#[test]
fn the_reason_is_marked_by_points_of_its_own_on_many_cards() {
    let cards: Vec<Card> = bundled::cards().into_iter().filter(|card| !card.because_points.is_empty()).collect();
    assert!(cards.len() >= 40, "{} cards", cards.len());
    let decks: std::collections::BTreeSet<&str> = cards.iter().map(|card| card.key.deck.0.as_str()).collect();
    assert!(decks.len() >= 10, "{decks:?}");
    let mut wrong = Vec::new();
    for card in &cards {
        assert!(card.because.is_some(), "{}", card.key);
        let about = Card { body: Body::Recall(Recall { points: card.because_points.clone() }), ..card.clone() };
        let said = |text: &str| -> Vec<bool> {
            let marking = mark(&about, &Answer::of(Given::Text(text.to_owned()))).expect("a text");
            let Detail::Recall(recall::Told { points }) = marking.detail else { panic!("a recall") };
            points.iter().map(|point| point.said).collect()
        };
        for (at, point) in card.because_points.iter().enumerate() {
            assert!(point.accept.len() >= 2, "{}: {}", card.key, point.say);
            for text in point.accept.iter().chain([&point.say]) {
                if !said(text)[at] {
                    wrong.push(format!("{}: “{text}” does not make “{}”", card.key, point.say));
                }
            }
        }
        for (at, said) in said(&card.ask).into_iter().enumerate() {
            if said {
                wrong.push(format!("{}: the question makes “{}”", card.key, card.because_points[at].say));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
