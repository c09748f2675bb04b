//! The chance of passing as a range, and what each area costs.

use super::belief::{Belief, CERTAIN, Form};
use super::enough::Range;
use super::exam::{Exam, Item, Part};
use super::form::{logistic, logit, normal_nodes, shifted};
use crate::domain::memory::plan::Ability;

/// The range holds the truth nine times in ten: this much lies below it and as much above.
const TAIL: f64 = 0.05;
/// Shifts of met cards at which a part is worked out, and levels of unseen ones; between them it is interpolated.
const SHIFTS: Axis = Axis { least: -5.0, step: 0.5, count: 19 };
const LEVELS: Axis = Axis { least: -4.5, step: 0.875, count: 9 };
/// Points of each of the belief's normal distributions, half of them the others with their sign turned.
const POINTS: usize = 96;
/// Nodes of the form of the day that weigh less are left out.
const LIGHT: f64 = 1e-4;

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
    let tables: Vec<Vec<Table>> =
        belief.fatal.iter().map(|(fatal, _)| exam.parts.iter().map(|part| Table::of(part, *fatal)).collect()).collect();
    let k = belief.functions;
    let points = normal_points(3 * k + 1, POINTS);
    let mut chances = Vec::with_capacity(points.len() * belief.forms.len());
    for form in &belief.forms {
        for point in &points {
            let at = placed(form, point);
            let (shifts, levels): (Vec<f64>, Vec<f64>) = (0..k)
                .map(|function| (at[function] + at[2 * k + function], at[k + function] + at[2 * k + function]))
                .unzip();
            let chance = in_form(exam, &tables[fatal_by_lot(point)], (&shifts, &levels), form.spread);
            chances.push((chance, form.weight / points.len() as f64));
        }
    }
    let middle = chances.iter().map(|(chance, weight)| chance * weight).sum::<f64>().clamp(0.0, 1.0);
    chances.sort_by(|a, b| a.0.total_cmp(&b.0));
    Range { low: quantile(&chances, TAIL), middle, high: quantile(&chances, 1.0 - TAIL) }
}

/// A sixth of a standard normal distribution lies above this.
const SIXTH: f64 = 0.967_421_566_101_701;

/// The last coordinate of a point says by lot which of the three rates of fatal misses holds.
fn fatal_by_lot(point: &[f64]) -> usize {
    let lot = point.last().copied().unwrap_or(0.0);
    if lot < -SIXTH { 0 } else { usize::from(lot > SIXTH) + 1 }
}

/// A learner that the belief holds possible.
#[derive(Debug, Clone, PartialEq)]
pub struct Possible {
    /// For each function, by how much forecasts of memory lie off; how cards never asked are answered in a watch; and how
    /// much better is answered in an oral. Logits.
    memory: Vec<f64>,
    unseen: Vec<f64>,
    oral: Vec<f64>,
    spread: f64,
    fatal: f64,
}

impl Belief {
    /// So many possible learners (an even number), all equally likely. Those of two days go by pairs: the first of one is
    /// the first of the other, somewhat later.
    pub fn possible(&self, count: usize) -> Vec<Possible> {
        let k = self.functions;
        let points = normal_points(3 * k + 1, count);
        let mut spent = 0.0;
        let steps: Vec<(f64, &Form)> = self
            .forms
            .iter()
            .map(|form| {
                spent += form.weight;
                (spent, form)
            })
            .collect();
        let golden = 0.5 * (5f64.sqrt() - 1.0);
        points
            .iter()
            .enumerate()
            .filter_map(|(n, point)| {
                let lot = (0.5 + golden * n as f64).fract();
                let (_, form) = steps.iter().find(|(to, _)| lot < *to).or(steps.last())?;
                let at = placed(form, point);
                Some(Possible {
                    memory: at[..k].to_vec(),
                    unseen: at[k..2 * k].to_vec(),
                    oral: at[2 * k..].to_vec(),
                    spread: form.spread,
                    fatal: self.fatal[fatal_by_lot(point)].0,
                })
            })
            .collect()
    }

    /// The learner in the middle of what is believed.
    pub fn middle(&self) -> Possible {
        let of = |part: usize| (0..self.functions).map(|at| self.mean(part * self.functions + at)).collect();
        Possible { memory: of(0), unseen: of(1), oral: of(2), spread: self.spread(), fatal: self.fatal() }
    }
}

