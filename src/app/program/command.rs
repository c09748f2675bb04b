//! What the faces may ask for, grouped by the page that asks. A screen is given a view and returns a command; it changes
//! nothing itself.

use std::mem::discriminant;
use std::path::PathBuf;

use crate::app::profile::only::Only;
use crate::app::program::route::Route;
use crate::app::sheet::EditWorksheet;
use crate::domain::answer::{Given, LinedUp};
use crate::domain::attempt::Until;
use crate::domain::certificate::Certificate;
use crate::domain::day::{ShipOffset, StudyDay};
use crate::domain::form::{BeginDeck, CardForm};
use crate::domain::ids::{CardKey, DeckId};
use crate::domain::kinds::Kind;
use crate::domain::oral::{Blueprint, OralChoice, Way};
use crate::domain::outcome::{Notch, Outcome};
use crate::domain::settings::ThemeChoice;
use crate::present::drawing::DrawingPlace;
use crate::present::writing::Wanted;

/// A request, in the imperative.
#[derive(Debug, Clone, PartialEq)]
pub enum Command {
    /// Go to a place.
    Go(Route),
    /// Put away the notice shown.
    DismissNotice,
    /// A watch is begun, left, or goes on.
    Watch(WatchCommand),
    /// Something is done with the card in play, in the watch or in a sitting.
    Card(CardCommand),
    /// The worksheet in front, on a working or outside of any card, now reads so.
    EditWorksheet(EditWorksheet),
    /// A sitting of a mock oral is begun, left, or goes on.
    Oral(OralCommand),
    /// The plan to the oral.
    Plan(PlanCommand),
    /// The learner's own memory parameters.
    Training(TrainingCommand),
    /// A report is written.
    Report(ReportCommand),
    /// Decks and their cards, outside of the watch.
    Library(LibraryCommand),
    /// A deck is written.
    Writing(WritingCommand),
    /// A choice of the learner is kept.
    Settings(SettingsCommand),
    /// The first run, other profiles, and what can be done where one does not open.
    Profile(ProfileCommand),
    /// A profile's file is taken in, or written.
    Bring(BringCommand),
    /// The question about the computer's clock is answered.
    Clock(ClockCommand),
}

impl Command {
    /// Whether the same is asked for, whatever it is given.
    pub fn is_like(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Watch(a), Self::Watch(b)) => discriminant(a) == discriminant(b),
            (Self::Card(a), Self::Card(b)) => discriminant(a) == discriminant(b),
            (Self::Oral(a), Self::Oral(b)) => discriminant(a) == discriminant(b),
            (Self::Plan(a), Self::Plan(b)) => discriminant(a) == discriminant(b),
            (Self::Training(a), Self::Training(b)) => discriminant(a) == discriminant(b),
            (Self::Report(a), Self::Report(b)) => discriminant(a) == discriminant(b),
            (Self::Library(a), Self::Library(b)) => discriminant(a) == discriminant(b),
            (Self::Writing(a), Self::Writing(b)) => discriminant(a) == discriminant(b),
            (Self::Settings(a), Self::Settings(b)) => discriminant(a) == discriminant(b),
            (Self::Profile(a), Self::Profile(b)) => discriminant(a) == discriminant(b),
            (Self::Bring(a), Self::Bring(b)) => discriminant(a) == discriminant(b),
            (Self::Clock(a), Self::Clock(b)) => discriminant(a) == discriminant(b),
            _ => discriminant(self) == discriminant(other),
        }
    }
}

/// Requests about a watch.
#[derive(Debug, Clone, PartialEq)]
pub enum WatchCommand {
    /// Begin (or go on with) today's watch. `shorter` halves it.
    Stand {
        /// A shorter one.
        shorter: bool,
    },
    /// Leave the watch; nothing accepted is lost.
    Leave,
    /// Take the answer that was accepted last in this watch back: it counts no more, and its card lies on the sheet
    /// again as it was marked.
    TakeBack,
    /// In a remedy: on to its next part.
    RemedyOn,
    /// Begin a watch on one competence, by its key.
    StudyCompetence(String),
    /// Begin a watch of exactly these cards.
    StudyCards(Vec<CardKey>),
    /// Begin a watch that is limited, for this once.
    StandOnly(Only),
}

