//! Worksheets are worked out off the frame: the newest state of the lines is handed to a thread of its own, and what
//! has come back is shown. What takes too long is given up and said so.

mod lines;

pub use lines::work_out;

use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, TryRecvError, channel};
use std::thread;
use std::time::Duration;

use crate::domain::day::Instant;
use crate::domain::quantity::Quantity;
use crate::present::worksheet::{LineResult, WorkLine};
use crate::store::Wake;

/// After this time a worksheet is given up.
const LONGEST_MS: i64 = 3_000;
/// So many threads reckon at once, those given up among them.
const MOST_AT_ONCE: usize = 4;
/// Room for expressions with many brackets; taken from the system only as far as it is used.
const STACK: usize = 64 * 1024 * 1024;

/// What is to be worked out.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Question {
    /// The figures given, by name.
    pub givens: Vec<(String, Quantity)>,
    /// The unit that results are given in where they fit: the answer's.
    pub unit: Option<String>,
    /// How near the answer must be, as a share of it; zero for exactly. A value that is taken over as the answer has
    /// as many digits as that needs.
    pub within: f64,
    /// The lines, as typed.
    pub lines: Vec<String>,
}

/// What a line comes to, with what is to be noted of it.
pub type Told = (LineResult, String);

/// Works a worksheet out: one result for each line.
pub type WorkOut = fn(&Question) -> Vec<Told>;

/// The worksheet that is shown, as far as it is worked out.
pub struct Reckoner {
    work_out: WorkOut,
    worker: Option<Worker>,
    running: Arc<AtomicUsize>,
    asked: Option<(Question, Instant)>,
    waits: bool,
    answered: Option<(Question, Vec<Told>)>,
}

struct Worker {
    questions: Sender<Question>,
    answers: Receiver<(Question, Vec<Told>)>,
}

impl Reckoner {
    /// One that works lines out in this way.
    pub fn new(work_out: WorkOut) -> Self {
        Self { work_out, worker: None, running: Arc::default(), asked: None, waits: false, answered: None }
    }

    /// The same for a program that starts anew: what still runs counts on.
    pub(super) fn anew(&self) -> Self {
        Self { running: Arc::clone(&self.running), ..Self::new(self.work_out) }
    }

    /// Has this worked out, where it is not what was asked last.
    pub(super) fn hold(&mut self, question: Question, now: Instant, wake: &Wake) {
        if self.asked.as_ref().is_some_and(|(asked, _)| *asked == question) {
            return;
        }
        self.asked = Some((question, now));
        self.waits = true;
        self.begin(wake);
    }

    /// Hands over what waits, to a new thread where there is none.
    fn begin(&mut self, wake: &Wake) {
        let (true, Some((question, _))) = (self.waits, &self.asked) else { return };
        if self.worker.is_none() && self.running.load(Ordering::SeqCst) < MOST_AT_ONCE {
            self.worker = Worker::start(self.work_out, &self.running, wake);
        }
        let Some(worker) = &self.worker else { return };
        match worker.questions.send(question.clone()) {
            Ok(()) => self.waits = false,
            Err(_) => self.worker = None,
        }
    }

    /// Takes in what has come, and gives up what takes too long; says whether anything has changed.
    pub(super) fn take_in(&mut self, now: Instant, wake: &Wake) -> bool {
        self.begin(wake);
        let mut changed = false;
        while let Some(worker) = &self.worker {
            match worker.answers.try_recv() {
                Ok(answer) => {
                    self.answered = Some(answer);
                    changed = true;
                }
                Err(TryRecvError::Empty) => break,
                Err(TryRecvError::Disconnected) => {
                    self.give_up("could not be worked out");
                    changed = true;
                }
            }
        }
        if self.until(now).is_some_and(|left| left.is_zero()) {
            self.give_up("took too long to work out");
            changed = true;
        }
        changed
    }

