//! Item analysis against numpy and scipy, and what cannot be worked out.

use bedplate::domain::day::Instant;
use bedplate::domain::ids::{AttemptId, CardKey};
use bedplate::domain::outcome::{Notch, Outcome};
use bedplate::domain::roster::{
    AssignedCard, Firsts, HandedAttempt, ItemFigures, Standing, Suspect, Why, areas, items, points, reliability,
    suspects,
};
use serde::Deserialize;

#[derive(Deserialize)]
struct Reference {
    matrix: Vec<Matrix>,
}

#[derive(Deserialize)]
struct Matrix {
    name: String,
    rows: String,
    alpha: f64,
    se: f64,
    jackknife: f64,
    low: f64,
    high: f64,
    sem: f64,
    facility: Vec<f64>,
    discrimination: Vec<f64>,
}

fn answers(rows: &str) -> Vec<Vec<Option<bool>>> {
    rows.split(' ').map(|row| row.chars().map(|c| Some(c == '1')).collect()).collect()
}

fn near(found: f64, given: f64, what: &str) {
    assert!((found - given).abs() < 2e-8, "{what}: {found} instead of {given}");
}

#[test]
fn figures_are_those_of_numpy_and_scipy() {
    let text = include_str!("../../reference/item_analysis.toml");
    let reference: Reference = toml::from_str(text).expect("the reference is read");
    assert_eq!(reference.matrix.len(), 5);
    for m in &reference.matrix {
        let answers = answers(&m.rows);
        let found = reliability(&answers, m.facility.len());
        assert_eq!((found.learners, found.items), (answers.len(), m.facility.len()), "{}", m.name);
        for (found, given, what) in [
            (found.alpha, m.alpha, "alpha"),
            (found.se, m.se, "se"),
            (found.low, m.low, "low"),
            (found.high, m.high, "high"),
            (found.sem, m.sem, "sem"),
        ] {
            near(found.expect("worked out"), given, &format!("{} {what}", m.name));
        }
        for (at, item) in items(&answers).iter().enumerate() {
            near(item.facility.expect("met"), m.facility[at], &format!("{} facility {at}", m.name));
            match item.discrimination {
                Ok(r) => near(r, m.discrimination[at], &format!("{} discrimination {at}", m.name)),
                Err(why) => {
                    assert!(m.discrimination[at].is_nan(), "{} discrimination {at}: {why:?}", m.name);
                }
            }
            assert_eq!(item.discrimination.is_ok(), !m.discrimination[at].is_nan(), "{} {at}", m.name);
        }
    }
    let twelve = &reference.matrix[0];
    // Published with the matrix, to eight digits.
    near(twelve.alpha, 0.734_199_134_2, "alpha");
    near(twelve.se, 0.120_112_90, "se");
    near(twelve.low, 0.424_522_25, "low");
    near(twelve.high, 0.910_730_02, "high");
    near(twelve.sem, 1.152_824_50, "sem");
    assert!((twelve.se - twelve.jackknife).abs() < 0.01, "two ways to the same error");
}

#[test]
fn what_cannot_be_worked_out_says_why() {
    let alike = answers("111 111 111");
    assert_eq!(reliability(&alike, 3).alpha, Err(Why::TotalsAlike));
    assert_eq!(items(&alike)[0].discrimination, Err(Why::ItemAlike));
    assert_eq!(items(&alike)[0].facility, Ok(1.0));
    // The item differs and the rest does not.
    assert_eq!(items(&answers("10 00 10"))[0].discrimination, Err(Why::RestAlike));
    assert_eq!(items(&answers("1 0 1"))[0].discrimination, Err(Why::OneItem));
    assert_eq!(reliability(&answers("1 0 1"), 1).alpha, Err(Why::OneItem));
    let mut gaps = answers("110 011 101");
    gaps[0][2] = None;
    gaps[1][2] = None;
    let found = reliability(&gaps, 3);
    assert_eq!((found.learners, found.alpha, found.sem), (1, Err(Why::FewComplete(1)), Err(Why::FewComplete(1))));
    gaps[2][2] = None;
    let third = items(&gaps)[2];
    assert_eq!((third.n, third.facility, third.discrimination), (0, Err(Why::NobodyMet), Err(Why::NobodyMet)));
    assert_eq!(items(&gaps)[0].discrimination, Err(Why::FewComplete(0)));
    assert_eq!(items(&gaps)[0].facility, Ok(2.0 / 3.0), "all who answered it count");
    for why in [Why::NobodyMet, Why::FewComplete(0), Why::FewComplete(1), Why::OneItem, Why::ItemAlike] {
        assert!(why.words().len() > 10);
    }
}

