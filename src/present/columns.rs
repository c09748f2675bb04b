//! A class as tables by columns, for engines that work over more attempts than one machine's program: what stands in which
//! column is told in `docs/fleet.md`.

use std::collections::BTreeMap;

use crate::domain::roster::{AssignedCard, ClassRecord, HandedAttempt, LearnerRecord};
use crate::present::document::csv_line;

/// A table by columns, all of one length.
#[derive(Debug, Clone, PartialEq)]
pub struct ColumnTable {
    /// Name and values, from the left.
    pub columns: Vec<(&'static str, Values)>,
}

/// The values of a column.
#[derive(Debug, Clone, PartialEq)]
pub enum Values {
    /// Words.
    Text(Vec<String>),
    /// Words that may be missing.
    MaybeText(Vec<Option<String>>),
    /// Whole numbers.
    Whole(Vec<i64>),
    /// Instants: UTC milliseconds since 1970.
    Time(Vec<i64>),
    /// Numbers.
    Real(Vec<f64>),
    /// Yes or no.
    Flag(Vec<bool>),
}

/// The tables of a class.
#[derive(Debug, Clone, PartialEq)]
pub struct ClassTables {
    /// Attempts by month in UTC, such as `2026-12`.
    pub attempts: BTreeMap<String, ColumnTable>,
    /// A row for each learner.
    pub learners: ColumnTable,
    /// A row for each card that was given out.
    pub cards: ColumnTable,
}

/// A class as tables.
pub fn tables(record: &ClassRecord) -> ClassTables {
    let mut months: BTreeMap<String, Vec<(&LearnerRecord, &HandedAttempt)>> = BTreeMap::new();
    for learner in &record.learners {
        for attempt in &learner.attempts {
            months.entry(month(attempt)).or_default().push((learner, attempt));
        }
    }
    let attempts = months.into_iter().map(|(month, rows)| (month, attempts(record, &rows))).collect();
    ClassTables { attempts, learners: learners(record), cards: cards(record) }
}

fn month(attempt: &HandedAttempt) -> String {
    let at = jiff::Timestamp::from_millisecond(attempt.at.0).unwrap_or(jiff::Timestamp::UNIX_EPOCH);
    // In UTC, and it begins with year and month.
    at.to_string().chars().take("2026-12".len()).collect()
}

fn text<T>(rows: &[T], of: impl Fn(&T) -> String) -> Values {
    Values::Text(rows.iter().map(of).collect())
}

fn whole<T>(rows: &[T], of: impl Fn(&T) -> i64) -> Values {
    Values::Whole(rows.iter().map(of).collect())
}

/// Numbers of key points, as `1 3`.
fn numbers(points: &[usize]) -> String {
    points.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ")
}

fn attempts(record: &ClassRecord, rows: &[(&LearnerRecord, &HandedAttempt)]) -> ColumnTable {
    let columns = vec![
        ("class", text(rows, |_| record.class.id.clone())),
        ("learner", text(rows, |(learner, _)| learner.id.clone())),
        ("attempt", text(rows, |(_, attempt)| attempt.id.0.clone())),
        ("card", text(rows, |(_, attempt)| attempt.card.to_string())),
        ("accepted", Values::Time(rows.iter().map(|(_, attempt)| attempt.at.0).collect())),
        ("ship_minutes", whole(rows, |(_, attempt)| i64::from(attempt.ship.minutes()))),
        ("outcome", whole(rows, |(_, attempt)| i64::from(attempt.final_outcome().number()))),
        ("marked", whole(rows, |(_, attempt)| i64::from(attempt.outcome.number()))),
        ("notch", whole(rows, |(_, attempt)| attempt.notch.number())),
        ("seconds", Values::Real(rows.iter().map(|(_, attempt)| attempt.seconds).collect())),
        ("edition", whole(rows, |(_, attempt)| i64::from(attempt.edition))),
        ("said", text(rows, |(_, attempt)| numbers(&attempt.said))),
        ("missed", text(rows, |(_, attempt)| numbers(&attempt.missed))),
        ("denied", text(rows, |(_, attempt)| numbers(&attempt.denied))),
        ("slip", Values::MaybeText(rows.iter().map(|(_, a)| a.slip.as_ref().map(|slip| slip.kind.clone())).collect())),
        ("voided", Values::Flag(rows.iter().map(|(_, attempt)| attempt.voided).collect())),
    ];
    ColumnTable { columns }
}

fn learners(record: &ClassRecord) -> ColumnTable {
    let rows = &record.learners;
    let columns = vec![
        ("class", text(rows, |_| record.class.id.clone())),
        ("class_name", text(rows, |_| record.class.name.clone())),
        ("learner", text(rows, |learner| learner.id.clone())),
        ("name", text(rows, |learner| learner.name.clone())),
        ("last", Values::Time(rows.iter().map(|learner| learner.last.0).collect())),
    ];
    ColumnTable { columns }
}

fn cards(record: &ClassRecord) -> ColumnTable {
    let mut last: BTreeMap<String, &AssignedCard> = BTreeMap::new();
    for card in record.assignments.iter().flat_map(|assignment| &assignment.cards) {
        last.insert(card.card.to_string(), card);
    }
    let rows: Vec<(&String, &AssignedCard)> = last.iter().map(|(key, card)| (key, *card)).collect();
    let columns = vec![
        ("class", text(&rows, |_| record.class.id.clone())),
        ("card", text(&rows, |(key, _)| (*key).clone())),
        ("deck", text(&rows, |(_, card)| card.card.deck.0.clone())),
        ("topic", text(&rows, |(_, card)| card.topic.clone())),
        ("heading", Values::MaybeText(rows.iter().map(|(_, card)| card.heading.clone()).collect())),
        ("weight", whole(&rows, |(_, card)| i64::from(card.weight))),
    ];
    ColumnTable { columns }
}

impl ColumnTable {
    /// How many rows it has.
    pub fn rows(&self) -> usize {
        self.columns.first().map_or(0, |(_, values)| values.len())
    }

    /// The table as CSV with a head; instants in RFC 3339.
    pub fn csv(&self) -> String {
        let mut out = csv_line(&self.columns.iter().map(|(name, _)| (*name).to_owned()).collect::<Vec<_>>());
        for row in 0..self.rows() {
            out += &csv_line(&self.columns.iter().map(|(_, values)| values.cell(row)).collect::<Vec<_>>());
        }
        out
    }
}

impl Values {
    fn len(&self) -> usize {
        match self {
            Values::Text(of) => of.len(),
            Values::MaybeText(of) => of.len(),
            Values::Whole(of) | Values::Time(of) => of.len(),
            Values::Real(of) => of.len(),
            Values::Flag(of) => of.len(),
        }
    }

    fn cell(&self, row: usize) -> String {
        match self {
            Values::Text(of) => of[row].clone(),
            Values::MaybeText(of) => of[row].clone().unwrap_or_default(),
            Values::Whole(of) => of[row].to_string(),
            Values::Time(of) => {
                jiff::Timestamp::from_millisecond(of[row]).map_or_else(|_| of[row].to_string(), |at| at.to_string())
            }
            Values::Real(of) => of[row].to_string(),
            Values::Flag(of) => of[row].to_string(),
        }
    }
}