    /// When what is being worked out will be given up.
    pub(super) fn until(&self, now: Instant) -> Option<Duration> {
        let (question, since) = self.asked.as_ref()?;
        if self.answered.as_ref().is_some_and(|(answered, _)| answered == question) {
            return None;
        }
        Some(Duration::from_millis((since.0 + LONGEST_MS - now.0).max(0).unsigned_abs()))
    }

    /// Blocks until all is worked out or given up: for faces without frames.
    pub(super) fn settle(&mut self, wake: &Wake) {
        self.begin(wake);
        loop {
            let Some((question, _)) = &self.asked else { return };
            if self.answered.as_ref().is_some_and(|(answered, _)| answered == question) {
                return;
            }
            let Some(worker) = &self.worker else { return self.give_up("could not be worked out") };
            match worker.answers.recv_timeout(Duration::from_millis(LONGEST_MS.unsigned_abs())) {
                Ok(answer) => self.answered = Some(answer),
                Err(RecvTimeoutError::Timeout) => self.give_up("took too long to work out"),
                Err(RecvTimeoutError::Disconnected) => self.give_up("could not be worked out"),
            }
        }
    }

    /// Leaves the thread to itself and says so at the first line that is not known.
    fn give_up(&mut self, why: &str) {
        self.worker = None;
        self.waits = false;
        let Some((question, _)) = &self.asked else { return };
        let mut said = false;
        let known = self.known(question);
        let results = known.into_iter().zip(&question.lines).map(|(known, line)| match known {
            Some(result) => result,
            None if line.trim().is_empty() => Told::default(),
            None if said => (LineResult::Pending, String::new()),
            None => {
                said = true;
                let words = format!("This line {why}; write it more simply.");
                (LineResult::Wrong { words, place: None, follows: false }, String::new())
            }
        });
        self.answered = Some((question.clone(), results.collect()));
    }

    /// What is known of each line: its result, where it and all above it are as they were worked out.
    fn known(&self, question: &Question) -> Vec<Option<Told>> {
        let alike = |a: &Question| (&a.givens, &a.unit) == (&question.givens, &question.unit);
        let answered = self.answered.as_ref().filter(|(answered, _)| alike(answered));
        let mut same = true;
        let known = question.lines.iter().enumerate().map(|(n, line)| {
            let (before, results) = answered?;
            same &= before.lines.get(n) == Some(line);
            results.get(n).filter(|_| same).cloned()
        });
        known.collect()
    }

    /// The lines with what they come to.
    pub fn lines(&self, question: &Question) -> Vec<WorkLine> {
        let known = self.known(question).into_iter().zip(&question.lines);
        let line = |(known, text): (Option<Told>, &String)| {
            let (result, note) = match known {
                Some(told) => told,
                None if text.trim().is_empty() => Told::default(),
                None => (LineResult::Pending, String::new()),
            };
            WorkLine { text: text.clone(), result, note }
        };
        known.map(line).collect()
    }
}

impl Worker {
    fn start(work_out: WorkOut, running: &Arc<AtomicUsize>, wake: &Wake) -> Option<Self> {
        let (questions, asked) = channel::<Question>();
        let (answer, answers) = channel();
        let ends = Running::one_more(running, wake);
        let wake = Arc::clone(wake);
        let reckon = move || {
            let _ends = ends;
            while let Ok(mut question) = asked.recv() {
                // Only the newest is of interest.
                while let Ok(newer) = asked.try_recv() {
                    question = newer;
                }
                let results = work_out(&question);
                if answer.send((question, results)).is_err() {
                    break;
                }
                wake();
            }
        };
        let started = thread::Builder::new().name("reckoner".to_owned()).stack_size(STACK).spawn(reckon);
        started.ok().map(|_| Self { questions, answers })
    }
}

/// Counts a thread for as long as it runs and, whichever way it ends, lets the program look.
struct Running(Arc<AtomicUsize>, Wake);

