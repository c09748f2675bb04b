//! What follows a miss: why the card was missed, and, for a stubborn one, of how many parts its remedy is made.

use crate::domain::card::{Body, Card};
use crate::domain::drawing::Pointing;
use crate::domain::marking::{Detail, Marking};
use crate::domain::{piping, plant};
use crate::present::words;

/// How many parts the remedy of a card has: those of its kind, the reason where there is one, the sources.
pub fn parts(card: &Card) -> usize {
    let of_kind = match &card.body {
        Body::Recall(recall) => recall.points.len(),
        Body::Figure(_) => 1,
        Body::Why(why) => why.links.len(),
        Body::Sequence(procedure) => plant::prove(procedure).ok().and_then(|proof| proof.one).map_or(0, |o| o.len()),
        Body::Lineup(network) => network.demands.len() + settled_by(network),
        // The figures, every line of the method, the answer.
        Body::Working(working) => working.lines.len() + 2,
        Body::Point(pointing) => said_of(pointing),
    };
    of_kind + usize::from(card.because.is_some()) + 1
}

/// What the proof of a network says of its valves: those always open, those always shut, a setting that works.
fn settled_by(network: &piping::Network) -> usize {
    let Ok(proof) = piping::prove(network) else { return 0 };
    let said = [!proof.needed_open.is_empty(), !proof.needed_shut.is_empty(), proof.least_open.is_some()];
    said.into_iter().filter(|said| *said).count()
}

/// What a drawing says of the part to find: its name, how it looks, what it is a piece of.
fn said_of(pointing: &Pointing) -> usize {
    let Some(target) = pointing.target().map(|target| &pointing.drawing.parts[target]) else { return 0 };
    let whole = target.within.and_then(|whole| pointing.drawing.parts.get(whole));
    1 + usize::from(target.look.is_some()) + usize::from(whole.is_some())
}

/// Why a card was missed, in a sentence for the end of the watch.
pub fn why_missed(card: &Card, marking: &Marking) -> String {
    let (Detail::Recall { points }, Body::Recall(recall)) = (&marking.detail, &card.body) else {
        return marking.reason.clone();
    };
    let missed: Vec<usize> = (0..points.len()).filter(|n| !points[*n].said).collect();
    let critical = missed.iter().find(|n| recall.points.get(**n).is_some_and(|point| point.critical));
    match (critical, missed.as_slice()) {
        (Some(n), _) => format!("Safety-critical, not said: {}", recall.points[*n].say),
        (None, []) => marking.reason.clone(),
        (None, all) => format!(
            "{} of {} not said, among them: {}",
            words::capital(&words::number(all.len())),
            words::count(points.len(), "point"),
            recall.points[all[0]].say
        ),
    }
}
