//! Line-ups against brute force: small random networks judged by a second reading of the deck format. It lists every
//! way of each leg, pipe by pipe and coming to no node twice, tries every choice of ways and every setting.

use std::collections::{BTreeMap, BTreeSet};

use bedplate::domain::piping::{Demand, Network, Node, NodeKind, Path, Pipe, Setting, Want, examine, prove, survey};
use proptest::prelude::*;
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

use super::examine;

fn is_end(net: &Network, node: usize) -> bool {
    matches!(net.nodes[node].kind, NodeKind::Tank | NodeKind::SeaChest | NodeKind::Overboard | NodeKind::Receiver)
}

/// Whether a pipe is joined with the inside of a node, as it stands.
fn is_joined(net: &Network, set: &Setting, node: usize, pipe: usize) -> bool {
    let it = &net.nodes[node];
    match it.kind {
        NodeKind::Valve | NodeKind::QuickClosing | NodeKind::ScrewDownNonReturn if it.fixed => it.open,
        NodeKind::Valve | NodeKind::QuickClosing | NodeKind::ScrewDownNonReturn => set.open[node],
        NodeKind::ThreeWay => {
            let ways = it.ways.expect("a three-way valve has ways");
            let other = net.pipes[pipe].from + net.pipes[pipe].to - node;
            set.way[node].is_some_and(|way| other != ways[1 - way])
        }
        _ => true,
    }
}

fn is_one_way(net: &Network, node: usize) -> bool {
    use NodeKind::{Compressor, NonReturn, Pump, ScrewDownNonReturn};
    matches!(net.nodes[node].kind, NonReturn | ScrewDownNonReturn | Pump | Compressor)
}

/// Flow can come to a node by a pipe.
fn takes(net: &Network, set: &Setting, node: usize, pipe: usize) -> bool {
    is_joined(net, set, node, pipe) && (!is_one_way(net, node) || net.pipes[pipe].to == node)
}

/// Flow can leave a node by a pipe.
fn gives(net: &Network, set: &Setting, node: usize, pipe: usize) -> bool {
    is_joined(net, set, node, pipe) && (!is_one_way(net, node) || net.pipes[pipe].from == node)
}

/// Flow comes in by one pipe and goes out by another, and the kind of node lets it.
fn passes(net: &Network, set: &Setting, node: usize, by: usize, on: usize) -> bool {
    by != on && takes(net, set, node, by) && gives(net, set, node, on)
}

/// A way of one leg: each pipe with the node that it comes to.
type Way = Vec<(usize, usize)>;

/// Every way from one node to another that comes to no node twice and passes through no end; how things stand is not
/// looked at.
fn ways(net: &Network, from: usize, to: usize) -> Vec<Way> {
    fn go(net: &Network, to: usize, node: usize, seen: &mut Vec<usize>, way: &mut Way, all: &mut Vec<Way>) {
        for (pipe, ends) in net.pipes.iter().enumerate() {
            for (one, other) in [(ends.from, ends.to), (ends.to, ends.from)] {
                let is_backward = (is_one_way(net, one) || is_one_way(net, other)) && one != ends.from;
                if one != node || seen.contains(&other) || is_backward {
                    continue;
                }
                way.push((other, pipe));
                if other == to {
                    all.push(way.clone());
                } else if !is_end(net, other) {
                    seen.push(other);
                    go(net, to, other, seen, way, all);
                    seen.pop();
                }
                way.pop();
            }
        }
    }
    let mut all = Vec::new();
    go(net, to, from, &mut vec![from], &mut Vec::new(), &mut all);
    all
}

/// Flow can take this way: out of its first node, through all between, into its last.
fn is_open(net: &Network, set: &Setting, from: usize, way: &Way) -> bool {
    let (first, last) = (way[0], way[way.len() - 1]);
    let goes_through = |pair: &[(usize, usize)]| passes(net, set, pair[0].0, pair[0].1, pair[1].1);
    gives(net, set, from, first.1) && takes(net, set, last.0, last.1) && way.windows(2).all(goes_through)
}