/// Requests about the card in play.
#[derive(Debug, Clone, PartialEq)]
pub enum CardCommand {
    /// Show the key points of a recall card, to be ticked.
    ShowPoints,
    /// Mark what was given: a typed answer, a figure, links in order.
    Submit(Given),
    /// Take a typed answer that is being read back into the field.
    Withdraw,
    /// Tick a key point as said, or take the tick away. From 1.
    Tick(usize),
    /// Say of a key point that is not sure whether it was said.
    Settle {
        /// From 1.
        point: usize,
        /// It was.
        said: bool,
    },
    /// Move the outcome by a notch.
    SetNotch(Notch),
    /// Accept the outcome: the attempt is kept and the next card comes.
    Accept,
    /// A sequence that was run is mended: run it again, with these steps. It changes no outcome.
    RunAgain(Vec<String>),
    /// After the first run of a sequence: show an order that works.
    ShowRightOrder,
    /// A line-up that was checked is mended: check it again, set so. It changes no outcome.
    CheckAgain(LinedUp),
    /// After the first check of a line-up: show a setting that works.
    ShowRightSetting,
    /// After a run of a sequence: ask why something happened in it.
    Explain,
    /// After the marking of a working: a second try on the same figures.
    TryAgain,
    /// After the marking of a working: show the method with this draw's values. It closes the second try.
    ShowMethod,
    /// After the marking of a working: practise on fresh figures. It changes no outcome.
    FreshFigures,
    /// Back to the marking from a second try not handed in, or from practice.
    BackToMarking,
    /// The place that a drawing is to be drawn for has become known, or another.
    DrawFor(DrawingPlace),
}

/// Requests about a sitting of a mock oral.
#[derive(Debug, Clone, PartialEq)]
pub enum OralCommand {
    /// Begin a sitting.
    Begin(OralChoice),
    /// Take up the sitting that is not over.
    GoOn(Way),
    /// Leave the sitting for later; nothing kept is lost.
    Leave,
    /// End the sitting where it stands; on the same study day it can be taken up again.
    BreakOff,
    /// Take up again the sitting of this id, which was ended by hand on this study day.
    Resume(String, Way),
    /// Stop the sitting's clock, or let it run again.
    Pause(bool),
    /// Answer by speaking, by writing, or to a second person.
    AnswerBy(Way),
    /// The spoken answer is finished: show its points.
    FinishSpeaking,
    /// The learner has nothing (more) to say.
    NothingToSay,
    /// Read the question aloud again, or fall silent.
    ReadAgain,
    /// Play the recording of the answer on the sheet, or end it.
    HearAgain,
    /// Play the recording of a turn (from 0) of the sitting in front, or end it.
    HearTurn(usize),
    /// The second person's note on the answer.
    SetNote(String),
}

/// Requests about the plan to the oral.
#[derive(Debug, Clone, PartialEq)]
pub enum PlanCommand {
    /// Try other minutes a day in the plan, without keeping them; or these again, where it was not worked out.
    TryMinutes(u32),
    /// Keep the plan that is shown, with its minutes.
    Keep,
    /// Stop working the plan out.
    Stop,
    /// What came of the oral: passed, or not; none where it was put off.
    RecordOralResult(Option<bool>),
}

/// Requests about the learner's own memory parameters.
#[derive(Debug, Clone, PartialEq)]
pub enum TrainingCommand {
    /// Learn them from the learner's attempts.
    Begin,
    /// Stop learning them.
    Stop,
    /// Use the published parameters again.
    Forget,
}

/// Requests for reports.
#[derive(Debug, Clone, PartialEq)]
pub enum ReportCommand {
    /// Write a progress report for a training officer.
    WriteProgress(ReportAs),
    /// Write a report of the class in front, as PDF.
    WriteClass,
    /// Write a report of the sitting in front.
    WriteSitting(ReportAs),
}

/// Requests about decks and their cards.
#[derive(Debug, Clone, PartialEq)]
pub enum LibraryCommand {
    /// Leave a card out of the watch, or bring it back.
    SetAside {
        /// Which card.
        card: CardKey,
        /// For how long.
        until: Until,
    },
    /// Note a fault in a card, for its publisher.
    ReportFault {
        /// Which card.
        card: CardKey,
        /// The learner's words.
        note: String,
    },
    /// Search every deck.
    Search(String),
    /// Read the decks again from their folders.
    RereadDecks,
    /// What an edition brought has been looked at: on to the next, or to the watch.
    EditionSeen,
    /// Ask for the file of a deck to take in.
    AskForFile,
    /// Look into a file: whose deck it is and what it brings.
    LookInto(PathBuf),
    /// Take in what was looked into.
    TakeIn,
    /// Put away what was looked into.
    PutFileAway,
    /// Bring back the edition of a deck that was in use before.
    GoBack(DeckId),
}

