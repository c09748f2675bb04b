//! Which lead question comes next: functions by their exact share, competences and cards by lot.

use super::blueprint::{Blueprint, function_of};
use super::setup::Draw;
use super::sitting::Sitting;
use crate::domain::card::Card;
use crate::domain::deck::Source;
use crate::domain::random::SplitMix64;

/// A card that may be asked.
#[derive(Debug, Clone)]
pub struct Candidate<'a> {
    /// The card.
    pub card: &'a Card,
    /// What it cites.
    pub sources: Vec<&'a Source>,
    /// The chance that the learner recalls it today; none for a card never met.
    pub recall: Option<f64>,
}

/// So many lead questions for each function, in the blueprint's order: shares of the whole by largest remainder, the
/// earlier function first where remainders are equal. Functions without cards get none; the others share theirs.
pub fn allot(blueprint: &Blueprint, leads: usize, has_cards: impl Fn(&str) -> bool) -> Vec<(String, usize)> {
    let functions: Vec<(&str, f64)> =
        blueprint.functions().into_iter().filter(|(key, weight)| *weight > 0.0 && has_cards(key)).collect();
    let all: f64 = functions.iter().map(|(_, weight)| weight).sum();
    let exact: Vec<f64> = functions.iter().map(|(_, weight)| leads as f64 * weight / all).collect();
    let mut counts: Vec<usize> = exact.iter().map(|share| share.floor() as usize).collect();
    let mut by_rest: Vec<usize> = (0..exact.len()).collect();
    by_rest.sort_by(|a, b| exact[*b].fract().total_cmp(&exact[*a].fract()).then(a.cmp(b)));
    let over = leads.saturating_sub(counts.iter().sum());
    by_rest.into_iter().take(over).for_each(|at| counts[at] += 1);
    functions.iter().map(|(key, _)| (*key).to_owned()).zip(counts).collect()
}

/// The next lead question's card; none where nothing is left to ask.
pub(super) fn lead<'a, 'b>(sitting: &Sitting, candidates: &'b [Candidate<'a>]) -> Option<&'b Candidate<'a>> {
    let setup = &sitting.setup;
    let mut lot = SplitMix64::of_turn(setup.seed, sitting.turns.len());
    let asked = |candidate: &&Candidate<'_>| sitting.turns.iter().any(|turn| turn.question.card == candidate.card.key);
    let left: Vec<&Candidate<'a>> = candidates.iter().filter(|c| !asked(c)).collect();
    let fresh: Vec<&Candidate<'a>> = left.iter().copied().filter(|c| !setup.recent.contains(&c.card.key)).collect();
    for pool in [fresh, left] {
        if let Some(function) = next_function(sitting, &pool)
            && let Some(card) = of_function(setup.draw, &setup.blueprint, &function, &pool, &mut lot)
        {
            return Some(card);
        }
    }
    None
}

/// The function that is furthest behind its share, among those that have cards left.
fn next_function(sitting: &Sitting, pool: &[&Candidate<'_>]) -> Option<String> {
    let blueprint = &sitting.setup.blueprint;
    let has_cards = |function: &str| {
        pool.iter().any(|c| blueprint.weight_of(&c.card.topic) > 0.0 && function_of(&c.card.topic) == function)
    };
    let leads = blueprint.length.leads().max(sitting.leads().count() + 1);
    let allotted = allot(blueprint, leads, has_cards);
    let so_far =
        |function: &str| sitting.leads().filter(|turn| function_of(&turn.question.competence) == function).count();
    let behind = |(function, count): &(String, usize)| {
        if *count == 0 { f64::NEG_INFINITY } else { 1.0 - so_far(function) as f64 / *count as f64 }
    };
    // The first of those that are equally far behind, so that a sitting begins in the order of the Code.
    allotted
        .iter()
        .fold(None::<(&(String, usize), f64)>, |best, at| match best {
            Some((_, most)) if behind(at) <= most => best,
            _ => Some((at, behind(at))),
        })
        .map(|((function, _), _)| function.clone())
}

/// A card of the function: its competence by lot after the shares, the card by lot. Coaching favours what is weak.
fn of_function<'a, 'b>(
    draw: Draw,
    blueprint: &Blueprint,
    function: &str,
    pool: &[&'b Candidate<'a>],
    lot: &mut SplitMix64,
) -> Option<&'b Candidate<'a>> {
    let of = |competence: &str| pool.iter().filter(|c| c.card.topic == competence).copied().collect::<Vec<_>>();
    let competences: Vec<(Vec<&'b Candidate<'a>>, f64)> = blueprint
        .shares
        .iter()
        .filter(|share| function_of(&share.competence) == function)
        .map(|share| (of(&share.competence), share.weight))
        .filter(|(cards, weight)| !cards.is_empty() && *weight > 0.0)
        .map(|(cards, weight)| {
            let weakness = cards.iter().map(|c| weakness(c)).sum::<f64>() / cards.len() as f64;
            (cards, if draw == Draw::Coaching { weight * weakness } else { weight })
        })
        .collect();
    let at = by_lot(competences.iter().map(|(_, weight)| *weight), lot)?;
    let cards = &competences[at].0;
    let weights = cards.iter().map(|c| if draw == Draw::Coaching { weakness(c) } else { 1.0 });
    by_lot(weights, lot).map(|at| cards[at])
}

/// How much a card wants coaching: what is not recalled, weighted by importance; a card never met counts as half known.
fn weakness(candidate: &Candidate<'_>) -> f64 {
    let miss = 1.0 - candidate.recall.unwrap_or(0.5).clamp(0.0, 0.99);
    f64::from(candidate.card.weight.max(1)) * miss * miss
}

/// A position by lot after these weights; none where there is nothing to draw.
pub(super) fn by_lot(weights: impl Iterator<Item = f64>, lot: &mut SplitMix64) -> Option<usize> {
    let weights: Vec<f64> = weights.map(|w| if w.is_finite() { w.max(0.0) } else { 0.0 }).collect();
    let all: f64 = weights.iter().sum();
    if all <= 0.0 {
        return (!weights.is_empty()).then(|| lot.position(weights.len()));
    }
    let mut at = lot.share() * all;
    for (n, weight) in weights.iter().enumerate() {
        if at < *weight {
            return Some(n);
        }
        at -= weight;
    }
    weights.iter().rposition(|w| *w > 0.0)
}
