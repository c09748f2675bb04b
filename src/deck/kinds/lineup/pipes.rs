//! The pipes of a line-up.

use super::places::{Names, Places, on_grid};
use crate::deck::checks;
use crate::deck::fields::{Context, Table};
use crate::deck::shape::{Field, Shape, keys, needed, optional};
use crate::domain::piping::{MOST_PIPES, Network, Pipe};

pub(super) const FIELDS: [Field; 3] = [
    needed("from", Shape::Text, "the key of the node it leaves"),
    needed("to", Shape::Text, "the key of the node it comes to"),
    optional("via", Shape::Pairs, "its corners on the grid"),
];
const PIPE_KEYS: &[&str] = &keys(&FIELDS);
const PIPE_SAMPLE: &str = "[[lineup.pipe]] with two brackets above each pipe";

/// A pipe may have this many corners.
const MOST_CORNERS: usize = 40;

/// Reads every `[[lineup.pipe]]`.
pub(super) fn read(
    context: &mut Context<'_>,
    card: Table<'_, '_>,
    names: &Names<'_>,
    network: &mut Network,
    places: &mut Places,
) {
    if card.required(context, "pipe", PIPE_SAMPLE).is_none() {
        return;
    }
    let Some(tables) = card.tables(context, "pipe", "a pipe", PIPE_SAMPLE) else { return };
    if tables.is_empty() {
        context.report(checks::key::missing_key(card.site, "pipe", "a line-up card", PIPE_SAMPLE));
    }
    for table in tables {
        if network.pipes.len() == MOST_PIPES {
            context.report(checks::file::too_many_of_card(table.site, "pipes", MOST_PIPES));
            break;
        }
        if let Some(pipe) = pipe(context, table, names) {
            network.pipes.push(pipe);
            places.pipes.push(table.site);
        }
    }
}

fn pipe(context: &mut Context<'_>, table: Table<'_, '_>, names: &Names<'_>) -> Option<Pipe> {
    table.check_keys(context, &[PIPE_KEYS]);
    let from = table.required_text(context, "from", "from = \"the key of the node it leaves\"");
    let to = table.required_text(context, "to", "to = \"the key of the node it comes to\"");
    let from = from.and_then(|key| names.number(context, key));
    let end = to.and_then(|key| names.number(context, key));
    let mut via = Vec::new();
    let corners = table.pairs(context, "via").unwrap_or_default();
    if let Some((_, site)) = corners.get(MOST_CORNERS) {
        context.report(checks::file::too_many_of_card(*site, "corners of a pipe", MOST_CORNERS));
    }
    for corner in corners.into_iter().take(MOST_CORNERS) {
        via.extend(on_grid(context, "via", corner));
    }
    let (from, end) = (from?, end?);
    if let Some(key) = to.filter(|_| from == end) {
        context.report(checks::lineup::pipe_to_itself(key.site, key.value));
        return None;
    }
    Some(Pipe { from, to: end, via })
}
