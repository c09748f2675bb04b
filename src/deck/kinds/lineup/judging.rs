//! What cannot work in a line-up that reads well: demands that no setting meets; and what could be better.

use super::drawn::{Tied, tied};
use super::places::Places;
use crate::deck::checks;
use crate::deck::fields::Context;
use crate::domain::piping::{Demand, Findings, Network, Want, survey};

/// Judges a network and reports what is wrong with it.
pub(super) fn judge(context: &mut Context<'_>, network: &Network, places: &Places) {
    let Ok(findings) = survey(network) else {
        context.report(checks::card::too_complex_lineup(places.card));
        return;
    };
    no_setting_works(context, network, places, &findings);
    for at in findings.always_met {
        let demand = &network.demands[at];
        context.report(checks::lineup::always_met(places.demands[at].demand, &demand.name, is_flow(demand)));
    }
    // What is not tied well has been told as such.
    for at in findings.idle.into_iter().filter(|at| tied(network, *at) == Tied::Well) {
        context.report(checks::lineup::idle_valve(places.nodes[at].node, &network.nodes[at].key));
    }
}

fn no_setting_works(context: &mut Context<'_>, network: &Network, places: &Places, findings: &Findings) {
    match findings.at_odds.as_slice() {
        [] => {}
        [one] => {
            let demand = &network.demands[*one];
            context.report(checks::lineup::no_setting_one(places.demands[*one].demand, &demand.name, is_flow(demand)));
        }
        [first, ..] => {
            let names: Vec<&str> = findings.at_odds.iter().map(|at| network.demands[*at].name.as_str()).collect();
            context.report(checks::lineup::no_setting_together(places.demands[*first].demand, &names));
        }
    }
}

fn is_flow(demand: &Demand) -> bool {
    matches!(demand.want, Want::Flow(_))
}
