//! What a setting of a line-up does, by the letter of the deck format: each rule on a small network of its own.

use std::collections::BTreeMap;

use bedplate::domain::answer::LinedUp;
use bedplate::domain::piping::{
    Demand, Examined, FloodSort, Network, Node, NodeKind, Pipe, Setting, Want, examine, prove,
};

/// A network from short words: nodes as `key kind` with `open`, `fixed` and `ways=a/b` after them, pipes as `a>b`,
/// demands as `a>b>c`, or `a!b` for never.
pub fn network(nodes: &[&str], pipes: &[&str], demands: &[&str]) -> Network {
    let keys: Vec<&str> = nodes.iter().map(|node| node.split(' ').next().expect("a key")).collect();
    let place = |key: &str| keys.iter().position(|known| *known == key).unwrap_or_else(|| panic!("no node {key}"));
    let node = |text: &&str| {
        let mut words = text.split(' ');
        let key = words.next().expect("a key").to_owned();
        let kind = words.next().expect("a kind");
        let kind = NodeKind::ALL.into_iter().find(|known| known.word() == kind).unwrap_or_else(|| panic!("{kind}"));
        let rest: Vec<&str> = words.collect();
        let ways = rest.iter().find_map(|word| word.strip_prefix("ways=")).map(|ways| {
            let (first, second) = ways.split_once('/').expect("two ways");
            [place(first), place(second)]
        });
        Node {
            name: key.to_uppercase(),
            key,
            kind,
            at: None,
            medium: None,
            open: rest.contains(&"open"),
            fixed: rest.contains(&"fixed"),
            ways,
        }
    };
    let pipe = |text: &&str| {
        let (from, to) = text.split_once('>').expect("from and to");
        Pipe { from: place(from), to: place(to), via: Vec::new() }
    };
    let demand = |text: &&str| Demand {
        name: (*text).to_owned(),
        want: match text.split_once('!') {
            Some((from, to)) => Want::Never([place(from), place(to)]),
            None => Want::Flow(text.split('>').map(place).collect()),
        },
    };
    Network {
        nodes: nodes.iter().map(node).collect(),
        pipes: pipes.iter().map(pipe).collect(),
        demands: demands.iter().map(demand).collect(),
    }
}

/// `open` by key, and ways as `valve=way`.
pub fn set(network: &Network, open: &[&str], ways: &[&str]) -> Setting {
    let ways: BTreeMap<String, String> = ways
        .iter()
        .map(|way| way.split_once('=').expect("a way"))
        .map(|(valve, way)| (valve.to_owned(), way.to_owned()))
        .collect();
    let open = open.iter().map(|key| (*key).to_owned()).collect();
    network.setting_of(&LinedUp { open, ways }).expect("a setting")
}

fn examined(network: &Network, open: &[&str], ways: &[&str]) -> Examined {
    examine(network, &set(network, open, ways)).expect("it is judged")
}

/// For each demand: its path, or `blocked by` and what blocks it; `leak` and its path; `met` or `never`.
fn told(network: &Network, open: &[&str], ways: &[&str]) -> Vec<String> {
    let keys = |nodes: &[usize]| nodes.iter().map(|at| network.nodes[*at].key.as_str()).collect::<Vec<_>>().join(" ");
    let examined = examined(network, open, ways);
    let states = examined.demands.iter();
    states
        .map(|state| match (&state.path, &state.leak, state.met, state.blocked_by.as_slice()) {
            (Some(path), None, true, []) => keys(&path.nodes),
            (None, Some(leak), false, []) => format!("leak {}", keys(&leak.nodes)),
            (None, None, true, []) => "met".to_owned(),
            (None, None, false, []) => "never".to_owned(),
            (None, None, false, by) => format!("blocked by {}", keys(by)),
            _ => panic!("{state:?}"),
        })
        .collect()
}

const LINE: [&str; 3] = ["tank tank", "v valve", "engine engine"];

#[test]
fn what_can_be_shut_passes_flow_when_open() {
    for kind in ["valve", "quick-closing", "screw-down-non-return"] {
        let line =
            network(&["tank tank", &format!("v {kind}"), "engine engine"], &["tank>v", "v>engine"], &["tank>engine"]);
        assert_eq!(told(&line, &["v"], &[]), ["tank v engine"], "{kind}");
        assert_eq!(told(&line, &[], &[]), ["blocked by v"], "{kind}");
    }
}

