//! Reports on cards with what stood on the sheet: kept beside the notes of fault reports, and as files that go to authors.

use serde::{Deserialize, Serialize};

use super::error::StoreError;
use super::events::KeptEvent;
use super::handle::Store;
use super::kept::FaultReport;
use super::ticket::Ticket;
use crate::domain::report::CardReport;

/// The kind of event that holds a report in full; the note alone is kept as a fault report.
const KIND: &str = "card-report";
/// The form of files of reports.
const FORMAT: u32 = 1;
/// A file of reports holds at most so many.
const MOST: usize = 100_000;

/// A file of reports.
#[derive(Serialize, Deserialize)]
struct FileText {
    format: u32,
    reports: Vec<CardReport>,
}

impl Store {
    /// Keeps a report in full, beside its note.
    ///
    /// # Errors
    /// Where it cannot be written as JSON.
    pub fn keep_report(&self, report: &CardReport) -> Result<Ticket<()>, StoreError> {
        let json = serde_json::to_string(report)
            .map_err(|error| StoreError::Refused { what: "the report".to_owned(), why: error.to_string() })?;
        Ok(self.add_event(KIND, KeptEvent { at: report.at, json }))
    }

    /// All reports of the profile, in order of time, those that are kept in full so; `faults` are its fault reports.
    ///
    /// # Errors
    /// Where they cannot be read.
    pub fn reports(&self, faults: &[FaultReport]) -> Result<Vec<CardReport>, StoreError> {
        let kept = self.events(KIND).wait()?;
        let full: Vec<CardReport> = kept.iter().filter_map(|event| serde_json::from_str(&event.json).ok()).collect();
        let report = |fault: &FaultReport| {
            let is_it = |full: &&CardReport| full.card == fault.card && full.at == fault.at && full.note == fault.note;
            full.iter().find(is_it).cloned().unwrap_or_else(|| CardReport {
                card: fault.card.clone(),
                at: fault.at,
                note: fault.note.clone(),
                edition: None,
                answer: None,
                marked: None,
            })
        };
        Ok(faults.iter().map(report).collect())
    }
}

/// Reports as a file that goes to the author of a deck.
///
/// # Errors
/// Where they cannot be written as JSON.
pub fn reports_to_json(reports: Vec<CardReport>) -> Result<String, String> {
    serde_json::to_string_pretty(&FileText { format: FORMAT, reports }).map_err(|error| error.to_string())
}

/// The reports of such a file.
///
/// # Errors
/// With a sentence, where it is no file of reports, or one of another form.
pub fn reports_from_json(text: &str) -> Result<Vec<CardReport>, String> {
    let file: FileText =
        serde_json::from_str(text).map_err(|error| format!("it is no file of reports from Bedplate ({error})"))?;
    match file {
        FileText { format: FORMAT, reports } if reports.len() <= MOST => Ok(reports),
        FileText { format: FORMAT, .. } => Err(format!("it holds more than {MOST} reports")),
        FileText { format, .. } => Err(format!("it is of form {format}, which this version does not know")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::answer::{Answer, Given};
    use crate::domain::day::Instant;
    use crate::domain::ids::CardKey;
    use crate::domain::outcome::Outcome;
    use crate::domain::report::ReportedMarking;

    #[test]
    fn a_file_of_reports_reads_back_and_others_are_refused_in_a_sentence() {
        let report = CardReport {
            card: CardKey::new("own-plant", "full-air"),
            at: Instant(1_800_000_000_000),
            note: "It is 25 bar aboard.".to_owned(),
            edition: Some(2),
            answer: Some(Answer { given: Given::Text("25 bar".to_owned()), seconds: Some(9.0) }),
            marked: Some(ReportedMarking {
                outcome: Outcome::Missed,
                reason: "25 bar is not 30 bar.".to_owned(),
                said: Vec::new(),
                missed: Vec::new(),
            }),
        };
        let text = reports_to_json(vec![report.clone()]).expect("written");
        assert_eq!(reports_from_json(&text), Ok(vec![report]));
        let newer = text.replacen("\"format\": 1", "\"format\": 2", 1);
        assert!(reports_from_json(&newer).is_err_and(|why| why.contains("form 2")));
        assert!(reports_from_json("[]").is_err_and(|why| why.starts_with("it is no file of reports")));
    }
}
