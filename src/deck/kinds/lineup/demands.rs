//! The demands of a line-up.

use super::places::{DemandPlaces, Names, Places};
use crate::deck::check::Site;
use crate::deck::checks;
use crate::deck::fields::{Context, Table, Text};
use crate::deck::shape::{Field, Shape, keys, needed, optional};
use crate::domain::piping::{Demand, MOST_DEMANDS, Network, Want};

pub(super) const FIELDS: [Field; 3] = [
    needed("name", Shape::Text, "what is wanted, in a few words"),
    optional("flow", Shape::Texts, "what flow goes through, in this order"),
    optional("never", Shape::Texts, "from where to where it must never flow"),
];
const DEMAND_KEYS: &[&str] = &keys(&FIELDS);
const DEMAND_SAMPLE: &str = "[[lineup.demand]] with two brackets above each demand";

/// A flow may name this many nodes.
const MOST_STOPS: usize = 40;

/// Reads every `[[lineup.demand]]`.
pub(super) fn read(
    context: &mut Context<'_>,
    card: Table<'_, '_>,
    names: &Names<'_>,
    network: &mut Network,
    places: &mut Places,
) {
    if card.required(context, "demand", DEMAND_SAMPLE).is_none() {
        return;
    }
    let Some(tables) = card.tables(context, "demand", "a demand", DEMAND_SAMPLE) else { return };
    if tables.is_empty() {
        context.report(checks::key::missing_key(card.site, "demand", "a line-up card", DEMAND_SAMPLE));
    }
    for table in tables {
        if network.demands.len() == MOST_DEMANDS {
            context.report(checks::file::too_many_of_card(table.site, "demands", MOST_DEMANDS));
            break;
        }
        if let Some((demand, stops)) = demand(context, table, names) {
            network.demands.push(demand);
            places.demands.push(DemandPlaces { demand: table.site, stops });
        }
    }
}

/// A demand with the places of the nodes that it names.
fn demand(context: &mut Context<'_>, table: Table<'_, '_>, names: &Names<'_>) -> Option<(Demand, Vec<Site>)> {
    table.check_keys(context, &[DEMAND_KEYS]);
    let name = table.required_text(context, "name", "name = \"what is wanted, in a few words\"");
    let (want, sites) = match (table.get("flow"), table.get("never")) {
        (Some(_), None) => {
            let (stops, sites) = stops(context, table, names, "flow")?;
            (Want::Flow(stops), sites)
        }
        (None, Some(_)) => {
            let (two, sites) = stops(context, table, names, "never")?;
            (Want::Never(<[usize; 2]>::try_from(two).ok()?), sites)
        }
        (flow, _) => {
            context.report(checks::lineup::bad_demand_one_of(table.site, flow.is_some()));
            return None;
        }
    };
    Some((Demand { name: name.map(Text::own)?, want }, sites))
}

/// The nodes that a demand names, in order, with the place of each.
fn stops(
    context: &mut Context<'_>,
    table: Table<'_, '_>,
    names: &Names<'_>,
    key: &str,
) -> Option<(Vec<usize>, Vec<Site>)> {
    let value = table.get(key)?;
    let site = context.site(value.span());
    let texts = table.texts(context, key)?;
    let most = if key == "flow" { MOST_STOPS } else { 2 };
    if texts.len() > MOST_STOPS {
        context.report(checks::file::too_many_of_card(site, "nodes in a demand", MOST_STOPS));
        return None;
    }
    let nodes: Vec<Option<usize>> = texts.iter().map(|text| names.number(context, *text)).collect();
    if !(2..=most).contains(&texts.len()) {
        context.report(checks::lineup::bad_demand_number(site, key, texts.len()));
        return None;
    }
    if key == "flow" {
        for pair in texts.windows(2).filter(|pair| pair[0].value == pair[1].value) {
            context.report(checks::lineup::stop_twice(pair[1].site, pair[1].value));
        }
    }
    Some((nodes.into_iter().collect::<Option<_>>()?, texts.into_iter().map(|text| text.site).collect()))
}

/// Stops that flow cannot go through, because they have one pipe only; whether there were any.
pub(super) fn dead_ends(context: &mut Context<'_>, network: &Network, places: &Places) -> bool {
    let mut is_any = false;
    for (demand, places) in network.demands.iter().zip(&places.demands) {
        let Want::Flow(stops) = &demand.want else { continue };
        let between = 1..stops.len().saturating_sub(1);
        for at in between {
            let node = &network.nodes[stops[at]];
            if !node.kind.is_end() && network.neighbours(stops[at]).count() == 1 {
                context.report(checks::lineup::dead_end(places.stops[at], &node.key, node.kind));
                is_any = true;
            }
        }
    }
    is_any
}
