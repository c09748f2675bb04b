//! The library as data to draw: decks, search hits, one deck, one card.

use std::path::PathBuf;

use crate::domain::day::StudyDay;
use crate::domain::ids::{CardKey, DeckId};
use crate::domain::kinds::Kind;
use crate::domain::outcome::Outcome;
use crate::present::block::TitleBlock;
use crate::present::drawing::PartShown;
use crate::present::editions::{TakenRow, WithdrawnRow};
use crate::present::kinds::working::GivenRow;
use crate::present::labelled::Labelled;
use crate::present::picture::PictureView;
use crate::present::tone::Tone;

/// All decks, with the search.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct LibraryView {
    /// By title.
    pub decks: Vec<DeckRow>,
    /// The folders in which decks are looked for.
    pub folders: Vec<String>,
    /// Hits, where something is searched for.
    pub search: Option<SearchView>,
}

/// One deck as a row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DeckRow {
    /// Which deck.
    pub id: DeckId,
    /// Title of the deck (its folder's name where it could not be read).
    pub title: String,
    /// `3`, or `–` where it could not be read.
    pub edition: String,
    /// Who publishes it.
    pub publisher: String,
    /// How many cards can be studied.
    pub cards: usize,
    /// Errors, warnings and advice together, as many as the deck's page lists.
    pub problems: usize,
    /// The worst of them.
    pub worst: Option<Severity>,
}

/// What a search found.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct SearchView {
    /// What was searched for.
    pub query: String,
    /// The best first.
    pub hits: Vec<Hit>,
    /// How many more there are.
    pub more: usize,
}

/// One hit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hit {
    /// Which card.
    pub key: CardKey,
    /// Title of the deck.
    pub deck: String,
    /// Question, in plain text.
    pub ask: String,
    /// The words around the match.
    pub snippet: Vec<SnippetPart>,
}

/// A run of a snippet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SnippetPart {
    /// The words.
    pub text: String,
    /// Whether this part is the match.
    pub marked: bool,
}

/// How bad a problem is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Severity {
    /// The card or deck cannot be used.
    Error,
    /// The deck can be used, but should be looked at.
    Warning,
    /// The deck could be better.
    Advice,
}

/// One deck.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DeckView {
    /// Which deck.
    pub id: DeckId,
    /// Title of the deck.
    pub title: String,
    /// Label and value: edition, publisher, licence, language, folder.
    pub facts: Vec<Labelled>,
    /// What it is about.
    pub about: Option<String>,
    /// Caution, shown with it.
    pub caution: Option<String>,
    /// What its cards cite.
    pub sources: Vec<SourceRow>,
    /// Cards, in the deck's order.
    pub cards: Vec<CardRow>,
    /// The edition that was in use before, where it is kept.
    pub back: Option<u32>,
    /// Problems, in the order of the files.
    pub problems: Vec<ProblemRow>,
    /// The editions that were taken in, the newest first.
    pub editions: Vec<TakenRow>,
    /// Cards that are in it no more.
    pub withdrawn: Vec<WithdrawnRow>,
    /// Its folder, where it is the learner's own and can be written.
    pub own: Option<PathBuf>,
}

/// A source.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SourceRow {
    /// Title with regulation or clause.
    pub title: String,
    /// `Convention`, `Common practice`, ...
    pub kind: String,
}

/// A card as a row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CardRow {
    /// Which card.
    pub key: CardKey,
    /// Kind of the card.
    pub kind: Kind,
    /// Question, in plain text.
    pub ask: String,
    /// The deck's own section; empty where there is none.
    pub heading: String,
    /// Where it stands with the learner.
    pub standing: Standing,
    /// When it comes next: `in 9 days`, `today`, `changed` where it comes first; empty where it does not.
    pub next: String,
}

/// Where a card stands with a learner.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Standing {
    /// Never asked.
    Unseen,
    /// Asked, not yet secure.
    WorkingUp,
    /// Secure.
    Holding,
    /// Missed the last time.
    Slipped,
    /// Left out of the watch.
    SetAside,
}

