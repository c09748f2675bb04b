//! The watch as data to draw: its front page, a card at every stage, its end.

use crate::domain::card::Kind;
use crate::domain::day::StudyDay;
use crate::domain::ids::CardKey;
use crate::domain::outcome::{Notch, Outcome};
use crate::present::drawing::PartShown;
use crate::present::lineup::{LineupAskedView, LineupCheckedView};
use crate::present::point::{PointAskedView, PointMarkedView};
use crate::present::sequence::{SequenceAskedView, SequenceRunView};
use crate::present::working::{WorkingAskedView, WorkingMarkedView};
use crate::present::{PictureView, TitleBlock, Tone};

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
    /// The title block.
    pub block: TitleBlock,
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
    /// It holds one of the weakest areas: hatched.
    pub weak: bool,
}

/// A weak area.
#[derive(Debug, Clone, PartialEq)]
pub struct WeakArea {
    /// `Earth faults on insulated systems`.
    pub name: String,
    /// Recall today of its cards that have been asked before, 0 to 1.
    pub recall: f64,
    /// Its cards that have been asked before.
    pub asked: usize,
    /// Its cards.
    pub cards: usize,
    /// How many of its cards were missed the last time.
    pub slipped: usize,
    /// How many of its cards are in this watch.
    pub in_watch: usize,
}

/// A card of the watch.
#[derive(Debug, Clone, PartialEq)]
pub struct WatchCardView {
    /// Which card.
    pub key: CardKey,
    /// Its kind.
    pub kind: Kind,
    /// Topic and heading, `Auxiliary engines, lubrication before start`.
    pub place: String,
    /// The question, Markdown.
    pub ask: String,
    /// The card's caution, shown before and after the answer.
    pub caution: Option<String>,
    /// Its picture, shown with the question and the answer.
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
    /// It is asked in a mock oral: it is not set aside there.
    pub in_oral: bool,
    /// An answer is being kept: nothing can be accepted until it is.
    pub keeping: bool,
    /// The answer accepted before can be taken back.
    pub can_take_back: bool,
    /// Where the card is between asked and accepted.
    pub stage: Stage,
    /// The title block.
    pub block: TitleBlock,
}

/// Where a card is between asked and accepted.
#[derive(Debug, Clone, PartialEq)]
pub enum Stage {
    /// Say it, then see the points; or type it.
    RecallAsked,
    /// The key points, to be ticked or corrected.
    RecallShown {
        /// In the deck's order.
        points: Vec<PointRow>,
        /// The typed answer, where one was typed.
        typed: Option<String>,
        /// What it comes to.
        result: ResultView,
    },
    /// A field for a figure.
    FigureAsked {
        /// What the answer is asked in, such as `any unit of pressure`; empty where nothing is to be said.
        hint: String,
    },
    /// The figure marked.
    FigureMarked {
        /// As typed.
        given: String,
        /// The right value as the deck writes it, with its tolerance in words.
        expected: String,
        /// `2.5 % too high`, `within 1 bar`; empty where the dimension is wrong.
        error: String,
        /// What the slip was, in a sentence.
        tell: Option<String>,
        /// Whether it is right: `Good`, `Weak` for a slip of unit, `Bad`.
        tone: Tone,
        /// What it comes to.
        result: ResultView,
    },
    /// Links ashore, shuffled; some belong nowhere.
    WhyAsked {
        /// In the order shown ashore.
        links: Vec<LinkView>,
    },
    /// The order marked.
    WhyMarked {
        /// The learner's links, in the learner's order.
        given: Vec<GivenLink>,
        /// The right order, in words.
        right: Vec<String>,
        /// What it comes to.
        result: ResultView,
    },
    /// Steps ashore, to be put on the procedure sheet.
    SequenceAsked(Box<SequenceAskedView>),
    /// The procedure run against the plant.
    SequenceRun(Box<SequenceRunView>),
    /// A schematic whose valves one sets.
    LineupAsked(Box<LineupAskedView>),
    /// The schematic flooded.
    LineupChecked(Box<LineupCheckedView>),
    /// Givens and a worksheet.
    WorkingAsked(Box<WorkingAskedView>),
    /// The answer marked, the lines beside the method's.
    WorkingMarked(Box<WorkingMarkedView>),
    /// A drawing with a part to find.
    PointAsked(Box<PointAskedView>),
    /// The part shown.
    PointMarked(Box<PointMarkedView>),
    /// A stubborn card: its parts one by one.
    Remedy {
        /// Why it comes so: `Missed four times in a row. Take it apart before it is asked again.`
        intro: String,
        /// All parts, in order: points, the reason, the sources.
        parts: Vec<RemedyPart>,
        /// How many of them are uncovered, at least 1.
        shown: usize,
    },
}

/// A key point as a row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PointRow {
    /// From 1; the digit that ticks it.
    pub number: usize,
    /// The point in full.
    pub text: String,
    /// It counts as said.
    pub said: bool,
    /// The answer denied it.
    pub contradicted: bool,
    /// Missing it is unsafe.
    pub critical: bool,
    /// The learner's own words that matched, or that denied it.
    pub evidence: Option<String>,
}

