//! The competence table as data to draw.

use crate::domain::readiness::Needs;
use crate::present::words;

/// The table of the certificate's competences.
#[derive(Debug, Clone, PartialEq)]
pub struct CompetenceView {
    /// `recall on 21 April`; none where there is no date.
    pub day: Option<String>,
    /// The functions in the order of the Code.
    pub bands: Vec<Band>,
    /// Below this recall a competence is weak, 0 to 1.
    pub weak_recall: f64,
    /// Below this mark a competence is weak, 0 to 1.
    pub pass_line: f64,
    /// The chance of passing; none while it is being worked out.
    pub chance: Option<ChanceView>,
    /// Nothing has been met yet.
    pub is_new: bool,
}

/// The chance of passing as a range, with what is behind it; or what is missing before one may be said.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChanceView {
    /// `12–31 %`; none while too little has been answered to say one.
    pub range: Option<String>,
    /// `on 21 April without any more study`, `if the oral were today`; without a range, what is missing.
    pub when: String,
    /// What it rests on, in a sentence.
    pub behind: String,
    /// The competences that lower it most: title and `9 points lower`.
    pub costs: Vec<CostRow>,
}

/// An area of study that lowers the chance of passing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CostRow {
    /// Title of the competence.
    pub area: String,
    /// By how much, in words or figures.
    pub cost: String,
}

/// What stands in place of a range while none may be said.
pub const NOT_YET: &str = "Not yet";

/// What is missing before a chance may be said: `Answer about 24 more cards, from at least 2 more functions, or sit one
/// mock oral.`
pub fn needs_words(needs: &Needs) -> String {
    let cards = words::count(needs.cards, "more card");
    match (needs.cards, needs.functions) {
        (0, _) => "The decks have no card that the oral may ask.".to_owned(),
        (_, _) if needs.wide => format!(
            "What your answers say so far is too uncertain to be of use. Answer about {cards}, or sit another mock oral."
        ),
        (_, 0) => format!("Answer about {cards}, or sit one mock oral."),
        (_, functions) => format!(
            "Answer about {cards}, from at least {}, or sit one mock oral.",
            words::count(functions, "more function")
        ),
    }
}

/// A range of chances, 0 to 1, in whole per cent: `12–31 %`.
pub fn range_words(low: f64, high: f64) -> String {
    let (low, high) = ((low * 100.0).round(), (high * 100.0).round());
    if low == high { format!("{low:.0} %") } else { format!("{low:.0}–{high:.0} %") }
}

/// A function.
#[derive(Debug, Clone, PartialEq)]
pub struct Band {
    /// Title of the function.
    pub title: String,
    /// Competences of the function, the weakest first.
    pub rows: Vec<CompetenceRow>,
}

/// A competence.
#[derive(Debug, Clone, PartialEq)]
pub struct CompetenceRow {
    /// Key of the competence.
    pub key: String,
    /// Title of the competence.
    pub title: String,
    /// Cards asked before.
    pub met: usize,
    /// Cards there are.
    pub required: usize,
    /// Recall today of the cards asked before, 0 to 1; none where nothing was.
    pub today: Option<f64>,
    /// Recall on the day of the oral; none without a date or where nothing was asked.
    pub on_day: Option<f64>,
    /// The mark in the last oral that asked it, 0 to 1.
    pub mark: Option<f64>,
    /// Recall or mark is below its line.
    pub weak: bool,
    /// Headings, the weakest first.
    pub headings: Vec<HeadingRow>,
    /// Recall at the end of each of the last eight weeks, 0 to 1, the oldest first.
    pub trend: Vec<Option<f64>>,
    /// Points missed most, the most often missed first.
    pub missed: Vec<OftenMissed>,
    /// Weakest cards, the weakest first.
    pub weakest: Vec<WeakCard>,
}

/// A point that is missed again and again.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OftenMissed {
    /// What a full answer says, in plain words.
    pub say: String,
    /// The question, in plain words.
    pub ask: String,
    /// How often it was missed.
    pub times: u32,
}

/// A weak card.
#[derive(Debug, Clone, PartialEq)]
pub struct WeakCard {
    /// The question, in plain words.
    pub ask: String,
    /// Recall today, 0 to 1.
    pub recall: f64,
}

/// A heading of a competence.
#[derive(Debug, Clone, PartialEq)]
pub struct HeadingRow {
    /// Name of the heading.
    pub name: String,
    /// Recall today of its cards asked before, 0 to 1; none where nothing was.
    pub recall: Option<f64>,
    /// Cards asked before.
    pub asked: usize,
    /// Cards under the heading.
    pub cards: usize,
}

/// `2 of 147 asked`: what a figure of recall is over.
pub fn asked_words(asked: usize, cards: usize) -> String {
    format!("{} of {} asked", words::figure(asked), words::figure(cards))
}

impl CompetenceRow {
    /// The trend in words: `rose by 12 in eight weeks`.
    pub fn trend_words(&self) -> String {
        let known: Vec<f64> = self.trend.iter().flatten().copied().collect();
        let (Some(first), Some(last)) = (known.first(), known.last()) else { return "no trend yet".to_owned() };
        match ((last - first) * 100.0).round() {
            _ if known.len() < 2 => "no trend yet".to_owned(),
            by if by >= 1.0 => format!("rose by {by:.0}"),
            by if by <= -1.0 => format!("fell by {:.0}", -by),
            _ => "stayed".to_owned(),
        }
    }
}

/// A share as a table shows it: `71`, `–` where there is none.
pub fn figure(share: Option<f64>) -> String {
    share.map_or_else(|| "–".to_owned(), |share| format!("{:.0}", share * 100.0))
}
