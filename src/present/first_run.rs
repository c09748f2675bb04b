//! The three questions, and the caution that is shown with them.

use crate::domain::certificate::Certificate;
use crate::domain::day::StudyDay;
use crate::present::block::TitleBlock;

/// The three questions on one sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct FirstRunView {
    /// Today, by ship's time.
    pub today: StudyDay,
    /// The name given so far; empty where there is none.
    pub name: String,
    /// Chosen at first.
    pub certificate: Certificate,
    /// Minutes a day at first.
    pub minutes: u32,
    /// Seconds that a card takes on average: what a number of minutes comes to is said in cards.
    pub seconds_a_card: f64,
    /// The title block.
    pub block: TitleBlock,
}

/// The caution, shown once at first run and kept under *About*: three paragraphs.
pub const CAUTION: [&str; 3] = [
    "This program trains memory and reasoning, and nothing else.",
    "Aboard, the ship’s safety management system, the makers’ instructions and the administration’s rules come \
     first, whatever a card says.",
    "Cards on hazardous work carry their own caution.",
];
