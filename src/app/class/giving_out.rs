//! Making an assignment at the lecturer's: decks are sealed into one file, and the class knows what was given out.

use std::fs;
use std::path::Path;

use crate::app::class::envelope::{Attached, FileFault, MOST_ASSIGNMENT, is_name, write_assignment};
use crate::app::class::words::assigned;
use crate::app::profile::shelf::{DECK, Shelf, Shelved};
use crate::app::publish::file::put;
use crate::app::publish::folder;
use crate::app::publish::sealing::{CannotSeal, seal_folder};
use crate::deck::sealed::{
    Entry, LIST, MOST_SEALED_BYTES, Refusal, SIGNATURE, SealHead, SealedDeck, Signed, archive, open, seal,
};
use crate::deck::{Problem, Severity, read_sealed_to_ask};
use crate::domain::day::{Instant, StudyDay};
use crate::domain::ids::DeckId;
use crate::domain::marking::Marker;
use crate::domain::oral::Blueprint;
use crate::domain::roster::{AssignedDeck, Assignment, ClassName};
use crate::store::{ClassError, ClassFile, ids, taken_in};

/// What a lecturer wishes to give out.
pub struct Wish<'a> {
    /// The class's name; a class of that name is made where there is none.
    pub class: &'a str,
    /// Folders, sealed files, or ids of decks in the home.
    pub decks: &'a [String],
    /// The day on which all is to be held.
    pub by: Option<StudyDay>,
    /// Minutes a day.
    pub minutes: Option<u32>,
    /// How the oral is shared.
    pub blueprint: Option<Blueprint>,
    /// Where hand-ins go.
    pub send_to: Option<String>,
}

