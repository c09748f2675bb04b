//! Worksheets are worked out off the frame: the newest state of the lines is worked out in the background, and what has
//! come back is shown. What takes too long is given up and said so.

mod lines;
mod question;

pub use lines::work_out;
pub use question::{LineReport, Question, WorkOut};

use std::time::Duration;

use crate::app::jobs::crew::Crew;
use crate::app::jobs::job::{Job, JobFault, Polled, Prepared, Task};
use crate::domain::day::Instant;
use crate::present::worksheet::{LineResult, WorkLine};

/// After this time a worksheet is given up.
const LONGEST: Duration = Duration::from_secs(3);
/// So many threads work at once, those given up among them.
const MOST_AT_ONCE: usize = 4;
/// Room for expressions with many brackets; taken from the system only as far as it is used.
const STACK: usize = 64 * 1024 * 1024;

/// A worksheet to be worked out in a way.
struct Sums {
    question: Question,
    work_out: WorkOut,
}

const TASK: Task<Sums, Vec<LineReport>> = Task {
    thread: Some("worksheet"),
    stack: Some(STACK),
    limit: Some(LONGEST),
    work: |sums, _| (sums.work_out)(&sums.question),
};

/// The worksheet that is shown, as far as it is worked out.
pub struct WorksheetJob {
    work_out: WorkOut,
    crew: Crew,
    job: Job<Question, Sums, Vec<LineReport>>,
    answered: Option<(Question, Vec<LineReport>)>,
}

impl WorksheetJob {
    pub(super) fn new(work_out: WorkOut, crew: &Crew) -> Self {
        Self::of(work_out, crew.of_at_most(MOST_AT_ONCE))
    }

    fn of(work_out: WorkOut, crew: Crew) -> Self {
        Self { work_out, job: Job::new(TASK, crew.clone()), crew, answered: None }
    }

    /// Nothing asked yet, for a program that starts anew: what still runs counts on.
    pub(super) fn anew(&self) -> Self {
        Self::of(self.work_out, self.crew.clone())
    }

    /// Has this worked out, where it is not what was asked last.
    pub(in crate::app) fn request(&mut self, question: Question, now: Instant) {
        let work_out = self.work_out;
        self.job.request(question, now, |question| Prepared::Ready(Sums { question: question.clone(), work_out }));
    }

    /// Takes in what has come, and gives up what takes too long; says whether anything has changed.
    pub(super) fn poll(&mut self, now: Instant) -> bool {
        let ended = self.job.poll(now) == Polled::Ended;
        if ended {
            self.take_in();
        }
        ended
    }

    /// When what is being worked out will be given up.
    pub(super) fn until(&self, now: Instant) -> Option<Duration> {
        self.job.until(now)
    }

    /// Blocks until all is worked out or given up: for faces without frames.
    pub(super) fn wait(&mut self) {
        if self.job.wait() == Polled::Ended {
            self.take_in();
        }
    }

    fn take_in(&mut self) {
        match (self.job.question(), self.job.result()) {
            (Some(question), Some(Ok(reports))) => self.answered = Some((question.clone(), reports.clone())),
            (_, Some(Err(JobFault::TooSlow))) => self.give_up("took too long to work out"),
            (_, Some(Err(JobFault::Panicked | JobFault::Store(_)))) => self.give_up("could not be worked out"),
            _ => {}
        }
    }

    /// Says at the first line that is not known why it is not.
    fn give_up(&mut self, why: &str) {
        let Some(question) = self.job.question() else { return };
        let mut said = false;
        let known = self.known(question);
        let results = known.into_iter().zip(&question.lines).map(|(known, line)| match known {
            Some(result) => result,
            None if line.trim().is_empty() => LineReport::default(),
            None if said => LineReport { result: LineResult::Pending, ..LineReport::default() },
            None => {
                said = true;
                let words = format!("This line {why}; write it more simply.");
                let result = LineResult::Wrong { words, place: None, follows: false };
                LineReport { result, ..LineReport::default() }
            }
        });
        self.answered = Some((question.clone(), results.collect()));
    }

