//! The competence table as data to draw.

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
    /// Nothing has been met yet.
    pub is_new: bool,
}

/// A function.
#[derive(Debug, Clone, PartialEq)]
pub struct Band {
    /// Its title.
    pub title: String,
    /// Its competences, the weakest first.
    pub rows: Vec<CompetenceRow>,
}

/// A competence.
#[derive(Debug, Clone, PartialEq)]
pub struct CompetenceRow {
    /// Its key.
    pub key: String,
    /// Its title.
    pub title: String,
    /// Cards met.
    pub met: usize,
    /// Cards there are.
    pub required: usize,
    /// Recall today, 0 to 1; none where nothing was met.
    pub today: Option<f64>,
    /// Recall on the day of the oral; none without a date or where nothing was met.
    pub on_day: Option<f64>,
    /// The mark in the last oral that asked it, 0 to 1.
    pub mark: Option<f64>,
    /// Recall or mark is below its line.
    pub weak: bool,
    /// Headings with their recall today and their unseen cards, the weakest first.
    pub headings: Vec<(String, Option<f64>, usize)>,
    /// Its weakest cards: the question in plain words, and recall today.
    pub weakest: Vec<(String, f64)>,
}

/// A share as a table shows it: `71`, `–` where there is none.
pub fn figure(share: Option<f64>) -> String {
    share.map_or_else(|| "–".to_owned(), |share| format!("{:.0}", share * 100.0))
}
