//! Proving line-ups of twenty valves against plain enumeration: trying each of the 1,048,576 settings.
//!
//! Run with `cargo bench --bench piping`. After the rows it prints, for each shape, how many settings work and how
//! many times as long as the proof it takes to try them all; both must find the same number.

use std::hint::black_box;
use std::time::Instant;

use bedplate::domain::piping::{Demand, Network, Node, NodeKind, Pipe, Want, examine, prove};
use divan::Bencher;

const VALVES: usize = 20;

/// The shapes that are measured.
#[derive(Debug, Clone, Copy)]
enum Shape {
    /// One valve after the other.
    InLine,
    /// Side by side.
    SideBySide,
    /// Ten tanks, each with two outlets side by side, and a demand for each.
    Pairs,
    /// Two headers with five suctions and five deliveries each, and what must not be mixed.
    Headers,
    /// A square of valves, each tied to those beside it, and a drain that must stay dry.
    Square,
}

const SHAPES: [Shape; 5] = [Shape::InLine, Shape::SideBySide, Shape::Pairs, Shape::Headers, Shape::Square];

struct Maker {
    network: Network,
}

impl Maker {
    fn node(&mut self, kind: NodeKind) -> usize {
        let at = self.network.nodes.len();
        self.network.nodes.push(Node {
            key: format!("n{at}"),
            kind,
            name: String::new(),
            at: None,
            medium: None,
            open: false,
            fixed: false,
            ways: None,
        });
        at
    }

    fn pipes(&mut self, run: &[usize]) {
        let pipes = run.windows(2).map(|ends| Pipe { from: ends[0], to: ends[1], via: Vec::new() });
        self.network.pipes.extend(pipes);
    }

    fn flow(&mut self, nodes: &[usize]) {
        self.network.demands.push(Demand { name: String::new(), want: Want::Flow(nodes.to_vec()) });
    }

    fn never(&mut self, from: usize, to: usize) {
        self.network.demands.push(Demand { name: String::new(), want: Want::Never([from, to]) });
    }
}

fn network(shape: Shape) -> Network {
    let mut made = Maker { network: Network::default() };
    let valves: Vec<usize> = (0..VALVES).map(|_| made.node(NodeKind::Valve)).collect();
    let [tank, engine] = [made.node(NodeKind::Tank), made.node(NodeKind::Engine)];
    match shape {
        Shape::InLine => {
            let run: Vec<usize> = [tank].into_iter().chain(valves).chain([engine]).collect();
            made.pipes(&run);
            made.flow(&[tank, engine]);
        }
        Shape::SideBySide => {
            for valve in valves {
                made.pipes(&[tank, valve, engine]);
            }
            made.flow(&[tank, engine]);
        }
        Shape::Pairs => {
            for pair in valves.chunks(2) {
                let tank = made.node(NodeKind::Tank);
                made.pipes(&[tank, pair[0], engine]);
                made.pipes(&[tank, pair[1], engine]);
                made.flow(&[tank, engine]);
            }
        }
        Shape::Headers => {
            let headers = [made.node(NodeKind::Junction), made.node(NodeKind::Junction)];
            let tanks: Vec<usize> = (0..5).map(|_| made.node(NodeKind::Tank)).collect();
            let users: Vec<usize> = (0..5).map(|_| made.node(NodeKind::Engine)).collect();
            for (header, valves) in headers.into_iter().zip(valves.chunks(10)) {
                for (n, tank) in tanks.iter().enumerate() {
                    made.pipes(&[*tank, valves[n], header]);
                }
                for (n, user) in users.iter().enumerate() {
                    made.pipes(&[header, valves[5 + n], *user]);
                }
            }
            made.flow(&[tanks[0], users[0]]);
            made.flow(&[tanks[1], users[1]]);
            made.never(tanks[0], users[1]);
            made.never(tanks[4], users[4]);
        }
        Shape::Square => {
            let at = |column: usize, row: usize| valves[column * 4 + row];
            for column in 0..5 {
                made.pipes(&[at(column, 0), at(column, 1), at(column, 2), at(column, 3)]);
            }
            for row in 0..4 {
                made.pipes(&[tank, at(0, row), at(1, row), at(2, row), at(3, row), at(4, row), engine]);
            }
            let drain = made.node(NodeKind::Overboard);
            made.pipes(&[at(2, 0), drain]);
            made.flow(&[tank, engine]);
            made.never(tank, drain);
        }
    }
    made.network
}

/// Tries every setting, each node a bit: how many meet every demand.
fn tried(network: &Network) -> u64 {
    let nodes = network.nodes.len();
    let mut beside = vec![0_u64; nodes];
    for pipe in &network.pipes {
        beside[pipe.from] |= 1 << pipe.to;
        beside[pipe.to] |= 1 << pipe.from;
    }
    let ends: u64 = (0..nodes).filter(|at| network.nodes[*at].kind.is_end()).map(|at| 1 << at).sum();
    let turnable: u64 = (1 << VALVES) - 1;
    let always = ((1_u64 << nodes) - 1) & !turnable;
    let flows = |open: u64, from: usize, to: usize| {
        let mut seen = open & 1 << from;
        let mut edge = seen;
        while edge != 0 {
            let node = edge.trailing_zeros() as usize;
            edge &= edge - 1;
            let next = beside[node] & open & !seen;
            seen |= next;
            edge |= next & !ends;
        }
        seen >> to & 1 == 1
    };
    let mut works = 0;
    for set in 0..1_u64 << VALVES {
        let open = always | set;
        works += u64::from(network.demands.iter().all(|demand| match &demand.want {
            Want::Flow(nodes) => nodes.windows(2).all(|leg| flows(open, leg[0], leg[1])),
            Want::Never([from, to]) => !flows(open, *from, *to),
        }));
    }
    works
}

#[divan::bench(args = SHAPES, sample_count = 20)]
fn proof(bencher: Bencher, shape: Shape) {
    let network = network(shape);
    bencher.bench(|| prove(&network));
}

#[divan::bench(args = SHAPES, sample_count = 20)]
fn check_with_all_shut(bencher: Bencher, shape: Shape) {
    let network = network(shape);
    let shut = network.all_shut();
    bencher.bench(|| examine(&network, &shut));
}

fn main() {
    divan::main();
    println!("\nsettings of {VALVES} valves that work, and how many times as long it takes to try each of 1,048,576:");
    for shape in SHAPES {
        let network = network(shape);
        let start = Instant::now();
        let by_trying = black_box(tried(&network));
        let trying = start.elapsed();
        let start = Instant::now();
        const TIMES: u32 = 20;
        for _ in 0..TIMES {
            black_box(prove(&network)).expect("it is proved");
        }
        let proving = start.elapsed() / TIMES;
        assert_eq!(prove(&network).expect("it is proved").settings, Some(by_trying), "{shape:?}");
        let times = trying.as_secs_f64() / proving.as_secs_f64();
        println!("{:>12}: {by_trying:>7} settings, {times:.0} times", format!("{shape:?}"));
    }
}
