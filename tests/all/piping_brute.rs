//! Line-ups against brute force: small random networks judged by a second reading of the deck format that walks from
//! pipe to pipe and tries every setting.

use std::collections::BTreeSet;

use bedplate::domain::piping::{Demand, Network, Node, NodeKind, Pipe, Setting, Want, examine, prove, survey};
use proptest::prelude::*;
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

/// Whether flow can pass the mouth of a node at one of its pipes: in (`inward`) or out.
fn mouth(net: &Network, set: &Setting, node: usize, pipe: usize, inward: bool) -> bool {
    let (it, pipe) = (&net.nodes[node], &net.pipes[pipe]);
    let is_open = if it.fixed { it.open } else { set.open[node] };
    match it.kind {
        NodeKind::Valve | NodeKind::QuickClosing => is_open,
        NodeKind::NonReturn | NodeKind::Pump | NodeKind::Compressor => inward == (pipe.to == node),
        NodeKind::ScrewDownNonReturn => is_open && inward == (pipe.to == node),
        NodeKind::ThreeWay => {
            let other = if pipe.from == node { pipe.to } else { pipe.from };
            let [first, second] = it.ways.expect("a three-way valve has ways");
            match set.way[node] {
                None => false,
                Some(0) => other != second,
                Some(_) => other != first,
            }
        }
        _ => true,
    }
}

/// Flow from one node to another: a walk from pipe to pipe, never through an end.
fn flows(net: &Network, set: &Setting, from: usize, to: usize) -> bool {
    if from == to {
        return true;
    }
    let mut seen: BTreeSet<(usize, usize)> = BTreeSet::new();
    let mut open = vec![(from, usize::MAX)];
    while let Some((node, by)) = open.pop() {
        for (at, pipe) in net.pipes.iter().enumerate().filter(|(at, _)| *at != by) {
            for (one, other) in [(pipe.from, pipe.to), (pipe.to, pipe.from)] {
                if one != node || !mouth(net, set, node, at, false) || !mouth(net, set, other, at, true) {
                    continue;
                }
                if other == to {
                    return true;
                }
                let is_end = matches!(
                    net.nodes[other].kind,
                    NodeKind::Tank | NodeKind::SeaChest | NodeKind::Overboard | NodeKind::Receiver
                );
                if !is_end && seen.insert((other, at)) {
                    open.push((other, at));
                }
            }
        }
    }
    false
}

fn meets(net: &Network, set: &Setting, want: &Want) -> bool {
    match want {
        Want::Flow(nodes) => nodes.windows(2).all(|leg| flows(net, set, leg[0], leg[1])),
        Want::Never([from, to]) => !flows(net, set, *from, *to),
    }
}

/// Every setting of what can be turned; with `none`, three-way valves on neither way too.
fn settings(net: &Network, none: bool) -> Vec<Setting> {
    let mut all = vec![net.all_shut()];
    for (at, node) in net.nodes.iter().enumerate() {
        let mut more = Vec::new();
        for setting in all {
            if node.kind == NodeKind::ThreeWay {
                for way in [Some(0), Some(1), None].into_iter().take(if none { 3 } else { 2 }) {
                    let mut next = setting.clone();
                    next.way[at] = way;
                    more.push(next);
                }
            } else if node.can_be_turned() {
                for open in [false, true] {
                    let mut next = setting.clone();
                    next.open[at] = open;
                    more.push(next);
                }
            } else {
                more.push(setting);
            }
        }
        all = more;
    }
    all
}

