//! Where the parts of a network stand in the file, and its nodes by their keys.

use crate::deck::check::Site;
use crate::deck::checks;
use crate::deck::fields::{Context, Text};

/// Columns and rows lie between this and its negative.
const MOST_GRID: i64 = 1_000;

/// Where the parts of a network stand in the file.
#[derive(Default)]
pub(super) struct Places {
    pub(super) card: Site,
    pub(super) nodes: Vec<NodePlaces>,
    pub(super) pipes: Vec<Site>,
    pub(super) demands: Vec<DemandPlaces>,
}

/// Where a demand stands, and each node that it names.
pub(super) struct DemandPlaces {
    pub(super) demand: Site,
    pub(super) stops: Vec<Site>,
}

/// Where the parts of a node stand.
pub(super) struct NodePlaces {
    pub(super) node: Site,
    /// The list of a three-way valve's ways, and each of them with its site.
    pub(super) ways: Option<(Site, Vec<(usize, Site)>)>,
}

/// The nodes, by key.
pub(super) struct Names<'t> {
    pub(super) keys: Vec<&'t str>,
    /// Some could not be read, so that nothing can be said of one that is not there.
    pub(super) is_lacking: bool,
}

impl Names<'_> {
    /// The node of this key; reported where there is none.
    pub(super) fn number(&self, context: &mut Context<'_>, key: Text<'_>) -> Option<usize> {
        let number = self.keys.iter().position(|known| *known == key.value);
        if number.is_none() && !self.is_lacking {
            let keys = self.keys.iter().copied().filter(|key| !key.is_empty());
            context.report(checks::lineup::unknown_node(key.site, key.value, keys));
        }
        number
    }
}

/// A place on the grid; reported where it lies outside.
pub(super) fn on_grid(context: &mut Context<'_>, key: &str, place: ([i64; 2], Site)) -> Option<[i32; 2]> {
    let ([column, row], site) = place;
    let part = |part: i64| i32::try_from(part).ok().filter(|_| part.abs() <= MOST_GRID);
    let place = part(column).zip(part(row));
    if place.is_none() {
        context.report(checks::lineup::bad_place(site, key));
    }
    place.map(|(column, row)| [column, row])
}
