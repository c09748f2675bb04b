//! Marks a why: links put in their causal order, false links refused.

use super::{AnswerError, Detail, Marked, check_positions, in_words, sentence};
use crate::domain::card::Why;
use crate::domain::outcome::Outcome;

/// Marks links given by position from 1, in `links` then `false_links`.
pub(super) fn mark(why: &Why, given: &[usize], in_time: bool) -> Result<Marked, AnswerError> {
    let count = why.links.len();
    check_positions(given, count + why.false_links.len(), "link")?;
    let right: Vec<usize> = given.iter().copied().filter(|p| *p <= count).collect();
    let false_links = given.len() - right.len();
    let in_order = longest_rising(&right).len();
    let evidence = in_order.saturating_sub(false_links);
    let outcome = Outcome::from_share(evidence as f64, count as f64, in_time);
    Ok((outcome, reason(in_order, false_links, right.len(), count), Detail::Why { in_order, false_links }))
}

fn reason(in_order: usize, false_links: usize, given: usize, count: usize) -> String {
    let order = match in_order {
        n if n == count => format!("all {} links are in order", in_words(count)),
        n => format!("{} of {} links {} in order", in_words(n), in_words(count), if n == 1 { "is" } else { "are" }),
    };
    let missing = match count - given {
        0 => String::new(),
        1 => ", one was left out".to_owned(),
        n => format!(", {} were left out", in_words(n)),
    };
    let wrong = match false_links {
        0 => String::new(),
        1 => ", and one that does not belong was used".to_owned(),
        n => format!(", and {} that do not belong were used", in_words(n)),
    };
    format!("{}{missing}{wrong}.", sentence(&order))
}

/// The longest rising run, not necessarily of neighbours: the links that stand in their right order.
pub fn longest_rising(positions: &[usize]) -> Vec<usize> {
    // `ends[n]` is where the smallest last link of a rising run of n + 1 links stands; `before` leads back along each.
    let mut ends: Vec<usize> = Vec::new();
    let mut before: Vec<Option<usize>> = Vec::with_capacity(positions.len());
    for (here, position) in positions.iter().enumerate() {
        let at = ends.partition_point(|end| positions[*end] < *position);
        before.push(at.checked_sub(1).map(|n| ends[n]));
        match ends.get_mut(at) {
            Some(end) => *end = here,
            None => ends.push(here),
        }
    }
    let mut run: Vec<usize> =
        std::iter::successors(ends.last().copied(), |here| before[*here]).map(|here| positions[here]).collect();
    run.reverse();
    run
}

#[cfg(test)]
mod tests {
    use super::longest_rising;

    #[test]
    fn the_longest_rising_run_may_skip() {
        for (positions, longest) in [
            (&[][..], 0),
            (&[1], 1),
            (&[1, 2, 3, 4], 4),
            (&[4, 3, 2, 1], 1),
            (&[2, 1, 3, 4], 3),
            (&[4, 1, 2, 3], 3),
            (&[3, 1, 4, 2, 5], 3),
        ] {
            assert_eq!(longest_rising(positions).len(), longest, "{positions:?}");
        }
    }
}
