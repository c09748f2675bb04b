//! Cards as plain data: what a deck holds once it has been read and found sound.

use crate::domain::drawing::Pointing;
use crate::domain::ids::CardKey;
use crate::domain::piping::Network;
use crate::domain::plant::Procedure;
use crate::domain::quantity::{Quantity, Within};
use crate::domain::working::Working;

/// The kinds of card that this version can ask.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Kind {
    /// Say it: key points.
    Recall,
    /// Know the number.
    Figure,
    /// Give the causes in order.
    Why,
    /// Put the steps in an order that works.
    Sequence,
    /// Set the valves.
    Lineup,
    /// Work it out.
    Working,
    /// Find the part on the drawing.
    Point,
}

impl Kind {
    /// All of them, in the order in which they are listed.
    pub const ALL: [Kind; 7] =
        [Kind::Recall, Kind::Figure, Kind::Why, Kind::Sequence, Kind::Lineup, Kind::Working, Kind::Point];

    /// The kind's word in markings, and for people.
    pub fn word(self) -> &'static str {
        match self {
            Kind::Recall => "recall",
            Kind::Figure => "figure",
            Kind::Why => "why",
            Kind::Sequence => "sequence",
            Kind::Lineup => "line-up",
            Kind::Working => "working",
            Kind::Point => "point",
        }
    }
}

/// One card of a deck.
#[derive(Debug, Clone, PartialEq)]
pub struct Card {
    /// `deck-id/card-id`.
    pub key: CardKey,
    /// A competence key such as `A-III/1.2.1`.
    pub topic: String,
    /// The deck's own section, such as "Earth faults".
    pub heading: Option<String>,
    /// The question, Markdown.
    pub ask: String,
    /// The reason, Markdown, shown afterwards.
    pub because: Option<String>,
    /// What an answer to "And the reason behind it?" must contain; empty where the oral does not ask for the reason.
    pub because_points: Vec<KeyPoint>,
    /// A caution for hazardous work.
    pub caution: Option<String>,
    /// Keys of the deck's sources, at least one.
    pub sources: Vec<String>,
    /// A picture, as a path inside the deck's folder with `/` between its parts.
    pub picture: Option<String>,
    /// The time a good answer takes, in seconds.
    pub seconds: Option<f64>,
    /// How much it matters, 1 to 3.
    pub weight: u8,
    /// Follow-ups for the oral.
    pub probes: Vec<Probe>,
    /// What is asked, by kind.
    pub body: Body,
}

/// What a card asks, by kind.
#[derive(Debug, Clone, PartialEq)]
pub enum Body {
    /// Key points to say.
    Recall(Recall),
    /// A number to know.
    Figure(Figure),
    /// Causes to put in order.
    Why(Why),
    /// Steps to put in an order that works.
    Sequence(Procedure),
    /// Valves to set.
    Lineup(Network),
    /// A calculation with fresh figures.
    Working(Working),
    /// A part to find on a drawing.
    Point(Pointing),
}

/// A recall card's key points, one to nine.
#[derive(Debug, Clone, PartialEq)]
pub struct Recall {
    /// In the deck's order.
    pub points: Vec<KeyPoint>,
}

/// One thing that a full answer must contain.
#[derive(Debug, Clone, PartialEq)]
pub struct KeyPoint {
    /// The point in full; counts as an accepted phrase too.
    pub say: String,
    /// Phrases that make the point.
    pub accept: Vec<String>,
    /// Phrases that deny it.
    pub reject: Vec<String>,
    /// Missing it is unsafe.
    pub critical: bool,
}

/// A number to know.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// The right value in the card's own unit.
    pub value: Quantity,
    /// The value as the deck writes it, for people.
    pub value_text: String,
    /// How near is right.
    pub within: Within,
}

/// Causes to put in order.
#[derive(Debug, Clone, PartialEq)]
pub struct Why {
    /// In causal order.
    pub links: Vec<String>,
    /// Belong nowhere.
    pub false_links: Vec<String>,
}

/// A follow-up that the examiner may ask after a card.
#[derive(Debug, Clone, PartialEq)]
pub struct Probe {
    /// When it is asked.
    pub after: After,
    /// The question.
    pub ask: String,
    /// Its key points, as a recall's.
    pub points: Vec<KeyPoint>,
}

/// When a probe is asked; point numbers count from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum After {
    /// After a full answer.
    All,
    /// After this point was missed.
    Missed(usize),
    /// After this point was said.
    Said(usize),
}

impl Card {
    /// The card's kind.
    pub fn kind(&self) -> Kind {
        match self.body {
            Body::Recall(_) => Kind::Recall,
            Body::Figure(_) => Kind::Figure,
            Body::Why(_) => Kind::Why,
            Body::Sequence(_) => Kind::Sequence,
            Body::Lineup(_) => Kind::Lineup,
            Body::Working(_) => Kind::Working,
            Body::Point(_) => Kind::Point,
        }
    }
}
