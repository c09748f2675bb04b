//! A line-up as data to draw: the schematic, before and after the check.

use std::sync::Arc;

use crate::app::session::Marked;
use crate::domain::piping::{Network, media};
use crate::present::lineup::{LineupAskedView, LineupCheckedView, SchematicView};
use crate::present::watch::ResultView;

/// Before the answer.
pub fn asked(network: &Network) -> LineupAskedView {
    let schematic = SchematicView { network: network.clone(), media: media(network), found: network.as_found() };
    let demands = network.demands.iter().map(|demand| demand.name.clone()).collect();
    LineupAskedView { schematic: Arc::new(schematic), demands }
}

/// After it.
pub fn checked(network: &Network, _marked: &Marked, result: ResultView) -> LineupCheckedView {
    let asked = asked(network);
    LineupCheckedView {
        set: network.as_found(),
        asked,
        check: 1,
        demands: vec![],
        flooded: vec![],
        right: None,
        result,
    }
}

/// The parts of its remedy, each with label, text and whether it is safety-critical.
pub fn remedy(_network: &Network, _part: &mut dyn FnMut(String, String, bool)) {}
