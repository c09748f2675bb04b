//! The plant against brute force: small random procedures with takes, negations and reflexes, whose state depends on
//! the order of the steps, run by a second reading of the deck format that tries every order of every set of steps.

use std::collections::BTreeSet;

use bedplate::domain::plant::{
    Became, Distance, Fact, Facts, Need, Procedure, Reflex, Severity, Step, Trap, begin, distance_of, examine, prove,
    run,
};
use proptest::prelude::*;
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

/// Facts that hold, as a plain set; `None` where the reflexes never settle.
type Plant = Option<BTreeSet<usize>>;

fn met(needs: &[Need], facts: &BTreeSet<usize>) -> bool {
    needs.iter().all(|need| facts.contains(&need.fact) == need.holds)
}

fn changed(facts: &BTreeSet<usize>, takes: &[usize], gives: &[usize]) -> BTreeSet<usize> {
    let mut after: BTreeSet<usize> = facts.iter().copied().filter(|fact| !takes.contains(fact)).collect();
    after.extend(gives);
    after
}

/// Whole passes in the order of the file until one fires none; a state seen before means never.
fn settled(p: &Procedure, mut facts: BTreeSet<usize>, fired: &mut Vec<usize>) -> Plant {
    let mut seen = BTreeSet::new();
    loop {
        if !seen.insert(facts.clone()) {
            return None;
        }
        let mut quiet = true;
        for (at, reflex) in p.reflexes.iter().enumerate() {
            let after = changed(&facts, &reflex.takes, &reflex.gives);
            if met(&reflex.when, &facts) && after != facts {
                facts = after;
                fired.push(at);
                quiet = false;
            }
        }
        if quiet {
            return Some(facts);
        }
    }
}

fn started(p: &Procedure) -> Plant {
    settled(p, p.start.iter().collect(), &mut Vec::new())
}

/// Every order that breaks nothing, of any set of steps, with whether the goal holds at its end.
fn orders(p: &Procedure, steps: &[usize], facts: &BTreeSet<usize>, order: &mut Vec<usize>, all: &mut Vec<Tried>) {
    let doable: Vec<usize> =
        steps.iter().copied().filter(|s| !order.contains(s) && met(&p.steps[*s].needs, facts)).collect();
    all.push(Tried { order: order.clone(), works: met(&p.goal, facts), facts: facts.clone() });
    for step in doable {
        let after = changed(facts, &p.steps[step].takes, &p.steps[step].gives);
        if let Some(after) = settled(p, after, &mut Vec::new()) {
            order.push(step);
            orders(p, steps, &after, order, all);
            order.pop();
        }
    }
}

struct Tried {
    order: Vec<usize>,
    works: bool,
    facts: BTreeSet<usize>,
}

fn every_order(p: &Procedure, steps: &[usize]) -> Vec<Tried> {
    let mut all = Vec::new();
    if let Some(facts) = started(p) {
        orders(p, steps, &facts, &mut Vec::new(), &mut all);
    }
    all
}

fn some_of(rng: &mut StdRng, facts: usize, most: usize) -> Vec<usize> {
    (0..rng.random_range(0..=most)).map(|_| rng.random_range(0..facts)).collect()
}

fn some_needs(rng: &mut StdRng, facts: usize, most: usize) -> Vec<Need> {
    let facts = some_of(rng, facts, most);
    facts.into_iter().map(|fact| Need { fact, holds: rng.random_bool(0.8) }).collect()
}

/// A random procedure of at most `most` steps, one of which may be a trap.
fn procedure(seed: u64, most: usize) -> Procedure {
    let mut rng = StdRng::seed_from_u64(seed);
    let count = rng.random_range(1..=most);
    let facts = rng.random_range(2..=count + 3);
    let step = |at: usize, rng: &mut StdRng| {
        let mut gives = some_of(rng, facts, 1);
        gives.push(at % facts);
        Step {
            key: format!("step-{at}"),
            needs: some_needs(rng, facts, 2),
            gives,
            takes: if rng.random_bool(0.6) { some_of(rng, facts, 2) } else { Vec::new() },
            trap: rng.random_bool(0.06).then_some(Trap { severity: Severity::Trip, tell: None }),
            ..Step::default()
        }
    };
    let steps = (0..count).map(|at| step(at, &mut rng)).collect();
    let reflexes = (0..rng.random_range(0..4))
        .map(|_| Reflex {
            when: some_needs(&mut rng, facts, 2),
            gives: some_of(&mut rng, facts, 1),
            takes: some_of(&mut rng, facts, 1),
            tell: None,
        })
        .collect();
    let goal = some_needs(&mut rng, facts, 2);
    Procedure {
        facts: (0..facts).map(|at| Fact { key: format!("fact-{at}"), name: format!("Fact {at}") }).collect(),
        start: Facts::of(some_of(&mut rng, facts, 3)),
        goal,
        steps,
        reflexes,
        strict: false,
    }
}