/// A random network: up to `most` nodes of any kind, with a few more pipes than nodes, some of them side by side.
fn network(seed: u64, most: usize) -> Network {
    let mut rng = StdRng::seed_from_u64(seed);
    let count = rng.random_range(2..=most);
    let kinds = &NodeKind::ALL;
    let mut net = Network::default();
    for at in 0..count {
        // Half of the nodes can be turned.
        let kind = match rng.random_range(0..10) {
            0..4 => NodeKind::Valve,
            4 => NodeKind::ThreeWay,
            5 => NodeKind::ScrewDownNonReturn,
            _ => kinds[rng.random_range(0..kinds.len())],
        };
        net.nodes.push(Node {
            key: format!("n{at}"),
            kind,
            name: format!("Node {at}"),
            at: None,
            medium: None,
            open: kind.can_be_shut() && rng.random_bool(0.3),
            fixed: kind.can_be_shut() && rng.random_bool(0.15),
            ways: None,
        });
    }
    for _ in 0..rng.random_range(count - 1..=count * 2) {
        let from = rng.random_range(0..count);
        let to = (from + rng.random_range(1..count)) % count;
        net.pipes.push(Pipe { from, to, via: Vec::new() });
    }
    for at in 0..count {
        if net.nodes[at].kind != NodeKind::ThreeWay {
            continue;
        }
        let mut beside: Vec<usize> = net.neighbours(at).collect();
        beside.sort_unstable();
        beside.dedup();
        if beside.len() < 3 {
            net.nodes[at].kind = NodeKind::Junction;
        } else {
            let first = rng.random_range(0..beside.len());
            let second = (first + rng.random_range(1..beside.len())) % beside.len();
            net.nodes[at].ways = Some([beside[first], beside[second]]);
        }
    }
    for at in 0..rng.random_range(1..=4) {
        let some = |rng: &mut StdRng| rng.random_range(0..count);
        let want = if rng.random_bool(0.6) {
            let stations = rng.random_range(2..=4);
            Want::Flow((0..stations).map(|_| some(&mut rng)).collect())
        } else {
            Want::Never([some(&mut rng), some(&mut rng)])
        };
        net.demands.push(Demand { name: format!("Demand {at}"), want });
    }
    net
}

/// The nodes that stand otherwise in two settings, of those that help flow: opened, or set to a way.
fn turned(net: &Network, from: &Setting, to: &Setting) -> Option<Vec<usize>> {
    let mut nodes = Vec::new();
    for at in 0..net.nodes.len() {
        if from.open[at] != to.open[at] || from.way[at] != to.way[at] {
            nodes.push(at);
        }
    }
    Some(nodes)
}

fn check_proof(net: &Network, seed: u64) {
    let proof = prove(net).expect("it is proved");
    let all = settings(net, false);
    let works: Vec<&Setting> =
        all.iter().filter(|set| net.demands.iter().all(|demand| meets(net, set, &demand.want))).collect();
    let can_be_shut: Vec<usize> =
        net.turnable().into_iter().filter(|at| net.nodes[*at].kind != NodeKind::ThreeWay).collect();
    let open_in = |set: &Setting| can_be_shut.iter().copied().filter(|at| set.open[*at]).collect::<Vec<_>>();
    assert_eq!(proof.works, !works.is_empty(), "{seed}");
    assert_eq!(proof.settings, Some(works.len() as u64), "{seed}");
    let alike = |open: bool| {
        let is = |at: &usize| !works.is_empty() && works.iter().all(|set| set.open[*at] == open);
        can_be_shut.iter().copied().filter(is).collect::<Vec<_>>()
    };
    assert_eq!(proof.needed_open, alike(true), "{seed}");
    assert_eq!(proof.needed_shut, alike(false), "{seed}");
    let ways_in = |set: &Setting| set.way.iter().flatten().copied().collect::<Vec<_>>();
    let best = works.iter().min_by_key(|set| (open_in(set).len(), open_in(set), ways_in(set)));
    assert_eq!(proof.least_open.as_ref(), best.copied(), "{seed}");

    let findings = survey(net).expect("it is judged");
    let always = |at: &usize| all.iter().all(|set| meets(net, set, &net.demands[*at].want));
    assert_eq!(findings.always_met, (0..net.demands.len()).filter(always).collect::<Vec<_>>(), "{seed}");
    assert_eq!(findings.at_odds.is_empty(), proof.works, "{seed}");
    let meets_some = |of: &[usize]| all.iter().any(|set| of.iter().all(|at| meets(net, set, &net.demands[*at].want)));
    if !proof.works {
        assert!(!meets_some(&findings.at_odds), "{seed}");
        for out in &findings.at_odds {
            let others: Vec<usize> = findings.at_odds.iter().copied().filter(|at| at != out).collect();
            assert!(meets_some(&others), "{seed}: without {out} the others can be met");
        }
    }
    for at in net.turnable() {
        let makes_a_difference = all.iter().any(|set| {
            let mut other = set.clone();
            other.open[at] = !other.open[at];
            other.way[at] = other.way[at].map(|way| 1 - way);
            if net.nodes[at].kind == NodeKind::ThreeWay {
                other.open[at] = set.open[at];
            }
            net.demands.iter().any(|demand| meets(net, set, &demand.want) != meets(net, &other, &demand.want))
        });
        assert_eq!(findings.idle.contains(&at), !makes_a_difference, "{seed}: {at}");
    }
}

