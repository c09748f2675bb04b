//! Drawings of point cards: each is read once for all cards that point at it, on a thread with room for the engine's
//! recursion and within a time; then each card's part is looked for.

use std::collections::HashMap;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::thread;
use std::time::{Duration, Instant};

use super::check::Site;
use super::checks;
use super::draft::DeckDraft;
use super::files::{Files, Presence};
use super::folding::{folded, words};
use super::font_signs;
use super::kinds::Placed;
use super::pictures::{self, PictureTrouble};
use super::problem::Collector;
use super::signs::bad_sign;
use crate::domain::drawing::{Drawing, Part, Pointing};
use crate::svg::{self, Fault, Outlined, Stop};

/// A deck may have this many drawings.
const MOST_DRAWINGS: usize = 200;
/// All drawings of a deck together may have this many corners.
const MOST_CORNERS: usize = 4_000_000;
/// One drawing may take this long.
const LONGEST: Duration = Duration::from_secs(10);
/// All drawings of a deck may take this long together.
const LONGEST_OF_DECK: Duration = Duration::from_secs(60);

/// Reads the drawing of every point card and finds its part; a card whose drawing cannot be shown, or does not have
/// the part, is not sound.
pub(crate) fn check(deck: &mut DeckDraft, files: Files<'_>) {
    let mut shelf = Shelf {
        files,
        read: HashMap::new(),
        there: HashMap::new(),
        can_be_found: HashMap::new(),
        corners: 0,
        reader: Reader::new(deck.time_for_drawings),
    };
    for draft in &mut deck.drafts {
        let Some(path) = &draft.drawing else { continue };
        if shelf.reader.is_put_off() {
            (draft.card, deck.put_off) = (None, deck.put_off + 1);
            continue;
        }
        let errors_before = deck.problems.errors();
        let pointing = draft.part.as_ref().and_then(|part| shelf.pointing(path, part, &mut deck.problems));
        if draft.part.is_none() {
            shelf.drawing(path, None, &mut deck.problems);
        }
        if shelf.reader.is_put_off() && pointing.is_none() && deck.problems.errors() == errors_before {
            (draft.card, deck.put_off) = (None, deck.put_off + 1);
            continue;
        }
        match (pointing, draft.card.as_mut().map(|card| &mut card.body)) {
            (Some(pointing), Some(body)) if deck.problems.errors() == errors_before => *body = pointing.into(),
            _ => draft.card = None,
        }
    }
}

/// Why a drawing is not there to be pointed at.
#[derive(Clone)]
enum Trouble {
    Refused(Fault),
    /// There is no time for it now.
    PutOff,
    TooMany(&'static str, usize),
}

/// A drawing that has been read.
struct Read {
    drawing: Arc<Drawing>,
    /// Ids of parts that have a name from their id only.
    unnamed: Vec<String>,
    /// A sign in its texts that the fonts do not have, told once.
    unknown_sign: Option<char>,
    /// The name of a part that is written on the drawing, told once.
    lettered: Option<String>,
    /// A part whose look says its name, by id and name, told once.
    telling: Option<(String, String)>,
}

/// The drawings that have been read.
struct Shelf<'a> {
    files: Files<'a>,
    /// By path, and by the part that is asked for where it has no name.
    read: HashMap<(String, Option<String>), Result<Read, Trouble>>,
    there: HashMap<String, Presence>,
    /// By path and part.
    can_be_found: HashMap<(String, String), bool>,
    corners: usize,
    reader: Reader,
}

