//! What a card asks and what counts as right, in lines that people can read and that can be compared.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use crate::domain::quantity::Quantity;

/// What a card asks and what counts as right: the part of a card whose change is told to its learners.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Asked(pub Vec<Part>);

/// One part of what a card asks. Each [`What`] stands in a card once at most.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Part {
    /// Which part.
    pub what: What,
    /// What it says, in the deck's order.
    pub lines: Vec<Line>,
    /// Whether another order of the lines is another thing.
    #[serde(default, skip_serializing_if = "is_false")]
    pub ordered: bool,
    /// Stands for what no line says, such as a file's content.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub seal: Option<String>,
}

/// A line of a part.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Line {
    /// The words.
    pub text: String,
    /// Missing it is unsafe.
    #[serde(default, skip_serializing_if = "is_false")]
    pub critical: bool,
}

/// The parts of which cards consist.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum What {
    /// The kind of card.
    Kind,
    /// The question.
    Question,
    /// Key points.
    Points,
    /// Which of the points are safety-critical, where nothing else of them is changed.
    Critical,
    /// A figure.
    Value,
    /// How near is right.
    Tolerance,
    /// Causes in their order.
    Links,
    /// Causes that belong nowhere.
    FalseLinks,
    /// What holds at the start.
    Start,
    /// What must hold at the end.
    Goal,
    /// Steps with what they need and bring about.
    Steps,
    /// What the plant does by itself.
    Reflexes,
    /// What the pipes are tied to.
    Nodes,
    /// Pipes.
    Pipes,
    /// What must flow, and what must not.
    Demands,
    /// Figures that are drawn.
    Givens,
    /// Lines of the method.
    Method,
    /// What is worked out.
    Answer,
    /// What is to be found on a drawing.
    Target,
    /// The drawing.
    Drawing,
}

/// A part that is another one in another edition.
#[derive(Debug, Clone, PartialEq)]
pub struct Difference {
    /// Which part.
    pub what: What,
    /// As it was; empty where the part is new.
    pub was: Vec<Line>,
    /// As it is; empty where the part is gone.
    pub is: Vec<Line>,
}

impl What {
    /// The part in words, as a sentence names it.
    pub fn words(self) -> &'static str {
        match self {
            What::Kind => "the kind of card",
            What::Question => "the question",
            What::Points => "the key points",
            What::Critical => "which points are safety-critical",
            What::Value => "the value",
            What::Tolerance => "the tolerance",
            What::Links => "the causes",
            What::FalseLinks => "the causes that do not belong",
            What::Start => "what holds at the start",
            What::Goal => "the goal",
            What::Steps => "the steps",
            What::Reflexes => "what the plant does by itself",
            What::Nodes => "the valves and machines",
            What::Pipes => "the pipes",
            What::Demands => "what must flow and what must not",
            What::Givens => "the figures given",
            What::Method => "the method",
            What::Answer => "what is worked out",
            What::Target => "the part to find",
            What::Drawing => "the drawing",
        }
    }
}

impl Line {
    /// A line of these words.
    pub fn new(text: &str) -> Self {
        Self { text: folded(text), critical: false }
    }

    /// The line, marked as unsafe to miss where it is.
    pub fn critical(mut self, critical: bool) -> Self {
        self.critical = critical;
        self
    }
}

impl Part {
    /// A part that is said in one line.
    pub fn one(what: What, text: &str) -> Self {
        Self::any_order(what, [Line::new(text)])
    }

    /// Lines that may stand in any order.
    pub fn any_order(what: What, lines: impl IntoIterator<Item = Line>) -> Self {
        Self { what, lines: lines.into_iter().collect(), ordered: false, seal: None }
    }

    /// Lines whose order counts.
    pub fn in_order(what: What, lines: impl IntoIterator<Item = Line>) -> Self {
        Self { ordered: true, ..Self::any_order(what, lines) }
    }

    /// The part with what stands for what its lines do not say.
    pub fn sealed(mut self, seal: String) -> Self {
        self.seal = Some(seal);
        self
    }

    /// Whether the other is the same to a learner.
    fn is_same(&self, other: &Part) -> bool {
        self.seal == other.seal && self.ordered == other.ordered && self.settled() == other.settled()
    }

    /// The lines in an order that does not depend on the deck's, where that does not count.
    fn settled(&self) -> Vec<&Line> {
        let mut lines: Vec<&Line> = self.lines.iter().collect();
        if !self.ordered {
            lines.sort();
        }
        lines
    }

    /// Whether the other has the same words, and only other lines of them are safety-critical.
    fn differs_in_criticals(&self, other: &Part) -> bool {
        let plain = |part: &Part| {
            let lines = part.lines.iter().map(|line| Line { critical: false, ..line.clone() }).collect();
            Part { lines, ..part.clone() }
        };
        plain(self).is_same(&plain(other))
    }
}

impl Asked {
    /// Stands for all of it: 64 hexadecimal digits, the same for two that are the same to a learner.
    pub fn digest(&self) -> String {
        let mut hash = Sha256::new();
        let mut parts: Vec<&Part> = self.0.iter().collect();
        parts.sort_by_key(|part| part.what);
        let mut add = |text: &str| {
            hash.update((text.len() as u64).to_le_bytes());
            hash.update(text);
        };
        for part in parts {
            add(part.what.words());
            add(if part.ordered { "in order" } else { "" });
            add(part.seal.as_deref().unwrap_or_default());
            add(&part.lines.len().to_string());
            for line in part.settled() {
                add(&line.text);
                add(if line.critical { "critical" } else { "" });
            }
        }
        hash.finalize().iter().map(|byte| format!("{byte:02x}")).collect()
    }

    /// The parts that are others in a later one, in its order; then those that it does not have.
    pub fn differences(&self, later: &Asked) -> Vec<Difference> {
        let by_what: BTreeMap<What, &Part> = self.0.iter().map(|part| (part.what, part)).collect();
        let of_later = later.0.iter().filter_map(|is| match by_what.get(&is.what) {
            Some(was) if was.is_same(is) => None,
            Some(was) => {
                let what = if was.differs_in_criticals(is) { What::Critical } else { is.what };
                Some(Difference { what, was: was.lines.clone(), is: is.lines.clone() })
            }
            None => Some(Difference { what: is.what, was: Vec::new(), is: is.lines.clone() }),
        });
        let gone = self.0.iter().filter(|was| !later.0.iter().any(|is| is.what == was.what));
        let gone = gone.map(|was| Difference { what: was.what, was: was.lines.clone(), is: Vec::new() });
        of_later.chain(gone).collect()
    }
}

/// A text without regard to how it is broken into lines and spaced.
pub fn folded(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A quantity without regard to how its number is spelt.
pub fn number(quantity: &Quantity) -> String {
    format!("{} {}", quantity.number, quantity.unit).trim_end().to_owned()
}

/// What things are called: by name; where several bear the same, with the key as well.
pub fn names<'a>(things: impl Iterator<Item = (&'a str, &'a str)>) -> Vec<String> {
    let things: Vec<(&str, String)> = things.map(|(key, name)| (key, folded(name))).collect();
    let mut count: BTreeMap<&str, usize> = BTreeMap::new();
    things.iter().for_each(|(_, name)| *count.entry(name).or_default() += 1);
    let called = things.iter().map(|(key, name)| match count.get(name.as_str()) {
        Some(1) => name.clone(),
        _ => format!("{name} ({key})"),
    });
    called.collect()
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde hands references")]
fn is_false(flag: &bool) -> bool {
    !flag
}