/// A network with every way of every leg that its demands name.
struct Listed<'a> {
    net: &'a Network,
    ways: BTreeMap<(usize, usize), Vec<Way>>,
}

impl<'a> Listed<'a> {
    fn new(net: &'a Network) -> Self {
        let mut listed = BTreeMap::new();
        for demand in &net.demands {
            let stops = match &demand.want {
                Want::Flow(stops) => stops.clone(),
                Want::Never(two) => two.to_vec(),
            };
            for leg in stops.windows(2) {
                listed.entry((leg[0], leg[1])).or_insert_with(|| ways(net, leg[0], leg[1]));
            }
        }
        Self { net, ways: listed }
    }

    /// The shortest choice of one way for each leg, and of those the first in the order of the file.
    fn chosen(&self, set: &Setting, stops: &[usize]) -> Option<Way> {
        // Of the ways of a leg that begin and end alike, the best will do.
        let mut legs = Vec::new();
        for leg in stops.windows(2) {
            let mut best: BTreeMap<(usize, usize), &Way> = BTreeMap::new();
            for way in self.ways[&(leg[0], leg[1])].iter().filter(|way| is_open(self.net, set, leg[0], way)) {
                let known = best.entry((way[0].1, way[way.len() - 1].1)).or_insert(way);
                if (way.len(), way) < (known.len(), *known) {
                    *known = way;
                }
            }
            legs.push(best.into_values().collect::<Vec<&Way>>());
        }
        let mut choices: Vec<Way> = vec![Vec::new()];
        for (leg, ways) in legs.iter().enumerate() {
            let stop = stops[leg];
            let mut longer = Vec::new();
            for choice in &choices {
                for way in ways {
                    let by = choice.last().map(|(_, pipe)| *pipe).filter(|_| !is_end(self.net, stop));
                    if by.is_none_or(|by| passes(self.net, set, stop, by, way[0].1)) {
                        longer.push(choice.iter().chain(way.iter()).copied().collect::<Way>());
                    }
                }
            }
            choices = longer;
        }
        choices.into_iter().min_by_key(|way| (way.len(), way.clone()))
    }

    fn meets(&self, set: &Setting, want: &Want) -> bool {
        match want {
            Want::Flow(stops) => self.chosen(set, stops).is_some(),
            Want::Never([from, to]) => from != to && self.chosen(set, &[*from, *to]).is_none(),
        }
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
        if rng.random_bool(0.15) {
            let twin = if rng.random_bool(0.5) { [from, to] } else { [to, from] };
            net.pipes.push(Pipe { from: twin[0], to: twin[1], via: Vec::new() });
        }
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
            let mut stops = vec![some(&mut rng)];
            for _ in 0..rng.random_range(1..=3) {
                let last = stops[stops.len() - 1];
                stops.push((last + rng.random_range(1..count)) % count);
            }
            Want::Flow(stops)
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

/// The nodes and pipes of a path after its first node.
fn way_of(path: &Path) -> Way {
    path.nodes.iter().skip(1).copied().zip(path.pipes.iter().map(|stretch| stretch.pipe)).collect()
}

fn check_proof(net: &Network, seed: u64) {
    let listed = Listed::new(net);
    let proof = prove(net).expect("it is proved");
    let all = settings(net, false);
    let works: Vec<&Setting> =
        all.iter().filter(|set| net.demands.iter().all(|demand| listed.meets(set, &demand.want))).collect();
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
    let always = |at: &usize| all.iter().all(|set| listed.meets(set, &net.demands[*at].want));
    assert_eq!(findings.always_met, (0..net.demands.len()).filter(always).collect::<Vec<_>>(), "{seed}");
    assert_eq!(findings.at_odds.is_empty(), proof.works, "{seed}");
    let meets_some = |of: &[usize]| all.iter().any(|set| of.iter().all(|at| listed.meets(set, &net.demands[*at].want)));
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
            net.demands.iter().any(|demand| listed.meets(set, &demand.want) != listed.meets(&other, &demand.want))
        });
        assert_eq!(findings.idle.contains(&at), !makes_a_difference, "{seed}: {at}");
    }
}