#[test]
fn what_passes_one_way_goes_in_by_to_and_out_by_from() {
    for kind in ["non-return", "pump", "compressor", "screw-down-non-return open fixed"] {
        let nodes = ["a tank", &format!("p {kind}"), "b engine", "c junction"];
        // Two pipes come in, one goes out.
        let net = network(&nodes, &["a>p", "c>p", "p>b"], &["a>b", "b>a", "a>c", "a>p", "p>b", "b>p", "p>a"]);
        assert_eq!(told(&net, &[], &[]), ["a p b", "never", "never", "a p", "p b", "never", "never"], "{kind}");
    }
    // Other pipes carry flow either way, whichever way round they are written.
    let net = network(&["a tank", "f filter", "b engine"], &["f>a", "b>f"], &["a>b", "b>a"]);
    assert_eq!(told(&net, &[], &[]), ["a f b", "b f a"]);
}

#[test]
fn ends_pass_no_flow_through_unless_a_flow_names_them_between_legs() {
    for kind in ["tank", "sea-chest", "overboard", "receiver"] {
        let net = network(&["a engine", &format!("e {kind}"), "b engine"], &["a>e", "e>b"], &["a>b", "a>e>b", "a!b"]);
        assert_eq!(told(&net, &[], &[]), ["never", "a e b", "met"], "{kind}");
    }
    for kind in ["filter", "cooler", "heater", "engine", "junction"] {
        let net = network(&["a engine", &format!("e {kind}"), "b engine"], &["a>e", "e>b"], &["a>b", "a!b"]);
        assert_eq!(told(&net, &[], &[]), ["a e b", "leak a e b"], "{kind}");
    }
}

#[test]
fn a_three_way_valve_joins_its_common_pipe_with_one_way() {
    let nodes = ["jacket engine", "tcv three-way ways=cooler/bypass", "cooler cooler", "bypass junction", "pump pump"];
    let pipes = ["jacket>tcv", "tcv>cooler", "tcv>bypass", "cooler>pump", "bypass>pump"];
    let net =
        network(&nodes, &pipes, &["jacket>cooler>pump", "jacket>bypass>pump", "jacket!bypass", "cooler>tcv>bypass"]);
    assert_eq!(
        told(&net, &[], &["tcv=cooler"]),
        ["jacket tcv cooler pump", "blocked by tcv", "met", "never"],
        "the two ways are never joined with one another"
    );
    assert_eq!(
        told(&net, &[], &["tcv=bypass"]),
        ["blocked by tcv", "jacket tcv bypass pump", "leak jacket tcv bypass", "never"]
    );
    assert_eq!(
        told(&net, &[], &[]),
        ["blocked by tcv", "blocked by tcv", "met", "never"],
        "not named, it joins nothing"
    );
}

#[test]
fn two_legs_cannot_have_a_three_way_valve_both_ways() {
    let nodes = ["t tank", "c three-way ways=a/b", "a engine", "b engine"];
    let net = network(&nodes, &["t>c", "c>a", "c>b"], &["a>t>b", "a>t>a"]);
    assert_eq!(told(&net, &[], &[]), ["never", "blocked by c"]);
    assert_eq!(told(&net, &[], &["c=b"]), ["never", "blocked by c"]);
    assert_eq!(told(&net, &[], &["c=a"]), ["never", "a c t c a"]);
}

#[test]
fn several_common_pipes_are_joined_with_one_another_once_the_valve_is_set() {
    let nodes = ["a engine", "b engine", "c three-way ways=x/y", "x tank", "y tank"];
    let net = network(&nodes, &["a>c", "b>c", "c>x", "c>y"], &["a>b"]);
    assert_eq!(told(&net, &[], &["c=x"]), ["a c b"]);
    assert_eq!(told(&net, &[], &["c=y"]), ["a c b"]);
    assert_eq!(told(&net, &[], &[]), ["blocked by c"]);
}

