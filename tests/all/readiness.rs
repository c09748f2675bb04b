//! The chance of passing: exact values from outside, and a range that holds the truth as often as it says.

use bedplate::domain::readiness::{
    Belief, Exam, Item, Part, Seen, Sitting, UnseenBelief, area_costs, chance_in_form, chance_range, shifted,
};
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};
use serde::Deserialize;

#[derive(Deserialize)]
struct Reference {
    exam: Vec<Given>,
}

#[derive(Deserialize)]
struct Given {
    id: String,
    needed: usize,
    chance: f64,
    part: Vec<GivenPart>,
    #[serde(default)]
    spread: Vec<[f64; 2]>,
}

#[derive(Deserialize)]
struct GivenPart {
    pool: Vec<f64>,
    #[serde(default)]
    critical: Vec<usize>,
    drawn: Option<usize>,
    #[serde(default)]
    floor: usize,
}

impl Given {
    fn exam(&self) -> Exam {
        let part = |part: &GivenPart| Part {
            drawn: part.drawn.unwrap_or(part.pool.len()),
            floor: part.floor,
            pool: part
                .pool
                .iter()
                .enumerate()
                .map(|(n, recall)| Item {
                    recall: *recall,
                    critical: part.critical.contains(&(n + 1)),
                    unseen: false,
                    area: 0,
                })
                .collect(),
        };
        Exam { parts: self.part.iter().map(part).collect(), needed: self.needed }
    }
}

fn reference() -> Vec<Given> {
    let file: Reference =
        toml::from_str(include_str!("../reference/readiness.toml")).expect("the reference values are TOML");
    assert_eq!(file.exam.len(), 8);
    file.exam
}

#[test]
fn the_chance_is_exact() {
    for given in reference() {
        let chance = given.exam().chance();
        assert!((chance - given.chance).abs() < 1e-9, "{}: {chance} for {}", given.id, given.chance);
    }
}

#[test]
fn the_form_of_the_day_is_integrated_over() {
    let mut compared = 0;
    for given in reference() {
        for [spread, wanted] in &given.spread {
            let chance = chance_in_form(&given.exam(), *spread);
            assert!((chance - wanted).abs() < 5e-7, "{} at {spread}: {chance} for {wanted}", given.id);
            compared += 1;
        }
    }
    assert_eq!(compared, 9);
}

/// An oral of four functions whose cards are known more or less.
fn some_exam(rng: &mut StdRng) -> Exam {
    let part = |rng: &mut StdRng, at: usize| Part {
        pool: (0..30)
            .map(|n| {
                let recall = 1.0 - rng.random_range(0.02..0.75_f64) * rng.random_range(0.2..1.0);
                Item { recall, critical: n == 0, unseen: rng.random_bool(0.15), area: at * 3 + n % 3 }
            })
            .collect(),
        drawn: 3,
        floor: 1,
    };
    Exam { parts: (0..4).map(|at| part(rng, at)).collect(), needed: 8 }
}

fn normal(rng: &mut StdRng) -> f64 {
    // The sum of twelve uniform numbers, less six.
    (0..12).map(|_| rng.random_range(0.0..1.0_f64)).sum::<f64>() - 6.0
}

fn logit(p: f64) -> f64 {
    (p / (1.0 - p)).ln()
}

