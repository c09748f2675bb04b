//! What learners say of a deck that is written: gathered from the profile and from files, and their answers tried.

use std::path::{Path, PathBuf};

use crate::app::program::app::App;
use crate::app::writing::files;
use crate::domain::english;
use crate::domain::report::CardReport;
use crate::present::{Notice, words};
use crate::store::{reports_from_json, reports_to_json};

/// The folder of the home in which files of reports are kept that were taken in.
const TAKEN_IN: &str = "reports";
/// So many of them are read, each of at most so many bytes.
const MOST_FILES: usize = 500;
const MOST_BYTES: u64 = 16 * 1024 * 1024;

impl App {
    /// Gathers what learners have said: the profile's own reports, and those of files that were taken in.
    pub(super) fn gather_reports(&mut self) {
        let Some(open) = self.open() else { return };
        let own = open.profile.store.reports(&open.profile.learner.faults);
        let taken_in = self.setup.home.join(TAKEN_IN);
        let mut reports = match own {
            Ok(reports) => reports,
            Err(error) => return self.fail(&error),
        };
        let mut troubles = Vec::new();
        for file in files_in(&taken_in) {
            match read(&file) {
                Ok(read) => reports.extend(read),
                Err(why) => troubles.push(format!("{}: {why}", file.display())),
            }
        }
        // The same report may have come by two ways.
        let mut all: Vec<CardReport> = Vec::new();
        for report in reports {
            if !all.contains(&report) {
                all.push(report);
            }
        }
        self.with_writing(|writing| writing.reports = all);
        if let Some(trouble) = troubles.first() {
            self.say(Notice::failed(format!("A file of reports cannot be read. {}.", english::capital(trouble))));
        }
    }

    /// Takes a file of reports in: a copy is kept, so that it counts from now on.
    pub(super) fn take_reports(&mut self, file: &Path) {
        let reports = match read(file) {
            Ok(reports) => reports,
            Err(why) => {
                let text = format!("{} was not taken in: {why}.", file.display());
                return self.say(Notice::failed(text));
            }
        };
        let deck = self.writing().and_then(|writing| writing.deck.as_ref()).map(|deck| deck.id.clone());
        let here = reports.iter().filter(|report| Some(&report.card.deck) == deck.as_ref()).count();
        let all = reports.len();
        let text = match reports_to_json(reports) {
            Ok(text) => text,
            Err(why) => return self.say(Notice::failed(english::sentence(&why))),
        };
        let folder = self.setup.home.join(TAKEN_IN);
        let to = folder.join(format!("{}.json", self.now().0));
        if let Err(error) = std::fs::create_dir_all(&folder).and_then(|()| files::put(&to, &text)) {
            return self.cannot_write(&to, &error);
        }
        self.gather_reports();
        let (all, here) = (words::count(all, "report"), words::count(here, "report"));
        self.say(Notice::done(format!("{all} taken in, {here} on this deck.")));
    }

    /// Answers the card in hand as the learner had who reported it.
    pub(super) fn try_reported(&mut self, at: usize) {
        let answer = self.writing().and_then(|writing| writing.reports_of_hand().get(at)?.answer.clone());
        let Some(answer) = answer else { return };
        self.try_card();
        self.with_writing(|writing| {
            if let Some(trial) = &mut writing.trial {
                trial.told_at_once = true;
            }
        });
        self.submit(answer.given);
        self.tell_at_once();
    }

    /// Tells how the answer was marked where that was asked for beforehand, once it is marked.
    pub(super) fn tell_at_once(&mut self) {
        if self.trial().is_some_and(|trial| trial.told_at_once && trial.marked().is_some()) {
            self.with_writing(|writing| writing.trial.iter_mut().for_each(|trial| trial.told_at_once = false));
            self.tell_marking();
        }
    }
}

/// The files of reports in a folder, in order of name.
fn files_in(folder: &Path) -> Vec<PathBuf> {
    let Ok(entries) = std::fs::read_dir(folder) else { return Vec::new() };
    let is_report = |file: &PathBuf| file.extension().is_some_and(|ending| ending == "json") && file.is_file();
    let mut all: Vec<PathBuf> = entries.flatten().map(|entry| entry.path()).filter(is_report).collect();
    all.sort();
    all.truncate(MOST_FILES);
    all
}

fn read(file: &Path) -> Result<Vec<CardReport>, String> {
    let meta = std::fs::metadata(file).map_err(|error| error.to_string())?;
    if !meta.is_file() || meta.len() > MOST_BYTES {
        return Err("it is no file of reports, or too large for one".to_owned());
    }
    reports_from_json(&files::text_of(file).map_err(|error| error.to_string())?)
}
