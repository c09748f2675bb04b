//! The watch as data to draw: its front page, a card at every stage, its end.

use crate::domain::day::StudyDay;
use crate::domain::ids::CardKey;
use crate::domain::kinds::Kind;
use crate::domain::outcome::Outcome;
use crate::present::block::TitleBlock;
use crate::present::drawing::PartShown;
use crate::present::editions::ChangedView;
use crate::present::picture::PictureView;
use crate::present::stage::Stage;
use crate::present::words;

/// The front page of today's watch.
#[derive(Debug, Clone, PartialEq)]
pub struct WatchFrontView {
    /// `Wednesday 25 November`.
    pub date: String,
    /// `46 cards, about 28 minutes`.
    pub headline: String,
    /// What they are, in a sentence or two.
    pub sentence: String,
    /// What there is to do, which names the buttons.
    pub state: FrontState,
    /// What the watch is made of; `None` where nothing is due.
    pub bar: Option<BarView>,
    /// At most three, the weakest first.
    pub weak: Vec<WeakArea>,
    /// The recall target in per cent, 70 to 99.
    pub target_percent: u32,
    /// What lecturers have given out, the nearest date first.
    pub assignments: Vec<AssignmentRow>,
    /// The title block.
    pub block: TitleBlock,
}

/// An assignment on the front page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AssignmentRow {
    /// Which.
    pub id: String,
    /// The class and the decks: `3A: Earth faults`.
    pub title: String,
    /// `Thursday 10 December, in 9 days`; `no date`.
    pub due: String,
    /// Its cards.
    pub cards: usize,
    /// Those met.
    pub met: usize,
    /// Those held: met, with a recall that is not below the target today.
    pub held: usize,
    /// What the minutes do not reach by its date, in a sentence; none where they reach all.
    pub short: Option<String>,
}

/// An assignment in a sentence or two.
pub fn assigned_words(of: &AssignmentRow) -> String {
    let short = of.short.as_ref().map_or_else(String::new, |short| format!(" {short}"));
    format!(
        "Assignment {}. Due {}: {} of {} met, {} held.{short}",
        of.title.trim_end_matches('.'),
        of.due,
        of.met,
        words::count(of.cards, "card"),
        of.held
    )
}

/// What there is to do on the front page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FrontState {
    /// Cards wait: *Start the watch*.
    Ready,
    /// A watch was interrupted: *Go on with the watch*.
    GoOn,
    /// Nothing is due today: the library is offered.
    NothingDue,
    /// Today's watch is done.
    Done,
    /// There are no decks that can be studied: the library is offered.
    NoDecks,
}

/// The dimensioned bar.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BarView {
    /// Over the whole: `46 cards due today`.
    pub whole: String,
    /// From left to right, the largest first.
    pub parts: Vec<BarPart>,
}

/// One topic of the bar.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BarPart {
    /// The topic's name.
    pub label: String,
    /// How many cards.
    pub count: usize,
    /// Whether the topic holds one of the weakest areas: hatched.
    pub weak: bool,
}

/// A weak area.
#[derive(Debug, Clone, PartialEq)]
pub struct WeakArea {
    /// `Earth faults on insulated systems`.
    pub name: String,
    /// Recall today of its cards that have been asked before, 0 to 1.
    pub recall: f64,
    /// Cards of the area that have been asked before.
    pub asked: usize,
    /// Cards of the area.
    pub cards: usize,
    /// How many of its cards were missed the last time.
    pub slipped: usize,
    /// How many of its cards are in this watch.
    pub in_watch: usize,
}

/// A card of the watch.
#[derive(Debug, Clone, PartialEq)]
pub struct WatchCardView {
    /// What an edition has changed of the card, where the learner has not answered it since.
    pub changed: Option<ChangedView>,
    /// Which card.
    pub key: CardKey,
    /// Kind of the card.
    pub kind: Kind,
    /// Topic and heading, `Auxiliary engines, lubrication before start`.
    pub place: String,
    /// The question, Markdown.
    pub ask: String,
    /// The card's caution, shown before and after the answer.
    pub caution: Option<String>,
    /// Picture of the card, shown with the question and the answer.
    pub picture: Option<PictureView>,
    /// In the remedy of a point card: the part on its drawing.
    pub shown: Option<PartShown>,
    /// Seconds on this card so far.
    pub seconds: u32,
    /// Seconds within which a full answer is fluent, where the card says so.
    pub limit: Option<u32>,
    /// Whether the clock runs (it stops when the answer is in).
    pub clock_runs: bool,
    /// Today, for setting aside until a day.
    pub today: StudyDay,
    /// Whether it is asked in a mock oral: it is not set aside there.
    pub in_oral: bool,
    /// Whoever writes the card answers it: nothing is kept, set aside or reported.
    pub tried: bool,
    /// The answer that was typed is being read, before it is marked.
    pub reading: bool,
    /// An answer is being kept: nothing can be accepted until it is.
    pub keeping: bool,
    /// The answer accepted before can be taken back.
    pub can_take_back: bool,
    /// Where the card is between asked and accepted.
    pub stage: Stage,
    /// The title block.
    pub block: TitleBlock,
}

/// The end of a watch.
#[derive(Debug, Clone, PartialEq)]
pub struct WatchEndView {
    /// `46 cards in 27 minutes`.
    pub headline: String,
    /// One sentence about it.
    pub sentence: String,
    /// How many cards came to each outcome, from missed to fluent.
    pub counts: Vec<OutcomeCount>,
    /// What slipped, and why.
    pub slipped: Vec<SlippedRow>,
    /// What comes tomorrow, in a sentence.
    pub tomorrow: String,
    /// The last answer can be taken back.
    pub can_take_back: bool,
    /// The title block.
    pub block: TitleBlock,
}

/// How many cards came to an outcome.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OutcomeCount {
    /// The outcome.
    pub outcome: Outcome,
    /// Cards.
    pub count: usize,
}

/// A card that slipped.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SlippedRow {
    /// Which card.
    pub key: CardKey,
    /// Question of the card, in plain text.
    pub ask: String,
    /// Why: `Missed point 5, safety-critical: stop the engine at once.`
    pub why: String,
    /// When it is back: `tomorrow`.
    pub next: String,
}
