//! How well the program knows the learner, as data to draw.

use crate::domain::readiness::Bin;
use crate::present::labelled::Labelled;

/// The page.
#[derive(Debug, Clone, PartialEq)]
pub struct KnowingView {
    /// Recall in watches, and in orals; none while it is being worked out, and where it could not be.
    pub fits: Option<Vec<FitView>>,
    /// Why it could not be worked out, in sentences.
    pub trouble: Option<String>,
    /// The learner's own memory parameters are in use.
    pub own: bool,
    /// What the memory model rests on, and what the last training came to, in sentences.
    pub memory: String,
    /// Being learned, 0 to 1.
    pub learning: Option<f64>,
}

/// How well forecasts fit what came.
#[derive(Debug, Clone, PartialEq)]
pub struct FitView {
    /// `In watches`.
    pub title: String,
    /// In plain words.
    pub sentence: String,
    /// In the order of forecasts. Bins without answers are left out.
    pub bins: Vec<Bin>,
    /// Label and value.
    pub facts: Vec<Labelled>,
    /// The forecasts lie further off than luck explains; none with too few answers to say.
    pub off: Option<bool>,
}
