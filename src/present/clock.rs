//! The question whether the computer's date is right, as data to draw.

/// The question, or what follows it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ClockView {
    /// One line over it.
    pub title: String,
    /// What it is about.
    pub paragraphs: Vec<String>,
    /// How far it has come.
    pub state: ClockState,
}

/// How far the question has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ClockState {
    /// The question is asked.
    Asked,
    /// The learner sets the clock.
    Setting,
    /// The date is right; so many answers are dated after it.
    Later(usize),
}
