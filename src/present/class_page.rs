//! The page of a lecturer's class.

use crate::present::document::Document;

/// The page of a class.
#[derive(Debug, Clone, PartialEq)]
pub struct ClassPageView {
    /// The names of this home's classes, in order.
    pub classes: Vec<String>,
    /// Which of them is in front.
    pub at: usize,
    /// What there is to see of it.
    pub state: ClassState,
}

/// What there is to see of a class.
#[derive(Debug, Clone, PartialEq)]
pub enum ClassState {
    /// This home has no class: how one comes about.
    NoClass(String),
    /// The class is being read.
    Working,
    /// The class cannot be read, in sentences.
    Failed(String),
    /// Roster, areas, lesson and cards.
    Ready(Box<Document>),
}
