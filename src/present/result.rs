//! What an answer comes to, before it is accepted.

use crate::domain::outcome::{Notch, Outcome};

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