fn check_setting(net: &Network, set: &Setting, all: &[Setting], seed: u64) {
    let examined = examine(net, set).expect("it is judged");
    for (demand, state) in net.demands.iter().zip(&examined.demands) {
        assert_eq!(state.met, meets(net, set, &demand.want), "{seed}: {demand:?} {set:?}");
        assert_eq!(state.path.is_some(), state.met && matches!(demand.want, Want::Flow(_)), "{seed}");
        assert_eq!(state.leak.is_some(), !state.met && matches!(demand.want, Want::Never(_)), "{seed}");
        for path in [&state.path, &state.leak].into_iter().flatten() {
            for (stretch, nodes) in path.pipes.iter().zip(path.nodes.windows(2)) {
                let pipe = &net.pipes[stretch.pipe];
                let ends = if stretch.forward { [pipe.from, pipe.to] } else { [pipe.to, pipe.from] };
                assert_eq!(ends, nodes, "{seed}");
                assert!(mouth(net, set, ends[0], stretch.pipe, false), "{seed}");
                assert!(mouth(net, set, ends[1], stretch.pipe, true), "{seed}");
            }
            assert_eq!(path.pipes.len() + 1, path.nodes.len(), "{seed}");
        }
        if state.met || matches!(demand.want, Want::Never(_)) {
            assert_eq!(state.blocked_by, Vec::<usize>::new(), "{seed}");
            continue;
        }
        let mending = all
            .iter()
            .filter(|other| meets(net, other, &demand.want))
            .filter_map(|other| turned(net, set, other))
            .min_by_key(|turned| (turned.len(), turned.clone()));
        assert_eq!(state.blocked_by, mending.unwrap_or_default(), "{seed}: {demand:?} {set:?}");
    }
}

#[test]
fn proofs_are_those_of_trying_every_setting() {
    let mut works = 0;
    for seed in 0..1_500 {
        let net = network(seed, 9);
        check_proof(&net, seed);
        works += usize::from(prove(&net).expect("it is proved").works);
    }
    assert!((300..1_200).contains(&works), "some work and some do not: {works}");
}

#[test]
fn what_a_setting_does_is_what_walking_it_says() {
    let mut blocked = BTreeSet::new();
    for seed in 0..400 {
        let net = network(seed, 8);
        let mut rng = StdRng::seed_from_u64(seed + 1_000_000);
        let all = settings(&net, true);
        for _ in 0..6 {
            let set = &all[rng.random_range(0..all.len())];
            check_setting(&net, set, &all, seed);
            let examined = examine(&net, set).expect("it is judged");
            blocked.extend(examined.demands.iter().map(|state| state.blocked_by.len()));
        }
    }
    assert!(blocked.len() >= 4, "from nothing to three and more to turn: {blocked:?}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]

    #[test]
    fn larger_networks_are_judged_without_a_panic(seed in any::<u64>()) {
        let net = network(seed, 40);
        if let Ok(proof) = prove(&net) {
            prop_assert_eq!(proof.works, proof.least_open.is_some());
            if let Some(least) = &proof.least_open {
                let examined = examine(&net, least).expect("it is judged");
                prop_assert!(examined.works(), "{:?}", examined);
                for at in &proof.needed_open {
                    prop_assert!(least.open[*at]);
                }
                for at in &proof.needed_shut {
                    prop_assert!(!least.open[*at]);
                }
            }
        }
        prop_assert!(examine(&net, &net.as_found()).is_ok());
    }
}
