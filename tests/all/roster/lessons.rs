//! The next lesson on simulated classes with headings that are known to be weak.
//!
//! Each class has 8 to 30 learners of different ability and 8 to 16 headings of 3 to 12 cards each with its own weight;
//! learners have met some of the cards, the able more of them, and some headings were hardly met at all. How likely each
//! would be right at first sight is known here and unknown to the lesson. The best heading is the one whose teaching
//! would gain most: the answers missed, by weight and share of the blueprint.

use bedplate::domain::certificate::Certificate;
use bedplate::domain::oral::Blueprint;
use bedplate::domain::random::SplitMix64;
use bedplate::domain::roster::{AssignedCard, Wish, gains};

use super::figures::card;

const CLASSES: u64 = 200;
/// The lesson holds so many headings, whichever way they are chosen.
const HEADINGS: usize = 3;

struct Class {
    cards: Vec<AssignedCard>,
    counts: Vec<(usize, usize)>,
    learners: usize,
    /// The true gain of each heading, by name.
    truth: Vec<(String, f64)>,
}

fn logistic(x: f64) -> f64 {
    1.0 / (1.0 + (-x).exp())
}

/// Near enough to a normal draw: twelve uniform ones (Irwin and Hall).
fn normal(random: &mut SplitMix64) -> f64 {
    (0..12).map(|_| random.share()).sum::<f64>() - 6.0
}

fn class(seed: u64, blueprint: &Blueprint) -> Class {
    let mut random = SplitMix64::new(seed);
    let learners = 8 + random.position(23);
    let able: Vec<f64> = (0..learners).map(|_| 0.8 * normal(&mut random)).collect();
    let headings = 8 + random.position(9);
    let topics: Vec<&str> = blueprint.shares.iter().map(|share| share.competence.as_str()).collect();
    let mean_share = blueprint.shares.iter().map(|share| share.weight).sum::<f64>() / topics.len() as f64;
    let (mut cards, mut counts, mut truth) = (Vec::new(), Vec::new(), Vec::new());
    for heading in 0..headings {
        let topic = topics[random.position(topics.len())];
        let name = format!("Heading {heading}");
        // Taught well, or not at all.
        let easy = 0.7 + 1.1 * normal(&mut random);
        let met = 0.15 + 0.8 * random.share();
        let mut gain = 0.0;
        for number in 0..3 + random.position(10) {
            let weight = 1 + random.position(3) as u8;
            let easy = easy + 0.6 * normal(&mut random);
            let (mut n, mut right) = (0, 0);
            for able in &able {
                let chance = logistic(easy + able);
                gain += (1.0 - chance) * f64::from(weight) * blueprint.weight_of(topic) / mean_share;
                if random.share() < met * (0.7 + 0.3 * logistic(*able)) {
                    n += 1;
                    right += usize::from(random.share() < chance);
                }
            }
            counts.push((n, right));
            cards.push(AssignedCard { weight, ..card(&format!("h{heading}-{number}"), topic, &name) });
        }
        truth.push((name, gain));
    }
    Class { cards, counts, learners, truth }
}

/// Headings by the number of answers missed: what a lecturer would do by hand.
fn most_missed(class: &Class) -> Vec<String> {
    let mut missed: Vec<(usize, String)> = class.truth.iter().map(|(name, _)| (0, name.clone())).collect();
    for (card, (n, right)) in class.cards.iter().zip(&class.counts) {
        let of = missed.iter_mut().find(|(_, name)| Some(name) == card.heading.as_ref()).expect("a heading");
        of.0 += n - right;
    }
    missed.sort_by_key(|row| std::cmp::Reverse(row.0));
    missed.into_iter().map(|(_, name)| name).collect()
}

struct Tally {
    found: usize,
    ours: f64,
    missed: f64,
    best: f64,
    wins: usize,
    losses: usize,
}