#[test]
fn blocked_by_is_the_fewest_to_turn_over_all_legs() {
    // By q both legs share a valve, and the two pipes behind it; by r and by s each has one of its own.
    let nodes =
        ["t tank", "u tank", "p valve", "r valve", "s valve", "q valve", "e engine", "m junction", "n junction"];
    let pipes = ["t>p", "p>m", "u>m", "m>q", "q>n", "n>e", "n>e", "t>r", "r>e", "u>s", "s>e"];
    let net = network(&nodes, &pipes, &["u>e>u", "t>e>u", "t>e"]);
    assert_eq!(told(&net, &[], &[]), ["blocked by q", "blocked by p q", "blocked by r"]);
    assert_eq!(told(&net, &["p"], &[])[1], "blocked by q", "one that both legs share, before two of their own");
    // With one pipe behind q, flow that comes by it must go on by another.
    let net = network(&nodes, &[&pipes[..6], &pipes[7..]].concat(), &["u>e>u", "t>e>u", "t>e"]);
    assert_eq!(told(&net, &[], &[]), ["blocked by s q", "blocked by r s", "blocked by r"]);
    // Of equals, what comes first in the file.
    let net = network(&["t tank", "y valve", "x valve", "e engine"], &["t>x", "x>e", "t>y", "y>e"], &["t>e"]);
    assert_eq!(told(&net, &[], &[]), ["blocked by y"]);
    assert_eq!(told(&net, &["x", "y"], &[]), ["t y e"]);
    assert_eq!(told(&net, &["x"], &[]), ["t x e"]);
}

#[test]
fn what_is_fixed_cannot_be_turned() {
    let nodes = ["t tank", "shut valve fixed", "a valve", "b valve", "open valve open fixed", "e engine"];
    let net = network(&nodes, &["t>shut", "shut>e", "t>a", "a>b", "b>open", "open>e"], &["t>e"]);
    assert_eq!(told(&net, &[], &[]), ["blocked by a b"]);
    assert_eq!(told(&net, &["a", "b"], &[]), ["t a b open e"]);
    let net = network(&["t tank", "shut valve fixed", "e engine"], &["t>shut", "shut>e"], &["t>e"]);
    assert_eq!(told(&net, &[], &[]), ["never"]);
}

#[test]
fn a_shut_node_takes_no_flow_and_gives_none() {
    let net = network(&LINE, &["tank>v", "v>engine"], &["tank>v", "v>engine", "tank>v>engine", "tank!v"]);
    assert_eq!(told(&net, &[], &[]), ["blocked by v", "blocked by v", "blocked by v", "met"]);
    assert_eq!(told(&net, &["v"], &[]), ["tank v", "v engine", "tank v engine", "leak tank v"]);
}

#[test]
fn a_flow_goes_through_its_nodes_in_order_and_may_come_back() {
    let nodes = ["tank tank", "v valve", "p pump", "engine engine", "r valve"];
    let pipes = ["tank>v", "v>p", "p>engine", "engine>r", "r>tank"];
    let net = network(&nodes, &pipes, &["tank>p>engine>tank", "tank>engine>p", "tank>tank"]);
    assert_eq!(told(&net, &["v", "r"], &[]), ["tank v p engine r tank", "never", "tank"]);
    assert_eq!(told(&net, &["v"], &[]), ["blocked by r", "never", "tank"]);
}

#[test]
fn flow_goes_through_a_stop_in_by_one_pipe_and_out_by_another() {
    // A cooler with its inlet shut and its bypass open is a dead end, not a way.
    let nodes = ["pump pump", "in valve", "cooler cooler", "out valve", "bypass valve", "m junction", "n junction"];
    let pipes = ["pump>m", "m>in", "in>cooler", "cooler>out", "out>n", "m>bypass", "bypass>n"];
    let net = network(&nodes, &pipes, &["pump>cooler>n", "pump>cooler"]);
    assert_eq!(told(&net, &["out", "bypass"], &[]), ["blocked by in", "pump m bypass n out cooler"]);
    assert_eq!(told(&net, &["in", "out"], &[])[0], "pump m in cooler out n");
    // Two pipes between the same nodes are two pipes, and one is not.
    let nodes = ["h junction", "v valve", "e engine"];
    let one = network(&nodes, &["h>e", "e>v"], &["h>e>h", "h>e>h>e"]);
    assert_eq!(told(&one, &[], &[]), ["never", "never"]);
    let two = network(&nodes, &["h>e", "h>e", "e>v"], &["h>e>h", "h>e>h>e"]);
    assert_eq!(told(&two, &[], &[]), ["h e h", "h e h e"]);
    // At an end flow stops and starts afresh; the first and the last stop put no condition, even as the same node.
    let net = network(&["a engine", "t tank", "b engine"], &["a>t", "a>b"], &["a>t>a", "b>a>t>a>b", "t>a>b", "b>a>b"]);
    assert_eq!(told(&net, &[], &[]), ["a t a", "b a t a b", "t a b", "never"]);
    // The way of a leg may pass other stops, but neither of its own two.
    let net = network(&["a tank", "x filter", "y filter", "b tank"], &["a>x", "x>y", "y>b"], &["a>y>x>b", "a>x>b"]);
    assert_eq!(told(&net, &[], &[]), ["never", "a x y b"]);
    // The choice for one leg must leave room for the next, though it is longer.
    let nodes = ["a tank", "x filter", "j junction", "b tank"];
    let net = network(&nodes, &["a>x", "a>j", "j>x", "j>b"], &["a>x>b", "a>x>a"]);
    assert_eq!(told(&net, &[], &[]), ["a x j b", "a x j a"]);
    let net = network(&nodes, &["a>j", "j>x", "j>x", "j>b"], &["a>x>b"]);
    assert_eq!(told(&net, &[], &[]), ["a j x j b"]);
}

