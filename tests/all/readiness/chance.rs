//! The chance of passing: exact values from outside, what the evidence does to its range, and when one may be said.
//! How often the range holds the truth is in `honesty.rs`.

use bedplate::domain::day::StudyDay;
use bedplate::domain::readiness::{
    Asked, Belief, Chance, Coverage, Evidence, Exam, Firsts, Item, LEAST_CARDS, LEAST_IN_FUNCTION, Needs, Part, Range,
    Sat, Seen, WIDEST, area_costs, chance_in_form, chance_range, shifted,
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
            function: 0,
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
        toml::from_str(include_str!("../../reference/readiness.toml")).expect("the reference values are TOML");
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
            let chance = chance_in_form(&given.exam(), *spread, 1.0);
            assert!((chance - wanted).abs() < 5e-7, "{} at {spread}: {chance} for {wanted}", given.id);
            compared += 1;
        }
    }
    assert_eq!(compared, 9);
}

/// An oral of four functions whose cards are known more or less.
fn some_exam(rng: &mut StdRng) -> Exam {
    let part = |rng: &mut StdRng, at: usize| Part {
        function: at,
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

const TODAY: StudyDay = StudyDay(20_000);

/// Reviews of each function, forecast at 0.85 and off by `worse` on the logit scale.
fn reviewed(worse: f64, count: usize) -> Evidence {
    let mut rng = StdRng::seed_from_u64(6);
    let mut of_function =
        || (0..count).map(|_| Seen { forecast: 0.85, well: rng.random_bool(shifted(0.85, worse)) }).collect();
    Evidence {
        reviews: (0..4).map(|_| of_function()).collect(),
        firsts: vec![Firsts { well: 3, of: 10 }; 4],
        sittings: Vec::new(),
    }
}

/// A mock oral of three questions in each function, all answered so.
fn sat(day: StudyDay, well: impl Fn(usize) -> bool, forecast: Option<f64>) -> Sat {
    let asked = |function: usize| Asked { function, forecast, well: well(function), fatal: None };
    Sat { day, questions: (0..12).map(|n| asked(n / 3)).collect(), finished: true }
}

#[test]
fn more_answers_make_the_range_narrower_and_move_it_the_right_way() {
    let exam = some_exam(&mut StdRng::seed_from_u64(5));
    let told = |evidence: &Evidence| chance_range(&exam, &Belief::of(evidence, TODAY));
    let width = |range: Range| range.high - range.low;
    let before = chance_range(&exam, &Belief::prior(4));
    let (known, worse) = (told(&reviewed(0.0, 200)), told(&reviewed(-1.0, 200)));
    assert!(width(known) < width(before), "{known:?} for {before:?}");
    assert!(worse.middle < known.middle - 0.08, "{worse:?} for {known:?}");
    let mut orals = reviewed(0.0, 200);
    let mut rng = StdRng::seed_from_u64(7);
    let mut marks: Vec<bool> = (0..4).map(|_| normal(&mut rng) < 1.0).collect();
    marks[0] = true;
    for ago in [9, 6, 3] {
        orals.sittings.push(sat(StudyDay(TODAY.0 - ago), |function| marks[function], Some(0.85)));
    }
    let orals = told(&orals);
    assert!(width(orals) < width(known), "orals say how orals go: {orals:?} for {known:?}");
}

#[test]
fn a_mock_oral_at_nothing_weighs_and_less_as_time_goes_on() {
    let exam = some_exam(&mut StdRng::seed_from_u64(5));
    let good = Exam {
        parts: exam
            .parts
            .iter()
            .map(|part| Part {
                pool: part.pool.iter().map(|item| Item { recall: 0.95, unseen: false, ..*item }).collect(),
                ..part.clone()
            })
            .collect(),
        ..exam
    };
    let before = reviewed(0.0, 30);
    let after = |ago: i32, forecast: Option<f64>| {
        let sitting = sat(StudyDay(TODAY.0 - ago), |_| false, forecast);
        let evidence = Evidence { sittings: vec![sitting], ..before.clone() };
        chance_range(&good, &Belief::of(&evidence, TODAY))
    };
    let plain = chance_range(&good, &Belief::of(&before, TODAY));
    assert!(plain.middle > 0.75, "without it: {plain:?}");
    // Cards that were forecast well, and cards never met: both say how this learner does under an examiner.
    for forecast in [Some(0.9), None] {
        let (now, old) = (after(0, forecast), after(90, forecast));
        assert!(now.middle < plain.middle - 0.1 && now.low < 0.4, "{forecast:?}: {now:?} for {plain:?}");
        assert!(now.middle < old.middle && old.middle < plain.middle, "{forecast:?}: {now:?}, {old:?}, {plain:?}");
    }
    // A function that failed weighs on itself more than on the others.
    let evidence = Evidence { sittings: vec![sat(TODAY, |function| function != 2, Some(0.85))], ..before.clone() };
    let belief = Belief::of(&evidence, TODAY);
    assert!(belief.offset(2) < belief.offset(0) - 0.3, "{} and {}", belief.offset(2), belief.offset(0));
}

#[test]
fn safety_critical_misses_in_orals_lower_the_chance() {
    let exam = some_exam(&mut StdRng::seed_from_u64(5));
    let critical = |fatal: bool| {
        let mut sitting = sat(TODAY, |function| function > 0, Some(0.85));
        sitting.questions.iter_mut().filter(|q| !q.well).for_each(|q| q.fatal = Some(fatal));
        let evidence = Evidence { sittings: vec![sitting], ..reviewed(0.0, 60) };
        (Belief::of(&evidence, TODAY).fatal(), chance_range(&exam, &Belief::of(&evidence, TODAY)).middle)
    };
    let ((stayed, with), (mended, without)) = (critical(true), critical(false));
    assert!(stayed > mended + 0.2 && with < without, "{stayed} {with}, {mended} {without}");
}

#[test]
fn no_chance_is_said_before_there_is_enough_to_say_one() {
    let exam = some_exam(&mut StdRng::seed_from_u64(5));
    let coverage = |by_function: [usize; 4], orals| Coverage { by_function: by_function.to_vec(), orals };
    let needs = |cards, functions| Some(Needs { cards, functions, wide: false });
    assert_eq!((LEAST_CARDS, LEAST_IN_FUNCTION), (40, 3));
    assert_eq!(coverage([0; 4], 0).needs(&exam), needs(40, 4));
    assert_eq!(coverage([8, 8, 0, 0], 0).needs(&exam), needs(24, 2));
    assert_eq!(coverage([30, 30, 2, 30], 0).needs(&exam), needs(1, 1), "many of one function do not stand for another");
    assert_eq!(coverage([10, 10, 10, 9], 0).needs(&exam), needs(1, 0));
    assert_eq!(coverage([10, 10, 10, 10], 0).needs(&exam), None);
    assert_eq!(coverage([3, 0, 0, 0], 1).needs(&exam), None, "a finished mock oral is enough");
    let range = |low: f64, high: f64| Range { low, middle: (low + high) / 2.0, high };
    let enough = coverage([10; 4], 0);
    assert_eq!(enough.say(&exam, range(0.1, 0.1 + WIDEST)).range(), Some(range(0.1, 0.1 + WIDEST)));
    let wide = enough.say(&exam, range(0.03, 0.97));
    assert!(matches!(wide, Chance::NotYet(Needs { wide: true, cards: 20, .. })), "{wide:?}");
    assert!(coverage([8; 4], 0).say(&exam, range(0.6, 0.7)).range().is_none(), "however narrow");
}

#[test]
fn an_area_costs_what_bringing_it_up_would_gain() {
    let item = |recall, area| Item { recall, critical: false, unseen: false, area };
    let strong = Part { function: 0, pool: vec![item(0.95, 0); 8], drawn: 4, floor: 2 };
    let pool = vec![item(0.4, 1), item(0.45, 1), item(0.5, 2), item(0.9, 2)];
    let weak = Part { function: 1, pool, drawn: 3, floor: 2 };
    let exam = Exam { parts: vec![strong, weak], needed: 5 };
    let costs = area_costs(&exam, &Belief::prior(2), 3, 0.9);
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
    let part = Part { function: 7, pool: pool.to_vec(), drawn: 40, floor: 99 };
    let exam = Exam { parts: vec![part, Part::default()], needed: 3 };
    assert_eq!(exam.chance(), 0.0, "a floor that cannot be reached");
    assert_eq!(exam.asked(), 6);
    let empty = Exam::default();
    assert_eq!(empty.chance(), 1.0, "nothing asked, nothing missed");
    let seen = odd.map(|forecast| Seen { forecast, well: logit(0.3) < 0.0 });
    let asked = odd.map(|forecast| Asked { function: 3, forecast: Some(forecast), well: true, fatal: Some(true) });
    let evidence = Evidence {
        reviews: vec![seen.to_vec()],
        firsts: vec![Firsts { well: 9, of: 2 }],
        sittings: vec![Sat { day: StudyDay(i32::MIN / 4), questions: asked.to_vec(), finished: false }],
    };
    for evidence in [evidence, Evidence::default()] {
        let range = chance_range(&exam, &Belief::of(&evidence, TODAY));
        assert!(range.low >= 0.0 && range.high <= 1.0 && range.low <= range.high, "{range:?}");
    }
}
