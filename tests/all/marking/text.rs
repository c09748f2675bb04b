//! Typed answers to single points: abbreviations, spellings, numbers, denials, opposites, order, corrections.

use bedplate::domain::answer::{Answer, Given};
use bedplate::domain::card::Card;
use bedplate::domain::key_point::KeyPoint;
use bedplate::domain::kinds::recall::Recall;
use bedplate::domain::kinds::{Body, Detail, recall};
use bedplate::domain::marking::{PointMark, mark};
use proptest::prelude::*;

use crate::marking::kinds::{card, point};

pub(crate) const SAID: &str = "said";
pub(crate) const CONTRADICTED: &str = "contradicted";
pub(crate) const NEITHER: &str = "neither";
/// Contradicted or neither.
pub(crate) const NOT_SAID: &str = "not said";
/// Said or neither.
pub(crate) const NOT_CONTRADICTED: &str = "not contradicted";

fn marks(points: &[KeyPoint], text: &str) -> Vec<PointMark> {
    let asked = Card { ask: "What do you do?".to_owned(), ..card(Body::Recall(Recall { points: points.to_vec() })) };
    match mark(&asked, &Answer::of(Given::Text(text.to_owned()))).expect("a typed answer").detail {
        Detail::Recall(recall::Told { points }) => points,
        other => panic!("{other:?}"),
    }
}

fn found(mark: &PointMark) -> &'static str {
    match (mark.said, mark.contradicted) {
        (true, _) => SAID,
        (_, true) => CONTRADICTED,
        _ => NEITHER,
    }
}

