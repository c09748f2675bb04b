//! The next lesson: the headings whose teaching lifts a class's expected first answers most.
//!
//! A heading's gain is *misses x weight x share of the blueprint*, added up over its cards: how many answers of the class
//! would be missed at first sight as things stand, and right if the heading were known. A card's share of misses is drawn
//! towards its heading's, and that towards the class's, as if a few more answers had come out so ([`HEADING`], [`CARD`]):
//! where few have answered, one answer says little. Weight and share of the blueprint are taken against their means over
//! the set, so that a gain is in answers; without a blueprint every competence has the same share.

use std::collections::BTreeMap;

use super::firsts::Firsts;
use super::items::{PointFigure, points};
use super::record::AssignedCard;
use crate::domain::oral::Blueprint;

/// A heading's share of misses is worked out as if so many answers more had come out as the class's do.
const HEADING: f64 = 6.0;
/// A card's, as if so many more had come out as its heading's do.
const CARD: f64 = 4.0;
/// A heading takes so many minutes to open, and so many more for each thing brought up.
const OPENING: u32 = 5;
const EACH: u32 = 2;
/// At most so many points are brought up, and so many cards opened with.
const MOST_POINTS: usize = 5;
const MOST_CARDS: usize = 3;

/// What a lesson is wanted for.
#[derive(Debug, Clone, Copy)]
pub struct Wish<'a> {
    /// Its length in minutes.
    pub minutes: u32,
    /// How the oral is shared; none where every competence counts alike.
    pub blueprint: Option<&'a Blueprint>,
}

/// A heading of the lesson.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// The competence's key.
    pub topic: String,
    /// The heading; none for cards of the competence that have none.
    pub heading: Option<String>,
    /// The expected rise in right first answers over the class.
    pub gain: f64,
    /// First answers that it rests on.
    pub n: usize,
    /// Minutes that it takes.
    pub minutes: u32,
    /// Cards to open with, by position, the most missed first.
    pub cards: Vec<usize>,
    /// Points to bring up, as the card's position and the point's number, the most missed first.
    pub points: Vec<(usize, PointFigure)>,
}

/// What a heading would gain, by (competence, heading), with its first answers and each card's part in it; all headings,
/// the greatest gain first.
pub fn gains(cards: &[AssignedCard], counts: &[(usize, usize)], learners: usize, wish: Wish<'_>) -> Vec<Gain> {
    let mut headings: BTreeMap<(&str, Option<&str>), Vec<usize>> = BTreeMap::new();
    for (at, card) in cards.iter().enumerate() {
        headings.entry((&card.topic, card.heading.as_deref())).or_default().push(at);
    }
    let sum = |of: &mut dyn Iterator<Item = usize>| {
        of.fold((0.0, 0.0), |(n, missed), at| (n + counts[at].0 as f64, missed + (counts[at].0 - counts[at].1) as f64))
    };
    let (n, missed) = sum(&mut (0..cards.len()));
    // Before anybody has answered, half is as good a guess as any.
    let of_class = if n > 0.0 { missed / n } else { 0.5 };
    let share = |card: &AssignedCard| wish.blueprint.map_or(1.0, |blueprint| blueprint.weight_of(&card.topic));
    let mean = |of: &dyn Fn(&AssignedCard) -> f64| cards.iter().map(of).sum::<f64>() / cards.len().max(1) as f64;
    let (mean_weight, mean_share) = (mean(&|card| f64::from(card.weight)), mean(&share));
    let mut all: Vec<Gain> = headings
        .into_iter()
        .map(|((topic, heading), of)| {
            let (n, missed) = sum(&mut of.iter().copied());
            let of_heading = (missed + HEADING * of_class) / (n + HEADING);
            let gain = |at: usize| {
                let (met, right) = counts[at];
                let of_card = ((met - right) as f64 + CARD * of_heading) / (met as f64 + CARD);
                let counts_for = f64::from(cards[at].weight) / mean_weight * share(&cards[at]) / mean_share;
                if counts_for.is_finite() { learners as f64 * of_card * counts_for } else { 0.0 }
            };
            let mut parts: Vec<(usize, f64)> = of.iter().map(|at| (*at, gain(*at))).collect();
            parts.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
            let total = parts.iter().map(|(_, gain)| gain).sum();
            Gain { topic: topic.to_owned(), heading: heading.map(str::to_owned), n: n as usize, total, parts }
        })
        .collect();
    all.sort_by(|a, b| b.total.total_cmp(&a.total));
    all
}

/// What a heading would gain.
#[derive(Debug, Clone, PartialEq)]
pub struct Gain {
    /// The competence's key.
    pub topic: String,
    /// The heading; none for cards of the competence that have none.
    pub heading: Option<String>,
    /// First answers that it rests on.
    pub n: usize,
    /// The expected rise in right first answers over the class.
    pub total: f64,
    /// Each card's part in it, by position, the greatest first.
    pub parts: Vec<(usize, f64)>,
}

/// The lesson: headings by gain, as many as the minutes hold. The last may be cut to what is left.
pub fn lesson(cards: &[AssignedCard], firsts: &Firsts<'_>, wish: Wish<'_>) -> Vec<Part> {
    if firsts.learners() == 0 {
        return Vec::new();
    }
    let mut left = wish.minutes;
    let mut parts = Vec::new();
    for gain in gains(cards, &firsts.counts(), firsts.learners(), wish) {
        if left < OPENING + EACH || gain.total <= 0.0 {
            break;
        }
        let room = ((left - OPENING) / EACH) as usize;
        let mut missed: Vec<(f64, usize, PointFigure)> = gain
            .parts
            .iter()
            .flat_map(|(at, worth)| {
                points(firsts, *at).into_iter().map(move |point| (worth * (1.0 - point.said), *at, point))
            })
            .filter(|(worth, _, _)| *worth > 0.0)
            .collect();
        missed.sort_by(|a, b| b.0.total_cmp(&a.0));
        missed.truncate(MOST_POINTS.min(room));
        let opening: Vec<usize> = gain.parts.iter().take(MOST_CARDS.min(room)).map(|(at, _)| *at).collect();
        let minutes = OPENING + EACH * missed.len().max(opening.len()) as u32;
        left -= minutes;
        parts.push(Part {
            topic: gain.topic,
            heading: gain.heading,
            gain: gain.total,
            n: gain.n,
            minutes,
            cards: opening,
            points: missed.into_iter().map(|(_, at, point)| (at, point)).collect(),
        });
    }
    parts
}