/// Pairs of `list` that stand the other way round in `order`, and the longest part they have in common.
fn compared(list: &[usize], order: &[usize]) -> (usize, usize) {
    let place = |step: usize| order.iter().position(|other| *other == step).expect("a full order has every step");
    let places: Vec<usize> = list.iter().map(|step| place(*step)).collect();
    let turned = (0..places.len()).flat_map(|b| (0..b).map(move |a| (a, b))).filter(|(a, b)| places[*a] > places[*b]);
    let turned = turned.count();
    let kept = (0..1_u32 << places.len()).filter(|chosen| {
        let part: Vec<usize> = (0..places.len()).filter(|at| chosen >> at & 1 == 1).map(|at| places[at]).collect();
        part.is_sorted()
    });
    (turned, kept.map(u32::count_ones).max().unwrap_or(0) as usize)
}

/// A list of some steps in some order.
fn list(seed: u64, p: &Procedure) -> Vec<usize> {
    let mut rng = StdRng::seed_from_u64(seed ^ 0x5eed);
    let mut left: Vec<usize> = (0..p.steps.len()).collect();
    let mut list = Vec::new();
    while !left.is_empty() && !rng.random_bool(0.08) {
        list.push(left.swap_remove(rng.random_range(0..left.len())));
    }
    list
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 600, ..ProptestConfig::default() })]

    #[test]
    fn proofs_agree_with_every_order_tried(seed in any::<u64>()) {
        let p = procedure(seed, 7);
        let right: Vec<usize> = p.right_steps().collect();
        let all = every_order(&p, &right);
        let working: Vec<&Tried> = all.iter().filter(|tried| tried.works).collect();
        let (proof, findings) = examine(&p).expect("a small procedure is proved");
        prop_assert_eq!(&prove(&p).expect("it is proved again"), &proof);
        prop_assert_eq!(proof.works, !working.is_empty());
        let full = working.iter().filter(|tried| tried.order.len() == right.len()).count();
        prop_assert_eq!(proof.orders, Some(full as u64));
        let needed: Vec<usize> =
            right.iter().copied().filter(|s| working.iter().all(|t| t.order.contains(s))).collect();
        prop_assert_eq!(&proof.needed, &needed);
        prop_assert_eq!(proof.optional, right.iter().copied().filter(|s| !needed.contains(s)).collect::<Vec<_>>());
        // The shortest, and among those the first in the order of the file.
        let one = working.iter().map(|tried| (tried.order.len(), &tried.order)).min().map(|(_, order)| order.clone());
        prop_assert_eq!(&proof.one, &one);
        // Needs that are unmet in some state in which the step has still to be done.
        for &step in &right {
            let unmet = |need: &Need| {
                all.iter().any(|t| !t.order.contains(&step) && t.facts.contains(&need.fact) != need.holds)
            };
            let wanted: Vec<Need> = p.steps[step].needs.iter().copied().filter(unmet).collect();
            prop_assert_eq!(&findings.unmet[step], &wanted);
        }
        let never: Vec<usize> =
            right.iter().copied().filter(|s| all.iter().all(|t| !t.order.contains(s))).collect();
        prop_assert_eq!(&findings.never_done, &never);
    }

    #[test]
    fn distances_agree_with_every_order_tried(seed in any::<u64>()) {
        let p = procedure(seed, 7);
        let right: Vec<usize> = p.right_steps().collect();
        let learner = list(seed, &p);
        let kept: Vec<usize> = learner.iter().copied().filter(|step| right.contains(step)).collect();
        let all = every_order(&p, &right);
        let full = all.iter().filter(|tried| tried.works && tried.order.len() == right.len());
        let distances: Vec<(usize, usize)> = full.map(|tried| compared(&kept, &tried.order)).collect();
        let wanted = distances.iter().map(|d| d.0).min().map(|swaps| Distance {
            swaps,
            out_of_place: kept.len() - distances.iter().map(|d| d.1).max().unwrap_or(0),
        });
        prop_assert_eq!(distance_of(&p, &learner), wanted);
    }

    #[test]
    fn a_step_is_needless_when_every_working_order_does_without(seed in any::<u64>()) {
        let p = procedure(seed, 5);
        let right: Vec<usize> = p.right_steps().collect();
        let all = every_order(&p, &right);
        let works = |order: &[usize]| all.iter().any(|tried| tried.works && tried.order == order);
        let needless: Vec<usize> = right.iter().copied().filter(|step| {
            all.iter().any(|tried| tried.works) && all.iter().filter(|tried| tried.works).all(|tried| {
                let without: Vec<usize> = tried.order.iter().copied().filter(|s| s != step).collect();
                works(&without)
            })
        }).collect();
        let (_, findings) = examine(&p).expect("a small procedure is proved");
        prop_assert_eq!(findings.needless, needless);
    }

    #[test]
    fn runs_agree_with_the_words_of_the_format(seed in any::<u64>()) {
        let p = procedure(seed, 8);
        let learner = list(seed, &p);
        let mut fired = Vec::new();
        let mut plant = settled(&p, p.start.iter().collect(), &mut fired);
        let ran = run(&p, &learner);
        let mut breaks = Vec::new();
        let mut traps = Vec::new();
        for &step in &learner {
            let Some(facts) = plant.clone() else { break };
            let definition = &p.steps[step];
            if definition.trap.is_some() {
                traps.push(step);
            } else if met(&definition.needs, &facts) {
                plant = settled(&p, changed(&facts, &definition.takes, &definition.gives), &mut fired);
            } else {
                breaks.push((step, definition.needs.iter().copied().filter(|n| !met(&[*n], &facts)).collect::<Vec<_>>()));
            }
        }
        let restless = !ran.begun.restless.is_empty() || ran.lines.iter().any(|l| !l.stir.restless.is_empty());
        prop_assert_eq!(plant.is_none(), restless);
        if let Some(facts) = plant {
            prop_assert_eq!(ran.facts_after().iter().collect::<Vec<_>>(), facts.iter().copied().collect::<Vec<_>>());
            prop_assert_eq!(ran.reaches_goal, met(&p.goal, &facts));
            prop_assert_eq!(ran.breaks().map(|b| (b.step, b.without.clone())).collect::<Vec<_>>(), breaks);
            prop_assert_eq!(ran.traps().map(|t| t.0).collect::<Vec<_>>(), traps);
            prop_assert_eq!(ran.firings().collect::<Vec<_>>(), fired);
        }
    }

    #[test]
    fn a_set_of_reflexes_that_never_settles_is_found_in_whatever_order_meets_it(seed in any::<u64>()) {
        let p = procedure(seed, 5);
        let right: Vec<usize> = p.right_steps().collect();
        let begins = started(&p).is_some();
        prop_assert_eq!(begin(&p).1.restless.is_empty(), begins);
        let (_, findings) = examine(&p).expect("a small procedure is proved");
        let turns = every_order(&p, &right).iter().any(|tried| {
            right.iter().any(|step| {
                let s = &p.steps[*step];
                !tried.order.contains(step)
                    && met(&s.needs, &tried.facts)
                    && settled(&p, changed(&tried.facts, &s.takes, &s.gives), &mut Vec::new()).is_none()
            })
        });
        prop_assert_eq!(findings.restless.is_empty(), begins && !turns);
    }
}

