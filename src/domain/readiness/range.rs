//! The chance of passing as a range, and what each area costs.

use super::belief::Belief;
use super::exam::{Exam, Item};
use super::form::{logistic, logit, normal_nodes};

/// The range holds the truth nine times in ten: this much lies below it and as much above.
const TAIL: f64 = 0.05;
/// Shifts at which the chance is worked out; between them it is interpolated.
const SHIFT_STEP: f64 = 0.4;
const SHIFTS: usize = 31;
const SHIFT_LEAST: f64 = -6.0;

/// The chance of passing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    /// The chance is less than this one time in twenty.
    pub low: f64,
    /// The mean of what is believed.
    pub middle: f64,
    /// The chance is more than this one time in twenty.
    pub high: f64,
}

/// What an area costs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AreaCost {
    /// The area.
    pub area: usize,
    /// How much higher the chance would be, 0 to 1, were the area at the level.
    pub cost: f64,
}

/// The chance of passing as a range, given what is believed of the learner.
pub fn chance_range(exam: &Exam, belief: &Belief) -> Range {
    let some_unseen = exam.parts.iter().flat_map(|p| &p.pool).any(|item| item.unseen);
    let mean = [(logit(belief.unseen()), 1.0)];
    let levels: &[(f64, f64)] = if some_unseen { &belief.unseen } else { &mean };
    let mut chances = Vec::with_capacity(belief.nodes.len() * levels.len());
    for (level, weight) in levels {
        let curve = Curve::of(exam, *level);
        for node in &belief.nodes {
            let chance = normal_nodes().map(|(x, w)| w * curve.at(node.offset + node.spread * x)).sum::<f64>();
            chances.push((chance.clamp(0.0, 1.0), node.weight * weight));
        }
    }
    let middle = chances.iter().map(|(chance, weight)| chance * weight).sum::<f64>().clamp(0.0, 1.0);
    chances.sort_by(|a, b| a.0.total_cmp(&b.0));
    Range { low: quantile(&chances, TAIL), middle, high: quantile(&chances, 1.0 - TAIL) }
}

/// The chance below which so much of the weight lies, interpolated between the middles of the steps.
fn quantile(sorted: &[(f64, f64)], share: f64) -> f64 {
    let mut below = 0.0;
    let mut last: Option<(f64, f64)> = None;
    for (chance, weight) in sorted {
        let at = below + weight / 2.0;
        if at >= share {
            return match last {
                Some((x, y)) if at > x => y + (chance - y) * (share - x) / (at - x),
                _ => *chance,
            };
        }
        last = Some((at, *chance));
        below += weight;
    }
    last.map_or(0.0, |(_, chance)| chance)
}

/// The chance of passing over shifts of every item's chance.
struct Curve {
    chances: [f64; SHIFTS],
}

impl Curve {
    fn of(exam: &Exam, unseen: f64) -> Self {
        let chances = std::array::from_fn(|n| {
            let shift = SHIFT_LEAST + SHIFT_STEP * n as f64;
            exam.chance_with(|item| recall(item, unseen, shift))
        });
        Self { chances }
    }

    /// Cubic between the nodes (Catmull and Rom), held at the ends.
    fn at(&self, shift: f64) -> f64 {
        let place = ((shift - SHIFT_LEAST) / SHIFT_STEP).clamp(0.0, (SHIFTS - 1) as f64);
        let n = (place.floor() as usize).min(SHIFTS - 2);
        let t = place - n as f64;
        let of = |at: usize| self.chances[at.min(SHIFTS - 1)];
        let (a, b, c, d) = (of(n.saturating_sub(1)), of(n), of(n + 1), of(n + 2));
        let cubic = b + 0.5 * t * (c - a + t * (2.0 * a - 5.0 * b + 4.0 * c - d + t * (3.0 * (b - c) + d - a)));
        cubic.clamp(b.min(c), b.max(c))
    }
}

fn recall(item: &Item, unseen: f64, shift: f64) -> f64 {
    if item.unseen { logistic(unseen + shift) } else { super::form::shifted(item.recall, shift) }
}

/// What each area costs: by how much the mean chance would rise, were every card of the area that lies below `level`
/// at that level. The dearest first; areas that cost nothing are left out.
pub fn area_costs(exam: &Exam, belief: &Belief, areas: usize, level: f64) -> Vec<AreaCost> {
    let unseen = logit(belief.unseen());
    let (offset, spread) = (belief.offset(), belief.spread());
    let nodes: Vec<(f64, f64)> = normal_nodes().map(|(x, w)| (offset + spread * x, w)).collect();
    let plain = |shift: f64| move |item: &Item| recall(item, unseen, shift);
    let parts: Vec<Vec<Vec<f64>>> =
        nodes.iter().map(|(shift, _)| exam.parts.iter().map(|p| p.distribution(&plain(*shift))).collect()).collect();
    let base: f64 = nodes.iter().zip(&parts).map(|((_, w), parts)| w * exam.passing(parts)).sum();
    let mut costs: Vec<AreaCost> = (0..areas)
        .map(|area| {
            let better: f64 = nodes
                .iter()
                .zip(&parts)
                .map(|((shift, w), parts)| {
                    let raised = |item: &Item| {
                        let now = recall(item, unseen, *shift);
                        if item.area == area { now.max(super::form::shifted(level, *shift)) } else { now }
                    };
                    let mended: Vec<Vec<f64>> = exam
                        .parts
                        .iter()
                        .zip(parts)
                        .map(|(part, as_is)| {
                            let touched = part.pool.iter().any(|item| item.area == area);
                            if touched { part.distribution(&raised) } else { as_is.clone() }
                        })
                        .collect();
                    w * exam.passing(&mended)
                })
                .sum();
            AreaCost { area, cost: better - base }
        })
        .filter(|cost| cost.cost > 1e-6)
        .collect();
    costs.sort_by(|a, b| b.cost.total_cmp(&a.cost).then(a.area.cmp(&b.area)));
    costs
}