/// A problem of a deck.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ProblemRow {
    /// The diagnostic's code.
    pub code: String,
    /// How bad.
    pub severity: Severity,
    /// `cards/air.toml:12:5`.
    pub place: String,
    /// What is wrong.
    pub message: String,
    /// How to mend it; empty where nothing is known.
    pub mend: String,
}

/// One card outside the watch, with its answer.
#[derive(Debug, Clone, PartialEq)]
pub struct CardPageView {
    /// Which card.
    pub key: CardKey,
    /// Kind of the card.
    pub kind: Kind,
    /// Topic and heading.
    pub place: String,
    /// The question, Markdown.
    pub ask: String,
    /// Picture of the card.
    pub picture: Option<PictureView>,
    /// The part that a point card asks for, on its drawing.
    pub shown: Option<PartShown>,
    /// Answer to it.
    pub answer: AnswerView,
    /// The reason, Markdown.
    pub because: Option<String>,
    /// Caution, shown with it.
    pub caution: Option<String>,
    /// Sources of the card.
    pub sources: Vec<SourceRow>,
    /// Where it stands.
    pub standing: Standing,
    /// More of it: `Next on Saturday 28 November. Recall today 93 %.`
    pub standing_detail: String,
    /// Past attempts, the newest first.
    pub history: Vec<HistoryRow>,
    /// Faults that the learner reported.
    pub faults: Vec<FaultRow>,
    /// Today, for setting aside until a day.
    pub today: StudyDay,
    /// The title block.
    pub block: TitleBlock,
}

/// A card's answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum AnswerView {
    /// Key points, or what else is read as a list.
    Points(Vec<AnswerPoint>),
    /// A figure with its tolerance in words (empty where exact).
    Figure {
        /// As the deck writes it.
        value: String,
        /// `within 1 bar`.
        within: String,
    },
    /// A part of a drawing.
    Part {
        /// Name of the part, with a capital.
        name: String,
        /// Where it lies and how it looks, and what it is a piece of, in sentences; empty where nothing is said of it.
        detail: String,
    },
    /// Links in order, and those that belong nowhere.
    Links {
        /// In causal order.
        links: Vec<String>,
        /// Belong nowhere.
        false_links: Vec<String>,
    },
    /// A working's method.
    Method(MethodView),
}

/// A point of an answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AnswerPoint {
    /// In full, Markdown.
    pub text: String,
    /// Missing it is unsafe.
    pub critical: bool,
}

/// A working's method, without the figures of any draw.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MethodView {
    /// What is given, each with its range in the place of a number.
    pub givens: Vec<GivenRow>,
    /// `area = pi * bore^2 / 4`.
    pub lines: Vec<String>,
    /// `power, in kW, within 1 %`.
    pub answer: String,
    /// What is told of known slips.
    pub slips: Vec<String>,
}

/// A past attempt.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HistoryRow {
    /// `Tuesday 24 November`.
    pub day: String,
    /// What counted.
    pub outcome: Outcome,
    /// `3 of 5 points, 41 s`; with the notch in words where there was one.
    pub detail: String,
}

/// A reported fault.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FaultRow {
    /// When.
    pub day: String,
    /// The learner's words.
    pub note: String,
}

impl Standing {
    /// The word for people.
    pub fn word(self) -> &'static str {
        match self {
            Standing::Unseen => "not yet asked",
            Standing::WorkingUp => "settling",
            Standing::Holding => "known",
            Standing::Slipped => "forgotten",
            Standing::SetAside => "set aside",
        }
    }

    /// Tone of the standing.
    pub fn tone(self) -> Tone {
        match self {
            Standing::Unseen | Standing::SetAside => Tone::Quiet,
            Standing::WorkingUp => Tone::Plain,
            Standing::Holding => Tone::Good,
            Standing::Slipped => Tone::Weak,
        }
    }
}

impl Severity {
    /// The word for people.
    pub fn word(self) -> &'static str {
        match self {
            Severity::Error => "error",
            Severity::Warning => "warning",
            Severity::Advice => "advice",
        }
    }

    /// Tone of the severity.
    pub fn tone(self) -> Tone {
        match self {
            Severity::Error => Tone::Bad,
            Severity::Warning => Tone::Weak,
            Severity::Advice => Tone::Quiet,
        }
    }
}
