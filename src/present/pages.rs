//! Profiles, settings, about, and trouble with the store, as data to draw.

use crate::domain::certificate::Certificate;
use crate::domain::day::{ShipOffset, StudyDay};
use crate::domain::settings::ThemeChoice;

/// The learners on this computer.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct ProfilesView {
    /// By name.
    pub profiles: Vec<ProfileRow>,
}

/// One profile.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ProfileRow {
    /// The name of its folder: what `Command::OpenProfile` takes.
    pub folder: String,
    /// The learner's name.
    pub learner: String,
    /// The certificate aimed at, in words; empty where unknown.
    pub certificate: String,
    /// `Last watch on Tuesday 24 November`, `no watch yet`; empty where unknown.
    pub last: String,
    /// Whether this profile is the one that is open.
    pub open: bool,
}

/// The learner's choices.
#[derive(Debug, Clone, PartialEq)]
pub struct SettingsView {
    /// The learner's name.
    pub learner: String,
    /// The certificate aimed at.
    pub certificate: Certificate,
    /// The day of the oral.
    pub oral: Option<StudyDay>,
    /// Today, by ship's time.
    pub today: StudyDay,
    /// Minutes a day.
    pub minutes: u32,
    /// Seconds that a card takes on average.
    pub seconds_a_card: f64,
    /// The recall target, 0.70 to 0.99.
    pub recall_target: f64,
    /// Ship's time.
    pub ship: ShipOffset,
    /// Ship's time now, `20:42`.
    pub clock: String,
    /// Light, dark or as the system.
    pub theme: ThemeChoice,
    /// 80 to 200.
    pub scale_percent: u32,
    /// No motion.
    pub still: bool,
    /// Typed answers are read by the trained reader, too.
    pub second_reader: bool,
    /// Days that recordings are kept.
    pub keep_recordings_days: u32,
}

/// What the program is.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct AboutView {
    /// `0.1.0`.
    pub version: String,
    /// What it is, in paragraphs.
    pub what: Vec<String>,
    /// Where this learner's records lie.
    pub folder: String,
    /// What is under which licence.
    pub licences: Vec<LicenceRow>,
}

/// A licence.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LicenceRow {
    /// `Bedplate`, a deck's title, `Source Sans 3`.
    pub what: String,
    /// `MIT OR Apache-2.0`.
    pub licence: String,
    /// `Bedplate contributors`.
    pub whose: String,
}

/// The profile could not be opened.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TroubleView {
    /// What sort, which names the actions.
    pub kind: TroubleKind,
    /// What happened, in a sentence or two.
    pub what: String,
    /// The technical reason, path and all; empty where there is none.
    pub detail: String,
}

/// Sorts of trouble with the store.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum TroubleKind {
    /// Another window has it open.
    InUse,
    /// The file is damaged.
    Damaged {
        /// The newest good backup, in words: `Tuesday 24 November, 20:42, 310 attempts`.
        backup: Option<String>,
    },
    /// A newer version of the program wrote it.
    Newer,
    /// The folder cannot be made, read or written, or the disk is full.
    Folder,
}