    /// What is known of each line: its result, where it and all above it are as they were worked out.
    fn known(&self, question: &Question) -> Vec<Option<LineReport>> {
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
        let line = |(known, text): (Option<LineReport>, &String)| {
            let LineReport { result, note } = match known {
                Some(report) => report,
                None if text.trim().is_empty() => LineReport::default(),
                None => LineReport { result: LineResult::Pending, ..LineReport::default() },
            };
            WorkLine { text: text.clone(), result, note }
        };
        known.map(line).collect()
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;
    use std::thread;

    use super::*;

    const LONGEST_MS: i64 = LONGEST.as_millis() as i64;

    fn job() -> WorksheetJob {
        WorksheetJob::new(strange, &Crew::new(Arc::new(|| {})))
    }

    fn question(lines: &[&str]) -> Question {
        Question { lines: lines.iter().map(|l| (*l).to_owned()).collect(), ..Question::default() }
    }

    fn wrong(job: &WorksheetJob, question: &Question) -> Vec<String> {
        let words = |line: WorkLine| match line.result {
            LineResult::Wrong { words, .. } => words,
            other => format!("{other:?}"),
        };
        job.lines(question).into_iter().map(words).collect()
    }

    /// Works out that every line is `1`, unless it says what to do instead.
    fn strange(question: &Question) -> Vec<LineReport> {
        match question.lines.last().map(String::as_str) {
            Some("hang") => loop {
                thread::park();
            },
            Some("break") => panic!("as asked"),
            _ => {}
        }
        let value = crate::present::worksheet::ValueView { number: "1".to_owned(), ..Default::default() };
        let report = LineReport { result: LineResult::Value(value), note: String::new() };
        question.lines.iter().map(|_| report.clone()).collect()
    }

    #[test]
    fn what_takes_too_long_is_given_up_and_the_next_question_is_answered() {
        let mut job = job();
        let hangs = question(&["1", "hang"]);
        job.request(hangs.clone(), Instant(0));
        assert!(!job.poll(Instant(LONGEST_MS - 1)));
        assert_eq!(job.until(Instant(LONGEST_MS - 1)), Some(Duration::from_millis(1)));
        assert!(job.poll(Instant(LONGEST_MS)));
        assert_eq!(job.until(Instant(LONGEST_MS)), None);
        assert_eq!(wrong(&job, &hangs), ["This line took too long to work out; write it more simply.", "Pending"]);
        let next = question(&["1", "2"]);
        job.request(next.clone(), Instant(LONGEST_MS));
        job.wait();
        assert!(job.lines(&next).iter().all(|l| l.result.value().is_some()));
    }

    #[test]
    fn a_thread_that_breaks_is_said_and_replaced() {
        let mut job = job();
        let breaks = question(&["break"]);
        job.request(breaks.clone(), Instant(0));
        job.wait();
        assert_eq!(wrong(&job, &breaks), ["This line could not be worked out; write it more simply."]);
        let next = question(&["1"]);
        job.request(next.clone(), Instant(1));
        job.wait();
        assert!(job.lines(&next)[0].result.value().is_some());
    }

    #[test]
    fn hanging_threads_are_not_without_number() {
        let mut job = job();
        for n in 0..2 * MOST_AT_ONCE {
            let now = Instant(n as i64 * 2 * LONGEST_MS);
            job.request(question(&[&n.to_string(), "hang"]), now);
            job.poll(Instant(now.0 + LONGEST_MS));
        }
        assert_eq!(job.crew.at_work(), MOST_AT_ONCE);
    }

    #[test]
    fn a_line_keeps_its_value_while_others_below_it_are_typed() {
        let mut job = job();
        job.request(question(&["a", "b"]), Instant(0));
        job.wait();
        let lines = job.lines(&question(&["a", "bc", "d", " "]));
        let kinds: Vec<bool> = lines.iter().map(|l| l.result.value().is_some()).collect();
        assert_eq!(kinds, [true, false, false, false]);
        assert_eq!(lines[1].result, LineResult::Pending);
        assert_eq!(lines[3].result, LineResult::Nothing);
        let given = Question { unit: Some("kW".to_owned()), ..question(&["a"]) };
        assert_eq!(job.lines(&given)[0].result, LineResult::Pending, "other figures, other values");
    }
}