impl Possible {
    /// How this learner answers a function's card in a watch.
    pub fn in_watch(&self, function: usize) -> Ability {
        let function = function.min(self.memory.len() - 1);
        Ability { first: logistic(self.unseen[function]), shift: self.memory[function] }
    }

    /// The chance of passing that this learner would have.
    pub fn chance(&self, exam: &Exam) -> f64 {
        let mut sum = (0.0, 0.0);
        for (x, weight) in normal_nodes().filter(|(_, weight)| *weight > LIGHT) {
            let parts: Vec<Vec<f64>> = exam
                .parts
                .iter()
                .map(|part| {
                    let function = part.function.min(self.oral.len() - 1);
                    let form = self.oral[function] + self.spread * x;
                    let (level, shift) = (self.unseen[function] + form, self.memory[function] + form);
                    part.distribution(self.fatal, &|item: &Item| recall(item, level, shift))
                })
                .collect();
            sum = (sum.0 + weight * exam.passing(&parts), sum.1 + weight);
        }
        (sum.0 / sum.1).clamp(0.0, 1.0)
    }
}

/// The range over the chances of possible learners, all equally likely.
pub fn range_of(chances: &[f64]) -> Range {
    let weight = 1.0 / chances.len().max(1) as f64;
    let mut sorted: Vec<(f64, f64)> = chances.iter().map(|chance| (*chance, weight)).collect();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0));
    let middle = sorted.iter().map(|(chance, weight)| chance * weight).sum::<f64>().clamp(0.0, 1.0);
    Range { low: quantile(&sorted, TAIL), middle, high: quantile(&sorted, 1.0 - TAIL) }
}

/// A point of the belief, from standard normal coordinates.
fn placed(form: &Form, point: &[f64]) -> Vec<f64> {
    let n = form.mean.len();
    let row = |at: usize| &form.root[at * n..at * n + at + 1];
    (0..n).map(|at| form.mean[at] + row(at).iter().zip(point).map(|(a, b)| a * b).sum::<f64>()).collect()
}

/// The chance of passing with these shifts and levels, integrated over the form of the day.
fn in_form(exam: &Exam, tables: &[Table], (shifts, levels): (&[f64], &[f64]), spread: f64) -> f64 {
    let mut sum = (0.0, 0.0);
    for (x, weight) in normal_nodes().filter(|(_, weight)| *weight > LIGHT) {
        let parts: Vec<Vec<f64>> = exam
            .parts
            .iter()
            .zip(tables)
            .map(|(part, table)| {
                let function = part.function.min(shifts.len() - 1);
                table.at(shifts[function] + spread * x, levels[function] + spread * x)
            })
            .collect();
        sum = (sum.0 + weight * exam.passing(&parts), sum.1 + weight);
    }
    (sum.0 / sum.1).clamp(0.0, 1.0)
}