impl Shelf<'_> {
    fn pointing(&mut self, path: &Placed, part: &Placed, problems: &mut Collector) -> Option<Pointing> {
        let mut read = self.drawing(path, None, problems)?;
        if read.drawing.others.contains(&part.text) {
            // It may be an element without a name.
            read = self.drawing(path, Some(&part.text), problems)?;
        }
        let drawing = Arc::clone(&read.drawing);
        let Some(target) = drawing.part(&part.text) else {
            problems.report(if drawing.others.contains(&part.text) {
                checks::drawing::unseen_part(part.site, &part.text, &path.text, "draws nothing that can be seen")
            } else {
                let ids = drawing.parts.iter().map(|part| part.id.as_str());
                checks::drawing::unknown_part(part.site, &part.text, &path.text, ids)
            });
            return None;
        };
        if read.unnamed.contains(&part.text) {
            problems.report(checks::drawing::unnamed_part(part.site, &part.text));
        }
        let key = (path.text.clone(), part.text.clone());
        if self.reader.is_over() && !self.can_be_found.contains_key(&key) {
            problems.report(checks::drawing::bad_drawing(part.site, &path.text, &slow()));
            return None;
        }
        if !*self.can_be_found.entry(key).or_insert_with(|| drawing.can_be_found(target)) {
            let why = "lies off the drawing or wholly behind other parts";
            problems.report(checks::drawing::unseen_part(part.site, &part.text, &path.text, why));
            return None;
        }
        judge(&drawing, target, path, part.site, problems);
        Some(Pointing { path: path.text.clone(), part: part.text.clone(), drawing })
    }

    /// The drawing at a path; reported where there is none.
    fn drawing(&mut self, path: &Placed, asked: Option<&str>, problems: &mut Collector) -> Option<&Read> {
        if let Some(found) =
            pictures::path_fault(path, self.files, &mut self.there, &["svg"], checks::drawing::drawing_type)
        {
            problems.report(found);
            return None;
        }
        let key = (path.text.clone(), asked.map(str::to_owned));
        if !self.read.contains_key(&key) {
            let read = self.read(&path.text, asked);
            self.read.insert(key.clone(), read);
        }
        match self.read.get_mut(&key)? {
            Ok(read) => {
                if let Some(sign) = read.unknown_sign.take() {
                    problems.report(checks::text::unknown_sign(path.site, sign));
                }
                if let Some(name) = read.lettered.take() {
                    problems.report(checks::drawing::lettered_drawing(path.site, &path.text, &name));
                }
                if let Some((id, name)) = read.telling.take() {
                    problems.report(checks::drawing::telling_desc(path.site, &path.text, &id, &name));
                }
                return Some(read);
            }
            Err(Trouble::PutOff) => {}
            Err(Trouble::Refused(fault)) => problems.report(checks::drawing::bad_drawing(path.site, &path.text, fault)),
            Err(Trouble::TooMany(what, most)) => problems.report(checks::file::too_many(path.site, what, *most)),
        }
        None
    }

    fn read(&mut self, path: &str, asked: Option<&str>) -> Result<Read, Trouble> {
        if self.read.len() >= MOST_DRAWINGS {
            return Err(Trouble::TooMany("drawings in the deck", MOST_DRAWINGS));
        }
        let bytes =
            pictures::read_picture_of(self.files, path).map_err(|trouble| Trouble::Refused(of_file(&trouble)))?;
        let Outlined { drawing, unnamed, lettering } = match self.reader.read(bytes, asked) {
            Err(_) if self.reader.is_put_off() => return Err(Trouble::PutOff),
            read => read.map_err(Trouble::Refused)?,
        };
        self.corners += drawing.shapes.iter().flat_map(|s| &s.outlines.rings).map(Vec::len).sum::<usize>();
        if self.corners > MOST_CORNERS {
            return Err(Trouble::TooMany("corners in the deck's drawings", MOST_CORNERS));
        }
        let unknown_sign = texts(&drawing).map_err(Trouble::Refused)?;
        // Told of the drawing as it stands, not once more for each part that has no name.
        let (lettered, telling) = if asked.is_none() { given_away(&drawing, &lettering) } else { (None, None) };
        Ok(Read { drawing: Arc::new(drawing), unnamed, unknown_sign, lettered, telling })
    }
}

/// Looks over the texts of a drawing's parts, and gives a sign that the fonts do not have.
fn texts(drawing: &Drawing) -> Result<Option<char>, Fault> {
    let mut unknown = None;
    for part in &drawing.parts {
        let texts = [Some(part.name.as_str()), part.look.as_deref(), Some(part.id.as_str())];
        for sign in texts.into_iter().flatten().flat_map(str::chars) {
            if bad_sign(sign).is_some() {
                let what = format!("has a hidden sign (U+{:04X}) in the texts of `{}`", u32::from(sign), part.id);
                return Err(Fault { what, mend: "write the text anew".to_owned() });
            }
            if !font_signs::has(sign) {
                unknown = unknown.or(Some(sign));
            }
        }
    }
    Ok(unknown)
}

