//! Counts of orders and least swaps against networkx, and procedures too wide to be listed.

use std::fs;

use bedplate::domain::plant::{Distance, Fact, Facts, Need, Procedure, Reflex, Step, distance_of, examine, prove};
use serde::Deserialize;

#[derive(Deserialize)]
struct Reference {
    orders: Vec<Orders>,
    swaps: Vec<Swaps>,
}

#[derive(Deserialize)]
struct Orders {
    name: String,
    steps: usize,
    edges: Vec<(usize, usize)>,
    count: String,
}

#[derive(Deserialize)]
struct Swaps {
    name: String,
    steps: usize,
    edges: Vec<(usize, usize)>,
    list: Vec<usize>,
    swaps: usize,
    out_of_place: usize,
}

fn reference() -> Reference {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/reference/plant_orders.toml");
    toml::from_str(&fs::read_to_string(path).expect("the reference is there")).expect("it is what it says")
}

/// Step n gives fact n and needs the facts of the steps that come before it; the goal is every fact.
fn ordered(steps: usize, edges: &[(usize, usize)]) -> Procedure {
    let before = |at: usize| edges.iter().filter(move |edge| edge.1 == at).map(|edge| Need::on(edge.0)).collect();
    Procedure {
        facts: (0..steps).map(|at| Fact { key: format!("fact-{at}"), name: format!("Fact {at}") }).collect(),
        goal: (0..steps).map(Need::on).collect(),
        steps: (0..steps)
            .map(|at| Step { key: format!("step-{at}"), needs: before(at), gives: vec![at], ..Step::default() })
            .collect(),
        ..Procedure::default()
    }
}

#[test]
fn orders_are_counted_as_networkx_lists_them() {
    let reference = reference();
    assert!(reference.orders.len() >= 50);
    for case in reference.orders {
        // Free steps of this number are left to the bench: a test build takes seconds over them.
        if case.name == "twenty free" {
            assert_eq!(case.count, "2432902008176640000");
            continue;
        }
        let proof = prove(&ordered(case.steps, &case.edges)).expect("it is proved");
        assert_eq!(proof.orders.map(|count| count.to_string()), Some(case.count), "{}", case.name);
        assert_eq!(proof.needed, (0..case.steps).collect::<Vec<_>>(), "{}", case.name);
        let one = proof.one.expect("it works");
        let place = |step: usize| one.iter().position(|other| *other == step);
        assert!(case.edges.iter().all(|(a, b)| place(*a) < place(*b)), "{}: {one:?}", case.name);
    }
}

#[test]
fn distances_are_the_least_over_what_networkx_lists() {
    for case in reference().swaps {
        let wanted = Distance { swaps: case.swaps, out_of_place: case.out_of_place };
        assert_eq!(distance_of(&ordered(case.steps, &case.edges), &case.list), Some(wanted), "{}", case.name);
    }
}

#[test]
fn more_steps_than_are_counted_are_still_proved() {
    // Thirty free steps of which the goal wants ten: 2^30 states, never walked.
    let mut wide = ordered(30, &[]);
    wide.goal = (0..30).step_by(3).map(Need::on).collect();
    let (proof, findings) = examine(&wide).expect("it is proved");
    assert!(proof.works);
    assert_eq!(proof.orders, None);
    assert_eq!(proof.needed, (0..30).step_by(3).collect::<Vec<_>>());
    assert_eq!(proof.one, Some((0..30).step_by(3).collect()));
    assert_eq!(findings.needless.len(), 20);
    assert_eq!(distance_of(&wide, &[1, 0]), None);

    // A fact that is taken again in the middle: step 1 undoes what step 0 gives, and step 2 needs it undone.
    let mut undone = ordered(25, &[]);
    undone.steps[1].takes = vec![0];
    undone.steps[2].needs = vec![Need::on(1)];
    undone.steps[0].needs = vec![Need::on(2)];
    let proof = prove(&undone).expect("it is proved");
    assert_eq!(proof.one.expect("it works")[..3], [1, 2, 0]);
    assert_eq!(proof.needed.len(), 25);

    // Either of two steps will do, one of them in one step and the other in two.
    let mut either = ordered(24, &[(22, 23)]);
    either.steps[23].gives = vec![0];
    either.goal = (0..22).map(Need::on).collect();
    let proof = prove(&either).expect("it is proved");
    assert_eq!(proof.needed, (1..22).collect::<Vec<_>>());
    assert_eq!(proof.optional, vec![0, 22, 23]);
    assert_eq!(proof.one, Some((0..22).collect()));
}

#[test]
fn the_two_ways_of_searching_agree() {
    // A chain of 24 steps with a reflex is walked whole; the same with free steps beside it is not.
    let edges: Vec<(usize, usize)> = (0..11).map(|at| (at, at + 1)).collect();
    let mut chain = ordered(12, &edges);
    chain.reflexes = vec![Reflex { when: vec![Need::on(3)], gives: vec![5], takes: vec![], tell: None }];
    let walked = prove(&chain).expect("it is proved");
    assert_eq!(walked.orders.map(|orders| orders > 1), Some(true), "the reflex frees the steps after it");

    let mut beside = ordered(30, &edges);
    beside.reflexes.clone_from(&chain.reflexes);
    beside.goal.clone_from(&chain.goal);
    let asked = prove(&beside).expect("it is proved");
    assert_eq!(asked.needed, walked.needed);
    assert_eq!(asked.one, walked.one);
}

#[test]
fn an_empty_list_works_where_the_goal_holds_at_the_start() {
    let mut p = ordered(2, &[]);
    p.start = Facts::of([0, 1]);
    let proof = prove(&p).expect("it is proved");
    assert_eq!((proof.works, proof.one, proof.needed), (true, Some(vec![]), vec![]));
    assert_eq!(proof.orders, Some(2));
    assert_eq!(distance_of(&p, &[]), Some(Distance { swaps: 0, out_of_place: 0 }));
}

#[test]
fn more_than_sixty_four_facts_are_no_bound() {
    let edges: Vec<(usize, usize)> = (0..59).map(|at| (at, at + 1)).collect();
    let mut long = ordered(60, &edges);
    // Sixty more facts that hold from the start and that the goal reads.
    long.facts.extend((60..120).map(|at| Fact { key: format!("fact-{at}"), name: format!("Fact {at}") }));
    long.start = Facts::of(60..120);
    long.goal.extend((60..120).map(Need::on));
    let proof = prove(&long).expect("it is proved");
    assert_eq!((proof.works, proof.orders), (true, None));
    assert_eq!(proof.one, Some((0..60).collect()));
}
