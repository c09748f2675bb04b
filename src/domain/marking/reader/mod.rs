//! The second reader of a typed answer: a small trained network that is given the question, the answer and all points at
//! once and says of each point how likely the answer says it, denies it, or does neither. `training/` makes it.
//!
//! It reads what the matcher of words (`text`) does not: before and after, open and shut, must and need not, other words
//! for the same. It is pure: bytes in, scores out. Processors that add in another order may move a score by some thousandths.

mod error;
mod network;
mod sequence;
mod tokens;

use std::ops::Range;

use crate::domain::key_point::KeyPoint;
pub use error::ReaderError;
use network::Network;
use sequence::{Sequence, stretches};
use tokens::Tokens;

/// The trained reader, loaded.
pub struct Reader {
    network: Network,
    tokens: Tokens,
}

/// What the reader made of an answer: one for each point, in order.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// One for each of the card's points.
    pub points: Vec<PointReading>,
}

/// What the reader made of one point.
#[derive(Debug, Clone, PartialEq)]
pub struct PointReading {
    /// How likely the answer says it.
    pub said: Score,
    /// How likely it denies it.
    pub denied: Score,
    /// Where it looked, in bytes of the answer; none where the answer has no word.
    pub evidence: Option<Range<usize>>,
}

/// A likelihood in thousandths, 0 to 1,000.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Score(pub u16);

impl Score {
    /// The step to which scores are rounded.
    pub const STEP: f64 = 0.001;

    /// From a likelihood, 0 to 1.
    pub fn of(share: f32) -> Self {
        Self((share.clamp(0.0, 1.0) * 1_000.0).round() as u16)
    }

    /// The likelihood, 0 to 1.
    pub fn share(self) -> f64 {
        f64::from(self.0) * Self::STEP
    }
}

impl Reader {
    /// Loads the reader from the bytes of `reader.onnx` and the lines of `vocab.txt`.
    ///
    /// # Errors
    /// Where either is damaged, or the two do not go together.
    pub fn load(weights: Vec<u8>, vocabulary: &str) -> Result<Self, ReaderError> {
        let tokens = Tokens::read(vocabulary)?;
        let network = Network::load(weights)?;
        if network.words().is_some_and(|words| words != tokens.count()) {
            return Err(ReaderError::Vocabulary(format!(
                "it has {} words, the weights have another number",
                tokens.count()
            )));
        }
        Ok(Self { network, tokens })
    }

    /// Reads an answer to a card's question against its points.
    ///
    /// # Errors
    /// Where the network fails.
    pub fn read(&self, ask: &str, points: &[KeyPoint], answer: &str) -> Result<Reading, ReaderError> {
        let mut whole: Vec<PointReading> = Vec::new();
        for rows in stretches(&self.tokens, ask, points, answer)? {
            let mut read = Vec::with_capacity(points.len());
            for row in rows {
                read.extend(self.read_row(&row)?);
            }
            whole = if whole.is_empty() { read } else { whole.into_iter().zip(read).map(firmer).collect() };
        }
        Ok(Reading { points: whole })
    }

    fn read_row(&self, row: &Sequence) -> Result<Vec<PointReading>, ReaderError> {
        if row.words.is_empty() {
            return Ok(vec![PointReading { said: Score(0), denied: Score(0), evidence: None }; row.points.len()]);
        }
        let chances = self.network.run(row)?;
        let read = chances.points.iter().zip(&chances.look).map(|(chance, look)| PointReading {
            said: Score::of(chance[1]),
            denied: Score::of(chance[2]),
            evidence: row.looked_at(look),
        });
        Ok(read.collect())
    }
}

/// Of two stretches of an answer the one that touches the point more.
fn firmer((first, second): (PointReading, PointReading)) -> PointReading {
    let touches = |read: &PointReading| read.said.0 + read.denied.0;
    if touches(&second) > touches(&first) { second } else { first }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scores_are_rounded_to_thousandths_and_kept_within_one() {
        assert_eq!([Score::of(0.123_4), Score::of(1.5), Score::of(-1.0)], [Score(123), Score(1_000), Score(0)]);
        assert!((Score(123).share() - 0.123).abs() < 1e-12);
    }

    #[test]
    fn damaged_weights_and_lists_are_told_apart() {
        let list = "[PAD]\n[UNK]\n[CLS]\n[SEP]\nvalve\n";
        assert!(matches!(Reader::load(vec![1, 2, 3], list), Err(ReaderError::Weights(_))));
        assert!(matches!(Reader::load(Vec::new(), "valve\n"), Err(ReaderError::Vocabulary(_))));
    }
}