/// Requests about a deck that is being written.
#[derive(Debug, Clone, PartialEq)]
pub enum WritingCommand {
    /// Write the deck in a folder.
    Open(PathBuf),
    /// Begin a new deck.
    Begin(BeginDeck),
    /// Take a card into the hand, by its place in the list from 0.
    Choose(usize),
    /// Open a file of the deck at a line, in the system's editor.
    OpenAt {
        /// Relative to the deck's folder.
        file: String,
        /// From 1.
        line: usize,
    },
    /// Answer the card in hand.
    Try,
    /// Answer the card in hand as the learner had who reported it: the report by its place in the list, from 0.
    TryReported(usize),
    /// Take in a file of learners' reports.
    TakeReports(PathBuf),
    /// Look at how the answer was marked.
    Tell,
    /// Back to the marked card.
    BackToCard,
    /// Say what a sample of the answer is to expect of a point.
    Want {
        /// From 1.
        point: usize,
        /// What.
        wanted: Wanted,
    },
    /// Say what a sample of the answer is to come to; none leaves it open.
    WantOutcome(Option<Outcome>),
    /// Write the answer into the card as a sample.
    KeepSample,
    /// Change the card in hand in a form.
    Edit,
    /// Begin a new card of a kind in a form.
    New(Kind),
    /// Write what a form says.
    Save {
        /// The card as the form has it.
        form: CardForm,
        /// As the file had it when it was changed: where it has another one, nothing is written.
        base: CardForm,
    },
}

/// Choices of the learner.
#[derive(Debug, Clone, PartialEq)]
pub enum SettingsCommand {
    /// Set ship's time.
    SetShip(ShipOffset),
    /// Light, dark or as the system.
    SetTheme(ThemeChoice),
    /// Interface scale in per cent.
    SetScale(u32),
    /// No motion.
    SetStill(bool),
    /// Minutes a day.
    SetMinutes(u32),
    /// The recall target, 0.70 to 0.99.
    SetRecallTarget(f64),
    /// The day of the oral.
    SetOral(Option<StudyDay>),
    /// The certificate aimed at.
    SetCertificate(Certificate),
    /// The learner's name.
    SetLearner(String),
    /// Have typed answers read by the trained reader, beside the matcher of words.
    SetSecondReader(bool),
    /// Read the questions of the mock oral aloud.
    SetReadAloud(bool),
    /// Record spoken answers of the mock oral.
    SetRecord(bool),
    /// Keep recordings for so many days, 1 to 365.
    KeepRecordings(u32),
    /// Keep another blueprint for the certificate.
    SetBlueprint(Box<Blueprint>),
}

/// Requests about profiles.
#[derive(Debug, Clone, PartialEq)]
pub enum ProfileCommand {
    /// The three questions are answered; `watch` goes straight into the first watch.
    FinishFirstRun {
        /// Which certificate.
        certificate: Certificate,
        /// The day of the oral, where known.
        oral: Option<StudyDay>,
        /// Minutes a day.
        minutes: u32,
        /// Stand the first watch at once, or look round first.
        watch: bool,
    },
    /// Make a new profile with this learner's name and open it.
    New(String),
    /// Open another profile of this computer, by the name of its folder.
    Open(String),
    /// The profile's file is damaged: open the newest good backup.
    RestoreBackup,
    /// The profile's file is damaged: begin an empty one (the damaged file stays, set aside).
    StartAfresh,
    /// Try to open the profile again.
    RetryOpen,
}

/// Requests about a profile's file.
#[derive(Debug, Clone, PartialEq)]
pub enum BringCommand {
    /// Tell what bringing in the file of this path would change.
    LookInto(String),
    /// Bring in the file that was looked into; another learner's, too.
    TakeIn,
    /// Leave the file that was looked into.
    Leave,
    /// Write the profile into the file of this path.
    WriteOut(String),
}

/// Answers to the question about the computer's clock.
#[derive(Debug, Clone, PartialEq)]
pub enum ClockCommand {
    /// The computer's date is right, though it looks wrong.
    DateIsRight,
    /// The learner goes to set the computer's clock.
    SetClock,
    /// Answers that are dated after today are taken back.
    TakeBackLater,
    /// Answers that are dated after today stay as they are.
    LeaveLater,
}

/// How a report is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ReportAs {
    /// A PDF, opened where it can be printed.
    Pdf,
    /// Text in Markdown.
    Markdown,
    /// A table in CSV.
    Csv,
}
