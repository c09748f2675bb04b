//! Everything the window shows at one moment: the rail, the head, a notice, the progress line, and the page.

use crate::present::bring_over::BringOverView;
use crate::present::class_page::ClassPageView;
use crate::present::clock::ClockView;
use crate::present::competence::CompetenceView;
use crate::present::debrief::DebriefView;
use crate::present::editions::EditionView;
use crate::present::first_run::FirstRunView;
use crate::present::knowing::KnowingView;
use crate::present::library::{CardPageView, DeckView, LibraryView};
use crate::present::notice::Notice;
use crate::present::oral::{BlueprintView, OralFrontView, OralView};
use crate::present::pages::{AboutView, ProfilesView, SettingsView, TroubleView};
use crate::present::plan::PlanView;
use crate::present::taking_in::TakeInView;
use crate::present::watch::{WatchCardView, WatchEndView, WatchFrontView};
use crate::present::worksheet::WorksheetPageView;
use crate::present::writing::{WriteDeskView, WriteFormView, WriteFrontView, WriteToldView};

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
    /// Offset of ship's time as `UTC+3`.
    pub offset: String,
    /// `Oral in 41 days`, where there is a date.
    pub oral: Option<String>,
    /// The home has a class, so that there is a way to it.
    pub class: bool,
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
    /// A lecturer's class; only where the home has one.
    Class,
    /// The worksheet outside of any card.
    Worksheet,
    /// The learner's choices.
    Settings,
    /// What the program is.
    About,
    /// The learners on this computer; reached by the learner's name at the foot.
    Profiles,
}

/// The page.
#[derive(Debug, Clone, PartialEq)]
pub enum View {
    /// Nothing yet: the decks are being read and the profile opened. Drawn without the rail: one quiet sentence
    /// ("Reading the decks and opening the profile …").
    Opening,
    /// The three questions.
    FirstRun(Box<FirstRunView>),
    /// A lecturer's class.
    Class(Box<ClassPageView>),
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
    /// What an edition of a deck brought.
    Edition(Box<EditionView>),
    /// A deck is taken in from a file.
    TakeIn(Box<TakeInView>),
    /// One card outside the watch.
    Card(Box<CardPageView>),
    /// A deck to write is chosen or begun.
    WriteFront(Box<WriteFrontView>),
    /// A deck being written.
    WriteDesk(Box<WriteDeskView>),
    /// A card that is answered by whoever writes it.
    WriteCard(Box<WatchCardView>),
    /// How that answer was marked.
    WriteTold(Box<WriteToldView>),
    /// A card in its form.
    WriteForm(Box<WriteFormView>),
    /// The worksheet outside of any card.
    Worksheet(Box<WorksheetPageView>),
    /// The learners on this computer.
    Profiles(Box<ProfilesView>),
    /// The learner's choices.
    Settings(Box<SettingsView>),
    /// A profile's file is taken in, or written.
    BringOver(Box<BringOverView>),
    /// What the program is.
    About(Box<AboutView>),
    /// Whether the computer's date is right. Drawn without the rail.
    Clock(Box<ClockView>),
    /// The profile could not be opened.
    StoreTrouble(Box<TroubleView>),
}
