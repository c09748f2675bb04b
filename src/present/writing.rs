//! A deck being written, as data to draw: its cards with their problems, the card in hand, how an answer to it is marked,
//! its form.

use std::path::PathBuf;

use crate::domain::form::CardForm;
use crate::domain::ids::CardKey;
use crate::domain::kinds::Kind;
use crate::domain::outcome::Outcome;
use crate::present::drawing::PartShown;
use crate::present::kinds::lineup::SchematicView;
use crate::present::library::{AnswerView, Severity, SourceRow};
use crate::present::picture::PictureView;

/// Where a deck to write is chosen or begun.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct WriteFrontView {
    /// The learner's own decks.
    pub decks: Vec<OwnDeckRow>,
    /// Where a new one is put.
    pub folder: String,
    /// Topics by key, with their titles.
    pub topics: Vec<(String, String)>,
    /// Whose deck a new one will be, as far as is known.
    pub publisher: String,
}

/// A deck that can be written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OwnDeckRow {
    /// Its folder.
    pub folder: PathBuf,
    /// Its title, or its folder's name.
    pub title: String,
    /// `17 cards, 2 problems`.
    pub detail: String,
}

/// A deck being written.
#[derive(Debug, Clone, PartialEq)]
pub struct WriteDeskView {
    /// Its folder, by which one deck is told from another.
    pub folder: String,
    /// Nothing has been read of it yet.
    pub reading: bool,
    /// Files that cannot be read as they stand, in a sentence; empty where there are none.
    pub broken: String,
    /// Its cards, in the order of files and lines.
    pub cards: Vec<WrittenRow>,
    /// Which of them is in hand, from 0.
    pub chosen: usize,
    /// The card in hand; none where there is no card, or it was never read well.
    pub card: Option<Box<CardInHand>>,
    /// Problems of the card in hand, then those of the deck's files, then those of other cards.
    pub problems: Vec<WrittenProblem>,
    /// What can be proved of the card in hand, in sentences; none of kinds of which nothing can.
    pub proof: Option<Worked<Vec<String>>>,
    /// Its sample answers.
    pub samples: Worked<Vec<SampleRow>>,
    /// What learners say of it.
    pub reports: Vec<ReportRow>,
    /// Reports on other cards of the deck.
    pub reports_elsewhere: usize,
    /// Kinds that are written in a form, for new cards.
    pub kinds: Vec<Kind>,
    /// The card in hand can be changed in a form.
    pub has_form: bool,
}

/// What is worked out in the background.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Worked<T> {
    /// Not yet.
    Pending,
    /// Here it is.
    Done(T),
    /// Why it is not.
    Failed(String),
}

/// A card as a row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WrittenRow {
    /// The section that begins with it; none where it goes on.
    pub section: Option<String>,
    /// Its question in a few words, or its id.
    pub name: String,
    /// Its kind.
    pub kind: Kind,
    /// Its worst problem.
    pub worst: Option<Severity>,
    /// Its text cannot be read as it stands; what is shown is what was read before.
    pub stale: bool,
}

/// The card in hand.
#[derive(Debug, Clone, PartialEq)]
pub struct CardInHand {
    /// Which card.
    pub key: CardKey,
    /// Kind of the card.
    pub kind: Kind,
    /// Topic and heading.
    pub place: String,
    /// `cards.toml, line 12`.
    pub written: String,
    /// Its question, Markdown.
    pub ask: String,
    /// Its caution.
    pub caution: Option<String>,
    /// Its picture.
    pub picture: Option<PictureView>,
    /// The part that a point asks for, on its drawing.
    pub shown: Option<PartShown>,
    /// The drawing of a line-up.
    pub schematic: Option<std::sync::Arc<SchematicView>>,
    /// Its answer.
    pub answer: AnswerView,
    /// Its reason, Markdown.
    pub because: Option<String>,
    /// Its sources.
    pub sources: Vec<SourceRow>,
    /// It stands so no more: its text cannot be read.
    pub stale: bool,
}