#[test]
fn a_non_return_valve_and_a_three_way_valve_as_stops_let_pass_what_their_kind_lets() {
    let nodes = ["a tank", "n non-return", "b junction", "c three-way ways=x/y", "x filter", "y filter"];
    let pipes = ["a>n", "n>b", "b>c", "c>x", "c>y"];
    let net = network(&nodes, &pipes, &["a>n>b>c>x", "b>n>a", "x>c>y", "a>c>y"]);
    assert_eq!(told(&net, &[], &["c=x"]), ["a n b c x", "never", "never", "blocked by c"]);
    assert_eq!(told(&net, &[], &["c=y"]), ["blocked by c", "never", "never", "a n b c y"]);
}

#[test]
fn flow_takes_the_path_of_fewest_nodes_and_of_those_the_first_in_the_file() {
    let nodes = ["a tank", "l junction", "m junction", "n junction", "b engine"];
    let net = network(&nodes, &["a>n", "n>b", "a>m", "m>b", "a>l", "l>m"], &["a>b", "b>a"]);
    assert_eq!(told(&net, &[], &[]), ["a m b", "b m a"]);
    // Of pipes side by side, the first.
    let net = network(&["a tank", "b engine"], &["b>a", "a>b"], &["a>b"]);
    let path = examined(&net, &[], &[]).demands[0].path.clone().expect("it flows");
    assert_eq!((path.pipes[0].pipe, path.pipes[0].forward), (0, false));
}

#[test]
fn floods_follow_each_path_and_stop_where_flow_is_blocked() {
    let nodes = ["tank tank", "v valve", "p pump", "engine engine", "r valve", "x valve", "bilge tank"];
    let pipes = ["tank>v", "v>p", "engine>p", "p>engine", "r>engine", "tank>r", "engine>x", "x>bilge"];
    let net = network(&nodes, &pipes, &["tank>p>engine", "engine>tank", "engine!bilge", "engine!engine"]);
    let floods = examined(&net, &["v", "x"], &[]).floods();
    let seen: Vec<_> = floods.iter().map(|f| (f.demand, f.step, f.pipe, f.forward, f.sort)).collect();
    assert_eq!(
        seen,
        [
            (0, 0, 0, true, FloodSort::Met),
            (0, 1, 1, true, FloodSort::Met),
            (0, 2, 3, true, FloodSort::Met),
            (1, 0, 4, false, FloodSort::Blocked),
            (2, 0, 6, true, FloodSort::Leak),
            (2, 1, 7, true, FloodSort::Leak),
        ]
    );
    let state = &examined(&net, &["v", "x"], &[]).demands[1];
    assert_eq!(state.reaches.as_ref().expect("it could flow").nodes, [3, 4], "as far as the valve that is shut");
}