/// A link of a why.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LinkView {
    /// Its position in links then false links, from 1: what `Given::Links` holds.
    pub position: usize,
    /// Its words.
    pub text: String,
}

/// A link as the learner placed it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GivenLink {
    /// Its words.
    pub text: String,
    /// How it stands.
    pub standing: LinkStanding,
}

/// How a placed link stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LinkStanding {
    /// Part of the longest right run.
    InOrder,
    /// A right link, but out of its place.
    OutOfPlace,
    /// Belongs nowhere.
    False,
}

/// One part of a remedy.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RemedyPart {
    /// `Point 1 of 4`, `The reason`, `Where it comes from`.
    pub label: String,
    /// Its text, Markdown.
    pub text: String,
    /// A safety-critical point.
    pub critical: bool,
}

/// What an answer comes to, before it is accepted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ResultView {
    /// With the learner's notch.
    pub outcome: Outcome,
    /// `4 of 5 points, 38 s. Next in 9 days.`
    pub detail: String,
    /// As worked out, before the notch.
    pub worked_out: Outcome,
    /// The notch so far.
    pub notch: Notch,
    /// What makes which outcome, in one line: `All five points: Answered. Three or four: Prompted. ...`; may be empty.
    pub rule: String,
    /// The card's reason, Markdown; none where there is none, and where it is told later.
    pub because: Option<String>,
    /// In a mock oral: what would have been right is told in the debrief, and nothing offers to show it.
    pub withheld: bool,
    /// The learner does not move it by a notch.
    pub fixed: bool,
}

/// The end of a watch.
#[derive(Debug, Clone, PartialEq)]
pub struct WatchEndView {
    /// `46 cards in 27 minutes`.
    pub headline: String,
    /// One sentence about it.
    pub sentence: String,
    /// How many cards came to each outcome, from missed to fluent.
    pub counts: Vec<(Outcome, usize)>,
    /// What slipped, and why.
    pub slipped: Vec<SlippedRow>,
    /// What comes tomorrow, in a sentence.
    pub tomorrow: String,
    /// The last answer can be taken back.
    pub can_take_back: bool,
    /// The title block.
    pub block: TitleBlock,
}

/// A card that slipped.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SlippedRow {
    /// Which card.
    pub key: CardKey,
    /// Its question, in plain text.
    pub ask: String,
    /// Why: `Missed point 5, safety-critical: stop the engine at once.`
    pub why: String,
    /// When it is back: `tomorrow`.
    pub next: String,
}

impl Stage {
    /// The question stands; it is not marked, and not taken apart in a remedy.
    pub fn is_asked(&self) -> bool {
        matches!(
            self,
            Stage::RecallAsked
                | Stage::FigureAsked { .. }
                | Stage::WhyAsked { .. }
                | Stage::SequenceAsked(_)
                | Stage::LineupAsked(_)
                | Stage::WorkingAsked(_)
                | Stage::PointAsked(_)
        )
    }
}

impl Stage {
    /// What the answer comes to; none before it is marked.
    pub fn result(&self) -> Option<&ResultView> {
        match self {
            Stage::RecallShown { result, .. }
            | Stage::FigureMarked { result, .. }
            | Stage::WhyMarked { result, .. } => Some(result),
            Stage::SequenceRun(run) => Some(&run.result),
            Stage::LineupChecked(view) => Some(&view.result),
            Stage::WorkingMarked(view) => Some(&view.result),
            Stage::PointMarked(view) => Some(&view.result),
            _ => None,
        }
    }

    /// The same, to be changed.
    pub fn result_mut(&mut self) -> Option<&mut ResultView> {
        match self {
            Stage::RecallShown { result, .. }
            | Stage::FigureMarked { result, .. }
            | Stage::WhyMarked { result, .. } => Some(result),
            Stage::SequenceRun(run) => Some(&mut run.result),
            Stage::LineupChecked(view) => Some(&mut view.result),
            Stage::WorkingMarked(view) => Some(&mut view.result),
            Stage::PointMarked(view) => Some(&mut view.result),
            _ => None,
        }
    }
}

impl ResultView {
    /// The outcome that the notch key `−` leads to; `None` where it leads nowhere.
    pub fn down(&self) -> Option<(Notch, Outcome)> {
        self.step(-1)
    }

    /// The outcome that the notch key `+` leads to; `None` where it leads nowhere.
    pub fn up(&self) -> Option<(Notch, Outcome)> {
        self.step(1)
    }

    fn step(&self, by: i64) -> Option<(Notch, Outcome)> {
        let to = self.notch.number() + by;
        let notch = (!self.fixed && (-1..=1).contains(&to)).then(|| Notch::from_number(to))?;
        let outcome = self.worked_out.notched(notch);
        (outcome != self.outcome).then_some((notch, outcome))
    }
}
