//! The nodes of a line-up.

use super::places::{Names, NodePlaces, Places, on_grid};
use crate::deck::check::Site;
use crate::deck::checks;
use crate::deck::fields::{Context, Table, Text};
use crate::deck::shape::{Field, Shape, keys, needed, optional};
use crate::domain::ids::is_id;
use crate::domain::piping::{MOST_NODES, Medium, Network, Node, NodeKind};

/// What a node may hold; `open` and `fixed` where it can be shut, `ways` where it is a three-way valve.
pub(super) const FIELDS: [Field; 8] = [
    needed("key", Shape::Id, "a short name of the node"),
    needed("kind", Shape::Word(|| NodeKind::ALL.map(NodeKind::word).to_vec()), "what it is"),
    needed("name", Shape::Text, "its name for people"),
    optional("at", Shape::Pair, "column and row on the grid"),
    optional("medium", Shape::Word(|| Medium::ALL.map(Medium::word).to_vec()), "what is in it"),
    optional("open", Shape::Flag, "it is found open"),
    optional("fixed", Shape::Flag, "it stays as found and cannot be turned"),
    optional("ways", Shape::Texts, "of a three-way valve: the two neighbours that it can be set to"),
];
const ALL_KEYS: [&str; 8] = keys(&FIELDS);
const NODE_KEYS: &[&str] = ALL_KEYS.split_at(5).0;
const SHUT_KEYS: &[&str] = ALL_KEYS.split_at(5).1.split_at(2).0;
const WAY_KEYS: &[&str] = ALL_KEYS.split_at(7).1;
const NODE_SAMPLE: &str = "[[lineup.node]] with two brackets above each node";
const KIND_SAMPLE: &str = "kind = \"valve\", or another of the kinds that the manual names";
const WAYS_SAMPLE: &str = "ways = [\"cooler\", \"bypass\"] with the two neighbours that it can be set to";

/// A node with what refers to nodes that may stand below it.
struct Read<'t> {
    key: &'t str,
    site: Site,
    /// The list of ways and its entries.
    ways: Option<(Site, Vec<Text<'t>>)>,
}

/// Reads every `[[lineup.node]]`.
pub(super) fn read<'t>(
    context: &mut Context<'_>,
    card: Table<'t, '_>,
    network: &mut Network,
    places: &mut Places,
) -> Names<'t> {
    let mut names = Names { keys: Vec::new(), is_lacking: true };
    if card.required(context, "node", NODE_SAMPLE).is_none() {
        return names;
    }
    let Some(tables) = card.tables(context, "node", "a node", NODE_SAMPLE) else { return names };
    if tables.is_empty() {
        context.report(checks::key::missing_key(card.site, "node", "a line-up card", NODE_SAMPLE));
        return names;
    }
    names.is_lacking = false;
    let mut read: Vec<Read<'t>> = Vec::with_capacity(tables.len());
    for table in tables {
        if network.nodes.len() == MOST_NODES {
            context.report(checks::file::too_many_of_card(table.site, "nodes", MOST_NODES));
            names.is_lacking = true;
            break;
        }
        let (node, parts) = node(context, table);
        if parts.key.is_empty() {
            names.is_lacking = true;
        } else if names.keys.contains(&parts.key) {
            let site = table.get("key").map_or(table.site, |value| context.site(value.span()));
            context.report(checks::lineup::duplicate_node(site, parts.key));
        }
        names.keys.push(parts.key);
        network.nodes.push(node);
        read.push(parts);
    }
    for (at, parts) in read.into_iter().enumerate() {
        let ways = parts.ways.map(|(list, texts)| {
            let known = texts.iter().filter_map(|text| Some((names.number(context, *text)?, text.site)));
            let known: Vec<(usize, Site)> = known.collect();
            let is_lacking = known.len() < texts.len();
            match known.as_slice() {
                [(first, _), (second, _)] if first != second => network.nodes[at].ways = Some([*first, *second]),
                _ if is_lacking => {}
                _ => context.report(checks::lineup::bad_ways_number(list, parts.key)),
            }
            (list, known)
        });
        places.nodes.push(NodePlaces { node: parts.site, ways });
    }
    names
}

