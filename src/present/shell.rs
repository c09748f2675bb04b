//! What every page has: the rail, the head, a notice, the progress line, the title block.

use crate::present::{
    AboutView, BlueprintView, CardPageView, ClockView, CompetenceView, DebriefView, DeckView, FirstRunView,
    KnowingView, LibraryView, OralFrontView, OralView, PlanView, ProfilesView, SettingsView, TroubleView,
    WatchCardView, WatchEndView, WatchFrontView, WorksheetPageView,
};

/// A meaning that a word or a shape carries. The theme gives each its colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Tone {
    /// Ordinary.
    #[default]
    Plain,
    /// Less important.
    Quiet,
    /// Right, ready, open.
    Good,
    /// Weak, or a caution.
    Weak,
    /// Wrong, or safety-critical.
    Bad,
}

/// Everything the window shows at one moment.
#[derive(Debug, Clone, PartialEq)]
pub struct ShellView {
    /// The left rail and its foot. First run and store trouble are drawn without it.
    pub rail: RailView,
    /// Title of the page, such as `Watch`.
    pub title: String,
    /// Context beside the title, such as `Card 17 of 46`; empty where there is none.
    pub context: String,
    /// One line about what just happened.
    pub notice: Option<Notice>,
    /// How far the watch is, 0 to 1: the line over the sheet.
    pub progress: Option<f32>,
    /// The page.
    pub view: View,
}

/// The rail.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct RailView {
    /// Which entry is the current one.
    pub place: Option<Place>,
    /// The learner's name.
    pub learner: String,
    /// Ship's time as `20:42`.
    pub clock: String,
    /// Its offset as `UTC+3`.
    pub offset: String,
    /// `Oral in 41 days`, where there is a date.
    pub oral: Option<String>,
}

/// An entry of the rail.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Place {
    /// Today's study.
    Watch,
    /// The mock oral.
    Oral,
    /// Where the learner stands.
    Competence,
    /// The plan to the oral.
    Plan,
    /// The decks.
    Library,
    /// The worksheet outside of any card.
    Worksheet,
    /// The learner's choices.
    Settings,
    /// What the program is.
    About,
    /// The learners on this computer; reached by the learner's name at the foot.
    Profiles,
}

/// One line about what just happened. Shown above the sheet until put away or replaced.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Notice {
    /// `Good` for done, `Weak` for look out, `Bad` for failed, `Plain` otherwise.
    pub tone: Tone,
    /// One or two sentences.
    pub text: String,
}

/// The page.
#[derive(Debug, Clone, PartialEq)]
pub enum View {
    /// Nothing yet: the decks are being read and the profile opened. Drawn without the rail: one quiet sentence
    /// ("Reading the decks and opening the profile …").
    Opening,
    /// The three questions.
    FirstRun(Box<FirstRunView>),
    /// The front page of today's watch.
    WatchFront(Box<WatchFrontView>),
    /// A card of the watch.
    WatchCard(Box<WatchCardView>),
    /// The end of a watch.
    WatchEnd(Box<WatchEndView>),
    /// The page on which a mock oral is begun.
    OralFront(Box<OralFrontView>),
    /// A sitting being sat.
    Oral(Box<OralView>),
    /// How orals are shared and passed.
    Blueprint(Box<BlueprintView>),
    /// What a sitting came to.
    Debrief(Box<DebriefView>),
    /// The competence table.
    Competence(Box<CompetenceView>),
    /// How well the program knows the learner.
    Knowing(Box<KnowingView>),
    /// The plan to the oral.
    Plan(Box<PlanView>),
    /// All decks, with the search.
    Library(Box<LibraryView>),
    /// One deck.
    Deck(Box<DeckView>),
    /// One card outside the watch.
    Card(Box<CardPageView>),
    /// The worksheet outside of any card.
    Worksheet(Box<WorksheetPageView>),
    /// The learners on this computer.
    Profiles(Box<ProfilesView>),
    /// The learner's choices.
    Settings(Box<SettingsView>),
    /// What the program is.
    About(Box<AboutView>),
    /// Whether the computer's date is right. Drawn without the rail.
    Clock(Box<ClockView>),
    /// The profile could not be opened.
    StoreTrouble(Box<TroubleView>),
}

/// The block at the bottom right of a sheet: two columns, three rows.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct TitleBlock {
    /// From top to bottom; three of them.
    pub rows: Vec<BlockRow>,
}

/// One row of a title block: a wide cell and a narrow one.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct BlockRow {
    /// Label of the wide cell.
    pub label: String,
    /// Its value.
    pub value: String,
    /// Label of the narrow cell.
    pub side_label: String,
    /// Its value, in the figures' face; about 11 characters fit.
    pub side_value: String,
}

impl Notice {
    /// Something is done.
    pub fn done(text: impl Into<String>) -> Self {
        Self { tone: Tone::Good, text: text.into() }
    }

    /// Something could not be done.
    pub fn failed(text: impl Into<String>) -> Self {
        Self { tone: Tone::Bad, text: text.into() }
    }
}

impl TitleBlock {
    /// A block from rows of label, value, narrow label, narrow value.
    pub fn of(rows: [[&str; 4]; 3]) -> Self {
        let row = |[label, value, side_label, side_value]: [&str; 4]| BlockRow {
            label: label.to_owned(),
            value: value.to_owned(),
            side_label: side_label.to_owned(),
            side_value: side_value.to_owned(),
        };
        Self { rows: rows.into_iter().map(row).collect() }
    }
}
