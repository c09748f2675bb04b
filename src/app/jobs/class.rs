//! A class is read and its figures are worked out while its page is in front.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use crate::app::class::words::with_words;
use crate::app::jobs::crew::Crew;
use crate::app::jobs::job::{Control, Job, OPEN_AGAIN, Polled, Prepared, Task};
use crate::deck::competences;
use crate::domain::day::{Instant, StudyDay};
use crate::domain::roster::{Choice, figures};
use crate::present::class::{ClassSeen, document};
use crate::present::class_page::{ClassPageView, ClassState};
use crate::store::{ClassFile, list_classes};

/// The length of the lesson that the page shows, in minutes.
const LESSON: u32 = 45;

const TASK: Task<Question, ClassPageView> = Task { thread: Some("class"), stack: None, limit: None, work };

/// Which class is worked out, and by which time.
struct Question {
    home: PathBuf,
    at: usize,
    now: Instant,
}

/// What would have the figures be others.
type Basis = (usize, Vec<(PathBuf, Option<SystemTime>)>, StudyDay);

/// The class, as far as it has come.
pub struct ClassJob(Job<Basis, Question, ClassPageView>);

impl ClassJob {
    pub(super) fn new(crew: &Crew) -> Self {
        Self(Job::new(TASK, crew.clone()))
    }

    /// Has the class at a position in the list of a home's classes worked out, anew where a file of theirs has changed.
    pub(in crate::app) fn request(&mut self, home: &Path, at: usize, day: StudyDay, now: Instant) {
        let files = files(home);
        let question = Question { home: home.to_owned(), at, now };
        self.0.request((at, files, day), now, |_| Prepared::Ready(question));
    }

    /// The page as far as it has come.
    pub fn view(&self, at: usize) -> ClassPageView {
        match self.0.result() {
            Some(Ok(view)) => view.clone(),
            Some(Err(fault)) => {
                let told = fault.told("The class", OPEN_AGAIN);
                ClassPageView { classes: Vec::new(), at, state: ClassState::Failed(told) }
            }
            None => ClassPageView { classes: Vec::new(), at, state: ClassState::Working },
        }
    }

    pub(super) fn poll(&mut self, now: Instant) -> Polled {
        self.0.poll(now)
    }

    pub(super) fn wait(&mut self) -> Polled {
        self.0.wait()
    }

    pub(super) fn ask_again(&mut self) {
        self.0.ask_again();
    }
}

/// Files of classes with when each was changed.
fn files(home: &Path) -> Vec<(PathBuf, Option<SystemTime>)> {
    let entries = fs::read_dir(home.join("classes")).into_iter().flatten().flatten();
    let mut files: Vec<(PathBuf, Option<SystemTime>)> = entries
        .map(|entry| entry.path().join("class.sqlite"))
        .map(|path| (path.clone(), fs::metadata(&path).and_then(|meta| meta.modified()).ok()))
        .filter(|(_, changed)| changed.is_some())
        .collect();
    files.sort();
    files
}

/// Whether a home has a class, or had one.
pub(in crate::app) fn has_classes(home: &Path) -> bool {
    home.join("classes").is_dir()
}

fn work(question: Question, _: &Control) -> ClassPageView {
    let Question { home, at, now } = question;
    let page = |classes: Vec<String>, state| ClassPageView { classes, at, state };
    let classes = match list_classes(&home) {
        Ok(classes) => classes,
        Err(error) => return page(Vec::new(), ClassState::Failed(error.to_string())),
    };
    let names: Vec<String> = classes.into_iter().map(|info| info.class.name).collect();
    let at = at.min(names.len().saturating_sub(1));
    let Some(name) = names.get(at).cloned() else {
        let how = "This home has no class yet. `bedplate assign --class NAME --decks ... --out FILE` gives decks out and makes \
                   one; `bedplate class add NAME FILES` takes hand-ins in.";
        return page(names, ClassState::NoClass(how.to_owned()));
    };
    let record = ClassFile::open(&home, &name)
        .map_err(|e| e.to_string())
        .and_then(|class| class.record().map_err(|e| e.to_string()));
    let mut record = match record {
        Ok(record) => record,
        Err(why) => return ClassPageView { classes: names, at, state: ClassState::Failed(format!("{why}.")) },
    };
    with_words(&mut record, &home);
    let shares = record.assignments.iter().rev().find_map(|assignment| assignment.blueprint.clone());
    let found = figures(&record, &Choice { shares, minutes: LESSON, ..Choice::default() }, now);
    let title = |topic: &str| competences().get(topic).map_or_else(|| topic.to_owned(), |of| of.title.clone());
    let document = document(ClassSeen { record: &record, figures: &found, now, title: &title });
    ClassPageView { classes: names, at, state: ClassState::Ready(Box::new(document)) }
}
