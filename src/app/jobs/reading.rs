//! What the trained reader makes of a typed answer. It is loaded once, at first need, and kept for the program's life; it
//! reads one answer at a time, and what takes too long is given up: that answer is marked by its words alone.

use std::sync::{Arc, OnceLock};
use std::time::Duration;

use super::crew::Crew;
use super::job::{Control, Job, JobFault, Polled, Prepared, Task};
use crate::app::reader::Load;
use crate::domain::day::Instant;
use crate::domain::key_point::KeyPoint;
use crate::domain::marking::reader::{Reader, Reading};

/// After this time, loading included, an answer is marked without its reading.
const LONGEST: Duration = Duration::from_secs(3);
/// So many readings at once, those among them that were given up and have not ended.
const MOST_AT_ONCE: usize = 2;

const WARM: Task<Arc<Kept>, Option<String>> =
    Task { thread: Some("reader"), stack: None, limit: None, work: |kept, _| kept.get().err() };
const READ: Task<(Arc<Kept>, ToRead), Come> =
    Task { thread: Some("reading"), stack: None, limit: Some(LONGEST), work: read };

/// The reader once it is loaded, or why there is none, in a sentence.
pub(in crate::app) struct Kept {
    load: Load,
    reader: OnceLock<Result<Arc<Reader>, String>>,
}

impl Kept {
    /// Loads it at the first call; others wait for that.
    pub(super) fn get(&self) -> Result<Arc<Reader>, String> {
        self.reader.get_or_init(|| (self.load)().map_err(|why| why.to_string())).clone()
    }
}

/// What is to be read.
#[derive(Debug, Clone, PartialEq)]
pub struct ToRead {
    /// The question.
    pub ask: String,
    /// What a full answer says.
    pub points: Vec<KeyPoint>,
    /// The answer.
    pub text: String,
}

/// A reading, or nothing of it and, where there is no reader at all, why.
type Come = Result<Reading, Option<String>>;

/// Reads, once the reader is loaded.
fn read((kept, what): (Arc<Kept>, ToRead), _: &Control) -> Come {
    let reader = kept.get().map_err(Some)?;
    reader.read(&what.ask, &what.points, &what.text).map_err(|_| None)
}

/// What has come of the reader.
#[derive(Debug, PartialEq)]
pub(super) enum ReadingEvent {
    /// The answer of this number has been read; without a reading it is marked by its words alone.
    Read(u64, Option<Reading>),
    /// There is no reader: why, in a sentence, and said once.
    NoReader(String),
}

/// The reader, and the answer that it reads.
pub struct ReadingJob {
    kept: Option<Arc<Kept>>,
    warming: Job<(), Arc<Kept>, Option<String>>,
    reading: Job<u64, (Arc<Kept>, ToRead), Come>,
    /// The number of the last answer.
    number: u64,
    /// It has been asked to load, and that there is no reader has been said.
    warmed: bool,
    told: bool,
}

impl ReadingJob {
    /// A reader that is loaded so; none where answers are marked by their words alone.
    pub(super) fn new(load: Option<Load>, crew: &Crew) -> Self {
        Self {
            kept: load.map(|load| Arc::new(Kept { load, reader: OnceLock::new() })),
            warming: Job::new(WARM, crew.clone()),
            reading: Job::new(READ, crew.of_at_most(MOST_AT_ONCE)),
            number: 0,
            warmed: false,
            told: false,
        }
    }

    /// Whether there is a reader to ask, as far as is known.
    pub(in crate::app) fn is_there(&self) -> bool {
        let known = self.kept.as_ref().map(|kept| kept.reader.get());
        known.is_some_and(|known| known.is_none_or(Result::is_ok))
    }

    /// The reader, for jobs that mark answers by themselves; none where answers are marked by their words alone.
    pub(in crate::app) fn shared(&self) -> Option<Arc<Kept>> {
        self.kept.clone()
    }

    /// Has the reader loaded, where that was not done yet: answers will be typed soon.
    pub(in crate::app) fn warm(&mut self, now: Instant) {
        if let Some(kept) = self.kept.as_ref().filter(|_| !self.warmed) {
            self.warmed = true;
            self.warming.request((), now, |()| Prepared::Ready(Arc::clone(kept)));
        }
    }

    /// Has an answer read; what was being read before is given up. The number under which it will come; none where there
    /// is no reader.
    pub(in crate::app) fn request(&mut self, what: ToRead, now: Instant) -> Option<u64> {
        let kept = self.kept.as_ref()?;
        (self.number, self.warmed) = (self.number + 1, true);
        self.reading.request(self.number, now, |_| Prepared::Ready((Arc::clone(kept), what)));
        Some(self.number)
    }

