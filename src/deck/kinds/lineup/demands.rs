//! The demands of a line-up.

use super::{Names, Places};
use crate::deck::checks::{bad_demand, missing_key, too_many};
use crate::deck::fields::{Context, Table, Text};
use crate::domain::piping::{Demand, MOST_DEMANDS, Network, Want};

const DEMAND_KEYS: &[&str] = &["name", "flow", "never"];
const DEMAND_SAMPLE: &str = "[[lineup.demand]] with two brackets above each demand";

/// A flow may name this many nodes.
const MOST_STATIONS: usize = 40;

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
        context.report(missing_key::found(card.site, "demand", "a line-up card", DEMAND_SAMPLE));
    }
    for table in tables {
        if network.demands.len() == MOST_DEMANDS {
            context.report(too_many::of_card(table.site, "demands", MOST_DEMANDS));
            break;
        }
        if let Some(demand) = demand(context, table, names) {
            network.demands.push(demand);
            places.demands.push(table.site);
        }
    }
}

fn demand(context: &mut Context<'_>, table: Table<'_, '_>, names: &Names<'_>) -> Option<Demand> {
    table.check_keys(context, &[DEMAND_KEYS]);
    let name = table.required_text(context, "name", "name = \"what is wanted, in a few words\"");
    let want = match (table.get("flow"), table.get("never")) {
        (Some(_), None) => Want::Flow(stations(context, table, names, "flow")?),
        (None, Some(_)) => Want::Never(<[usize; 2]>::try_from(stations(context, table, names, "never")?).ok()?),
        (flow, _) => {
            context.report(bad_demand::one_of(table.site, flow.is_some()));
            return None;
        }
    };
    Some(Demand { name: name.map(Text::own)?, want })
}

/// The nodes that a demand names, in order.
fn stations(context: &mut Context<'_>, table: Table<'_, '_>, names: &Names<'_>, key: &str) -> Option<Vec<usize>> {
    let value = table.get(key)?;
    let site = context.site(value.span());
    let texts = table.texts(context, key)?;
    let most = if key == "flow" { MOST_STATIONS } else { 2 };
    if texts.len() > MOST_STATIONS {
        context.report(too_many::of_card(site, "nodes in a demand", MOST_STATIONS));
        return None;
    }
    let nodes: Vec<Option<usize>> = texts.iter().map(|text| names.number(context, *text)).collect();
    if !(2..=most).contains(&texts.len()) {
        context.report(bad_demand::number(site, key, texts.len()));
        return None;
    }
    nodes.into_iter().collect()
}
