//! The exact chance of passing: a dynamic programme over the cards of each part.

/// An oral as it is drawn and marked.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Exam {
    /// The functions that are examined.
    pub parts: Vec<Part>,
    /// Questions that must be answered well over all parts.
    pub needed: usize,
}

/// One function of an oral.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Part {
    /// The function, by the caller's own numbers.
    pub function: usize,
    /// The cards that may be asked.
    pub pool: Vec<Item>,
    /// How many of them are asked, each set of so many as likely as any other.
    pub drawn: usize,
    /// How many of those must be answered well.
    pub floor: usize,
}

/// A card that may be asked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Item {
    /// The chance that it is answered well, 0 to 1.
    pub recall: f64,
    /// Whether a full answer has safety-critical points: a miss may fail the whole oral.
    pub critical: bool,
    /// Whether the card has never been met, so that `recall` is only what is believed of such cards.
    pub unseen: bool,
    /// The area that it belongs to, by the caller's own numbers.
    pub area: usize,
}

impl Exam {
    /// The chance of passing, with questions independent of each other given the items' recall, where every miss of a
    /// safety-critical item fails the oral.
    pub fn chance(&self) -> f64 {
        self.chance_with(1.0, |item| item.recall)
    }

    /// The chance of passing with another recall for each item, where a miss of a safety-critical item fails the oral with
    /// the chance `fatal`, 0 to 1.
    pub fn chance_with(&self, fatal: f64, recall: impl Fn(&Item) -> f64) -> f64 {
        let parts: Vec<Vec<f64>> = self.parts.iter().map(|part| part.distribution(fatal, &recall)).collect();
        self.passing(&parts)
    }

    /// The chance of passing, from each part's distribution of questions answered well.
    pub(super) fn passing(&self, parts: &[Vec<f64>]) -> f64 {
        let whole = parts.iter().fold(vec![1.0], |whole, part| convolved(&whole, part));
        whole.iter().skip(self.needed).sum::<f64>().clamp(0.0, 1.0)
    }

    /// How many questions are asked.
    pub fn asked(&self) -> usize {
        self.parts.iter().map(Part::asked).sum()
    }
}

impl Part {
    /// How many are asked: a small pool is asked whole.
    pub fn asked(&self) -> usize {
        self.drawn.min(self.pool.len())
    }

    /// The chance of each number answered well, from 0 up to the number asked, without what fails the oral: a critical
    /// miss (with the chance `fatal`), or fewer than the floor.
    ///
    /// The cards are gone through one by one. With `s` drawn so far, the next of the `left` cards is drawn with the
    /// chance `(asked - s) / left`, which makes every set of `asked` cards equally likely.
    pub(super) fn distribution(&self, fatal: f64, recall: &impl Fn(&Item) -> f64) -> Vec<f64> {
        let asked = self.asked();
        let wide = asked + 1;
        // chance[s * wide + c]: s drawn, c of them answered well.
        let mut chance = vec![0.0; wide * wide];
        chance[0] = 1.0;
        for (at, item) in self.pool.iter().enumerate() {
            let left = (self.pool.len() - at) as f64;
            let well = recall(item).clamp(0.0, 1.0);
            let badly = (1.0 - well) * if item.critical { 1.0 - fatal } else { 1.0 };
            for s in (0..=asked.min(at)).rev() {
                let drawn = (asked - s) as f64 / left;
                for c in (0..=s).rev() {
                    let before = chance[s * wide + c];
                    if before == 0.0 {
                        continue;
                    }
                    chance[s * wide + c] = before * (1.0 - drawn).max(0.0);
                    if s < asked {
                        chance[(s + 1) * wide + c + 1] += before * drawn * well;
                        chance[(s + 1) * wide + c] += before * drawn * badly;
                    }
                }
            }
        }
        let mut row = chance[asked * wide..].to_vec();
        row.iter_mut().take(self.floor.min(wide)).for_each(|below| *below = 0.0);
        row
    }
}

fn convolved(a: &[f64], b: &[f64]) -> Vec<f64> {
    let mut whole = vec![0.0; a.len() + b.len() - 1];
    for (i, x) in a.iter().enumerate() {
        for (j, y) in b.iter().enumerate() {
            whole[i + j] += x * y;
        }
    }
    whole
}