    /// The number of the answer that is being read.
    pub(in crate::app) fn at_work(&self) -> Option<u64> {
        self.reading.question().copied()
    }

    pub(super) fn poll(&mut self, now: Instant) -> Vec<ReadingEvent> {
        let polled = (self.warming.poll(now), self.reading.poll(now));
        self.come(polled)
    }

    /// Blocks until the answer has been read. A reader that is merely being loaded is not waited for.
    pub(super) fn wait(&mut self, now: Instant) -> Vec<ReadingEvent> {
        let polled = (self.warming.poll(now), self.reading.wait());
        self.come(polled)
    }

    fn come(&mut self, (warmed, read): (Polled, Polled)) -> Vec<ReadingEvent> {
        let mut events = Vec::new();
        let mut why = None;
        if warmed == Polled::Ended
            && let Some(Ok(none)) = self.warming.take()
        {
            why = none;
        }
        let number = self.reading.question().copied();
        if read == Polled::Ended
            && let (Some(number), Some(come)) = (number, self.reading.take())
        {
            let reading = match come {
                Ok(Ok(reading)) => Some(reading),
                Ok(Err(none)) => {
                    why = none.or(why);
                    None
                }
                Err(JobFault::Store(_) | JobFault::Panicked | JobFault::TooSlow) => None,
            };
            events.push(ReadingEvent::Read(number, reading));
        }
        if let Some(why) = why.filter(|_| !self.told) {
            self.told = true;
            events.push(ReadingEvent::NoReader(why));
        }
        events
    }

    /// When what is being read will be given up.
    pub(super) fn until(&self, now: Instant) -> Option<Duration> {
        self.reading.until(now)
    }

    /// Gives up what is being read; the reader stays loaded.
    pub(in crate::app) fn cancel(&mut self) {
        self.reading.cancel();
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Mutex;
    use std::sync::atomic::{AtomicUsize, Ordering};
    use std::sync::mpsc::channel;

    use super::*;
    use crate::app::reader::NoReader;

    fn what() -> ToRead {
        ToRead { ask: "Why?".to_owned(), points: Vec::new(), text: "Because.".to_owned() }
    }

    fn job(load: Load) -> ReadingJob {
        ReadingJob::new(Some(load), &Crew::new(Arc::new(|| {})))
    }

    #[test]
    fn that_there_is_no_reader_is_said_once_and_it_is_not_looked_for_again() {
        let looked = Arc::new(AtomicUsize::new(0));
        let count = Arc::clone(&looked);
        let mut job = job(Arc::new(move || {
            count.fetch_add(1, Ordering::SeqCst);
            Err(NoReader::Missing(Vec::new()))
        }));
        assert!(job.is_there(), "nobody has looked yet");
        job.request(what(), Instant(0));
        let events = job.wait(Instant(0));
        assert_eq!(events[0], ReadingEvent::Read(1, None));
        assert!(matches!(&events[1], ReadingEvent::NoReader(why) if why.ends_with("by their words alone")));
        assert!(!job.is_there());
        job.request(what(), Instant(1));
        assert_eq!(job.wait(Instant(1)), [ReadingEvent::Read(2, None)]);
        assert_eq!(looked.load(Ordering::SeqCst), 1);
    }

    #[test]
    fn what_takes_too_long_is_given_up_and_does_not_come_later() {
        let (go, gate) = channel::<()>();
        let gate = Mutex::new(gate);
        let mut job = job(Arc::new(move || {
            let _ = gate.lock().map(|gate| gate.recv());
            Err(NoReader::Missing(Vec::new()))
        }));
        job.request(what(), Instant(0));
        assert_eq!(job.poll(Instant(2_999)), []);
        assert_eq!(job.until(Instant(2_999)), Some(Duration::from_millis(1)));
        assert_eq!(job.poll(Instant(3_000)), [ReadingEvent::Read(1, None)]);
        assert_eq!((job.at_work(), job.until(Instant(3_000))), (None, None));
        go.send(()).expect("it waits");
        assert_eq!(job.poll(Instant(3_001)), []);
    }

    #[test]
    fn another_answer_takes_the_place_of_the_one_before() {
        let mut job = job(Arc::new(|| Err(NoReader::Missing(Vec::new()))));
        job.request(what(), Instant(0));
        job.request(what(), Instant(0));
        assert_eq!(job.at_work(), Some(2));
        assert_eq!(job.wait(Instant(0))[0], ReadingEvent::Read(2, None));
    }
}
