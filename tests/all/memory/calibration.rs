//! Calibration against values worked out outside this program (Python, numpy 2.4.6, statsmodels 0.15.0, 25 November
//! 2026): three sets of forecasts with what came, and what a perfect forecaster scores by luck.

use bedplate::domain::readiness::{Calibration, Seen};
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

fn seen(forecasts: &[f64], came: &str) -> Vec<Seen> {
    assert_eq!(forecasts.len(), came.len());
    forecasts.iter().zip(came.chars()).map(|(forecast, c)| Seen { forecast: *forecast, well: c == '1' }).collect()
}

fn close(what: &str, is: f64, wanted: f64) {
    assert!((is - wanted).abs() < 1e-9, "{what}: {is} for {wanted}");
}

#[test]
fn set_a() {
    let forecasts: Vec<f64> = [0.1, 0.3, 0.7, 0.9].into_iter().flat_map(|f| [f; 5]).collect();
    let c = Calibration::of(&seen(&forecasts, "00010010101101011110")).expect("answers");
    close("Brier", c.brier, 0.21);
    assert!((c.log_loss - 0.620_199_759_6).abs() < 1e-9, "{}", c.log_loss);
    close("reliability", c.reliability, 0.01);
    close("resolution", c.resolution, 0.05);
    close("uncertainty", c.uncertainty, 0.25);
    close("error", c.error, 0.1);
    assert_eq!(c.bins.iter().filter(|bin| bin.count > 0).count(), 4);
}

#[test]
fn set_b() {
    let forecasts = [
        0.97, 0.95, 0.93, 0.92, 0.90, 0.88, 0.86, 0.85, 0.81, 0.80, 0.78, 0.74, 0.70, 0.66, 0.61, 0.55, 0.48, 0.41,
        0.33, 0.20,
    ];
    let c = Calibration::of(&seen(&forecasts, "11111011110110101000")).expect("answers");
    close("Brier", c.brier, 0.158_045);
    assert!((c.log_loss - 0.481_963_987_1).abs() < 1e-9, "{}", c.log_loss);
    assert!((c.reliability - 0.026_990_666_7).abs() < 1e-9, "{}", c.reliability);
    assert!((c.resolution - 0.104_166_666_7).abs() < 1e-9, "{}", c.resolution);
    close("uncertainty", c.uncertainty, 0.2275);
    close("within", c.within, 0.000_721 + 0.007);
    close("sum", c.reliability - c.resolution + c.uncertainty + c.within, c.brier);
    close("error", c.error, 0.1105);
    assert_eq!(c.bins.iter().filter(|bin| bin.count > 0).count(), 8, "0.70 and 0.80 begin their bins");
}

#[test]
fn set_c() {
    let c = Calibration::of(&seen(&[0.0, 0.0, 1.0, 1.0, 0.5, 0.5], "011101")).expect("answers");
    close("Brier", c.brier, 0.25);
    assert!((c.reliability - 0.083_333_3).abs() < 1e-7);
    assert!((c.resolution - 0.055_555_6).abs() < 1e-7);
    assert!((c.log_loss - 2.533_634_65).abs() < 1e-8, "{}", c.log_loss);
}

/// Forecasts from a beta distribution of 8 and 1.5, what came drawn from them: 400 repeats outside scored 0.035 in the
/// mean and 0.059 at the 95th of a hundred with 300 answers, 0.021 and 0.032 with 1,000.
#[test]
fn luck_is_told_from_error() {
    let mut rng = StdRng::seed_from_u64(3);
    // Beta(8, 1.5) by rejection under its greatest density.
    let mut beta = || loop {
        let (x, y): (f64, f64) = (rng.random_range(0.0..1.0), rng.random_range(0.0..1.0));
        let density = |x: f64| x.powi(7) * (1.0 - x).sqrt();
        if y * density(7.0 / 7.5) <= density(x) {
            break x;
        }
    };
    for (n, mean, high) in [(300, 0.035, 0.059), (1_000, 0.021, 0.032)] {
        let forecasts: Vec<f64> = (0..n).map(|_| beta()).collect();
        let mut lot = StdRng::seed_from_u64(n);
        let honest: Vec<Seen> = forecasts.iter().map(|f| Seen { forecast: *f, well: lot.random_bool(*f) }).collect();
        let c = Calibration::of(&honest).expect("answers");
        assert!((c.by_luck.mean - mean).abs() < 0.005 && (c.by_luck.most - high).abs() < 0.008, "{:?}", c.by_luck);
        assert!(!c.is_off(), "an honest forecaster is not blamed: {}", c.error);
        let boastful: Vec<Seen> =
            honest.iter().map(|s| Seen { forecast: (s.forecast + 1.0) / 2.0 + 0.05, ..*s }).collect();
        assert!(Calibration::of(&boastful).expect("answers").is_off(), "a boastful one is");
    }
}

#[test]
fn nothing_and_nonsense_are_survived() {
    assert!(Calibration::of(&[]).is_none());
    let odd = [f64::NAN, f64::INFINITY, -3.0, 0.5].map(|forecast| Seen { forecast, well: true });
    let c = Calibration::of(&odd).expect("three are numbers");
    assert_eq!(c.count, 3);
    assert!(c.log_loss.is_finite());
}
