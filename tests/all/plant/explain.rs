//! Why did the plant do that: the chain of causes behind a reflex, built from a run.

use bedplate::domain::plant::{Fact, Facts, Need, Procedure, Reflex, Step, explain, run};

/// An auxiliary engine: the order of starting it, and its electric priming pump that stops by itself.
fn engine() -> Procedure {
    let names =
        ["Priming pump running", "Bearings wet", "Turned over", "Engine running", "Oil pressure held", "Cooling on"];
    let facts = names.iter().map(|n| Fact { key: n.to_lowercase().replace(' ', "-"), name: (*n).to_owned() }).collect();
    let step = |key: &str, needs: &[usize], gives: &[usize]| Step {
        key: key.into(),
        say: key.into(),
        needs: needs.iter().map(|f| Need::on(*f)).collect(),
        gives: gives.to_vec(),
        ..Step::default()
    };
    Procedure {
        facts,
        start: Facts::default(),
        goal: vec![Need::on(3), Need::off(0)],
        steps: vec![
            step("prime", &[], &[0, 1]),
            step("cool", &[], &[5]),
            step("turn", &[1], &[2]),
            step("start", &[2, 5], &[3]),
        ],
        reflexes: vec![
            Reflex {
                when: vec![Need::on(3), Need::on(1)],
                gives: vec![4],
                tell: Some("Oil pressure comes up.".into()),
                ..Reflex::default()
            },
            Reflex {
                when: vec![Need::on(4), Need::on(0)],
                takes: vec![0],
                tell: Some("The electric pump stops.".into()),
                ..Reflex::default()
            },
        ],
        strict: false,
    }
}

#[test]
fn the_chain_runs_from_the_first_cause_to_what_was_seen() {
    let engine = engine();
    let told = explain(&engine, &run(&engine, &[0, 1, 2, 3])).expect("a question");
    assert_eq!(told.tell, "The electric pump stops.");
    assert_eq!(
        told.why.links,
        ["Bearings wet", "Turned over", "Engine running", "Oil pressure held", "The electric pump stops."]
    );
    assert!(told.why.false_links.iter().all(|f| !told.why.links.contains(f)));
}

#[test]
fn what_did_not_matter_is_mixed_in() {
    let mut engine = engine();
    engine.facts.push(Fact { key: "lamp".into(), name: "Lamp tested".into() });
    engine.steps.push(Step { key: "lamp".into(), say: "lamp".into(), gives: vec![6], ..Step::default() });
    let told = explain(&engine, &run(&engine, &[4, 0, 1, 2, 3])).expect("a question");
    assert_eq!(told.why.false_links, ["Lamp tested"]);
}

#[test]
fn a_run_in_which_nothing_stirs_gives_no_question() {
    let engine = engine();
    assert_eq!(explain(&engine, &run(&engine, &[3, 2])), None);
    assert_eq!(explain(&engine, &run(&engine, &[])), None);
}
