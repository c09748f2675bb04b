//! The chance of passing is honest: over learners whose truth is known, its range holds the truth about as often as it
//! says, at every stage, and is not so wide that it says nothing.

use bedplate::domain::readiness::Range;

use crate::readiness::honest_learner::{Pupil, Said, World};

/// Learners of each world in the quick test, and the least share of ranges that must hold the truth there. The seeds are
/// fixed; many learners are measured by the test below.
const LEARNERS: u64 = 6;
const FLOOR: f64 = 0.90;
const STAGES: [&str; 5] = ["10th card", "30th card", "100th card", "after a mock", "near the oral"];

fn lives(world: World, learners: u64, all_promises: bool) -> Vec<Said> {
    (0..learners).flat_map(|seed| Pupil::new(world, 1_000 + seed).live(seed % 2 == 0, all_promises)).collect()
}

/// What came of a claim at a stage over many learners.
struct Row {
    stage: &'static str,
    claim: &'static str,
    /// Learners, and those whose truth lay in the range.
    of: usize,
    held: usize,
    /// Mean width of the range.
    wide: f64,
}

fn rows(said: &[Said]) -> Vec<Row> {
    let mut rows = Vec::new();
    for stage in STAGES {
        let of: Vec<&Said> = said.iter().filter(|said| said.stage == stage).collect();
        type Claim = fn(&Said) -> Option<(Range, f64)>;
        let claims: [(&'static str, Claim); 2] = [
            ("today", |said| Some((said.today, said.true_today))),
            ("promise", |said| said.promise.map(|promise| (promise, said.true_on_day))),
        ];
        for (claim, told) in claims {
            let told: Vec<(Range, f64)> = of.iter().filter_map(|said| told(said)).collect();
            if told.is_empty() {
                continue;
            }
            let held = told.iter().filter(|(range, truth)| (range.low..=range.high).contains(truth)).count();
            let wide = told.iter().map(|(range, _)| range.high - range.low).sum::<f64>() / told.len().max(1) as f64;
            rows.push(Row { stage, claim, of: told.len(), held, wide });
        }
    }
    rows
}

/// The binomial interval of a share (Wilson, 95 in 100).
fn interval(held: usize, of: usize) -> (f64, f64) {
    let (n, z) = (of as f64, 1.96_f64);
    let share = held as f64 / n;
    let middle = (share + z * z / (2.0 * n)) / (1.0 + z * z / n);
    let half = z * (share * (1.0 - share) / n + z * z / (4.0 * n * n)).sqrt() / (1.0 + z * z / n);
    (middle - half, middle + half)
}

#[test]
fn the_range_holds_the_truth_nine_times_in_ten_and_says_something() {
    let (mut held, mut of) = (0, 0);
    for world in [World::Believed, World::Other] {
        let said = lives(world, LEARNERS, false);
        for row in rows(&said) {
            assert_eq!(row.of, LEARNERS as usize, "every learner comes to every stage");
            assert!(
                row.wide < 0.90,
                "{world:?} {} {}: so wide a range says nothing: {:.2}",
                row.stage,
                row.claim,
                row.wide
            );
            (held, of) = (held + row.held, of + row.of);
        }
        for said in &said {
            let early = ["10th card", "30th card"].contains(&said.stage);
            assert!(!early || said.chance.range().is_none(), "{}: nothing is promised yet", said.stage);
        }
        let spoken = said.iter().filter(|said| said.chance.range().is_some()).count();
        assert!(spoken >= 2 * LEARNERS as usize, "later on a chance is said: {spoken}");
    }
    let (low, high) = interval(held, of);
    assert!(held as f64 >= FLOOR * of as f64, "{held} of {of} ranges hold the truth ({low:.3} to {high:.3})");
}

/// Prints the figures that DEVELOPERS.md gives.
#[test]
#[ignore = "a measurement: many learners, to be run in release"]
fn measured_over_many_learners() {
    let learners = std::env::var("LEARNERS").ok().and_then(|n| n.parse().ok()).unwrap_or(400);
    for world in [World::Believed, World::Other] {
        let said = lives(world, learners, true);
        for row in rows(&said) {
            let (low, high) = interval(row.held, row.of);
            let share = row.held as f64 / row.of as f64;
            let of: Vec<&Said> = said.iter().filter(|said| said.stage == row.stage).collect();
            let mean = |of_one: &dyn Fn(&Said) -> f64| of.iter().map(|s| of_one(s)).sum::<f64>() / of.len() as f64;
            let today = row.claim == "today";
            let middle = mean(&|s| if today { s.today.middle } else { s.promise.map_or(0.0, |range| range.middle) });
            let truth = mean(&|s| if today { s.true_today } else { s.true_on_day });
            println!(
                "{world:?} {:14} {:8} held {share:.3} ({low:.3} to {high:.3}) of {}, width {:.2}, middle {middle:.2}, truth {truth:.2}",
                row.stage, row.claim, row.of, row.wide
            );
        }
    }
}
