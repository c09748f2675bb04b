//! The networks of the ship's line-ups, as the program reads them; and one that is larger than the sheet.

use std::fs;
use std::path::Path;
use std::sync::OnceLock;

use bedplate::deck::read_deck;
use bedplate::domain::deck::Deck;
use bedplate::domain::kinds::Body;
use bedplate::domain::piping::{Demand, Medium, Network, Node, NodeKind, Pipe, Want};
use toml::{Table, Value};

use crate::support::window::{copy, ship_deck};

/// The ways of the fuel line's cocks to the first filter.
pub const FILTER_ONE: &[(&str, &str)] = &[("inlet-cock", "filter-one"), ("outlet-cock", "filter-one")];

/// The card of the ship's deck whose network is larger than the sheet, once [`large_deck`] has written it.
pub const LARGE: &str = "sea-water-mains";

/// As large as most: distillate to one engine, its return, and what must stay apart from it.
pub fn fuel_network() -> Network {
    network("fuel-line")
}

/// A small one: an emergency bilge suction.
pub fn bilge_network() -> Network {
    network("bilge-suction")
}

/// One that is larger than the sheet.
pub fn large_network() -> Network {
    network(LARGE)
}

/// The network of one of the ship's line-ups.
fn network(card: &str) -> Network {
    static DECK: OnceLock<Deck> = OnceLock::new();
    let deck = DECK.get_or_init(|| {
        let home = tempfile::tempdir().expect("a folder");
        let folder = home.path().join("decks/marram-light");
        copy(ship_deck(), &folder);
        large_deck(home.path());
        read_deck(&folder).deck.expect("a sound deck")
    });
    let card = deck.cards.iter().find(|one| one.key.card == card).expect("it is in the deck");
    match &card.body {
        Body::Lineup(network) => network.clone(),
        _ => panic!("{} is no line-up", card.key.card),
    }
}

/// Writes the largest line-up into the ship's deck of a home.
pub fn large_deck(home: &Path) {
    let head = format!(
        "[[lineup]]\nid = \"{LARGE}\"\ntopic = \"A-III/1.1.5\"\nask = \"Line up sea water through pump 2 and cooler 4.\"\n\
         because = \"The mains join all pumps with all coolers.\"\nsources = [\"practice\"]\nseconds = 65\n"
    );
    fs::write(home.join("decks/marram-light/mains.toml"), head + &large()).expect("written");
}

/// Larger than the sheet: rows of pumps and coolers between two sea chests and two mains.
fn large() -> String {
    let (mut nodes, mut pipes) = (String::new(), String::new());
    let mut node = |key: &str, kind: &str, name: &str, at: (i32, i32), more: &str| {
        nodes +=
            &format!("{{ key = \"{key}\", kind = \"{kind}\", name = \"{name}\", at = [{}, {}]{more} }},\n", at.0, at.1);
    };
    let mut pipe = |from: &str, to: &str, via: &str| {
        pipes += &format!("{{ from = \"{from}\", to = \"{to}\", via = [{via}] }},\n");
    };
    node("high", "sea-chest", "High sea chest", (1, 1), ", medium = \"sea-water\"");
    node("low", "sea-chest", "Low sea chest", (1, 9), ", medium = \"sea-water\"");
    node("high-valve", "valve", "High suction", (2, 1), "");
    node("low-valve", "valve", "Low suction", (2, 9), ", open = true");
    pipe("high", "high-valve", "");
    pipe("low", "low-valve", "");
    for row in 0..5 {
        let (n, y) = (row + 1, 1 + 2 * row);
        node(&format!("tee-{n}"), "junction", "Suction main", (3, y), "");
        node(&format!("suction-{n}"), "valve", &format!("Suction valve of pump {n}"), (4, y), "");
        node(&format!("strainer-{n}"), "filter", &format!("Strainer {n}"), (5, y), "");
        node(&format!("pump-{n}"), "pump", &format!("Sea-water pump {n}"), (6, y), "");
        node(&format!("check-{n}"), "non-return", &format!("Non-return {n}"), (7, y), "");
        node(&format!("delivery-{n}"), "valve", &format!("Delivery valve of pump {n}"), (8, y), "");
        node(&format!("main-{n}"), "junction", "Delivery main", (9, y), "");
        node(&format!("cooler-inlet-{n}"), "valve", &format!("Inlet of cooler {n}"), (10, y), "");
        node(&format!("cooler-{n}"), "cooler", &format!("Central cooler {n}"), (11, y), "");
        node(&format!("cooler-outlet-{n}"), "valve", &format!("Outlet of cooler {n}"), (12, y), "");
        node(&format!("overboard-{n}"), "overboard", &format!("Overboard {n}"), (14, y), "");
        let chain = [
            "tee",
            "suction",
            "strainer",
            "pump",
            "check",
            "delivery",
            "main",
            "cooler-inlet",
            "cooler",
            "cooler-outlet",
            "overboard",
        ];
        for pair in chain.windows(2) {
            pipe(&format!("{}-{n}", pair[0]), &format!("{}-{n}", pair[1]), "");
        }
        if n > 1 {
            pipe(&format!("tee-{}", n - 1), &format!("tee-{n}"), "");
            pipe(&format!("main-{}", n - 1), &format!("main-{n}"), "");
        }
    }
    pipe("high-valve", "tee-1", "");
    pipe("low-valve", "tee-5", "");
    format!(
        "node = [\n{nodes}]\npipe = [\n{pipes}]\ndemand = [{{ name = \"Low sea chest through pump 2 and cooler 4\", flow = \
         [\"low\", \"pump-2\", \"cooler-4\", \"overboard-4\"] }}, {{ name = \"High sea chest shut off\", never = [\"high\", \
         \"pump-2\"] }}]\n"
    )
}

