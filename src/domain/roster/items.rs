//! Item analysis of classical test theory, over first attempts.
//!
//! Facility is the share of right answers among all who answered. Discrimination is Pearson's correlation of the item with
//! the *rest*, the number of other items right, over the learners who have a first attempt on every item of the set
//! (Henrysson, Psychometrika 28, 1963). An item or a rest that is alike for all of them has none.

use super::firsts::Firsts;

/// A figure, or why there is none.
pub type Figure = Result<f64, Why>;

/// Why a figure cannot be worked out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Why {
    /// Nobody has answered it.
    NobodyMet,
    /// So many learners have a first attempt on every item; it takes two.
    FewComplete(usize),
    /// There are fewer than two items.
    OneItem,
    /// All who answered every item did alike in this one.
    ItemAlike,
    /// All did alike in the other items.
    RestAlike,
    /// All have the same number right.
    TotalsAlike,
}

impl Why {
    /// The reason in words, to stand behind "cannot be worked out, because".
    pub fn words(self) -> String {
        match self {
            Why::NobodyMet => "nobody has met it".to_owned(),
            Why::FewComplete(0) => "no learner has answered every card of the set".to_owned(),
            Why::FewComplete(_) => "only one learner has answered every card of the set".to_owned(),
            Why::OneItem => "the set has fewer than two cards".to_owned(),
            Why::ItemAlike => "all who answered every card did alike in this one".to_owned(),
            Why::RestAlike => "all who answered every card did alike in the others".to_owned(),
            Why::TotalsAlike => "all who answered every card have as many right".to_owned(),
        }
    }
}

/// One card's figures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ItemFigures {
    /// Learners who answered it.
    pub n: usize,
    /// Share of them who were right.
    pub facility: Figure,
    /// Correlation with the rest.
    pub discrimination: Figure,
    /// Learners that the correlation rests on.
    pub complete: usize,
}

impl ItemFigures {
    /// Of a card that nobody could answer.
    pub fn of_nobody() -> Self {
        Self { n: 0, facility: Err(Why::NobodyMet), discrimination: Err(Why::NobodyMet), complete: 0 }
    }
}

/// A key point's figure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PointFigure {
    /// The point's number, from 1.
    pub point: usize,
    /// First attempts that say whether it was said.
    pub n: usize,
    /// Share of them in which it was.
    pub said: f64,
}

/// Rows of the learners who answered every item.
pub(super) fn complete(answers: &[Vec<Option<bool>>]) -> Vec<Vec<bool>> {
    answers.iter().filter_map(|row| row.iter().copied().collect()).collect()
}

/// Each item's figures. `answers` has a row for each learner: right, wrong, or none.
pub fn items(answers: &[Vec<Option<bool>>]) -> Vec<ItemFigures> {
    let count = answers.first().map_or(0, Vec::len);
    let whole = complete(answers);
    let totals: Vec<f64> = whole.iter().map(|row| row.iter().filter(|right| **right).count() as f64).collect();
    let figures = |at: usize| {
        let given: Vec<bool> = answers.iter().filter_map(|row| row[at]).collect();
        let right = given.iter().filter(|right| **right).count();
        let facility = if given.is_empty() { Err(Why::NobodyMet) } else { Ok(right as f64 / given.len() as f64) };
        let item: Vec<f64> = whole.iter().map(|row| f64::from(u8::from(row[at]))).collect();
        let rest: Vec<f64> = totals.iter().zip(&item).map(|(total, one)| total - one).collect();
        let discrimination = match whole.len() {
            _ if given.is_empty() => Err(Why::NobodyMet),
            _ if count < 2 => Err(Why::OneItem),
            few @ 0..=1 => Err(Why::FewComplete(few)),
            _ if are_alike(&item) => Err(Why::ItemAlike),
            _ if are_alike(&rest) => Err(Why::RestAlike),
            _ => Ok(pearson(&item, &rest)),
        };
        ItemFigures { n: given.len(), facility, discrimination, complete: whole.len() }
    };
    (0..count).map(figures).collect()
}

/// Point by point, for the card at a position: over first attempts at its newest edition met, since numbers may have
/// moved between editions. Empty for cards without key points.
pub fn points(firsts: &Firsts<'_>, card: usize) -> Vec<PointFigure> {
    let newest = firsts.of_card(card).map(|first| first.edition).max();
    let of = || firsts.of_card(card).filter(|first| Some(first.edition) == newest);
    let last = of().flat_map(|first| first.said.iter().chain(&first.missed)).max().copied().unwrap_or(0);
    let figure = |point: usize| {
        let said = of().filter(|first| first.said.contains(&point)).count();
        let missed = of().filter(|first| first.missed.contains(&point)).count();
        let n = said + missed;
        (n > 0).then(|| PointFigure { point, n, said: said as f64 / n as f64 })
    };
    (1..=last).filter_map(figure).collect()
}

/// Whether all numbers are the same; they are counts, so that this is exact.
pub(super) fn are_alike(numbers: &[f64]) -> bool {
    numbers.windows(2).all(|two| two[0] == two[1])
}

fn pearson(one: &[f64], other: &[f64]) -> f64 {
    let mean = |of: &[f64]| of.iter().sum::<f64>() / of.len() as f64;
    let (a, b) = (mean(one), mean(other));
    let sum = |f: &dyn Fn(f64, f64) -> f64| one.iter().zip(other).map(|(x, y)| f(x - a, y - b)).sum::<f64>();
    let (xy, xx, yy) = (sum(&|x, y| x * y), sum(&|x, _| x * x), sum(&|_, y| y * y));
    (xy / (xx.sqrt() * yy.sqrt())).clamp(-1.0, 1.0)
}