#[test]
fn a_proof_says_how_many_settings_work_and_what_is_alike_in_them() {
    let nodes =
        ["t tank", "a valve", "b valve", "s valve fixed open", "c three-way ways=e/d", "e engine", "d tank", "x valve"];
    let pipes = ["t>a", "t>b", "a>s", "b>s", "s>c", "c>e", "c>d", "t>x", "x>e"];
    let net = network(&nodes, &pipes, &["t>e", "t!d"]);
    let proof = prove(&net).expect("it is proved");
    // Eight settings of a, b and x with the cock to the engine, of which all shut does not flow; with the cock to the
    // drain, a and b must be shut, and x open.
    assert_eq!((proof.works, proof.settings), (true, Some(7 + 1)));
    assert_eq!(net.named_setting(&proof.least_open.expect("one")).open, ["a"]);
    assert_eq!((proof.needed_open, proof.needed_shut), (vec![], vec![]));

    let net = network(&nodes, &pipes, &["t>c>e", "t!d", "e>e"]);
    let proof = prove(&net).expect("it is proved");
    // With the cock to the engine and a or b open; by x flow comes to the cock from the engine, and could only go back.
    assert_eq!(proof.settings, Some(6));
    let least = net.named_setting(&proof.least_open.expect("one"));
    assert_eq!((least.open, least.ways), (vec!["a".to_owned()], BTreeMap::from([("c".to_owned(), "e".to_owned())])));

    let net = network(&LINE, &["tank>v", "v>engine"], &["tank>engine", "tank!engine"]);
    let proof = prove(&net).expect("it is proved");
    assert_eq!((proof.works, proof.settings, proof.least_open), (false, Some(0), None));
    assert_eq!((proof.needed_open, proof.needed_shut), (vec![], vec![]));
}

#[test]
fn a_header_with_twenty_valves_is_gone_through_by_two_of_its_pipes() {
    let valves: Vec<String> = (0..20).map(|n| format!("v{n} valve")).collect();
    let nodes: Vec<&str> =
        ["t tank", "header junction", "e engine"].into_iter().chain(valves.iter().map(String::as_str)).collect();
    let pipes: Vec<String> = (0..20)
        .flat_map(|n| match n < 10 {
            true => [format!("t>v{n}"), format!("v{n}>header")],
            false => [format!("header>v{n}"), format!("v{n}>e")],
        })
        .collect();
    let pipes: Vec<&str> = pipes.iter().map(String::as_str).collect();
    // Ten suctions and ten deliveries. To go in and back on one side, two of that side must stand open; where flow goes
    // on to the other side, one of each will do, and the same one on the way back.
    let two_of_ten = (1 << 10) - 1 - 10;
    let some_of_ten = (1 << 10) - 1;
    for (demand, settings) in [
        ("t>header>t", two_of_ten << 10),
        ("t>header>e", some_of_ten * some_of_ten),
        ("e>header>e", two_of_ten << 10),
        ("e>header>t>header>e", some_of_ten * some_of_ten),
        ("t>header>e>header>t", some_of_ten * two_of_ten),
    ] {
        let net = network(&nodes, &pipes, &[demand]);
        let proof = prove(&net).expect("it is proved");
        assert_eq!(proof.settings, Some(settings), "{demand}");
    }
}

#[test]
fn an_answer_that_cannot_be_set_is_an_error_of_the_call() {
    let nodes = ["t tank", "v valve", "f valve fixed", "c three-way ways=e/d", "e engine", "d tank"];
    let net = network(&nodes, &["t>v", "v>c", "c>e", "c>d", "t>f", "f>e"], &["t>e"]);
    for (open, ways, part) in [
        (vec!["v", "v"], vec![], "`v` is given twice"),
        (vec!["w"], vec![], "there is no node `w`; what can be turned is `v`, `c`"),
        (vec!["f"], vec![], "`f` is fixed as found"),
        (vec!["e"], vec![], "`e` is an engine"),
        (vec!["c"], vec![], "set it by `ways`"),
        (vec![], vec![("c", "t")], "`t` is no way of `c`; its ways are `e` and `d`"),
        (vec![], vec![("v", "t")], "`v` is no three-way valve"),
        (vec![], vec![("x", "t")], "there is no node `x`"),
    ] {
        let given = LinedUp {
            open: open.into_iter().map(str::to_owned).collect(),
            ways: ways.into_iter().map(|(key, way)| (key.to_owned(), way.to_owned())).collect(),
        };
        let error = net.setting_of(&given).expect_err(part);
        assert!(error.message.contains(part), "{}", error.message);
    }
    let found = net.as_found();
    assert_eq!(net.named_setting(&found), LinedUp::default());
    let setting = set(&net, &["v"], &["c=d"]);
    assert_eq!(net.setting_of(&net.named_setting(&setting)).expect("it can be set"), setting);
}