fn check_setting(net: &Network, set: &Setting, all: &[Setting], seed: u64) {
    let listed = Listed::new(net);
    let examined = examine(net, set).expect("it is judged");
    for (demand, state) in net.demands.iter().zip(&examined.demands) {
        assert_eq!(state.met, listed.meets(set, &demand.want), "{seed}: {demand:?} {set:?}");
        assert_eq!(state.path.is_some(), state.met && matches!(demand.want, Want::Flow(_)), "{seed}");
        assert_eq!(state.leak.is_some(), !state.met && matches!(demand.want, Want::Never(_)), "{seed}");
        if let Some(path) = state.path.as_ref().or(state.leak.as_ref()) {
            let stops = match &demand.want {
                Want::Flow(stops) => stops.clone(),
                Want::Never(two) => two.to_vec(),
            };
            assert_eq!(path.nodes[0], stops[0], "{seed}");
            let chosen = if stops[0] == stops[1] { Some(Vec::new()) } else { listed.chosen(set, &stops) };
            assert_eq!(Some(way_of(path)), chosen, "{seed}: {demand:?} {set:?}");
            for (stretch, nodes) in path.pipes.iter().zip(path.nodes.windows(2)) {
                let pipe = &net.pipes[stretch.pipe];
                let ends = if stretch.forward { [pipe.from, pipe.to] } else { [pipe.to, pipe.from] };
                assert_eq!(ends, nodes, "{seed}");
            }
            assert_eq!(path.pipes.len() + 1, path.nodes.len(), "{seed}");
        }
        if state.met || matches!(demand.want, Want::Never(_)) {
            assert_eq!(state.blocked_by, Vec::<usize>::new(), "{seed}");
            continue;
        }
        let mending = all
            .iter()
            .filter(|other| listed.meets(other, &demand.want))
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

#[test]
fn what_ships_have_is_what_walking_it_says() {
    // A cooler with a bypass; two pipes between the same nodes; a non-return valve and two pumps as stops; a three-way
    // valve as a stop.
    let cooler = examine::network(
        &["t tank", "m junction", "i valve", "cooler cooler", "o valve", "b valve", "n junction", "e engine"],
        &["t>m", "m>i", "i>cooler", "cooler>o", "o>n", "m>b", "b>n", "n>e"],
        &["t>cooler>e", "t>e", "e>cooler>n>t"],
    );
    let twins = examine::network(
        &["h junction", "e engine", "k junction", "v valve", "d engine"],
        &["h>e", "h>e", "h>k", "e>v", "v>d", "v>d"],
        &["h>e>h", "h>e>h>e>v", "d>v>d", "e>h>k"],
    );
    let pumps = examine::network(
        &["t tank", "s valve", "p pump", "q pump", "n non-return", "m junction", "u tank", "r valve"],
        &["t>s", "s>p", "s>q", "p>n", "q>m", "n>m", "m>u", "m>r", "r>t"],
        &["t>p>n>m>u", "t>q>m>t", "t>p>q>u", "u!t", "t>s>n>t"],
    );
    let mixing = examine::network(
        &["e engine", "c three-way ways=k/b", "k cooler", "b junction", "p pump", "x valve"],
        &["e>c", "c>k", "c>b", "k>p", "b>p", "p>x", "x>e"],
        &["e>c>k>p", "e>c>b>p>e", "k>c>b", "k>c>k", "e!k"],
    );
    for (seed, net) in [cooler, twins, pumps, mixing].iter().enumerate() {
        let all = settings(net, true);
        check_proof(net, seed as u64);
        for set in &all {
            check_setting(net, set, &all, seed as u64);
        }
    }
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
