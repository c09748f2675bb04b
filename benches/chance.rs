//! The chance of passing over a thousand cards, against the plain distribution of how many of them are known.
//!
//! Run with `cargo bench --bench chance`. The baseline is the textbook dynamic programme of the Poisson-binomial
//! distribution over the same thousand cards; scipy 1.17's `poisson_binom` is the same convolution.

use std::hint::black_box;

use bedplate::domain::readiness::{Belief, Exam, Item, Part, area_costs, chance_range};

fn main() {
    divan::main();
}

fn recall(n: usize) -> f64 {
    0.35 + 0.6 * ((n * 37 % 101) as f64 / 101.0)
}

/// Four functions of 250 cards each, ten questions, as the standard blueprint draws them.
fn exam() -> Exam {
    let part = |function: usize, from: usize, drawn: usize| Part {
        function,
        pool: (from..from + 250)
            .map(|n| Item { recall: recall(n), critical: n % 40 == 0, unseen: n % 9 == 0, area: n % 17 })
            .collect(),
        drawn,
        floor: drawn / 2,
    };
    Exam { needed: 6, parts: vec![part(0, 0, 4), part(1, 250, 2), part(2, 500, 2), part(3, 750, 2)] }
}

/// The baseline.
#[divan::bench]
fn poisson_binomial_of_1000(bencher: divan::Bencher) {
    let chances: Vec<f64> = (0..1_000).map(recall).collect();
    bencher.bench(|| {
        let mut mass = vec![0.0; chances.len() + 1];
        mass[0] = 1.0;
        for (n, p) in black_box(&chances).iter().enumerate() {
            for k in (0..=n).rev() {
                mass[k + 1] += mass[k] * p;
                mass[k] *= 1.0 - p;
            }
        }
        mass
    });
}

#[divan::bench]
fn range_of_the_chance_over_1000(bencher: divan::Bencher) {
    let (exam, belief) = (exam(), Belief::prior(4));
    bencher.bench(|| chance_range(black_box(&exam), black_box(&belief)));
}

#[divan::bench]
fn what_each_of_17_areas_costs(bencher: divan::Bencher) {
    let (exam, belief) = (exam(), Belief::prior(4));
    bencher.bench(|| area_costs(black_box(&exam), black_box(&belief), 17, 0.85));
}
