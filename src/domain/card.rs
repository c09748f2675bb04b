//! Cards as plain data: what a deck holds once it has been read and found sound.

use crate::domain::key_point::KeyPoint;
use crate::domain::kinds::recall::Recall;
use crate::domain::kinds::{Body, Kind};

use crate::domain::answer::{Answer, Given};
use crate::domain::editions::{Asked, Part, What};
use crate::domain::ids::CardKey;
use crate::domain::sample::{Sample, SampleAnswer};

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
    /// Answers with what the marker must make of them.
    pub samples: Vec<Sample>,
    /// Keys whose history this card takes over: what it was called before.
    pub was: Vec<CardKey>,
    /// What is asked, by kind.
    pub body: Body,
}

/// A follow-up that the examiner may ask after a card.
#[derive(Debug, Clone, PartialEq)]
pub struct Probe {
    /// When it is asked.
    pub after: After,
    /// The question.
    pub ask: String,
    /// The key points of its answer, as a recall's.
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
        self.body.kind()
    }

    /// What it asks and what counts as right.
    pub fn asked(&self) -> Asked {
        let kind = Part::one(What::Kind, self.kind().word());
        let mut parts = vec![kind, Part::one(What::Question, &self.ask)];
        parts.extend(self.body.as_kind().asked());
        Asked(parts)
    }

    /// Key points of which the answer consists; none where it is no list of things to say.
    pub fn key_points(&self) -> Option<&[KeyPoint]> {
        self.body.as_kind().key_points()
    }

    /// Whether a full answer has something in it that is unsafe to miss.
    pub fn is_critical(&self) -> bool {
        self.body.as_kind().is_critical()
    }

    /// The key that answers about its runs are filed under, where an answer is run.
    pub fn key_about_runs(&self) -> Option<CardKey> {
        self.body.as_kind().has_runs().then(|| about_a_run(&self.key))
    }

    /// The keys that its answers are filed under: its own, and that of questions about its runs.
    pub fn answer_keys(&self) -> impl Iterator<Item = CardKey> {
        [Some(self.key.clone()), self.key_about_runs()].into_iter().flatten()
    }

    /// How many parts its remedy has: those of its kind, the reason where there is one, the sources.
    pub fn remedy_parts(&self) -> usize {
        self.body.as_kind().remedy_parts() + usize::from(self.because.is_some()) + 1
    }

    /// The answer of one of its samples; none where the program is to find an order and there is none that works.
    pub fn answer_of(&self, sample: &Sample) -> Option<Answer> {
        let given = match &sample.answer {
            SampleAnswer::Given(given) => given.clone(),
            SampleAnswer::OneThatWorks => Given::Steps(self.body.as_kind().order_that_works()?),
        };
        Some(Answer { given, seconds: sample.seconds })
    }

    /// This card with these points to say instead of what it asks.
    pub fn saying(&self, points: Vec<KeyPoint>) -> Self {
        Self { body: Recall { points }.into(), samples: Vec::new(), was: Vec::new(), ..self.clone() }
    }
}

const ABOUT_A_RUN: &str = "--why";

/// The key that answers about a card's runs are filed under, beside the card's own. They count for the card's topic; the
/// question itself is of one run and never comes back.
pub fn about_a_run(key: &CardKey) -> CardKey {
    CardKey { deck: key.deck.clone(), card: format!("{}{ABOUT_A_RUN}", key.card) }
}

/// The card that a key belongs to: itself, or the one whose run it is about.
pub fn card_of(key: CardKey) -> CardKey {
    match key.card.strip_suffix(ABOUT_A_RUN) {
        Some(card) => CardKey { deck: key.deck, card: card.to_owned() },
        None => key,
    }
}

/// Whether answers under this key are about runs of a card.
pub fn is_about_a_run(key: &CardKey) -> bool {
    key.card.ends_with(ABOUT_A_RUN)
}