/// A network as decks write it, also one that no deck may hold.
pub fn written(text: &str) -> Network {
    let table: Table = text.parse().expect("TOML");
    network_of(&table)
}

fn network_of(table: &Table) -> Network {
    let rows = |key: &str| -> Vec<&Table> {
        table[key].as_array().expect("rows").iter().map(|row| row.as_table().expect("a table")).collect()
    };
    let text = |row: &Table, key: &str| row.get(key).and_then(Value::as_str).unwrap_or_default().to_owned();
    let flag = |row: &Table, key: &str| row.get(key).and_then(Value::as_bool).unwrap_or(false);
    let keys: Vec<String> = rows("node").iter().map(|row| text(row, "key")).collect();
    let of = |key: &str| keys.iter().position(|k| k == key).unwrap_or_else(|| panic!("no node {key}"));
    let place = |value: &Value| {
        let at: Vec<i32> =
            value.as_array().expect("a place").iter().map(|n| n.as_integer().expect("a number") as i32).collect();
        [at[0], at[1]]
    };
    let list = |value: &Value| -> Vec<usize> {
        value.as_array().expect("keys").iter().map(|k| of(k.as_str().expect("a key"))).collect()
    };
    let nodes = rows("node").into_iter().map(|row| Node {
        key: text(row, "key"),
        kind: NodeKind::ALL.into_iter().find(|k| k.word() == text(row, "kind")).expect("a kind"),
        name: text(row, "name"),
        at: row.get("at").map(place),
        medium: row.get("medium").map(|m| medium(m.as_str().expect("a medium"))),
        open: flag(row, "open"),
        fixed: flag(row, "fixed"),
        ways: row.get("ways").map(|ways| {
            let ways = list(ways);
            [ways[0], ways[1]]
        }),
    });
    let pipes = rows("pipe").into_iter().map(|row| Pipe {
        from: of(&text(row, "from")),
        to: of(&text(row, "to")),
        via: row.get("via").and_then(Value::as_array).map_or_else(Vec::new, |via| via.iter().map(place).collect()),
    });
    let demands = rows("demand").into_iter().map(|row| Demand {
        name: text(row, "name"),
        want: match (row.get("flow"), row.get("never")) {
            (Some(flow), _) => Want::Flow(list(flow)),
            (_, Some(never)) => {
                let never = list(never);
                Want::Never([never[0], never[1]])
            }
            _ => panic!("a demand wants something"),
        },
    });
    Network { nodes: nodes.collect(), pipes: pipes.collect(), demands: demands.collect() }
}

fn medium(word: &str) -> Medium {
    Medium::ALL.into_iter().find(|medium| medium.word() == word).unwrap_or_else(|| panic!("no medium {word}"))
}
