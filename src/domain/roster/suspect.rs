//! Cards that a lecturer had better look at, and why.

use rustc_hash::FxHashSet;

use super::items::ItemFigures;

/// Under so many learners a figure is a hint, and no card is suspect by it.
pub const FEW: usize = 10;
/// A facility below this is hard, one above the other easy.
const HARD: f64 = 0.2;
const EASY: f64 = 0.95;
/// Many notches: by so many learners at least, and by this share of those who answered it.
const NOTCHERS: usize = 2;
const NOTCHED: f64 = 0.25;

/// Why a card is suspect.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Suspect {
    /// Those who know the rest do worse in it.
    Negative,
    /// Hardly anybody gets it.
    Hard,
    /// Almost everybody gets it.
    Easy,
    /// Many learners moved its outcome by a notch.
    Notched,
    /// A learner reported a fault in it.
    Reported,
}

impl Suspect {
    /// The code.
    pub fn code(self) -> &'static str {
        match self {
            Suspect::Negative => "negative",
            Suspect::Hard => "hard",
            Suspect::Easy => "easy",
            Suspect::Notched => "notched",
            Suspect::Reported => "reported",
        }
    }

    /// What to look at.
    pub fn look(self) -> &'static str {
        match self {
            Suspect::Negative => {
                "Those who do well in the rest do worse here: look whether the answer is right, and whether the question \
                 can be read in two ways."
            }
            Suspect::Hard => {
                "Hardly anybody is right at first sight: look whether it was taught, whether the question says what is \
                 wanted, and whether the points are too many."
            }
            Suspect::Easy => {
                "Almost everybody is right at first sight: look whether the question gives the answer away, or whether it \
                 asks too little."
            }
            Suspect::Notched => {
                "Many learners moved the outcome: look at typed answers that were marked otherwise, and at accepted and \
                 refused words."
            }
            Suspect::Reported => "Learners reported a fault: read what they wrote.",
        }
    }
}

/// Why the card with these figures is suspect; empty where it is not. `notched` and `met` count learners, `reports`
/// counts reports.
pub fn suspects(figures: &ItemFigures, (notched, met): (usize, usize), reports: usize) -> Vec<Suspect> {
    let mut found = Vec::new();
    if figures.complete >= FEW && figures.discrimination.is_ok_and(|r| r < 0.0) {
        found.push(Suspect::Negative);
    }
    if figures.n >= FEW && figures.facility.is_ok_and(|share| share < HARD) {
        found.push(Suspect::Hard);
    }
    if figures.n >= FEW && figures.facility.is_ok_and(|share| share > EASY) {
        found.push(Suspect::Easy);
    }
    if notched >= NOTCHERS && notched as f64 >= NOTCHED * met as f64 {
        found.push(Suspect::Notched);
    }
    if reports > 0 {
        found.push(Suspect::Reported);
    }
    found
}

/// Learners who moved the outcome of any answer to each card, by position of the card.
pub fn notched<'a>(
    cards: &[super::record::AssignedCard],
    learners: impl Iterator<Item = &'a [super::record::HandedAttempt]>,
) -> Vec<usize> {
    let mut counts = vec![0; cards.len()];
    for attempts in learners {
        let moved: FxHashSet<_> = attempts
            .iter()
            .filter(|attempt| !attempt.voided && attempt.notch != crate::domain::outcome::Notch::None)
            .map(|attempt| &attempt.card)
            .collect();
        for (count, card) in counts.iter_mut().zip(cards) {
            *count += usize::from(moved.contains(&card.card));
        }
    }
    counts
}
