//! Reachability, shortest paths, fewest openings and needed valves against networkx on random networks; how the values
//! were made stands in tests/reference/piping_networks.py.

use std::fs;

use bedplate::domain::piping::{Demand, Network, Node, NodeKind, Pipe, Want, examine, prove};
use serde::Deserialize;

#[derive(Deserialize)]
struct Reference {
    network: Vec<Drawn>,
}

#[derive(Deserialize)]
struct Drawn {
    nodes: Vec<String>,
    pipes: Vec<[usize; 2]>,
    open: Vec<usize>,
    pairs: Vec<Pair>,
}

#[derive(Deserialize)]
struct Pair {
    from: usize,
    to: usize,
    /// Nodes on the shortest path; 0 where there is none.
    length: usize,
    /// Fewest to open; -1 where nothing does it.
    openings: i64,
    /// Fewest open at all.
    least: i64,
    needed: Vec<usize>,
}

fn reference() -> Vec<Drawn> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/reference/piping_networks.toml");
    let text = fs::read_to_string(path).expect("the reference is there");
    toml::from_str::<Reference>(&text).expect("it is what it says").network
}

fn network(drawn: &Drawn) -> Network {
    let node = |(at, text): (usize, &String)| {
        let words: Vec<&str> = text.split(' ').collect();
        Node {
            key: format!("n{at}"),
            kind: NodeKind::ALL.into_iter().find(|kind| kind.word() == words[0]).expect("a kind"),
            name: format!("Node {at}"),
            at: None,
            medium: None,
            open: words.contains(&"open"),
            fixed: words.contains(&"fixed"),
            ways: None,
        }
    };
    Network {
        nodes: drawn.nodes.iter().enumerate().map(node).collect(),
        pipes: drawn.pipes.iter().map(|[from, to]| Pipe { from: *from, to: *to, via: Vec::new() }).collect(),
        demands: Vec::new(),
    }
}

fn demand(want: Want) -> Demand {
    Demand { name: "It flows".to_owned(), want }
}

#[test]
fn paths_and_fewest_openings_are_those_of_networkx() {
    let all = reference();
    assert!(all.len() >= 80);
    for (n, drawn) in all.iter().enumerate() {
        let mut net = network(drawn);
        for pair in &drawn.pairs {
            net.demands.push(demand(Want::Flow(vec![pair.from, pair.to])));
            net.demands.push(demand(Want::Never([pair.from, pair.to])));
        }
        let mut setting = net.all_shut();
        for at in &drawn.open {
            setting.open[*at] = true;
        }
        let examined = examine(&net, &setting).expect("it is judged");
        for (pair, states) in drawn.pairs.iter().zip(examined.demands.chunks(2)) {
            let place = format!("network {n}, {} to {}", pair.from, pair.to);
            let (flow, never) = (&states[0], &states[1]);
            let nodes =
                |path: &Option<bedplate::domain::piping::Path>| path.as_ref().map_or(0, |path| path.nodes.len());
            assert_eq!(nodes(&flow.path), pair.length, "{place}");
            assert_eq!(nodes(&never.leak), pair.length, "{place}");
            assert_eq!((flow.met, never.met), (pair.length > 0, pair.length == 0), "{place}");
            assert_eq!(flow.blocked_by.len() as i64, pair.openings.max(0), "{place}");
            assert_eq!(flow.reaches.is_some(), pair.openings > 0, "{place}");
        }
    }
}

#[test]
fn least_and_needed_are_those_of_networkx_however_many_valves_there_are() {
    let mut beyond_counting = 0;
    for (n, drawn) in reference().iter().enumerate() {
        let mut net = network(drawn);
        for pair in &drawn.pairs {
            let place = format!("network {n}, {} to {}", pair.from, pair.to);
            net.demands = vec![demand(Want::Flow(vec![pair.from, pair.to]))];
            let proof = prove(&net).expect("it is proved");
            assert_eq!(proof.works, pair.least >= 0, "{place}");
            assert_eq!(proof.needed_open, pair.needed, "{place}");
            assert_eq!(proof.needed_shut, Vec::<usize>::new(), "{place}");
            let turnable = net.turnable();
            let least = proof.least_open.map(|set| turnable.iter().filter(|at| set.open[**at]).count() as i64);
            assert_eq!(least.unwrap_or(-1), pair.least, "{place}");
            assert_eq!(proof.settings.is_none(), turnable.len() > 20, "{place}");
            beyond_counting += usize::from(turnable.len() > 20 && proof.works);
        }
    }
    assert!(beyond_counting > 20, "{beyond_counting}");
}
