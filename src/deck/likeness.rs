//! Questions that are nearly the same: two sets of words that share most of their words, and all their numbers.
//!
//! Only questions that share one of their rarest words are compared, so that thousands of cards cost little. It is
//! a hint to the writer, and where a deck has very many questions built alike it looks at some pairs only.

use std::collections::HashMap;

use super::folding::words;

/// Shared words over all words of the two, from which two questions are alike.
const ALIKE: f64 = 0.7;
/// Shorter questions are too easily alike.
const FEWEST_WORDS: usize = 4;
/// Of a longer question only its beginning is compared.
const MOST_WORDS: usize = 80;
/// How many questions each question is compared with for each of its rare words.
const MOST_COMPARED: usize = 100;

/// For each question that is nearly the same as an earlier one: its position and the earlier one's.
pub(crate) fn alike<'a>(asks: impl Iterator<Item = &'a str>) -> Vec<(usize, usize)> {
    let (sets, is_number) = word_sets(asks);
    let mut by_word: HashMap<u32, Vec<usize>> = HashMap::new();
    let mut pairs = Vec::new();
    for (n, set) in sets.iter().enumerate() {
        if set.len() < FEWEST_WORDS {
            continue;
        }
        // Two sets that are alike share at least one of this many of their rarest words.
        let least_shared = (ALIKE * set.len() as f64).ceil() as usize;
        let rare = &set[..set.len() - least_shared + 1];
        let earlier = rare.iter().find_map(|word| {
            let candidates = by_word.get(word)?;
            candidates.iter().rev().take(MOST_COMPARED).find(|other| is_alike(set, &sets[**other], &is_number)).copied()
        });
        pairs.extend(earlier.map(|earlier| (n, earlier)));
        for word in rare {
            by_word.entry(*word).or_default().push(n);
        }
    }
    pairs
}

/// Each question's words as numbers without repeats, the rarest word first; equal numbers are equal words, and
/// all sets are in one and the same order. With them, for each word, whether a digit is in it.
fn word_sets<'a>(asks: impl Iterator<Item = &'a str>) -> (Vec<Vec<u32>>, Vec<bool>) {
    let mut numbers: HashMap<String, u32> = HashMap::new();
    let mut uses: Vec<u32> = Vec::new();
    let mut is_number: Vec<bool> = Vec::new();
    let mut sets: Vec<Vec<u32>> = asks
        .map(|ask| {
            let mut set: Vec<u32> = words(ask)
                .take(MOST_WORDS)
                .map(|word| {
                    let next = numbers.len() as u32;
                    if !numbers.contains_key(&word) {
                        is_number.push(word.contains(|c: char| c.is_ascii_digit()));
                    }
                    *numbers.entry(word).or_insert(next)
                })
                .collect();
            set.sort_unstable();
            set.dedup();
            uses.resize(numbers.len(), 0);
            for &word in &set {
                uses[word as usize] += 1;
            }
            set
        })
        .collect();
    for set in &mut sets {
        set.sort_unstable_by_key(|word| (uses[*word as usize], *word));
    }
    (sets, is_number)
}

fn is_alike(a: &[u32], b: &[u32], is_number: &[bool]) -> bool {
    let (short, long) = if a.len() <= b.len() { (a, b) } else { (b, a) };
    if (short.len() as f64) < ALIKE * long.len() as f64 {
        return false;
    }
    let numbers_differ = |one: &[u32], other: &[u32]| {
        one.iter().any(|word| is_number.get(*word as usize) == Some(&true) && !other.contains(word))
    };
    if numbers_differ(a, b) || numbers_differ(b, a) {
        return false;
    }
    let shared = short.iter().filter(|word| long.contains(word)).count();
    shared as f64 >= ALIKE * (a.len() + b.len() - shared) as f64
}

#[cfg(test)]
mod tests {
    use super::alike;

    #[test]
    fn a_word_more_is_alike_and_another_subject_is_not() {
        let asks = [
            "Which trips act at once on a diesel alternator in service?",
            "Which trips act at once on a diesel alternator now in service?",
            "Which trips are tried each month on a steam turbine in service?",
            "How many bar stand in receiver 1 before a start?",
            "How many bar stand in receiver 2 before a start?",
            "Name the trips.",
            "Name the trips.",
        ];
        assert_eq!(alike(asks.into_iter()), [(1, 0)]);
    }
}
