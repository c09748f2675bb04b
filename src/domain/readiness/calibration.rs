//! How well forecasts fit what came: a reliability table, the Brier score with its parts, log loss, and what a perfect
//! forecaster would score by luck on so many answers.
//!
//! Ten bins of equal width, closed on the left, the last on both sides. Parts after Murphy (1973), with the two terms
//! for what varies inside the bins (Stephenson, Coelho and Jolliffe 2008), so that the Brier score is their sum exactly.

use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

use super::evidence::Seen;

/// How many bins.
pub const BINS: usize = 10;
/// Log loss takes no forecast to be more certain than this.
const CLIP: f64 = 1e-6;
/// Draws of a perfect forecaster.
const DRAWS: usize = 400;

/// How well forecasts fit.
#[derive(Debug, Clone, PartialEq)]
pub struct Calibration {
    /// Answers.
    pub count: usize,
    /// From forecasts near 0 to forecasts near 1.
    pub bins: [Bin; BINS],
    /// Mean squared error of the forecasts, 0 to 1.
    pub brier: f64,
    /// The score's part from bins whose share lies off their forecast; the less the better.
    pub reliability: f64,
    /// The score's part from telling answers apart; the more the better.
    pub resolution: f64,
    /// The score's part from how uncertain the answers are by themselves.
    pub uncertainty: f64,
    /// Variance of forecasts inside the bins, less twice their covariance with what came.
    pub within: f64,
    /// Mean logarithmic loss, with forecasts kept 10^-6 away from certainty.
    pub log_loss: f64,
    /// Expected calibration error: the mean distance of a bin's share from its forecast, by count.
    pub error: f64,
    /// What a perfect forecaster with these forecasts scores in `error` by luck.
    pub by_luck: ByLuck,
}

/// How far off a perfect forecaster is by luck.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ByLuck {
    /// The mean.
    pub mean: f64,
    /// What 95 of 100 stay under.
    pub most: f64,
}

/// One bin.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Bin {
    /// Answers.
    pub count: usize,
    /// Mean forecast of these answers.
    pub forecast: f64,
    /// The share that was answered well.
    pub share: f64,
}

impl Calibration {
    /// Compares forecasts with what came; none without answers. Forecasts are brought into 0 to 1; what is no number is
    /// left out.
    pub fn of(seen: &[Seen]) -> Option<Self> {
        let pairs: Vec<(f64, f64)> = seen
            .iter()
            .filter(|s| !s.forecast.is_nan())
            .map(|s| (s.forecast.clamp(0.0, 1.0), f64::from(u8::from(s.well))))
            .collect();
        if pairs.is_empty() {
            return None;
        }
        let n = pairs.len() as f64;
        let bins = binned(&pairs);
        let share = pairs.iter().map(|(_, came)| came).sum::<f64>() / n;
        let over_bins = |of: &dyn Fn(&Bin) -> f64| bins.iter().map(|bin| bin.count as f64 * of(bin)).sum::<f64>() / n;
        let within = pairs
            .iter()
            .map(|(forecast, came)| {
                let bin = bins[bin_of(*forecast)];
                let off = forecast - bin.forecast;
                off * off - 2.0 * off * (came - bin.share)
            })
            .sum::<f64>()
            / n;
        let log_loss = pairs
            .iter()
            .map(|(forecast, came)| {
                let f = forecast.clamp(CLIP, 1.0 - CLIP);
                -(came * f.ln() + (1.0 - came) * (1.0 - f).ln())
            })
            .sum::<f64>()
            / n;
        Some(Self {
            count: pairs.len(),
            brier: pairs.iter().map(|(forecast, came)| (forecast - came).powi(2)).sum::<f64>() / n,
            reliability: over_bins(&|bin| (bin.forecast - bin.share).powi(2)),
            resolution: over_bins(&|bin| (bin.share - share).powi(2)),
            uncertainty: share * (1.0 - share),
            within,
            log_loss,
            error: error_of(&bins, n),
            by_luck: by_luck(&pairs),
            bins,
        })
    }

    /// The forecasts lie further off than luck explains (19 times in 20).
    pub fn is_off(&self) -> bool {
        self.error > self.by_luck.most
    }
}

/// The bin of a forecast. 0.7 belongs to the bin that begins with it, whatever binary rounding makes of ten times it.
fn bin_of(forecast: f64) -> usize {
    ((forecast * BINS as f64 + 1e-9).floor() as usize).min(BINS - 1)
}

fn binned(pairs: &[(f64, f64)]) -> [Bin; BINS] {
    let mut bins = [Bin::default(); BINS];
    for (forecast, came) in pairs {
        let bin = &mut bins[bin_of(*forecast)];
        (bin.count, bin.forecast, bin.share) = (bin.count + 1, bin.forecast + forecast, bin.share + came);
    }
    for bin in bins.iter_mut().filter(|bin| bin.count > 0) {
        bin.forecast /= bin.count as f64;
        bin.share /= bin.count as f64;
    }
    bins
}

fn error_of(bins: &[Bin; BINS], n: f64) -> f64 {
    bins.iter().map(|bin| bin.count as f64 * (bin.forecast - bin.share).abs()).sum::<f64>() / n
}

fn by_luck(pairs: &[(f64, f64)]) -> ByLuck {
    let mut rng = StdRng::seed_from_u64(pairs.len() as u64);
    let mut drawn = pairs.to_vec();
    let mut errors: Vec<f64> = (0..DRAWS)
        .map(|_| {
            for (forecast, came) in &mut drawn {
                *came = f64::from(u8::from(rng.random_bool(*forecast)));
            }
            error_of(&binned(&drawn), drawn.len() as f64)
        })
        .collect();
    errors.sort_by(f64::total_cmp);
    ByLuck { mean: errors.iter().sum::<f64>() / DRAWS as f64, most: errors[DRAWS * 95 / 100] }
}
