//! What follows a miss: why the card was missed.

use crate::domain::card::Card;
use crate::domain::english;
use crate::domain::marking::Marking;
use crate::present::words;

/// Why a card was missed, in a sentence for the end of the watch.
pub fn why_missed(card: &Card, marking: &Marking) -> String {
    let (Some(points), Some(asked)) = (marking.detail.points(), card.key_points()) else {
        return marking.reason.clone();
    };
    let missed: Vec<usize> = (0..points.len()).filter(|n| !points[*n].said).collect();
    let critical = missed.iter().find(|n| asked.get(**n).is_some_and(|point| point.critical));
    match (critical, missed.as_slice()) {
        (Some(n), _) => format!("Safety-critical, not said: {}", asked[*n].say),
        (None, []) => marking.reason.clone(),
        (None, all) => format!(
            "{} of {} not said, among them: {}",
            english::capital(&words::number(all.len())),
            words::count(points.len(), "point"),
            asked[all[0]].say
        ),
    }
}