#[test]
fn alpha_rests_on_learners_who_answered_every_card() {
    let whole = answers("1101 0100 1111 0001 1000");
    let mut more = whole.clone();
    more.push(vec![Some(true), None, Some(true), Some(true)]);
    let (a, b) = (reliability(&whole, 4), reliability(&more, 4));
    assert_eq!(a, b);
    assert_eq!(items(&more)[0].n, 6, "facility rests on all who answered");
    assert_eq!(items(&more)[0].discrimination, items(&whole)[0].discrimination);
}

pub(super) fn card(id: &str, topic: &str, heading: &str) -> AssignedCard {
    let heading = (!heading.is_empty()).then(|| heading.to_owned());
    AssignedCard { card: CardKey::new("deck", id), topic: topic.to_owned(), heading, weight: 1, text: None }
}

fn attempt(id: &str, card: &str, at: i64, outcome: Outcome) -> HandedAttempt {
    HandedAttempt {
        id: AttemptId(id.to_owned()),
        card: CardKey::new("deck", card),
        at: Instant(at),
        ship: Default::default(),
        outcome,
        notch: Notch::None,
        seconds: 10.0,
        edition: 1,
        said: Vec::new(),
        missed: Vec::new(),
        denied: Vec::new(),
        slip: None,
        answer: None,
        voided: false,
    }
}

#[test]
fn the_first_attempt_that_stands_counts_whatever_the_order() {
    let cards = [card("a", "A-III/1.1.1", "One"), card("b", "A-III/1.1.1", "")];
    let taken_back = HandedAttempt { voided: true, ..attempt("1", "a", 1, Outcome::Fluent) };
    let attempts = [
        attempt("9", "a", 30, Outcome::Answered),
        attempt("3", "a", 20, Outcome::Prompted),
        taken_back,
        attempt("2", "elsewhere", 1, Outcome::Fluent),
        HandedAttempt { notch: Notch::Up, ..attempt("4", "b", 20, Outcome::Prompted) },
    ];
    let firsts = Firsts::of(&cards, &[&attempts]);
    assert_eq!(firsts.counts(), [(1, 0), (1, 1)], "prompted is not right, a notch up to answered is");
    let found = areas(&cards, &firsts);
    assert_eq!(found.len(), 2, "the competence and its heading");
    assert_eq!((found[0].heading.as_deref(), found[0].n, found[0].first_right()), (None, 2, Some(0.5)));
    assert_eq!((found[1].heading.as_deref(), found[1].n, found[1].standing), (Some("One"), 1, Standing::Weak));
}

#[test]
fn points_are_counted_at_the_newest_edition() {
    let cards = [card("a", "A-III/1.1.1", "One")];
    let of = |id: &str, edition, said: &[usize], missed: &[usize]| {
        let (said, missed) = (said.to_vec(), missed.to_vec());
        [HandedAttempt { edition, said, missed, ..attempt(id, "a", 1, Outcome::Missed) }]
    };
    let learners = [of("1", 2, &[1, 3], &[2]), of("2", 2, &[3], &[1, 2]), of("3", 1, &[2, 1], &[])];
    let rows: Vec<&[HandedAttempt]> = learners.iter().map(|row| row.as_slice()).collect();
    let found = points(&Firsts::of(&cards, &rows), 0);
    let found: Vec<(usize, usize, f64)> = found.iter().map(|p| (p.point, p.n, p.said)).collect();
    assert_eq!(found, [(1, 2, 0.5), (2, 2, 0.0), (3, 2, 1.0)]);
}

#[test]
fn a_suspect_card_needs_ten_learners_or_a_report() {
    let figures = |n, facility, r, complete| ItemFigures { n, facility: Ok(facility), discrimination: Ok(r), complete };
    assert_eq!(suspects(&figures(9, 0.1, -0.4, 9), (0, 9), 0), []);
    assert_eq!(suspects(&figures(10, 0.1, -0.4, 10), (0, 10), 0), [Suspect::Negative, Suspect::Hard]);
    assert_eq!(suspects(&figures(10, 0.2, 0.0, 10), (0, 10), 0), [], "at the edge it is not");
    assert_eq!(suspects(&figures(20, 0.96, 0.1, 20), (0, 20), 0), [Suspect::Easy]);
    assert_eq!(suspects(&figures(20, 0.95, 0.1, 20), (0, 20), 0), []);
    assert_eq!(suspects(&figures(4, 0.5, 0.1, 4), (1, 4), 0), [], "one learner is not many");
    assert_eq!(suspects(&figures(4, 0.5, 0.1, 4), (2, 4), 2), [Suspect::Notched, Suspect::Reported]);
    assert_eq!(suspects(&figures(20, 0.5, 0.1, 20), (2, 20), 0), []);
    let none = ItemFigures { n: 0, facility: Err(Why::NobodyMet), discrimination: Err(Why::NobodyMet), complete: 0 };
    assert_eq!(suspects(&none, (0, 0), 0), []);
}
