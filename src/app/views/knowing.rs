//! How well the program knows the learner.

use crate::app::jobs::job::{JobFault, OPEN_AGAIN};
use crate::app::profile::learner::Learner;
use crate::domain::readiness::{Calibration, Outlook};
use crate::present::knowing::{FitView, KnowingView};
use crate::present::{Labelled, words};

/// With fewer answers a comparison says little.
const FEW: usize = 50;

/// The page.
pub fn view(learner: &Learner, outlook: Result<Option<&Outlook>, &JobFault>, learning: Option<f64>) -> KnowingView {
    let titles = ["In watches", "In orals"];
    KnowingView {
        fits: outlook.ok().flatten().map(|outlook| {
            titles.iter().zip(&outlook.fits).map(|(title, calibration)| fit(title, calibration.as_ref())).collect()
        }),
        trouble: outlook.err().map(|fault| fault.told("How well it knows you", OPEN_AGAIN)),
        own: learner.settings.memory.is_some(),
        memory: memory(learner),
        learning,
    }
}

fn fit(title: &str, calibration: Option<&Calibration>) -> FitView {
    let Some(c) = calibration else {
        return FitView {
            title: title.to_owned(),
            sentence: "Nothing has been predicted yet: it takes a card that is asked again on a later day.".to_owned(),
            bins: Vec::new(),
            facts: Vec::new(),
            off: None,
        };
    };
    let answers: f64 = c.bins.iter().map(|bin| bin.count as f64).sum();
    let mean = |of: fn(&crate::domain::readiness::Bin) -> f64| {
        c.bins.iter().map(|bin| bin.count as f64 * of(bin)).sum::<f64>() / answers.max(1.0)
    };
    let (predicted, came) = (mean(|bin| bin.forecast) * 100.0, mean(|bin| bin.share) * 100.0);
    let verdict = match (c.is_off(), came - predicted) {
        _ if c.count < FEW => "These are few: more can be said after more answers.",
        (false, _) => "It predicted right: no further off than luck explains.",
        (true, by) if by < -1.0 => "It predicted too high, by more than luck explains.",
        (true, by) if by > 1.0 => "It predicted too low: you know more than it thinks, by more than luck explains.",
        (true, _) => "It is right on the whole, but too sure or not sure enough of single cards.",
    };
    let figure = |value: f64| format!("{value:.3}");
    FitView {
        title: title.to_owned(),
        sentence: format!(
            "Of {}, it predicted that {predicted:.0} in 100 would be recalled; {came:.0} in 100 were. {verdict}",
            words::count(c.count, "answer")
        ),
        bins: c.bins.iter().copied().filter(|bin| bin.count > 0).collect(),
        facts: vec![
            Labelled::of("Mean distance from what came", figure(c.error)),
            Labelled::of(
                "A perfect forecaster’s, by luck",
                format!("{:.3}, mostly under {:.3}", c.by_luck.mean, c.by_luck.most),
            ),
            Labelled::of("Brier score", figure(c.brier)),
            Labelled::of(
                "of it: reliability, resolution, uncertainty, within bins",
                format!("{:.3} − {:.3} + {:.3} + {:.3}", c.reliability, c.resolution, c.uncertainty, c.within),
            ),
            Labelled::of("Log loss", figure(c.log_loss)),
        ],
        off: (c.count >= FEW).then(|| c.is_off()),
    }
}

fn memory(learner: &Learner) -> String {
    let settings = &learner.settings;
    let now = if settings.memory.is_some() {
        "Due days rest on your own memory, learned from your answers."
    } else {
        "Due days rest on the published memory model, which was made from many learners."
    };
    match settings.last_training {
        None => format!("{now} It can learn yours; what it learns is used only if it predicts later answers better."),
        Some(last) => {
            let (before, after) = (surprise(last.before), surprise(last.after));
            let verdict = if last.adopted { "so it was taken" } else { "so nothing was changed" };
            format!(
                "{now} Last time it was tried on your latest {}: before it gave what came a chance of {before:.1} in 100 \
                 on the average, after it {after:.1}; {verdict}.",
                words::count(last.held_back, "answer")
            )
        }
    }
}

/// The geometric mean of the chances given to what came, in per cent: mean log loss in plain words.
fn surprise(log_loss: f64) -> f64 {
    (-log_loss).exp() * 100.0
}
