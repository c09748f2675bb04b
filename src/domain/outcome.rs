//! The four outcomes of an attempt and the notch a learner may move them by.

use serde::{Deserialize, Serialize};

/// What an attempt came to, worked out from the evidence.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Outcome {
    /// Not known: less than 60 % of the evidence, or a safety-critical miss.
    Missed,
    /// Known with gaps: at least 60 %.
    Prompted,
    /// All of it.
    Answered,
    /// All of it and within the card's seconds.
    Fluent,
}

impl Outcome {
    /// All four, from worst to best.
    pub const ALL: [Outcome; 4] = [Outcome::Missed, Outcome::Prompted, Outcome::Answered, Outcome::Fluent];

    /// 1 (missed) to 4 (fluent), as the memory model counts.
    pub fn number(self) -> u32 {
        match self {
            Outcome::Missed => 1,
            Outcome::Prompted => 2,
            Outcome::Answered => 3,
            Outcome::Fluent => 4,
        }
    }

    /// From 1 to 4; `None` for any other number.
    pub fn from_number(number: u32) -> Option<Self> {
        Self::ALL.into_iter().find(|o| o.number() == number)
    }

    /// The outcome after the learner's own correction, kept within the four.
    pub fn notched(self, notch: Notch) -> Self {
        let at = Self::ALL.iter().position(|o| *o == self).unwrap_or(0);
        match notch {
            Notch::Down => Self::ALL[at.saturating_sub(1)],
            Notch::None => self,
            Notch::Up => Self::ALL[(at + 1).min(3)],
        }
    }

    /// What a first try comes to after a second one on the same question: brought to the right answer by what was
    /// said of it, as an examiner prompts, it counts as prompted and never as more. A second try takes nothing away.
    pub fn after_second_try(self, second: Outcome) -> Self {
        if second >= Outcome::Answered { self.max(Outcome::Prompted) } else { self }
    }

    /// The word for people: `Missed`, `Prompted`, `Answered`, `Fluent`.
    pub fn word(self) -> &'static str {
        match self {
            Outcome::Missed => "Missed",
            Outcome::Prompted => "Prompted",
            Outcome::Answered => "Answered",
            Outcome::Fluent => "Fluent",
        }
    }

    /// The outcome from a share of the evidence (0 to 1), as the deck format states it: all of it is
    /// answered, at least 60 % prompted, less missed. `fluent` says whether it was also within the seconds.
    pub fn from_share(right: f64, of: f64, fluent: bool) -> Self {
        if of <= 0.0 || right >= of {
            if fluent { Outcome::Fluent } else { Outcome::Answered }
        } else if right * 10.0 >= of * 6.0 {
            Outcome::Prompted
        } else {
            Outcome::Missed
        }
    }
}

/// The learner's own correction of an outcome, at most one step.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Notch {
    /// One worse.
    Down,
    /// As worked out.
    #[default]
    None,
    /// One better.
    Up,
}

impl Notch {
    /// -1, 0 or 1.
    pub fn number(self) -> i64 {
        match self {
            Notch::Down => -1,
            Notch::None => 0,
            Notch::Up => 1,
        }
    }

    /// From -1, 0 or 1; any other number is read as its sign.
    pub fn from_number(number: i64) -> Self {
        match number.signum() {
            -1 => Notch::Down,
            1 => Notch::Up,
            _ => Notch::None,
        }
    }
}