/// Points that fill a standard normal distribution evenly: an additive recurrence (each coordinate steps by a power of
/// the root of `x^(d+1) = x + 1`, which fills the cube evenly; M. Roberts, 2018), made normal in pairs after Box and
/// Muller, each point with its mirror image.
fn normal_points(dimensions: usize, count: usize) -> Vec<Vec<f64>> {
    let pairs = dimensions.div_ceil(2);
    let d = 2 * pairs;
    let root = (0..40).fold(2.0_f64, |x, _| (1.0 + x).powf(1.0 / (d as f64 + 1.0)));
    let steps: Vec<f64> = (1..=d).map(|n| root.powi(-(n as i32))).collect();
    let mut points = Vec::with_capacity(count);
    for n in 1..=count / 2 {
        let uniform = |at: usize| (0.5 + steps[at] * n as f64).fract();
        let mut point = Vec::with_capacity(d);
        for pair in 0..pairs {
            let far = (-2.0 * uniform(2 * pair).max(1e-12).ln()).sqrt();
            let turn = std::f64::consts::TAU * uniform(2 * pair + 1);
            point.extend([far * turn.cos(), far * turn.sin()]);
        }
        point.truncate(dimensions);
        points.push(point.iter().map(|x| -x).collect());
        points.push(point);
    }
    points
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

/// Evenly spaced values.
struct Axis {
    least: f64,
    step: f64,
    count: usize,
}

impl Axis {
    fn value(&self, at: usize) -> f64 {
        self.least + self.step * at as f64
    }

    /// The value's place: the node below it and the share of the way to the next; held at the ends.
    fn place(&self, value: f64) -> (usize, f64) {
        let place = ((value - self.least) / self.step).clamp(0.0, (self.count - 1) as f64);
        let below = (place.floor() as usize).min(self.count - 2);
        (below, place - below as f64)
    }
}

/// A part's distribution of questions answered well, over shifts of met cards and levels of unseen ones.
struct Table {
    wide: usize,
    levels: usize,
    cells: Vec<f64>,
}

impl Table {
    fn of(part: &Part, fatal: f64) -> Self {
        let levels = if part.pool.iter().any(|item| item.unseen) { LEVELS.count } else { 1 };
        let mut cells = Vec::new();
        for level in 0..levels {
            for shift in 0..SHIFTS.count {
                let (level, shift) = (LEVELS.value(level), SHIFTS.value(shift));
                cells.extend(part.distribution(fatal, &|item: &Item| recall(item, level, shift)));
            }
        }
        Self { wide: part.asked() + 1, levels, cells }
    }

    fn cell(&self, level: usize, shift: usize) -> &[f64] {
        let from = (level * SHIFTS.count + shift) * self.wide;
        &self.cells[from..from + self.wide]
    }

    fn at(&self, shift: f64, level: f64) -> Vec<f64> {
        let (x, right) = SHIFTS.place(shift);
        let (y, up) = if self.levels > 1 { LEVELS.place(level) } else { (0, 0.0) };
        let mut row: Vec<f64> = mixed(self.cell(y, x), self.cell(y, x + 1), right);
        if up > 0.0 {
            row = mixed(&row, &mixed(self.cell(y + 1, x), self.cell(y + 1, x + 1), right), up);
        }
        row
    }
}

fn mixed(a: &[f64], b: &[f64], share: f64) -> Vec<f64> {
    a.iter().zip(b).map(|(a, b)| a + (b - a) * share).collect()
}

/// An item's chance: a met card's forecast with the shift, or the level of unseen cards.
fn recall(item: &Item, level: f64, shift: f64) -> f64 {
    if item.unseen { logistic(level) } else { logistic(logit(item.recall.clamp(CERTAIN.0, CERTAIN.1)) + shift) }
}

/// What each area costs: by how much the mean chance would rise, were every card of the area that lies below `level`
/// at that level. The dearest first; areas that cost nothing are left out.
pub fn area_costs(exam: &Exam, belief: &Belief, areas: usize, level: f64) -> Vec<AreaCost> {
    let (spread, fatal) = (belief.spread(), belief.fatal());
    let nodes: Vec<(f64, f64)> = normal_nodes().filter(|(_, w)| *w > LIGHT).map(|(x, w)| (spread * x, w)).collect();
    let now = |part: &Part, item: &Item, form: f64| {
        recall(item, belief.unseen(part.function) + form, belief.offset(part.function) + form)
    };
    let parts: Vec<Vec<Vec<f64>>> = nodes
        .iter()
        .map(|(form, _)| exam.parts.iter().map(|p| p.distribution(fatal, &|item: &Item| now(p, item, *form))).collect())
        .collect();
    let base: f64 = nodes.iter().zip(&parts).map(|((_, w), parts)| w * exam.passing(parts)).sum();
    let mut costs: Vec<AreaCost> = (0..areas)
        .map(|area| {
            let better: f64 = nodes
                .iter()
                .zip(&parts)
                .map(|((form, w), parts)| {
                    let mended: Vec<Vec<f64>> = exam
                        .parts
                        .iter()
                        .zip(parts)
                        .map(|(part, as_is)| {
                            let raised = |item: &Item| {
                                let now = now(part, item, *form);
                                let mended = shifted(level, belief.offset(part.function) + form);
                                if item.area == area { now.max(mended) } else { now }
                            };
                            let touched = part.pool.iter().any(|item| item.area == area);
                            if touched { part.distribution(fatal, &raised) } else { as_is.clone() }
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