/// A problem in sentences.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WrittenProblem {
    /// How bad.
    pub severity: Severity,
    /// The file.
    pub file: String,
    /// From 1.
    pub line: usize,
    /// What is wrong, as a sentence.
    pub what: String,
    /// How it is mended, as a sentence; empty where nothing is known.
    pub mend: String,
    /// Whose it is, where it is not of the card in hand: another card by name, or the file.
    pub of: Option<String>,
}

/// A sample answer as a row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SampleRow {
    /// The answer in words.
    pub answer: String,
    /// What it is meant to come to.
    pub meant: String,
    /// In what it comes out otherwise, in words; empty where it does not.
    pub otherwise: String,
}

/// What a learner has said of a card.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ReportRow {
    /// The learner's words.
    pub note: String,
    /// `Edition 1, 9 March`.
    pub when: String,
    /// What the learner had answered, in words; empty where that is not known.
    pub answer: String,
    /// A sample can be made of that answer.
    pub answered: bool,
}

/// How an answer was marked, point by point, and what a sample of it is to expect.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WriteToldView {
    /// The question, Markdown.
    pub ask: String,
    /// The answer in words.
    pub answer: String,
    /// What it came to.
    pub outcome: Outcome,
    /// Why, in a sentence.
    pub reason: String,
    /// Key points with what was found of each; empty for other kinds.
    pub points: Vec<ToldPoint>,
    /// Who has read it, in a sentence.
    pub readers: String,
    /// The outcome that a sample of it is to come to; none where that is left open.
    pub outcome_wanted: Option<Outcome>,
    /// In what a sample that expects this would come out otherwise, in words; empty where it would not.
    pub otherwise: String,
    /// A sample can be written: it expects something, and the answer can be written down.
    pub may_keep: bool,
}

/// A key point with what each reader found of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ToldPoint {
    /// From 1.
    pub number: usize,
    /// The point in full.
    pub text: String,
    /// Missing it is unsafe.
    pub critical: bool,
    /// What it came to.
    pub found: Found,
    /// What each reader found, in sentences.
    pub ground: Vec<String>,
    /// What a sample is to expect of it.
    pub wanted: Wanted,
}

/// What was found of a point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Found {
    /// The answer says it.
    Said,
    /// The answer denies it.
    Denied,
    /// It may say it.
    NotSure,
    /// It does not say it.
    NotSaid,
}

/// What a sample is to expect of a point.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Wanted {
    /// Either way.
    #[default]
    Open,
    /// Found said.
    Said,
    /// Found denied.
    Denied,
}

/// A card in its form.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WriteFormView {
    /// The card as the file has it, or the beginnings of a new one.
    pub form: CardForm,
    /// It is new.
    pub is_new: bool,
    /// `cards.toml, line 12`, or the file that a new card goes into.
    pub written: String,
    /// Counts the times that the form was opened or written: another number is another form.
    pub opened: u64,
    /// Why it cannot be written as things stand, in a sentence; empty where it can.
    pub trouble: String,
    /// Topics by key, with their titles.
    pub topics: Vec<(String, String)>,
    /// Sources of the deck by key, with their titles.
    pub sources: Vec<(String, String)>,
    /// Problems of the card as it is written.
    pub problems: Vec<WrittenProblem>,
}

impl Found {
    /// The word for people.
    pub fn word(self) -> &'static str {
        match self {
            Found::Said => "said",
            Found::Denied => "denied",
            Found::NotSure => "not sure",
            Found::NotSaid => "not said",
        }
    }
}

impl Wanted {
    /// The word for people.
    pub fn word(self) -> &'static str {
        match self {
            Wanted::Open => "either way",
            Wanted::Said => "must be said",
            Wanted::Denied => "must be denied",
        }
    }

    /// The next one, in the order in which a key goes through them.
    pub fn next(self) -> Self {
        match self {
            Wanted::Open => Wanted::Said,
            Wanted::Said => Wanted::Denied,
            Wanted::Denied => Wanted::Open,
        }
    }
}