fn node<'t>(context: &mut Context<'_>, table: Table<'t, '_>) -> (Node, Read<'t>) {
    let kind = kind(context, table);
    let what = kind.map_or("a node", NodeKind::one);
    let table = Table { what, ..table };
    match kind {
        None => table.check_keys(context, &[NODE_KEYS, SHUT_KEYS, WAY_KEYS]),
        Some(NodeKind::ThreeWay) => table.check_keys(context, &[NODE_KEYS, WAY_KEYS]),
        Some(kind) if kind.can_be_shut() => table.check_keys(context, &[NODE_KEYS, SHUT_KEYS]),
        Some(_) => table.check_keys(context, &[NODE_KEYS]),
    }
    let key = table.required_text(context, "key", "key = \"a-short-name\"");
    if let Some(key) = key.filter(|key| !is_id(key.value)) {
        context.report(checks::key::bad_id(key.site, key.value));
    }
    let name = table.required_text(context, "name", "name = \"its name for people\"");
    let at = match table.get("at") {
        None => {
            context.report(checks::lineup::missing_place(table.site, key.map_or("", |key| key.value)));
            None
        }
        Some(_) => table.pair(context, "at").and_then(|place| on_grid(context, "at", place)),
    };
    let ways = (kind == Some(NodeKind::ThreeWay))
        .then(|| table.required(context, "ways", WAYS_SAMPLE))
        .flatten()
        .and_then(|value| Some((context.site(value.span()), table.texts(context, "ways")?)));
    let can_be_shut = kind.is_none_or(NodeKind::can_be_shut);
    let node = Node {
        key: key.map_or_else(String::new, Text::own),
        kind: kind.unwrap_or(NodeKind::Junction),
        name: name.map_or_else(String::new, Text::own),
        at,
        medium: medium(context, table),
        open: can_be_shut && table.flag(context, "open"),
        fixed: can_be_shut && table.flag(context, "fixed"),
        ways: None,
    };
    (node, Read { key: key.map_or("", |key| key.value), site: table.site, ways })
}

fn kind(context: &mut Context<'_>, table: Table<'_, '_>) -> Option<NodeKind> {
    let word = table.required_text(context, "kind", KIND_SAMPLE)?;
    let kind = NodeKind::ALL.into_iter().find(|kind| kind.word() == word.value);
    if kind.is_none() {
        context.report(checks::lineup::unknown_node_kind(word.site, word.value));
    }
    kind
}

fn medium(context: &mut Context<'_>, table: Table<'_, '_>) -> Option<Medium> {
    let word = table.text(context, "medium")?;
    let medium = Medium::ALL.into_iter().find(|medium| medium.word() == word.value);
    if medium.is_none() {
        context.report(checks::lineup::unknown_medium(word.site, word.value));
    }
    medium
}

/// Checks that pipes tie every three-way valve to its ways, and to something else.
pub(super) fn check_ways(context: &mut Context<'_>, network: &Network, places: &Places) {
    for (at, (node, places)) in network.nodes.iter().zip(&places.nodes).enumerate() {
        let (Some(ways), Some((list, known))) = (node.ways, &places.ways) else { continue };
        let neighbours: Vec<usize> = network.neighbours(at).collect();
        let mut is_sound = true;
        for (way, site) in known.iter().filter(|(way, _)| !neighbours.contains(way)) {
            context.report(checks::lineup::bad_ways_stranger(*site, &node.key, &network.nodes[*way].key));
            is_sound = false;
        }
        if is_sound && neighbours.iter().all(|neighbour| ways.contains(neighbour)) {
            context.report(checks::lineup::bad_ways_no_common(*list, &node.key));
        }
    }
}