/// Why nothing was given out.
#[derive(Debug, thiserror::Error)]
pub enum CannotAssign {
    /// The class's name is none.
    #[error("a class's name has 1 to 200 characters on one line")]
    Name,
    /// A deck cannot be given out.
    #[error("the deck `{deck}` cannot be given out: {why}")]
    Deck {
        /// As it was named.
        deck: String,
        /// Why, with what would do.
        why: String,
    },
    /// The file.
    #[error("{file} could not be written: {why}")]
    File {
        /// Which file.
        file: String,
        /// The system's words.
        why: String,
    },
    /// The file's form.
    #[error(transparent)]
    Form(#[from] FileFault),
    /// The class.
    #[error(transparent)]
    Class(#[from] ClassError),
}

/// Makes an assignment, writes its file, and tells the class of it. `made` is `now` as a sealed deck says it.
///
/// # Errors
/// See [`CannotAssign`]; then there is no file and the class is as it was.
pub fn give_out(
    home: &Path,
    wish: &Wish<'_>,
    marker: Marker<'_>,
    (now, made): (Instant, &str),
    file: &Path,
) -> Result<Assignment, CannotAssign> {
    if !is_name(wish.class) {
        return Err(CannotAssign::Name);
    }
    let mut sealed: Vec<(SealedDeck, Vec<u8>)> = Vec::new();
    for deck in wish.decks {
        let no = |why: String| CannotAssign::Deck { deck: deck.clone(), why };
        let bytes = bytes_of(home, deck, made, marker).map_err(no)?;
        let opened = open(&bytes).map_err(|refusal| no(in_words(&refusal)))?;
        if let Signed::Badly(refusal) = &opened.signed {
            return Err(no(in_words(refusal)));
        }
        if sealed.iter().any(|(other, _)| other.head.deck == opened.head.deck) {
            return Err(no("another deck of the same id is named as well".to_owned()));
        }
        sealed.push((opened, bytes));
    }
    let (mut decks, mut cards, mut attached) = (Vec::new(), Vec::new(), Vec::new());
    for (deck, bytes) in sealed {
        let no = |why: String| CannotAssign::Deck { deck: deck.head.deck.clone(), why };
        let reading = read_sealed_to_ask(&deck.files);
        if let Some(problem) = reading.problems.iter().find(|problem| problem.severity == Severity::Error) {
            return Err(no(first_error(problem)));
        }
        let Some(read) = &reading.deck else { return Err(no("there is no deck in it".to_owned())) };
        cards.extend(read.cards.iter().map(assigned));
        decks.push(AssignedDeck { id: read.id.clone(), title: read.title.clone(), edition: read.edition });
        attached.push(Attached { deck: read.id.clone(), bytes });
    }
    let known = match ClassFile::open(home, wish.class) {
        Ok(class) => Some(class.class().clone()),
        Err(ClassError::NotThere { .. }) => None,
        Err(error) => return Err(error.into()),
    };
    let class = known.unwrap_or_else(|| ClassName { id: ids::new_attempt_id(now).0, name: wish.class.to_owned() });
    let assignment = Assignment {
        id: ids::new_attempt_id(now).0,
        class,
        made: now,
        by: wish.by,
        minutes: wish.minutes,
        blueprint: wish.blueprint.clone(),
        send_to: wish.send_to.clone(),
        decks,
        cards,
    };
    let bytes = write_assignment(&assignment, &attached)?;
    let not_written = |why: String| CannotAssign::File { file: file.display().to_string(), why };
    if bytes.len() > MOST_ASSIGNMENT {
        return Err(not_written(format!("its decks have more than {} MB together", MOST_ASSIGNMENT >> 20)));
    }
    put(file, &bytes).map_err(|why| not_written(why.to_string()))?;
    match tell(home, &assignment, now) {
        Ok(()) => Ok(assignment),
        Err(error) => {
            // A file that the class knows nothing of is not given out.
            let _ = fs::remove_file(file);
            Err(error.into())
        }
    }
}

fn tell(home: &Path, assignment: &Assignment, now: Instant) -> Result<(), ClassError> {
    let mut class = ClassFile::open_or_create(home, &assignment.class, now)?;
    class.back_up(now)?;
    class.put_assignment(assignment)?;
    Ok(())
}

/// A deck's sealed file: as it lies there, as it was taken in, or made from a folder.
fn bytes_of(home: &Path, named: &str, made: &str, marker: Marker<'_>) -> Result<Vec<u8>, String> {
    let path = Path::new(named);
    if path.is_dir() {
        return sealed_folder(path, made, marker);
    }
    if path.is_file() {
        let size = fs::metadata(path).map_err(|e| e.to_string())?.len();
        if size > MOST_SEALED_BYTES {
            return Err("it is larger than any sealed deck".to_owned());
        }
        return fs::read(path).map_err(|e| e.to_string());
    }
    if let Some(bytes) = as_taken_in(home, named) {
        return Ok(bytes);
    }
    let shelf = Shelf::read(home).map_err(|e| format!("the home's decks cannot be read ({e})"))?;
    match shelf.deck(&DeckId(named.to_owned())) {
        Some(shelved) => sealed_at_hand(shelved, made),
        None => Err("there is no such folder, no such file and no deck of that id in the home".to_owned()),
    }
}

fn sealed_folder(folder: &Path, made: &str, marker: Marker<'_>) -> Result<Vec<u8>, String> {
    seal_folder(folder, None, made, marker).map(|sealed| sealed.bytes).map_err(|why| match why {
        CannotSeal::Folder(trouble) => trouble.to_string(),
        CannotSeal::Refused(refusal) => in_words(&refusal),
        CannotSeal::Errors(reading) => {
            let error = reading.problems.iter().find(|problem| problem.severity == Severity::Error);
            error.map_or_else(|| "there is no deck in it".to_owned(), first_error)
        }
    })
}

/// A deck of the home that was not taken in. It can be asked as it is; whether its samples come out is its writer's concern.
fn sealed_at_hand(shelved: &Shelved, made: &str) -> Result<Vec<u8>, String> {
    let Some(deck) = shelved.deck() else { return Err("it has errors; `bedplate check` lists them".to_owned()) };
    let files = folder::read(&shelved.folder).map_err(|trouble| trouble.to_string())?;
    seal(&SealHead::of(deck, made, None), &files, None).map_err(|refusal| in_words(&refusal))
}

/// A deck that was taken in, as the file that it came in, its signature with it.
fn as_taken_in(home: &Path, deck: &str) -> Option<Vec<u8>> {
    let deck = DeckId(deck.to_owned());
    if !crate::domain::ids::is_id(&deck.0) {
        return None;
    }
    let edition = taken_in::state(home, &deck.0).ok()?.in_use?;
    let at = taken_in::folder(home, &deck.0, &edition);
    let list = fs::read(at.join(LIST)).ok()?;
    let mut entries = vec![Entry { name: LIST.to_owned(), bytes: list }];
    let signature = fs::read(at.join(SIGNATURE)).ok();
    entries.extend(signature.map(|bytes| Entry { name: SIGNATURE.to_owned(), bytes }));
    let files = folder::read(&at.join(DECK)).ok()?;
    let below = |file: Entry| Entry { name: format!("{DECK}/{}", file.name), bytes: file.bytes };
    entries.extend(files.into_iter().map(below));
    Some(archive::write(&entries))
}

fn first_error(problem: &Problem) -> String {
    format!("it has errors, such as `{}`; `bedplate check` lists them", problem.code)
}

fn in_words(refusal: &Refusal) -> String {
    refusal.text.clone()
}
