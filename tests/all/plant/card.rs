//! A sequence card from its file to its marking: `bedplate try`, `bedplate prove`, and the words of the reason.

use std::path::{Path, PathBuf};

use assert_cmd::Command;
use bedplate::deck::read_deck;
use bedplate::domain::answer::{Answer, Given};
use bedplate::domain::card::Card;
use bedplate::domain::kinds::Body;
use bedplate::domain::marking::{Marking, mark};
use bedplate::domain::outcome::Outcome;
use bedplate::domain::plant::Severity;
use serde_json::{Value, json};

fn decks() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/decks")
}

fn sound() -> Card {
    let reading = read_deck(&decks().join("sound--sequence"));
    reading.deck.expect("a sound deck").cards.remove(0)
}

fn marked(card: &Card, steps: &[&str], seconds: Option<f64>) -> Marking {
    let given = Given::Steps(steps.iter().map(|step| (*step).to_owned()).collect());
    mark(card, &Answer { given, seconds }).expect("an answer of the right form")
}

fn call(arguments: &[&str]) -> (Option<i32>, String, String) {
    let out = Command::cargo_bin("bedplate").expect("the program is built").args(arguments).output().expect("it runs");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("UTF-8");
    (out.status.code(), text(out.stdout), text(out.stderr))
}

fn deck(name: &str) -> String {
    decks().join(name).to_string_lossy().into_owned()
}

#[test]
fn a_right_order_is_answered_and_within_the_seconds_fluent() {
    let card = sound();
    let right = marked(&card, &["drain", "cool", "charge"], None);
    assert_eq!(right.outcome, Outcome::Answered);
    assert_eq!(right.reason, "The order works: all three steps can be done in turn, and the goal holds.");
    assert_eq!(marked(&card, &["cool", "drain", "charge"], Some(90.0)).outcome, Outcome::Fluent);
    assert_eq!(marked(&card, &["cool", "drain", "charge"], Some(90.5)).outcome, Outcome::Answered);
}

#[test]
fn a_marking_has_every_field_of_the_format() {
    let answer = r#"{"steps": ["charge", "backfeed", "cool"], "seconds": 20}"#;
    let (code, out, err) = call(&["try", &deck("sound--sequence"), "air-from-nothing", "--answer", answer]);
    assert_eq!(code, Some(0), "{err}");
    let marking: Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!(
        marking,
        json!({
            "card": "air-from-nothing", "kind": "sequence", "outcome": "missed",
            "reason": "“Run the compressor into the receiver”, number 1 in your list, comes before “Compressor cooled” \
                       held; “Start the cooling pump” gives that, and stands only at number 3.",
            "reaches_goal": false,
            "breaks": [{
                "step": "charge", "without": ["cooled", "drained"], "severity": "damage",
                "tell": "The compressor overheats.",
            }],
            "traps": ["backfeed"], "left_out": ["drain"], "out_of_place": 1, "swaps": 1,
            "events": [], "facts_after": ["board-live", "cooled"],
        })
    );
}

#[test]
fn the_outcome_follows_the_share_of_the_evidence() {
    let card = sound();
    let outcome = |steps: &[&str]| marked(&card, steps, None).outcome;
    // Three needed steps and the goal are four; a trap that trips makes five.
    assert_eq!(outcome(&["cool", "drain", "charge", "backfeed"]), Outcome::Prompted, "4 of 5");
    assert_eq!(outcome(&["cool", "drain"]), Outcome::Missed, "2 of 4");
    assert_eq!(outcome(&[]), Outcome::Missed);
    assert_eq!(outcome(&["drain", "charge", "cool"]), Outcome::Missed, "damage, whatever else");
    let mut gentle = card;
    let Body::Sequence(procedure) = &mut gentle.body else { panic!("a sequence") };
    procedure.steps[2].faults[0].severity = Severity::Trip;
    procedure.steps[3].trap.as_mut().expect("a trap").severity = Severity::Injury;
    assert_eq!(marked(&gentle, &["drain", "charge", "cool"], None).outcome, Outcome::Missed, "2 of 4");
    assert_eq!(
        marked(&gentle, &["cool", "drain", "charge", "backfeed"], None).outcome,
        Outcome::Missed,
        "a grave trap"
    );
}

#[test]
fn sixty_parts_in_a_hundred_are_enough() {
    // Four needed steps and the goal: with the last left out it is four of five... and the goal is lost too: 3 of 5.
    let mut card = sound();
    let Body::Sequence(procedure) = &mut card.body else { panic!("a sequence") };
    procedure.facts.push(bedplate::domain::plant::Fact { key: "logged".to_owned(), name: "Logged".to_owned() });
    procedure.goal.push(bedplate::domain::plant::Need::on(4));
    procedure.steps.push(bedplate::domain::plant::Step {
        key: "log".to_owned(),
        say: "Log it.".to_owned(),
        gives: vec![4],
        ..Default::default()
    });
    let short = marked(&card, &["cool", "drain", "charge"], None);
    assert_eq!(short.outcome, Outcome::Prompted);
    assert_eq!(short.reason, "“Log it” is left out, and no order works without it.");
    assert_eq!(marked(&card, &["cool", "log"], None).outcome, Outcome::Missed, "2 of 5");
}