#[test]
fn the_random_procedures_are_worth_trying() {
    // The properties above would say little of procedures that never work, or whose state follows from the set of
    // steps alone.
    let (mut many, mut by_order, mut restless, mut broken) = (0, 0, 0, 0);
    for seed in 0..1_000 {
        let p = procedure(seed, 7);
        let right: Vec<usize> = p.right_steps().collect();
        let all = every_order(&p, &right);
        many += usize::from(all.iter().filter(|t| t.works && t.order.len() == right.len()).count() > 1);
        let mut sets: Vec<(BTreeSet<usize>, &BTreeSet<usize>)> =
            all.iter().map(|t| (t.order.iter().copied().collect(), &t.facts)).collect();
        sets.sort();
        sets.dedup();
        by_order += usize::from(sets.windows(2).any(|pair| pair[0].0 == pair[1].0));
        restless += usize::from(!examine(&p).expect("small").1.restless.is_empty());
        let ran = run(&p, &list(seed, &p));
        broken += usize::from(ran.lines.iter().any(|line| matches!(line.became, Became::Broken(_))));
    }
    assert!(many > 100, "with several full orders: {many}");
    assert!(by_order > 150, "with a state that depends on the order: {by_order}");
    assert!(restless > 15, "that never settle: {restless}");
    assert!(broken > 200, "with a broken list: {broken}");
}