/// Learners whose truth is known: how often does the range hold it? They differ as the program believes that learners
/// differ before it knows them (forecasts off, form of the day, luck with unseen cards), and have answered little or
/// much.
#[test]
fn the_range_holds_the_truth_nine_times_in_ten() {
    let mut rng = StdRng::seed_from_u64(31);
    let (mut inside, mut below, mut wide) = (0, 0, 0.0);
    let learners = 400;
    for learner in 0..learners {
        let exam = some_exam(&mut rng);
        let watch_offset = 0.4 * normal(&mut rng);
        let offset = watch_offset + 0.25 * normal(&mut rng);
        let spread = (0.5 * normal(&mut rng)).abs();
        // A beta-distributed chance of 1.2 and 2.8, by rejection.
        let unseen = loop {
            let p: f64 = rng.random_range(0.001..0.999);
            let density = p.powf(0.2) * (1.0 - p).powf(1.8);
            if rng.random_range(0.0..0.56) < density {
                break p;
            }
        };
        let reviews: Vec<Seen> = (0..[0, 40, 400][learner % 3])
            .map(|_| {
                let forecast = rng.random_range(0.55..0.97);
                Seen { forecast, well: rng.random_bool(shifted(forecast, watch_offset)) }
            })
            .collect();
        let first = [0, 10, 60][learner % 3];
        let first = UnseenBelief { well: (0..first).filter(|_| rng.random_bool(unseen)).count(), of: first };
        let sittings: Vec<Sitting> = (0..learner % 5)
            .map(|_| {
                let form = spread * normal(&mut rng);
                let questions = (0..12).map(|_| {
                    let forecast = rng.random_range(0.4..0.97);
                    Seen { forecast, well: rng.random_bool(shifted(forecast, offset + form)) }
                });
                Sitting { questions: questions.collect() }
            })
            .collect();
        let range = chance_range(&exam, &Belief::from(&reviews, &sittings, first));
        let mut truth = exam.clone();
        for item in truth.parts.iter_mut().flat_map(|p| &mut p.pool) {
            let recall = if item.unseen { unseen } else { item.recall };
            item.recall = shifted(recall, offset);
        }
        let truth = chance_in_form(&truth, spread);
        assert!(range.low <= range.middle && range.middle <= range.high, "{range:?}");
        inside += usize::from(truth >= range.low && truth <= range.high);
        below += usize::from(truth < range.low);
        wide += range.high - range.low;
    }
    let share = inside as f64 / f64::from(learners as u32);
    println!("inside {share}, below {below}, mean width {}", wide / f64::from(learners as u32));
    assert!((0.86..=0.94).contains(&share), "{inside} of {learners} inside, {below} below");
}

#[test]
fn more_answers_make_the_range_narrower_and_move_it_the_right_way() {
    let mut rng = StdRng::seed_from_u64(5);
    let exam = some_exam(&mut rng);
    let width = |belief: &Belief| {
        let range = chance_range(&exam, belief);
        (range.high - range.low, range.middle)
    };
    let answers = |worse: f64, count: usize| -> Vec<Seen> {
        let mut rng = StdRng::seed_from_u64(6);
        (0..count).map(|_| Seen { forecast: 0.85, well: rng.random_bool(shifted(0.85, worse)) }).collect()
    };
    let first = UnseenBelief { well: 12, of: 40 };
    let (prior, before) = width(&Belief::prior());
    let (known, _) = width(&Belief::from(&answers(0.0, 600), &[], first));
    let (_, worse) = width(&Belief::from(&answers(-1.0, 600), &[], first));
    assert!(known < 0.8 * prior, "{known} for {prior}");
    assert!(worse < before - 0.1, "{worse} for {before}");
}

#[test]
fn an_area_costs_what_bringing_it_up_would_gain() {
    let item = |recall, area| Item { recall, critical: false, unseen: false, area };
    let strong = Part { pool: vec![item(0.95, 0); 8], drawn: 4, floor: 2 };
    let weak = Part { pool: vec![item(0.4, 1), item(0.45, 1), item(0.5, 2), item(0.9, 2)], drawn: 3, floor: 2 };
    let exam = Exam { parts: vec![strong, weak], needed: 5 };
    let costs = area_costs(&exam, &Belief::prior(), 3, 0.9);
    assert_eq!(costs.iter().map(|c| c.area).collect::<Vec<_>>(), vec![1, 2], "the strong area costs nothing");
    assert!(costs[0].cost > costs[1].cost && costs[0].cost > 0.05, "{costs:?}");
}

#[test]
fn what_is_out_of_range_does_not_panic() {
    let odd = [f64::NAN, -1.0, 0.0, 1.0, 2.0, f64::INFINITY];
    let pool = odd.map(|recall| Item {
        recall: if recall.is_nan() { 0.0 } else { recall },
        critical: true,
        unseen: true,
        area: 9,
    });
    let exam = Exam { parts: vec![Part { pool: pool.to_vec(), drawn: 40, floor: 99 }, Part::default()], needed: 3 };
    assert_eq!(exam.chance(), 0.0, "a floor that cannot be reached");
    assert_eq!(exam.asked(), 6);
    let empty = Exam::default();
    assert_eq!(empty.chance(), 1.0, "nothing asked, nothing missed");
    let seen = odd.map(|forecast| Seen { forecast, well: logit(0.3) < 0.0 });
    let belief = Belief::from(&seen[1..], &[Sitting::default()], UnseenBelief { well: 9, of: 2 });
    let range = chance_range(&exam, &belief);
    assert!(range.low >= 0.0 && range.high <= 1.0, "{range:?}");
}
