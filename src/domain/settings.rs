//! What a learner has chosen. Kept with the profile.

use serde::{Deserialize, Serialize};

use crate::domain::certificate::Certificate;
use crate::domain::day::{ShipOffset, StudyDay};
use crate::domain::memory::plan::Plan;
use crate::domain::oral::Blueprint;

/// A learner's choices.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Settings {
    /// The learner's name as shown.
    pub learner: String,
    /// The certificate aimed at.
    pub certificate: Certificate,
    /// The day of the oral, where there is one.
    pub oral: Option<StudyDay>,
    /// Minutes a day, 5 to 120.
    pub minutes: u32,
    /// The chance of recall at which a card comes back, 0.70 to 0.99.
    pub recall_target: f64,
    /// Ship's time.
    pub ship: ShipOffset,
    /// Light, dark or as the system.
    pub theme: ThemeChoice,
    /// Interface scale, 80 to 200 %.
    pub scale_percent: u32,
    /// No motion, whatever the system says.
    pub still: bool,
    /// Typed answers are read by the trained reader, beside the matcher of words.
    pub second_reader: bool,
    /// Questions of the mock oral are read aloud.
    pub read_aloud: bool,
    /// Spoken answers of the mock oral are recorded.
    pub record: bool,
    /// Days that recordings are kept, 1 to 365.
    pub keep_recordings_days: u32,
    /// The three questions have been answered.
    pub first_run_done: bool,
    /// The lines of the worksheet that stands outside of any card, at most [`MOST_LINES`].
    pub worksheet: Vec<String>,
    /// The learner's own 21 parameters of the memory model; none for the published ones.
    pub memory: Option<Vec<f32>>,
    /// What the last training came to.
    pub last_training: Option<OwnMemory>,
    /// The plan that is kept; it holds for its own oral alone.
    pub plan: Option<KeptPlan>,
    /// What came of orals, oldest first.
    pub results: Vec<OralResult>,
    /// Blueprints that the learner or an instructor has changed, at most one for each certificate; the others are ours.
    pub blueprints: Vec<Blueprint>,
}

/// What a training came to: mean log loss on reviews that were held back.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct OwnMemory {
    /// Reviews held back.
    pub held_back: usize,
    /// With the parameters before.
    pub before: f64,
    /// With the new ones.
    pub after: f64,
    /// Whether the new parameters were taken.
    pub adopted: bool,
}

/// What came of an oral. Kept as a pair of the day and whether it was passed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(from = "(StudyDay, bool)", into = "(StudyDay, bool)")]
pub struct OralResult {
    /// The day of the oral.
    pub day: StudyDay,
    /// Whether the oral was passed.
    pub passed: bool,
}

impl From<(StudyDay, bool)> for OralResult {
    fn from((day, passed): (StudyDay, bool)) -> Self {
        Self { day, passed }
    }
}

impl From<OralResult> for (StudyDay, bool) {
    fn from(result: OralResult) -> Self {
        (result.day, result.passed)
    }
}

/// A plan as it is kept.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct KeptPlan {
    /// The plan.
    pub plan: Plan,
    /// From 1.
    pub number: u32,
    /// The day on which it was made.
    pub drawn: StudyDay,
}

/// So many lines a worksheet may have.
pub const MOST_LINES: usize = 40;
/// So many characters a line of it may have.
pub const MOST_CHARS: usize = 400;

/// Lines brought within these bounds.
pub fn bounded_lines(lines: Vec<String>) -> Vec<String> {
    let bounded =
        |line: String| if line.chars().count() <= MOST_CHARS { line } else { line.chars().take(MOST_CHARS).collect() };
    lines.into_iter().take(MOST_LINES).map(bounded).collect()
}

/// Light, dark or as the system.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, Default)]
#[serde(rename_all = "kebab-case")]
pub enum ThemeChoice {
    /// As the system says.
    #[default]
    System,
    /// Light.
    Sheet,
    /// Dark.
    Night,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            learner: String::new(),
            certificate: Certificate::default(),
            oral: None,
            minutes: 30,
            recall_target: 0.90,
            ship: ShipOffset::default(),
            theme: ThemeChoice::default(),
            scale_percent: 100,
            still: false,
            second_reader: true,
            read_aloud: false,
            record: false,
            keep_recordings_days: 14,
            first_run_done: false,
            worksheet: Vec::new(),
            memory: None,
            last_training: None,
            plan: None,
            results: Vec::new(),
            blueprints: Vec::new(),
        }
    }
}

impl Settings {
    /// These settings with every number brought into its range.
    pub fn clamped(mut self) -> Self {
        self.minutes = self.minutes.clamp(5, 120);
        self.recall_target = if self.recall_target.is_finite() { self.recall_target.clamp(0.70, 0.99) } else { 0.90 };
        self.scale_percent = self.scale_percent.clamp(80, 200);
        self.keep_recordings_days = self.keep_recordings_days.clamp(1, 365);
        self.worksheet = bounded_lines(self.worksheet);
        self.memory = self.memory.filter(|own| own.len() == 21 && own.iter().all(|p| p.is_finite()));
        self.blueprints = self.blueprints.into_iter().filter_map(|blueprint| blueprint.checked().ok()).collect();
        self
    }

    /// How orals for the certificate are shared and passed: the learner's own blueprint, or ours.
    pub fn blueprint(&self) -> Blueprint {
        let own = self.blueprints.iter().find(|blueprint| blueprint.certificate == self.certificate);
        own.cloned().unwrap_or_else(|| Blueprint::standard(self.certificate))
    }

    /// Keeps a blueprint in place of the one for its certificate; ours is kept as none.
    pub fn set_blueprint(&mut self, blueprint: Blueprint) {
        self.blueprints.retain(|other| other.certificate != blueprint.certificate);
        if blueprint != Blueprint::standard(blueprint.certificate) {
            self.blueprints.push(blueprint);
        }
    }
}
