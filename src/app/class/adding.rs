//! Taking hand-ins in at the lecturer's: each file is taken or refused by name.

use std::fs;
use std::path::{Path, PathBuf};

use crate::app::class::envelope::{self, FileFault, MOST_HAND_IN, digest};
use crate::domain::day::Instant;
use crate::domain::roster::{ClassName, ClassRecord, HandIn};
use crate::store::{ClassError, ClassFile, StoreError, Taken};

/// What became of a file.
#[derive(Debug)]
pub struct Added {
    /// The file.
    pub file: PathBuf,
    /// What it came to.
    pub came_to: Result<Joined, Refusal>,
}

/// A hand-in that was taken in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Joined {
    /// The name or code in it.
    pub name: String,
    /// What was new in it.
    pub taken: Taken,
}

/// Why a file was not taken in.
#[derive(Debug, thiserror::Error)]
pub enum Refusal {
    /// It cannot be read.
    #[error("it cannot be read ({0})")]
    Unreadable(String),
    /// It is no hand-in, or damaged.
    #[error(transparent)]
    Fault(#[from] FileFault),
    /// It is for another class.
    #[error("it was made for another class, `{0}`")]
    OtherClass(String),
    /// It is for another class of the same name.
    #[error("it was made for another class of the name `{0}`, made on another computer")]
    SameName(String),
    /// Whose learner was forgotten.
    #[error("its learner was forgotten in this class; `--yes` takes them in again")]
    Forgotten,
    /// The class's file.
    #[error(transparent)]
    Store(#[from] StoreError),
}

impl Refusal {
    /// The code of the reason.
    pub fn code(&self) -> &'static str {
        match self {
            Refusal::Unreadable(_) => "unreadable",
            Refusal::Fault(FileFault::NotOne(_)) => "not-a-hand-in",
            Refusal::Fault(FileFault::Newer) => "newer",
            Refusal::Fault(FileFault::Damaged) => "damaged",
            Refusal::Fault(FileFault::Senseless(_)) => "senseless",
            Refusal::OtherClass(_) | Refusal::SameName(_) => "other-class",
            Refusal::Forgotten => "forgotten",
            Refusal::Store(_) => "not-kept",
        }
    }
}

/// Takes files into the class of this name. A class that this home does not have yet is made by the first good file that
/// is for one of that name. `again` is asked, by the learner's name, whether somebody who was forgotten is taken in.
///
/// # Errors
/// Where the class cannot be opened or made.
pub fn add(
    home: &Path,
    name: &str,
    files: &[PathBuf],
    now: Instant,
    again: &mut dyn FnMut(&str) -> bool,
) -> Result<Vec<Added>, ClassError> {
    let read: Vec<(PathBuf, Result<HandIn, Refusal>)> = files.iter().map(|file| (file.clone(), read(file))).collect();
    let mut classes = read.iter().filter_map(|(_, read)| read.as_ref().ok()).map(|hand_in| &hand_in.assignment.class);
    let mut class = match (ClassFile::open(home, name), classes.find(|class| class.name == name)) {
        (Err(ClassError::NotThere { home, .. }), Some(class)) => ClassFile::open_or_create(&home, class, now)?,
        // None of the files is for a class of that name: each is refused.
        (Err(ClassError::NotThere { .. }), None) => return Ok(read.into_iter().map(refused).collect()),
        (opened, _) => opened?,
    };
    class.back_up(now)?;
    let take = |(file, read): (PathBuf, Result<HandIn, Refusal>)| Added {
        came_to: read.and_then(|hand_in| take(&mut class, &hand_in, again)),
        file,
    };
    Ok(read.into_iter().map(take).collect())
}

fn refused((file, read): (PathBuf, Result<HandIn, Refusal>)) -> Added {
    let came_to = read.and_then(|hand_in| Err(Refusal::OtherClass(hand_in.assignment.class.name)));
    Added { file, came_to }
}

fn read(file: &Path) -> Result<HandIn, Refusal> {
    let unreadable = |why: String| Refusal::Unreadable(why);
    let meta = fs::metadata(file).map_err(|e| unreadable(e.to_string()))?;
    if !meta.is_file() {
        return Err(unreadable("it is no file".to_owned()));
    }
    if meta.len() > MOST_HAND_IN as u64 {
        return Err(unreadable(format!("it is larger than {} MB", MOST_HAND_IN >> 20)));
    }
    Ok(envelope::read_hand_in(&fs::read(file).map_err(|e| unreadable(e.to_string()))?)?)
}

fn take(class: &mut ClassFile, hand_in: &HandIn, again: &mut dyn FnMut(&str) -> bool) -> Result<Joined, Refusal> {
    let of: &ClassName = &hand_in.assignment.class;
    if of.id != class.class().id {
        let name = of.name.clone();
        return Err(if name == class.class().name { Refusal::SameName(name) } else { Refusal::OtherClass(name) });
    }
    let token = token(&of.id, &hand_in.learner);
    let was_forgotten = class.was_forgotten(&token)?;
    if was_forgotten && !again(&hand_in.name) {
        return Err(Refusal::Forgotten);
    }
    let taken = class.take_in(hand_in)?;
    if was_forgotten {
        class.remember(&token)?;
    }
    Ok(Joined { name: hand_in.name.clone(), taken })
}

/// By what a learner who was forgotten is known again.
fn token(class: &str, learner: &str) -> String {
    digest(format!("bedplate forgotten\n{class}\n{learner}\n").as_bytes())
}

/// Who is meant by an id, or else by a name.
///
/// # Errors
/// Where nobody is, or several are: with who there is.
pub fn find_learner(record: &ClassRecord, who: &str) -> Result<usize, String> {
    if let Some(at) = record.learners.iter().position(|learner| learner.id == who) {
        return Ok(at);
    }
    let of_name: Vec<usize> = (0..record.learners.len()).filter(|at| record.learners[*at].name == who).collect();
    let listed = |of: &mut dyn Iterator<Item = usize>| {
        let named = of.map(|at| format!("{} ({})", record.learners[at].name, record.learners[at].id));
        named.collect::<Vec<_>>().join(", ")
    };
    match &of_name[..] {
        [at] => Ok(*at),
        [] if record.learners.is_empty() => Err(format!("the class has no learner `{who}`; nobody has handed in yet")),
        [] => Err(format!("the class has no learner `{who}`; there are {}", listed(&mut (0..record.learners.len())))),
        _ => Err(format!("several learners are called `{who}`; name one by id: {}", listed(&mut of_name.into_iter()))),
    }
}

/// Forgets a learner of a class for good.
///
/// # Errors
/// Where the class's file cannot be written.
pub fn forget(class: &mut ClassFile, learner: &str, now: Instant) -> Result<(), StoreError> {
    let token = token(&class.class().id.clone(), learner);
    class.forget(learner, &token, now)
}