fn tally(seed: u64, with_blueprint: bool) -> Tally {
    let standard = Blueprint::standard(Certificate::Watch);
    let mut alike = standard.clone();
    alike.shares.iter_mut().for_each(|share| share.weight = 1.0);
    let blueprint = if with_blueprint { &standard } else { &alike };
    let mut tally = Tally { found: 0, ours: 0.0, missed: 0.0, best: 0.0, wins: 0, losses: 0 };
    for number in 0..CLASSES {
        let class = class(seed + number, blueprint);
        let wish = Wish { minutes: 45, blueprint: with_blueprint.then_some(blueprint) };
        let found = gains(&class.cards, &class.counts, class.learners, wish);
        let names: Vec<String> = found.into_iter().filter_map(|gain| gain.heading).take(HEADINGS).collect();
        let gain = |names: &[String]| -> f64 {
            class.truth.iter().filter(|(name, _)| names.contains(name)).map(|(_, gain)| gain).sum()
        };
        let mut truth = class.truth.clone();
        truth.sort_by(|a, b| b.1.total_cmp(&a.1));
        tally.found += usize::from(names.contains(&truth[0].0));
        let (ours, missed) = (gain(&names), gain(&most_missed(&class)[..HEADINGS]));
        tally.ours += ours;
        tally.missed += missed;
        tally.best += truth[..HEADINGS].iter().map(|(_, gain)| gain).sum::<f64>();
        tally.wins += usize::from(ours > missed);
        tally.losses += usize::from(ours < missed);
    }
    tally
}

#[test]
fn the_best_heading_is_among_the_first_three() {
    for (seed, with_blueprint) in [(1_000, false), (9_000, true)] {
        let t = tally(seed, with_blueprint);
        let found = t.found as f64 / CLASSES as f64;
        let (ours, missed) = (t.ours / t.best, t.missed / t.best);
        println!(
            "blueprint {with_blueprint}: best heading among the first three in {found:.3}; of what can be gained {ours:.3}, \
             by most missed {missed:.3}; better in {}, worse in {} of {CLASSES}",
            t.wins, t.losses
        );
        assert!(found >= 0.90, "{found}");
        assert!(ours > missed + 0.03, "{ours} against {missed}");
        assert!(t.wins > 3 * t.losses, "{} against {}", t.wins, t.losses);
    }
}

#[test]
fn few_answers_are_drawn_towards_the_class() {
    let cards = [card("a", "A-III/1.1.1", "Few"), card("b", "A-III/1.1.1", "Many"), card("c", "A-III/1.1.1", "Well")];
    let wish = Wish { minutes: 45, blueprint: None };
    // One answer, missed, says less than eighteen of twenty.
    let found = gains(&cards, &[(1, 0), (20, 2), (20, 19)], 20, wish);
    let names: Vec<&str> = found.iter().filter_map(|gain| gain.heading.as_deref()).collect();
    assert_eq!(names, ["Many", "Few", "Well"]);
    let total: f64 = found.iter().map(|gain| gain.total).sum();
    assert!(total > 0.0 && total < 60.0, "a gain is in answers: {total}");
    // Nobody has answered anything: every heading alike, by its cards.
    let none = gains(&cards, &[(0, 0); 3], 20, wish);
    assert!(none.iter().all(|gain| (gain.total - 10.0).abs() < 1e-9), "{none:?}");
}

#[test]
fn weight_and_share_of_the_blueprint_count() {
    let light = card("a", "A-III/1.1.1", "Light");
    let heavy = AssignedCard { weight: 3, ..card("b", "A-III/1.1.1", "Heavy") };
    let wish = Wish { minutes: 45, blueprint: None };
    let found = gains(&[light.clone(), heavy], &[(10, 5), (10, 5)], 10, wish);
    assert_eq!(found[0].heading.as_deref(), Some("Heavy"));
    assert!((found[0].total / found[1].total - 3.0).abs() < 1e-9);
    let standard = Blueprint::standard(Certificate::Watch);
    let other = card("b", "A-III/1.1.2", "Seldom");
    let wish = Wish { minutes: 45, blueprint: Some(&standard) };
    let found = gains(&[light, other], &[(10, 5), (10, 5)], 10, wish);
    let ratio = standard.weight_of("A-III/1.1.1") / standard.weight_of("A-III/1.1.2");
    assert!((found[0].total / found[1].total - ratio).abs() < 1e-9);
    assert!((found[0].total + found[1].total - 10.0).abs() < 1e-9, "weighed against the mean");
}
