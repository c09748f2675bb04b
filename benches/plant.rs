//! Judging procedures of twenty steps: counting their orders, and the distance of a learner's list. The budget is
//! 100 ms. The closed forms and networkx counts that the results must have are in tests/reference/plant_orders.toml.

use bedplate::domain::plant::{Facts, Need, Procedure, Reflex, Step, distance_of, prove};
use divan::Bencher;

const STEPS: usize = 20;

fn main() {
    divan::main();
}

/// The shapes that are measured.
#[derive(Debug, Clone, Copy)]
enum Shape {
    /// No step waits for another: 2^20 states, 20! orders.
    Free,
    /// The same, and one step undoes what another gives.
    FreeWithTakes,
    /// The same, with reflexes that half of the steps wake.
    FreeWithReflexes,
    /// One step waits for another.
    OneEdge,
    /// Four chains of five.
    Chains,
    /// Each pair ordered with a chance of 0.15.
    Sparse,
    /// Chains with facts that are taken again and reflexes, as a plant has them.
    Plant,
}

const SHAPES: [Shape; 7] = [
    Shape::Free,
    Shape::FreeWithTakes,
    Shape::FreeWithReflexes,
    Shape::OneEdge,
    Shape::Chains,
    Shape::Sparse,
    Shape::Plant,
];

fn procedure(shape: Shape) -> Procedure {
    let edges: Vec<(usize, usize)> = match shape {
        Shape::Free | Shape::FreeWithTakes | Shape::FreeWithReflexes => Vec::new(),
        Shape::OneEdge => vec![(0, 1)],
        Shape::Chains | Shape::Plant => (0..STEPS - 1).filter(|at| at % 5 != 4).map(|at| (at, at + 1)).collect(),
        Shape::Sparse => sparse(),
    };
    let needs = |at: usize| edges.iter().filter(|edge| edge.1 == at).map(|edge| Need::on(edge.0)).collect();
    let steps = (0..STEPS).map(|at| Step { needs: needs(at), gives: vec![at], ..Step::default() });
    let mut made = Procedure {
        start: Facts::of([30]),
        goal: (0..STEPS).map(Need::on).collect(),
        steps: steps.collect(),
        ..Procedure::default()
    };
    match shape {
        Shape::FreeWithTakes => made.steps[7].takes = vec![3],
        Shape::FreeWithReflexes => {
            made.reflexes = (0..5)
                .map(|at| Reflex {
                    when: vec![Need::on(2 * at), Need::on(2 * at + 1)],
                    gives: vec![20 + at],
                    ..Reflex::default()
                })
                .collect();
            made.goal.extend((20..25).map(Need::on));
        }
        Shape::Plant => {
            made.steps[1].takes = vec![30];
            made.steps[6].gives.push(30);
            made.steps[12].needs.push(Need::off(30));
            made.reflexes = vec![
                Reflex { when: vec![Need::on(2), Need::on(7)], gives: vec![31], takes: vec![30], ..Reflex::default() },
                Reflex { when: vec![Need::on(31), Need::off(13)], gives: vec![32], ..Reflex::default() },
            ];
        }
        _ => {}
    }
    made
}

/// A fixed sparse order, drawn by a small generator of its own so that it is the same everywhere.
fn sparse() -> Vec<(usize, usize)> {
    let mut state = 20_251_125_u64;
    let pairs = (0..STEPS).flat_map(|a| (a + 1..STEPS).map(move |b| (a, b)));
    pairs
        .filter(|_| {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (state >> 33) % 100 < 15
        })
        .collect()
}

#[divan::bench(args = SHAPES, sample_count = 20)]
fn orders(bencher: Bencher, shape: Shape) {
    let procedure = procedure(shape);
    let proof = prove(&procedure).expect("it is proved");
    println!("{shape:?}: {:?} orders", proof.orders);
    if matches!(shape, Shape::Free) {
        assert_eq!(proof.orders, Some((1..=20).product()));
    }
    bencher.bench(|| prove(&procedure));
}

#[divan::bench(args = SHAPES, sample_count = 20)]
fn distance_of_a_list_turned_round(bencher: Bencher, shape: Shape) {
    let procedure = procedure(shape);
    let list: Vec<usize> = (0..STEPS).rev().collect();
    println!("{shape:?}: {:?}", distance_of(&procedure, &list));
    bencher.bench(|| distance_of(&procedure, &list));
}