impl Running {
    fn one_more(count: &Arc<AtomicUsize>, wake: &Wake) -> Self {
        count.fetch_add(1, Ordering::SeqCst);
        Self(Arc::clone(count), Arc::clone(wake))
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        self.0.fetch_sub(1, Ordering::SeqCst);
        (self.1)();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wake() -> Wake {
        Arc::new(|| {})
    }

    fn question(lines: &[&str]) -> Question {
        Question { lines: lines.iter().map(|l| (*l).to_owned()).collect(), ..Question::default() }
    }

    fn wrong(reckoner: &Reckoner, question: &Question) -> Vec<String> {
        let words = |line: WorkLine| match line.result {
            LineResult::Wrong { words, .. } => words,
            other => format!("{other:?}"),
        };
        reckoner.lines(question).into_iter().map(words).collect()
    }

    /// Works out that every line is `1`, unless it says what to do instead.
    fn strange(question: &Question) -> Vec<Told> {
        match question.lines.last().map(String::as_str) {
            Some("hang") => loop {
                thread::park();
            },
            Some("break") => panic!("as asked"),
            _ => {}
        }
        let value = crate::present::worksheet::ValueView { number: "1".to_owned(), ..Default::default() };
        question.lines.iter().map(|_| (LineResult::Value(value.clone()), String::new())).collect()
    }

    #[test]
    fn what_takes_too_long_is_given_up_and_the_next_question_is_answered() {
        let mut reckoner = Reckoner::new(strange);
        let hangs = question(&["1", "hang"]);
        reckoner.hold(hangs.clone(), Instant(0), &wake());
        assert!(!reckoner.take_in(Instant(LONGEST_MS - 1), &wake()));
        assert_eq!(reckoner.until(Instant(LONGEST_MS - 1)), Some(Duration::from_millis(1)));
        assert!(reckoner.take_in(Instant(LONGEST_MS), &wake()));
        assert_eq!(reckoner.until(Instant(LONGEST_MS)), None);
        assert_eq!(wrong(&reckoner, &hangs), ["This line took too long to work out; write it more simply.", "Pending"]);
        let next = question(&["1", "2"]);
        reckoner.hold(next.clone(), Instant(LONGEST_MS), &wake());
        reckoner.settle(&wake());
        assert!(reckoner.lines(&next).iter().all(|l| l.result.value().is_some()));
    }

    #[test]
    fn a_thread_that_breaks_is_said_and_replaced() {
        let mut reckoner = Reckoner::new(strange);
        let breaks = question(&["break"]);
        reckoner.hold(breaks.clone(), Instant(0), &wake());
        reckoner.settle(&wake());
        assert_eq!(wrong(&reckoner, &breaks), ["This line could not be worked out; write it more simply."]);
        let next = question(&["1"]);
        reckoner.hold(next.clone(), Instant(1), &wake());
        reckoner.settle(&wake());
        assert!(reckoner.lines(&next)[0].result.value().is_some());
    }

    #[test]
    fn hanging_threads_are_not_without_number() {
        let mut reckoner = Reckoner::new(strange);
        for n in 0..2 * MOST_AT_ONCE {
            let now = Instant(n as i64 * 2 * LONGEST_MS);
            reckoner.hold(question(&[&n.to_string(), "hang"]), now, &wake());
            reckoner.take_in(Instant(now.0 + LONGEST_MS), &wake());
        }
        assert_eq!(reckoner.running.load(Ordering::SeqCst), MOST_AT_ONCE);
    }

    #[test]
    fn a_line_keeps_its_value_while_others_below_it_are_typed() {
        let mut reckoner = Reckoner::new(strange);
        reckoner.hold(question(&["a", "b"]), Instant(0), &wake());
        reckoner.settle(&wake());
        let lines = reckoner.lines(&question(&["a", "bc", "d", " "]));
        let kinds: Vec<bool> = lines.iter().map(|l| l.result.value().is_some()).collect();
        assert_eq!(kinds, [true, false, false, false]);
        assert_eq!(lines[1].result, LineResult::Pending);
        assert_eq!(lines[3].result, LineResult::Nothing);
        let given = Question { unit: Some("kW".to_owned()), ..question(&["a"]) };
        assert_eq!(reckoner.lines(&given)[0].result, LineResult::Pending, "other figures, other values");
    }
}
