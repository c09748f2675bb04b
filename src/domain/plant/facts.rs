//! Sets of facts, by number.

use std::ops::{BitAnd, BitOr, Not};

/// A set of facts in `W` words of 64 bits. Numbers beyond the room are never in it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Bits<const W: usize>([u64; W]);

/// The facts of a procedure that hold: room for [`super::MOST_FACTS`].
pub type Facts = Bits<4>;

impl<const W: usize> Bits<W> {
    /// No fact.
    pub const NONE: Self = Self([0; W]);

    /// The facts of these numbers.
    pub fn of(numbers: impl IntoIterator<Item = usize>) -> Self {
        let mut set = Self::NONE;
        numbers.into_iter().for_each(|number| set.set(number, true));
        set
    }

    /// Whether the fact holds.
    pub fn has(&self, number: usize) -> bool {
        self.0.get(number / 64).is_some_and(|word| word >> (number % 64) & 1 == 1)
    }

    /// Makes the fact hold or not; a number beyond the room changes nothing.
    pub fn set(&mut self, number: usize, holds: bool) {
        if let Some(word) = self.0.get_mut(number / 64) {
            let bit = 1 << (number % 64);
            if holds { *word |= bit } else { *word &= !bit }
        }
    }

    /// Whether no fact holds.
    pub fn is_empty(&self) -> bool {
        *self == Self::NONE
    }

    /// Numbers of the facts that hold, rising.
    pub fn iter(self) -> impl Iterator<Item = usize> {
        (0..64 * W).filter(move |number| self.has(*number))
    }
}

impl<const W: usize> Default for Bits<W> {
    fn default() -> Self {
        Self::NONE
    }
}

impl<const W: usize> BitAnd for Bits<W> {
    type Output = Self;
    fn bitand(mut self, other: Self) -> Self {
        self.0.iter_mut().zip(other.0).for_each(|(word, other)| *word &= other);
        self
    }
}

impl<const W: usize> BitOr for Bits<W> {
    type Output = Self;
    fn bitor(mut self, other: Self) -> Self {
        self.0.iter_mut().zip(other.0).for_each(|(word, other)| *word |= other);
        self
    }
}

impl<const W: usize> Not for Bits<W> {
    type Output = Self;
    fn not(mut self) -> Self {
        self.0.iter_mut().for_each(|word| *word = !*word);
        self
    }
}
