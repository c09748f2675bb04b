//! What each lead question of a sitting came to by itself, with the follow-ups that belong to it.

use super::sitting::{Asked, Sitting};
use super::verdict::verdict;
use crate::domain::ids::CardKey;

/// What a lead question came to.
#[derive(Debug, Clone, PartialEq)]
pub struct LeadResult {
    /// The card that was asked.
    pub card: CardKey,
    /// The share of points earned with its follow-ups, 0 to 1, as the verdict counts them.
    pub share: f64,
    /// A full answer to the card has safety-critical points.
    pub has_critical: bool,
    /// A safety-critical point stayed missing, even after a prompt, where the sitting's rules say that this fails it.
    pub fatal: bool,
}

/// What each answered lead question came to, in the order of asking: the verdict on a sitting of its turns alone.
pub fn lead_results(sitting: &Sitting) -> Vec<LeadResult> {
    let leads: Vec<usize> =
        (0..sitting.turns.len()).filter(|at| sitting.turns[*at].question.asked == Asked::Lead).collect();
    let ends = leads.iter().skip(1).copied().chain([sitting.turns.len()]);
    leads
        .iter()
        .zip(ends)
        .filter_map(|(from, to)| {
            let mut turns = sitting.turns[*from..to].to_vec();
            let answer = turns.first()?.answer.as_ref()?;
            let has_critical = answer.marks.iter().any(|mark| mark.critical);
            let card = turns.first()?.question.card.clone();
            for turn in &mut turns {
                turn.question.about = turn.question.about.and_then(|about| about.checked_sub(*from));
            }
            let verdict = verdict(&Sitting { setup: sitting.setup.clone(), turns });
            Some(LeadResult { card, share: verdict.share(), has_critical, fatal: !verdict.fatal().is_empty() })
        })
        .collect()
}