/// A point, with answers and what each does with it.
pub(crate) type Case = (KeyPoint, &'static [(&'static str, &'static str)]);

fn cases() -> Vec<Case> {
    vec![
        (
            point("Start the stand-by lubricating-oil pump", &["start standby LO pump"], &[], false),
            &[
                ("start the stand-by LO pump", SAID),
                ("Stand-by lube oil pump started", SAID),
                ("started L.O. standby pp", SAID),
                ("standby lub oil pump is run up", SAID),
                ("do not start the standby LO pump", CONTRADICTED),
                ("start the fire pump", NEITHER),
                ("", NEITHER),
            ],
        ),
        (
            point("The sea-water suction strainer is choked", &["choked strainer", "blocked sea suction"], &[], false),
            &[
                ("seawater strainer blocked", SAID),
                ("SW strainer choked", SAID),
                ("the sea water strainer is clogged with weed", SAID),
                ("strainers chocked", SAID),
                ("the strainer is clean", CONTRADICTED),
                ("the strainer is not choked", CONTRADICTED),
            ],
        ),
        (
            point("It is filled to 30 bar", &["30 bar"], &["25 bar"], false),
            &[
                ("filled to 30 bar", SAID),
                ("3 MPa", SAID),
                ("thirty bar", SAID),
                ("it is filled up to 3000 kPa", SAID),
                ("filled to 20 bar", CONTRADICTED),
                ("25 bar", CONTRADICTED),
                ("the receiver stands on the port side", NEITHER),
            ],
        ),
        (
            point("The emergency generator starts within 45 seconds", &["within 45 s"], &[], true),
            &[
                ("EDG starts within 45 s", SAID),
                ("the emergency set must start in forty-five seconds", SAID),
                ("emergency generator starts within three quarters of a minute", SAID),
                ("emergency generator starts within 5 minutes", CONTRADICTED),
            ],
        ),
        (
            point("Oil content is not more than 15 ppm", &["15 ppm"], &[], true),
            &[
                ("oil content below 15 ppm", SAID),
                ("max 15 parts per million", SAID),
                ("oil content of 100 ppm at most", CONTRADICTED),
            ],
        ),
        (
            point("Do not open the crankcase", &["never open the crankcase", "keep doors shut"], &[], true),
            &[
                ("never open the crankcase", SAID),
                ("the crankcase must not be opened", SAID),
                ("don't open crankcase", SAID),
                ("Open the crankcase and look inside", CONTRADICTED),
                ("keep the crankcase doors closed", SAID),
            ],
        ),
        (
            point("Open the water cock before the steam cock", &["water before steam"], &[], true),
            &[
                ("open the water cock before the steam cock", SAID),
                ("water before steam", SAID),
                ("open the steam cock before the water cock", CONTRADICTED),
            ],
        ),
        (
            point("The cooling-water temperature rises", &["high cooling water temperature"], &[], false),
            &[
                ("cooling water temp goes up", SAID),
                ("cooling water temperature gets higher", SAID),
                ("cooling water temperature falls", CONTRADICTED),
                ("cooling water temperature decreases", CONTRADICTED),
            ],
        ),
        (
            point("The non-return valve has corroded", &["corroded NRV"], &[], false),
            &[
                ("corrosion of the nonreturn valve", SAID),
                ("NRV corroded", SAID),
                ("non return valve is corroded", SAID),
                ("the check valve shows corrosion", SAID),
            ],
        ),
        (
            point("Check the color of the vapor", &[], &[], false),
            &[("check the colour of the vapour", SAID), ("verify vapour colour", SAID)],
        ),
        (
            point("A permit to enter is issued", &["entry permit"], &["no permit"], true),
            &[
                ("no entry without a permit", SAID),
                ("get a permit to enter", SAID),
                ("don't forget the entry permit", SAID),
                ("no permit is needed", CONTRADICTED),
            ],
        ),
        (
            point("Increase the cylinder oil feed", &["more cylinder oil"], &["less cylinder oil"], false),
            &[
                ("raise cylinder oil feed", SAID),
                ("cyl oil feed increased", SAID),
                ("increese cylinder oil", SAID),
                ("decrease the cylinder oil feed", CONTRADICTED),
                ("less cylinder oil", CONTRADICTED),
                ("less cylinder oil, sorry, I mean more cylinder oil", SAID),
            ],
        ),
        (
            point("Two receivers are fitted", &["two receivers"], &[], false),
            &[("two receivers", SAID), ("2 receivers", SAID), ("one receiver", CONTRADICTED)],
        ),
        (
            point("Inform the bridge", &["tell the bridge", "call the OOW"], &[], false),
            &[
                ("inform bridge", SAID),
                ("phone the officer of the watch", SAID),
                ("not only stop the pump but also tell the bridge", SAID),
                ("no need to call the bridge", CONTRADICTED),
                ("the bridge is high above the engine room", NEITHER),
            ],
        ),
    ]
}

/// Marks each answer to each point and lists what came out otherwise.
pub(crate) fn check(cases: Vec<Case>) {
    let mut wrong = Vec::new();
    for (point, answers) in cases {
        for (text, wanted) in answers {
            let mark = &marks(std::slice::from_ref(&point), text)[0];
            let as_wanted = match *wanted {
                NOT_SAID => !mark.said,
                NOT_CONTRADICTED => !mark.contradicted,
                exact => found(mark) == exact,
            };
            if !as_wanted {
                wrong.push(format!("{}: {text:?} should be {wanted}: {mark:?}", point.say));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn single_points_are_said_contradicted_or_neither() {
    check(cases());
}

#[test]
fn a_long_answer_is_read_to_its_end_within_bounds() {
    let points = [point("Tell the bridge", &[], &[], false)];
    let long = format!("{} tell the bridge", "the pump runs and the valve is open, ".repeat(1_000));
    assert!(marks(&points, &long)[0].said);
    let again = "slow the engine, tell the bridge of it, ".repeat(5_000);
    let about = [point("Tell the bridge of the speed", &["bridge", "slow the engine"], &[], false), points[0].clone()];
    assert!(marks(&about, &again)[0].said);
    let endless = "do not open 30 bar, ".repeat(20_000);
    assert!(!marks(&points, &endless)[0].said);
}

proptest! {
    #[test]
    fn no_answer_panics_and_evidence_is_the_learners_own(text in "\\PC{0,200}") {
        let points: Vec<KeyPoint> = cases().into_iter().map(|(p, _)| p).collect();
        for mark in marks(&points, &text) {
            prop_assert!(!(mark.said && mark.contradicted));
            prop_assert!(mark.evidence.is_none_or(|e| text.contains(&e)));
        }
    }

    #[test]
    fn nor_does_one_made_of_the_words_of_answers(
        words in proptest::collection::vec(
            prop::sample::select(vec![
                "open", "not", "the", "crankcase", "before", "after", "without", "30", "bar", ",", ".", "30 bar", "no", "until",
                "first", "then", "water", "cock", "L.O.", "T/C", "non", "return", "valve", "-", "é", "ß", "°", "’", "don’t", "½",
            ]),
            0..60,
        )
    ) {
        let text = words.join(" ");
        let points: Vec<KeyPoint> = cases().into_iter().map(|(p, _)| p).collect();
        for mark in marks(&points, &text) {
            prop_assert!(!(mark.said && mark.contradicted));
            prop_assert!(mark.evidence.is_none_or(|e| text.contains(&e)));
        }
    }
}
