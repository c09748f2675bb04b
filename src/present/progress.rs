//! A learner's progress as a document for a training officer.

use crate::present::competence::{CompetenceView, NOT_YET, figure};
use crate::present::document::{Block, Column, Document, Level, ListLine, Sign, csv_line};
use crate::present::labelled::Labelled;
use crate::present::oral::SittingRow;

/// What the report says of itself at its foot.
const FOOT: &str = "Figures of a trainer, from the learner’s own answers; they are no assessment of competence. The approved \
                    training record, the ship’s safety management system and the administration’s rules come first.";

/// What a progress report tells.
#[derive(Debug, Clone, PartialEq)]
pub struct Progress {
    /// The learner.
    pub learner: String,
    /// `Officer in charge of an engineering watch, STCW III/1`.
    pub certificate: String,
    /// Label and value: period, hours, answers, the oral.
    pub facts: Vec<Labelled>,
    /// Weeks with their answers and hours, the oldest first.
    pub weeks: Vec<WeekRow>,
    /// The competence table.
    pub table: CompetenceView,
    /// Sittings, the newest first.
    pub sittings: Vec<SittingRow>,
}

/// What was done in a week.
#[derive(Debug, Clone, PartialEq)]
pub struct WeekRow {
    /// The week's last day, in words.
    pub ends: String,
    /// Answers given.
    pub answers: usize,
    /// Hours of answering.
    pub hours: f64,
}

/// The report as a document.
pub fn document(progress: &Progress) -> Document {
    let mut blocks = vec![Block::Facts(progress.facts.clone())];
    if let Some(chance) = &progress.table.chance {
        blocks.push(Block::Heading(Level::Part, "Chance of passing".to_owned()));
        let (lead, when) = match &chance.range {
            Some(range) => (range.clone(), format!("{}. {}", chance.when, chance.behind)),
            None => (NOT_YET.to_owned(), format!("{} {}", chance.when, chance.behind)),
        };
        blocks.push(Block::Lead { lead, words: when });
        let costs =
            chance.costs.iter().map(|of| ListLine { sign: Sign::Half, words: format!("{}: {}", of.area, of.cost) });
        blocks.push(Block::List(costs.collect()));
    }
    blocks.push(Block::Heading(Level::Part, "Competences".to_owned()));
    for band in &progress.table.bands {
        blocks.push(Block::Heading(Level::Small, band.title.clone()));
        blocks.push(Block::table(
            vec![
                Column::words("competence", 3.6),
                Column::figure("cards asked", 1.2),
                Column::figure("recall of these today", 1.2),
                Column::figure("on the day", 1.0),
                Column::words("eight weeks", 1.4),
                Column::figure("last oral", 0.9),
                Column::words("", 0.8),
            ],
            band.rows.iter().map(|row| {
                vec![
                    row.title.clone(),
                    format!("{} of {}", row.met, row.required),
                    figure(row.today),
                    figure(row.on_day),
                    row.trend_words(),
                    figure(row.mark),
                    if row.weak { "weak" } else { "" }.to_owned(),
                ]
            }),
        ));
    }
    blocks.push(Block::Heading(Level::Part, "Study by week".to_owned()));
    blocks.push(Block::table(
        vec![
            Column::words("week to", 2.0),
            Column::figure("answers", 1.0),
            Column::figure("hours", 1.0),
            Column::words("", 4.0),
        ],
        progress
            .weeks
            .iter()
            .map(|week| vec![week.ends.clone(), week.answers.to_string(), format!("{:.1}", week.hours), String::new()]),
    ));
    blocks.push(Block::Heading(Level::Part, "Mock orals".to_owned()));
    if progress.sittings.is_empty() {
        blocks.push(Block::Text("None yet.".to_owned()));
    } else {
        blocks.push(Block::table(
            vec![
                Column::figure("", 0.4),
                Column::words("date", 1.6),
                Column::words("what", 2.4),
                Column::figure("mark, %", 0.8),
                Column::words("", 1.6),
            ],
            progress.sittings.iter().map(|row| {
                vec![row.number.to_string(), row.date.clone(), row.what.clone(), row.mark.clone(), row.word.clone()]
            }),
        ));
    }
    let title = match progress.learner.as_str() {
        "" => format!("Progress, {}", progress.certificate),
        learner => format!("Progress of {learner}, {}", progress.certificate),
    };
    Document { title, foot: FOOT.to_owned(), blocks }
}

/// The competence table as CSV.
pub fn csv(progress: &Progress) -> String {
    let mut out = String::from(
        "learner,function,competence,title,asked,cards,recall of these today,recall on the day,last oral mark,weak\r\n",
    );
    for band in &progress.table.bands {
        for row in &band.rows {
            out.push_str(&csv_line(&[
                progress.learner.clone(),
                band.title.clone(),
                row.key.clone(),
                row.title.clone(),
                row.met.to_string(),
                row.required.to_string(),
                figure(row.today),
                figure(row.on_day),
                figure(row.mark),
                if row.weak { "yes" } else { "no" }.to_owned(),
            ]));
        }
    }
    out
}