#[test]
fn the_reason_says_what_was_missing_and_where_it_stands() {
    let card = sound();
    let reason = |steps: &[&str]| marked(&card, steps, None).reason;
    let start = "“Run the compressor into the receiver”, number 2 in your list, comes before “Receiver drained” held; ";
    assert_eq!(
        reason(&["cool", "charge", "drain"]),
        format!("{start}“Drain the water” gives that, and stands only at number 3.")
    );
    assert_eq!(reason(&["cool", "charge"]), format!("{start}“Drain the water” gives that, and is left out."));
    assert_eq!(
        reason(&["cool", "drain", "backfeed", "charge"]),
        "“Close the tie from the emergency side”, number 3 in your list, is never part of a right order."
    );
    assert_eq!(reason(&["cool"]), "“Drain the water” and one more step are left out, and no order works without them.");
    let reading = read_deck(&decks().join("no-full-order"));
    let vented = reading.deck.expect("a deck with warnings").cards.remove(0);
    assert_eq!(
        marked(&vented, &["cool", "vent", "charge"], None).reason,
        "“Run the compressor into the receiver”, number 3 in your list, comes while “Vented” held; “Shut the vent” \
         ends that, and is left out."
    );
}

#[test]
fn a_reason_knows_what_was_undone_and_what_the_plant_does_by_itself() {
    let mut card = sound();
    let Body::Sequence(procedure) = &mut card.body else { panic!("a sequence") };
    procedure.steps[0].takes = vec![2];
    procedure.steps[0].needs.clear();
    let reason = marked(&card, &["drain", "cool", "charge"], None).reason;
    assert!(reason.ends_with("“Drain the water” had done that at number 1, but it was undone again."), "{reason}");
    let Body::Sequence(procedure) = &mut card.body else { panic!("a sequence") };
    procedure.steps[1].gives = vec![];
    procedure.reflexes[0] = bedplate::domain::plant::Reflex {
        when: vec![bedplate::domain::plant::Need::on(1)],
        gives: vec![2],
        ..Default::default()
    };
    let reason = marked(&card, &["charge", "cool"], None).reason;
    assert!(reason.contains("“Start the cooling pump” gives that, and stands only at number 2"), "{reason}");
}

#[test]
fn a_step_unknown_or_given_twice_is_an_error_of_the_call() {
    let error = |answer: &str| {
        let (code, out, err) = call(&["try", &deck("sound--sequence"), "air-from-nothing", "--answer", answer]);
        assert_eq!((code, out.as_str()), (Some(2), ""));
        err
    };
    assert!(error(r#"{"steps": ["cool", "cool"]}"#).contains("step `cool` is given twice"));
    assert!(error(r#"{"steps": ["chill"]}"#).contains("there is no step `chill`"));
    assert!(error(r#"{"steps": "cool"}"#).contains("must be a list of step keys"));
    assert!(error(r#"{"text": "cool"}"#).contains("a sequence card is answered with `steps`"));
}

#[test]
fn a_proof_says_what_the_format_names() {
    let (code, out, err) = call(&["prove", &deck("sound--sequence"), "air-from-nothing", "--json"]);
    assert_eq!(code, Some(0), "{err}");
    let proof: Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!(
        proof,
        json!({
            "works": true, "orders": "2", "one": ["cool", "drain", "charge"],
            "needed": ["cool", "drain", "charge"], "optional": [], "traps": ["backfeed"],
        })
    );
    let (code, out, _) = call(&["prove", &deck("sound--sequence"), "air-from-nothing"]);
    assert_eq!(code, Some(0));
    assert!(out.starts_with("It works. 2 orders of all steps work.\n"), "{out}");
}

#[test]
fn a_sequence_that_no_order_solves_can_be_looked_into() {
    let (code, out, err) = call(&["prove", &deck("unreachable-goal"), "air-from-nothing", "--json"]);
    assert_eq!(code, Some(0), "{err}");
    let proof: Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!((&proof["works"], &proof["orders"], &proof["one"]), (&json!(false), &json!("0"), &Value::Null));
}

#[test]
fn only_a_sequence_or_a_line_up_can_be_proved() {
    let (code, out, err) = call(&["prove", &deck("sound"), "pump-stops", "--json"]);
    assert_eq!((code, out.as_str()), (Some(2), ""));
    assert!(err.contains("only a sequence or a line-up can be proved"), "{err}");
    let (code, _, err) = call(&["prove", &deck("sound--sequence"), "air-from-nothin"]);
    assert_eq!(code, Some(2));
    assert!(err.contains("did you mean `air-from-nothing`"), "{err}");
}