/// A part whose name is written on the drawing, and one whose look says its name, by id and name.
fn given_away(drawing: &Drawing, lettering: &[String]) -> (Option<String>, Option<(String, String)>) {
    let written: Vec<Vec<String>> = lettering.iter().map(|text| words(text).collect()).collect();
    let named = || drawing.parts.iter().map(|part| (part, words(&part.name).collect::<Vec<_>>()));
    let says = |text: &[String], name: &[String]| !name.is_empty() && text.windows(name.len()).any(|some| some == name);
    let lettered = named().find(|(_, name)| written.iter().any(|text| says(text, name)));
    let telling = named()
        .find(|(part, name)| part.look.as_ref().is_some_and(|look| says(&words(look).collect::<Vec<_>>(), name)));
    let pair = |part: &Part| (part.id.clone(), part.name.clone());
    (lettered.map(|(part, _)| part.name.clone()), telling.map(|(part, _)| pair(part)))
}

fn of_file(trouble: &PictureTrouble) -> Fault {
    let words = trouble.to_string();
    let (what, mend) = words.split_once("; ").unwrap_or((&words, "see that the file can be read"));
    Fault { what: what.to_owned(), mend: mend.to_owned() }
}

/// What the learner would stumble over.
fn judge(drawing: &Drawing, target: usize, path: &Placed, site: Site, problems: &mut Collector) {
    let part = &drawing.parts[target];
    let strangers = || drawing.parts.iter().enumerate().filter(|(n, _)| !drawing.lies_within(*n, target));
    if strangers().next().is_none() {
        problems.report(checks::drawing::lone_part(site, &path.text));
        return;
    }
    if let Some((_, other)) = strangers().find(|(_, other)| folded(&other.name) == folded(&part.name)) {
        problems.report(checks::drawing::shared_part_name(site, &part.name, &other.id));
    }
    if let Err(other) = drawing.told_apart(target) {
        let other = other.map(|other| drawing.parts[other].id.as_str());
        problems.report(checks::drawing::undescribed_part(site, &path.text, &part.id, other));
    }
}

/// A drawing to read: its bytes, and the element that is asked for.
type Job = (Vec<u8>, Option<String>);
type Answer = Result<Outlined, Fault>;

/// Reads drawings on a thread of its own, which is given up with a drawing that takes too long.
struct Reader {
    worker: Option<Worker>,
    begun: Instant,
    /// All drawings may take so long, where the rest is put off.
    time: Option<Duration>,
}

/// A thread that reads; once it is dropped the thread ends at its next step.
struct Worker {
    jobs: Sender<Job>,
    answers: Receiver<Answer>,
    stop: Stop,
}

impl Drop for Worker {
    fn drop(&mut self) {
        self.stop.stop();
    }
}

impl Reader {
    fn new(time: Option<Duration>) -> Self {
        Self { worker: None, begun: Instant::now(), time }
    }

    /// The time is over, and what has not been read is put off.
    fn is_put_off(&self) -> bool {
        self.time.is_some_and(|time| self.begun.elapsed() >= time)
    }

    /// The time that a check has is over.
    fn is_over(&self) -> bool {
        self.begun.elapsed() >= LONGEST_OF_DECK
    }

    fn read(&mut self, bytes: Vec<u8>, asked: Option<&str>) -> Answer {
        let all = self.time.unwrap_or(LONGEST_OF_DECK);
        let left = LONGEST.min(all.saturating_sub(self.begun.elapsed()));
        if left.is_zero() {
            return Err(slow());
        }
        let Some(worker) = self.worker.take().or_else(hire) else { return Err(broken()) };
        if worker.jobs.send((bytes, asked.map(str::to_owned))).is_err() {
            return Err(broken());
        }
        match worker.answers.recv_timeout(left) {
            Ok(answer) => {
                self.worker = Some(worker);
                answer
            }
            Err(RecvTimeoutError::Timeout) => Err(slow()),
            Err(RecvTimeoutError::Disconnected) => Err(broken()),
        }
    }
}

fn slow() -> Fault {
    Fault {
        what: "takes too long to read, or the drawings before it did".to_owned(),
        mend: "save it simpler".to_owned(),
    }
}

fn broken() -> Fault {
    Fault { what: "could not be read".to_owned(), mend: "save it again".to_owned() }
}

/// A thread that reads drawings until nobody asks any more; none where the system has no room for it.
fn hire() -> Option<Worker> {
    let (jobs, todo) = channel::<Job>();
    let (answer, answers) = channel();
    let stop = Stop::of_part();
    let stopped = stop.clone();
    let work = move || {
        for (bytes, asked) in todo {
            if answer.send(svg::until(&stopped, || svg::outline(&bytes, asked.as_deref()))).is_err() {
                break;
            }
        }
    };
    thread::Builder::new().name("drawings".to_owned()).stack_size(svg::STACK).spawn(work).ok()?;
    Some(Worker { jobs, answers, stop })
}
