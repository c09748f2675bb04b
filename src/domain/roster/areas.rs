//! Where a class is weak: first attempts by competence and by heading.

use super::firsts::Firsts;
use super::record::AssignedCard;

/// From this share right at first sight on, an area is taught well.
const WELL: f64 = 0.8;
/// Under this share of the first answers that there could be, an area is thin.
const THIN: f64 = 0.25;

/// An area: a heading, or a whole competence.
#[derive(Debug, Clone, PartialEq)]
pub struct Area {
    /// The competence's key.
    pub topic: String,
    /// The heading; none for the whole competence.
    pub heading: Option<String>,
    /// First attempts.
    pub n: usize,
    /// How many of them were right.
    pub right: usize,
    /// Its cards, by position.
    pub cards: Vec<usize>,
    /// How it stands.
    pub standing: Standing,
}

/// How an area stands with a class.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// Nobody has met a card of it.
    NobodyMet,
    /// Few of the answers that there could be.
    Thin,
    /// Most are right at first sight.
    Well,
    /// The rest.
    Weak,
}

impl Standing {
    /// In words.
    pub fn word(self) -> &'static str {
        match self {
            Standing::NobodyMet => "nobody has met it",
            Standing::Thin => "thin",
            Standing::Well => "taught well",
            Standing::Weak => "weak",
        }
    }
}

impl Area {
    fn new(topic: &str, heading: Option<&str>) -> Self {
        let (topic, heading) = (topic.to_owned(), heading.map(str::to_owned));
        Self { topic, heading, n: 0, right: 0, cards: Vec::new(), standing: Standing::NobodyMet }
    }

    /// Share right at first sight; none where nobody has met it.
    pub fn first_right(&self) -> Option<f64> {
        (self.n > 0).then(|| self.right as f64 / self.n as f64)
    }

    /// The share of wrong ones, for order: what nobody met is not known to be weak.
    pub fn missed(&self) -> f64 {
        self.first_right().map_or(0.0, |right| 1.0 - right)
    }
}

/// Competences in order of their keys, each followed by its headings in order of the cards. Cards without a heading count
/// for the competence alone.
pub fn areas(cards: &[AssignedCard], firsts: &Firsts<'_>) -> Vec<Area> {
    let mut topics: Vec<(Area, Vec<Area>)> = Vec::new();
    for (at, (card, (n, right))) in cards.iter().zip(firsts.counts()).enumerate() {
        let place = topics.iter().position(|(area, _)| area.topic == card.topic).unwrap_or_else(|| {
            topics.push((Area::new(&card.topic, None), Vec::new()));
            topics.len() - 1
        });
        let (whole, headings) = &mut topics[place];
        let heading = card.heading.as_deref().map(|heading| {
            let known = headings.iter().position(|area| area.heading.as_deref() == Some(heading));
            known.unwrap_or_else(|| {
                headings.push(Area::new(&card.topic, Some(heading)));
                headings.len() - 1
            })
        });
        for area in std::iter::once(whole).chain(heading.map(|heading| &mut headings[heading])) {
            (area.n, area.right) = (area.n + n, area.right + right);
            area.cards.push(at);
        }
    }
    topics.sort_by(|a, b| a.0.topic.cmp(&b.0.topic));
    let mut all: Vec<Area> =
        topics.into_iter().flat_map(|(whole, headings)| std::iter::once(whole).chain(headings)).collect();
    for area in &mut all {
        let could_be = area.cards.len() * firsts.learners();
        area.standing = match area.first_right() {
            None => Standing::NobodyMet,
            Some(_) if (area.n as f64) < THIN * could_be as f64 => Standing::Thin,
            Some(right) if right >= WELL => Standing::Well,
            Some(_) => Standing::Weak,
        };
    }
    all
}
